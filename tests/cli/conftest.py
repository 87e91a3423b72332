"""A command line run inside the test process: exit code, stdout, stderr."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from fixtures.process import Demo, process

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


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Demo:
    """Run ``frameforge demo`` once, as a process of its own."""
    here = tmp_path_factory.mktemp("demo")
    ran = process("demo", cwd=here)
    return Demo(ran.returncode, ran.stdout, ran.stderr, here / "out" / "demo")


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[..., Ran]:
    """Return the function that runs a command line in an empty folder of its own, with no motifs of her own yet."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))

    def run_words(*words: str) -> Ran:
        capsys.readouterr()
        code = main(list(words))
        said = capsys.readouterr()
        return Ran(code, said.out, said.err)

    return run_words
