"""Streams that are full, closed or gone: what was made is there, and the exit code says what became of the rest."""

from __future__ import annotations

import json
import os
import subprocess
from pathlib import Path

import pytest
from fixtures.process import COMMAND

pytestmark = pytest.mark.skipif(not os.path.exists("/dev/full"), reason="this system has no /dev/full")

UNSAID = (
    "frameforge: what there is to say cannot be written: the disk is full. Files that were finished are complete.\n"
)


def _shell(line: str, folder: Path) -> subprocess.CompletedProcess[str]:
    """Run a line of the shell, with ``frameforge`` for the command."""
    command = " ".join(f"'{word}'" for word in COMMAND)
    return subprocess.run(
        ["sh", "-c", line.replace("frameforge", command)], cwd=folder, capture_output=True, text=True, timeout=60
    )


@pytest.mark.parametrize(
    ("line", "code", "told"),
    [
        ("frameforge --version > /dev/full", 4, UNSAID),
        ("frameforge make --help > /dev/full", 4, UNSAID),
        ("frameforge make --size 50x > /dev/full 2> /dev/full", 2, ""),
        ("frameforge make --size 50x --json > /dev/full 2> /dev/full", 2, ""),
        ("frameforge --version >&- 2>&- <&-", 0, ""),
        ("frameforge make --size 50x >&- 2>&- <&-", 2, ""),
    ],
)
def test_what_cannot_be_said_has_its_exit_code(tmp_path: Path, line: str, code: int, told: str) -> None:
    ran = _shell(line, tmp_path)
    assert (ran.returncode, ran.stdout, ran.stderr) == (code, "", told)


def test_without_any_stream_the_files_are_made_and_nothing_is_written_into_them(tmp_path: Path) -> None:
    ran = _shell("frameforge make --size 50mm --name disc --formats svg <&- >&- 2>&-", tmp_path)
    assert (ran.returncode, ran.stdout, ran.stderr) == (0, "", "")
    listed = json.loads((tmp_path / "out" / "run.json").read_text(encoding="utf-8"))
    assert [piece["piece"] for piece in listed["made"]] == ["disc", "report.md"]
    assert (tmp_path / "out" / "disc.svg").read_text(encoding="utf-8").startswith("<?xml")
