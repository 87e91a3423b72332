"""Hundreds of badges: time that grows with the rows, what a second worker gains, memory of a worker."""

from __future__ import annotations

import contextlib
import os
import resource
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from fixtures.process import COMMAND

Holds = Callable[[str, float, float], None]

RECIPE = """
[files]
formats = ["svg"]
[[piece]]
name = "tag"
size = "60mm"
[[piece.text]]
column = "name"
"""
FIRST = ("Peasel", "Marrowyn", "Fennick", "Sorrelle", "Bramby", "Quillon", "Tansel", "Oswort", "Nettlyn", "Zinnick")
LAST = ("Thornby", "Leek", "Dillow", "Podd", "Kalewell", "Chard", "Rootley", "Beanham", "Sedge")
LOOP = "n = 0\nfor k in range({}): n += k * k % 7"
MOST_MB = 400.0


def _names(folder: Path, rows: int) -> Path:
    path = folder / f"names-{rows}.csv"
    lines = [f"{FIRST[k % len(FIRST)]} {LAST[k % len(LAST)]} {k}" for k in range(rows)]
    path.write_text("\n".join(("name", *lines)) + "\n", encoding="utf-8")
    return path


def _batch(folder: Path, rows: int, workers: int) -> list[str]:
    (folder / "badge.toml").write_text(RECIPE, encoding="utf-8")
    out = folder / f"out-{rows}-{workers}-{time.monotonic_ns()}"
    names = str(_names(folder, rows))
    return [
        *COMMAND,
        "make",
        str(folder / "badge.toml"),
        "--names",
        names,
        "--workers",
        str(workers),
        "--out",
        str(out),
    ]


def _wall_s(*commands: list[str]) -> float:
    """Return how long commands take that run at the same time, s."""
    start = time.monotonic()
    children = [subprocess.Popen(words, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE) for words in commands]
    for child in children:
        _, told = child.communicate()
        assert child.returncode == 0, told.decode(errors="replace")
    return time.monotonic() - start


def _cpu_s(words: list[str]) -> float:
    """Return the CPU seconds of a command that has no workers."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    _wall_s(words)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def _peak_mb(words: list[str]) -> float:
    """Return the greatest peak memory among a command and its workers, MB (1e6 bytes), as Linux tells it."""
    child = subprocess.Popen(words, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, start_new_session=True)
    most = 0.0
    while child.poll() is None:
        most = max([most, *_peaks(child.pid)])
        time.sleep(0.1)
    assert child.returncode == 0
    return most


def _peaks(session: int) -> Iterator[float]:
    """Yield the peak memory so far of every process of a session."""
    for folder in Path("/proc").glob("[0-9]*"):
        with contextlib.suppress(OSError, ValueError, IndexError):
            if int((folder / "stat").read_text().rpartition(")")[2].split()[3]) == session:
                lines = (folder / "status").read_text().splitlines()
                yield next(int(line.split()[1]) * 1024 / 1e6 for line in lines if line.startswith("VmHWM"))


@pytest.fixture
def rows(request: pytest.FixtureRequest) -> int:
    """Return how many badges the largest batch has."""
    return int(request.config.getoption("--rows"))


@pytest.mark.long
def bench_time_grows_with_the_rows(holds: Holds, rows: int, tmp_path: Path) -> None:
    """CPU time of the second half of the rows over that of the first half: 1 where time is linear in rows."""
    least = _cpu_s(_batch(tmp_path, 1, 1))
    half, whole = _cpu_s(_batch(tmp_path, rows // 2, 1)), _cpu_s(_batch(tmp_path, rows, 1))
    holds(f"second half of {rows} badges / first half, CPU time", (whole - half) / (half - least), 1.25)


@pytest.mark.long
@pytest.mark.skipif((os.cpu_count() or 1) < 2, reason="one CPU gains nothing by a second worker")
def bench_two_workers(holds: Holds, rows: int, tmp_path: Path) -> None:
    """What a bare loop gains on two processes, over what a batch gains by a second worker, in the same run."""
    loop = [sys.executable, "-c", LOOP.format(30_000_000)]
    bare = 2 * _wall_s(loop) / _wall_s(loop, loop)
    gain = _wall_s(_batch(tmp_path, rows, 1)) / _wall_s(_batch(tmp_path, rows, 2))
    holds(f"gain of a bare loop on two processes / gain of {rows} badges by two workers", bare / gain, 1 / 0.85)


@pytest.mark.long
@pytest.mark.skipif(not Path("/proc/self/status").exists(), reason="peak memory of workers as Linux tells it")
def bench_memory_of_a_worker(holds: Holds, rows: int, tmp_path: Path) -> None:
    """The largest of the process that writes and its two workers."""
    holds(f"{rows} badges by two workers, largest process in MB", _peak_mb(_batch(tmp_path, rows, 2)), MOST_MB)
