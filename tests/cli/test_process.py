"""The command as a process of its own: exit codes, streams, what is imported, the lines to copy."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from fixtures.process import COMMAND, Demo, process

from frameforge.cli.questions import EXAMPLES


@pytest.mark.parametrize("line", [example for _, example in EXAMPLES], ids=lambda line: line.split()[1])
def test_the_four_lines_to_copy_work(line: str, run: Callable[..., Any], demo: Demo) -> None:
    if line == "frameforge demo":
        assert (demo.code, demo.err) == (0, "")
        return
    ran = run(*line.split()[1:])
    assert (ran.code, ran.err) == (0, "")


def test_streams_and_exit_codes(tmp_path: Path) -> None:
    made = process("make", "--size", "50mm", "--formats", "svg", "--json", cwd=tmp_path)
    assert made.returncode == 0
    assert json.loads(made.stdout)["pieces"][0]["name"] == "plain-50mm"
    refused = process("make", "--size", "50 mile", "--json", cwd=tmp_path)
    assert refused.returncode == 2
    assert json.loads(refused.stdout)["error"]["exit"] == 2
    assert refused.stderr.count("\n") == 1


def test_help_imports_nothing_heavy() -> None:
    script = (
        "import sys; from frameforge.cli.entry import main; main(['--help']);"
        "print([m for m in ('numpy', 'shapely', 'ezdxf', 'pydantic') if m in sys.modules])"
    )
    ran = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, timeout=60, check=True)
    assert ran.stdout.splitlines()[-1] == "[]"


def test_a_reader_that_goes_away_is_no_fault(tmp_path: Path) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    with os.fdopen(writing, "w") as gone:
        ran = subprocess.run(
            [*COMMAND, "make", "--help"], cwd=tmp_path, stdout=gone, stderr=subprocess.PIPE, text=True, timeout=60
        )
    assert ran.returncode == 0
    assert "Traceback" not in ran.stderr


def test_a_terminal_without_letters_beyond_ascii_gets_an_answer(tmp_path: Path) -> None:
    ran = process(
        "make", "--size", "50mm", "--name", "Élodeà", "--formats", "svg", cwd=tmp_path,
        PYTHONIOENCODING="ascii", PYTHONUTF8="0",
    )  # fmt: skip
    assert ran.returncode == 0
    assert (tmp_path / "out" / "Élodeà.svg").is_file()


def test_completion_is_offered(tmp_path: Path) -> None:
    ran = process(cwd=tmp_path, _FRAMEFORGE_COMPLETE="complete_bash", COMP_WORDS="frameforge ma", COMP_CWORD="1")
    assert ran.returncode == 0
    assert ran.stdout.split() == ["make"]
