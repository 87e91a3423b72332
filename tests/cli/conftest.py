"""A command line run inside the test process: exit code, stdout, stderr."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from frameforge.cli.entry import main


class Ran(NamedTuple):
    """What a command line came to."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        """The JSON object on stdout, which holds nothing else."""
        return json.loads(self.out)

    @property
    def faults(self) -> list[str]:
        """The lines on stderr."""
        return self.err.splitlines()


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[..., Ran]:
    """Return the function that runs a command line in an empty folder of its own."""
    monkeypatch.chdir(tmp_path)

    def run_words(*words: str) -> Ran:
        capsys.readouterr()
        code = main(list(words))
        said = capsys.readouterr()
        return Ran(code, said.out, said.err)

    return run_words
