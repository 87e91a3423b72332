"""Importing ezdxf leaves the machine as it was."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import frameforge

CODE = """
import os
from frameforge.write.quiet_ezdxf import new
new("R12", units=4)
print(os.environ.get("XDG_CACHE_HOME"))
"""


def _run(home: Path, **more: str) -> subprocess.CompletedProcess[str]:
    """Import in a process of its own, at home in an empty folder."""
    found = {k: v for k, v in os.environ.items() if not k.startswith("XDG_")}
    code = {"PYTHONPATH": str(Path(frameforge.__file__).parents[1])}
    return subprocess.run(
        [sys.executable, "-c", CODE],
        env={**found, **code, "HOME": str(home), **more},
        cwd=home,
        capture_output=True,
        text=True,
        check=True,
    )


def test_no_cache_is_written_and_nothing_is_said(tmp_path: Path) -> None:
    done = _run(tmp_path)
    assert list(tmp_path.iterdir()) == []
    assert done.stderr == ""
    assert done.stdout == "None\n"


def test_the_environment_is_put_back(tmp_path: Path) -> None:
    cache = tmp_path / "cache"
    assert _run(tmp_path, XDG_CACHE_HOME=str(cache)).stdout == f"{cache}\n"
    assert not cache.exists()


def test_fixed_dates_are_for_our_files_only() -> None:
    from ezdxf import options

    from frameforge.write.quiet_ezdxf import same_every_time

    before = options.write_fixed_meta_data_for_testing
    with same_every_time():
        assert options.write_fixed_meta_data_for_testing
    assert options.write_fixed_meta_data_for_testing == before


def test_settings_of_the_user_say_nothing_and_may_lie_where_nobody_may_look(tmp_path: Path) -> None:
    """A home of somebody else, as ``sudo`` leaves it, must not be looked into; here a loop of links stands for it."""
    (tmp_path / ".config").symlink_to(tmp_path / ".config")
    assert _run(tmp_path).stdout == "None\n"
    settings = tmp_path / "own"
    settings.mkdir()
    (settings / "ezdxf.ini").write_text("not an ini file")
    assert _run(tmp_path, EZDXF_CONFIG_FILE=str(settings / "ezdxf.ini")).returncode == 0
