"""Processes of ours that are killed leave nothing on the terminal."""

from __future__ import annotations

import os
import signal
import subprocess
import sys

import pytest

KILLED = """
import multiprocessing, os, signal
from frameforge.job.deaf import started_deaf
before = dict(os.environ)
with {block}:
    locks = [multiprocessing.get_context("spawn").Lock() for _ in range(3)]
assert dict(os.environ) == before
os.kill(os.getpid(), signal.SIGKILL)
"""


def _killed(block: str, warnings: str) -> subprocess.CompletedProcess[str]:
    """Return what became of a process that was killed while it shared something, once its tracker has ended too."""
    return subprocess.run(
        [sys.executable, "-c", KILLED.format(block=block)],
        env={**os.environ, "PYTHONWARNINGS": warnings}, capture_output=True, text=True, timeout=60, check=False,
    )  # fmt: skip


@pytest.mark.skipif(os.name == "nt", reason="signals of POSIX")
@pytest.mark.parametrize("warnings", ["", "error"])
def test_what_a_killed_run_shared_is_cleared_away_without_a_word(warnings: str) -> None:
    ran = _killed("started_deaf()", warnings)
    assert (ran.returncode, ran.stderr) == (-signal.SIGKILL, "")


@pytest.mark.skipif(os.name == "nt", reason="signals of POSIX")
def test_without_that_python_has_its_say() -> None:
    """So that the test above is known to see it."""
    assert "leaked semaphore" in _killed("open(os.devnull)", "").stderr
