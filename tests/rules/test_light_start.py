"""A bare command starts fast: nothing heavy is imported before it is needed."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest

HEAVY = (
    "numpy",
    "shapely",
    "ezdxf",
    "fontTools",
    "resvg_py",
    "svgwrite",
    "scipy",
    "reportlab",
    "tinycss2",
    "starlette",
    "uvicorn",
)
"""pydantic is not among them: typer itself takes it where it is installed."""
SCRIPT = """
import json, sys
from frameforge.cli import entry
try:
    code = entry.main({words!r})
except SystemExit as end:
    code = end.code
print(json.dumps([code, sorted(name for name in sys.modules if "." not in name)]), file=sys.stderr)
"""


@pytest.mark.parametrize(
    "words",
    [
        ["--help"],
        ["make", "--help"],
        ["fit", "--help"],
        ["--version"],
        [],
        ["make"],
        ["motif", "--help"],
        ["desk", "--help"],
    ],
)
def test_help_and_version_import_nothing_heavy(words: list[str]) -> None:
    run = subprocess.run(
        [sys.executable, "-c", SCRIPT.format(words=words)], capture_output=True, text=True, timeout=60, check=True
    )
    code, loaded = json.loads(run.stderr.splitlines()[-1])
    assert not code
    assert run.stdout
    assert "typer" in loaded
    assert [name for name in HEAVY if name in loaded] == []


def test_a_list_of_motifs_needs_no_file_writers() -> None:
    """What is measured above can be seen to change: a command at work does import its tools."""
    script = SCRIPT.format(words=["motif", "list"])
    run = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, timeout=60, check=True)
    _, loaded = json.loads(run.stderr.splitlines()[-1])
    assert "numpy" in loaded
    assert "ezdxf" not in loaded
