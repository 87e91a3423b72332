"""Benchmarks judge ratios measured in one run, so that they hold on any machine.

``pytest -c tests/bench/pytest.ini tests/bench`` runs what takes seconds; a ratio above its bound is a failure.
``--slack 2`` doubles every bound, for a machine that other work shares. All of it, and a page of
it: ``-m "long or not long" --rows 1000 --page tests/bench/RESULTS.md``.
"""

from __future__ import annotations

import itertools
import os
import platform
import subprocess
from collections.abc import Callable, Sequence
from importlib.metadata import version
from pathlib import Path
from typing import NamedTuple

import pytest
import shapely

from frameforge.job.laying import SEED

LINES = pytest.StashKey[list["Measured"]]()
HEAD = """# Benchmarks

What was measured, beside the bound that a run holds it to: ratios against raw shapely (one union, one parse), against
bare imports of the same libraries, against the best known packings of discs (E. Specht, packomania.com) and the best
known lengths of published strips (from `FRAMEFORGE_OUTSIDE_DATA`; told as best length / reached length), and a few
seconds and counts that were agreed. All in one run; the command is

    .venv/bin/python -m pytest -c tests/bench/pytest.ini tests/bench \\
        -m "long or not long" --rows 1000 --page tests/bench/RESULTS.md
"""


class Measured(NamedTuple):
    """One measured value beside its bound: where it comes from, what it is."""

    module: str
    what: str
    value: float
    bound: float


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add --slack, --rows and --page."""
    parser.addoption("--page", type=Path, help="write what was measured as a page of Markdown")
    parser.addoption("--slack", type=float, default=1.0, help="factor on every bound (2 on a shared machine)")
    parser.addoption("--rows", type=int, default=200, help="badges of the largest batch (1000 takes some minutes)")


def pytest_configure(config: pytest.Config) -> None:
    """Make room for the results."""
    config.stash[LINES] = []


@pytest.fixture
def holds(request: pytest.FixtureRequest) -> Callable[[str, float, float], None]:
    """Return the function that notes (what, measured, bound) and fails when the measured value is above the bound."""
    slack = float(request.config.getoption("--slack"))

    def judge(what: str, measured: float, bound: float) -> None:
        request.config.stash[LINES].append(Measured(request.path.stem, what, measured, bound * slack))
        assert measured <= bound * slack, f"{what}: {measured:.3f} is above {bound * slack:.3f}"

    return judge


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter, config: pytest.Config) -> None:
    """Print every measured value beside its bound, then what was measured and where."""
    found = config.stash[LINES]
    terminalreporter.section("measured")
    for one in found:
        terminalreporter.write_line(f"{one.value:10.3f}  of {one.bound:8.3f}   {one.what}")
    circumstances = _circumstances(config)
    for line in circumstances:
        terminalreporter.write_line(line)
    page = config.getoption("--page")
    if page is not None:
        page.write_text(_page(found, circumstances), encoding="utf-8")


def _circumstances(config: pytest.Config) -> list[str]:
    """Return what was measured and where, with the seed that searches start from."""
    names = ("numpy", "shapely", "ezdxf", "typer")
    versions = ", ".join(f"{name} {version(name)}" for name in names)
    return [
        f"commit {_commit()}, Python {platform.python_version()}, {versions}, GEOS {shapely.geos_version_string}",
        f"{platform.system()} on {platform.machine()}, {os.cpu_count()} CPUs, slack {config.getoption('--slack')}, "
        f"seed of sheets {SEED}",
    ]


def _page(found: Sequence[Measured], circumstances: Sequence[str]) -> str:
    """Return the page: a table for each module."""
    lines = [HEAD, *(f"- {line}" for line in circumstances)]
    for module, values in itertools.groupby(found, key=lambda one: one.module):
        lines += ["", f"## {module.removeprefix('bench_')}", "", "| what | measured | bound |", "|---|---|---|"]
        lines += [f"| {one.what} | {one.value:.3f} | {one.bound:.3f} |" for one in values]
    return "\n".join(lines) + "\n"


def _commit() -> str:
    """Return the short name of the commit measured, or "unknown" where there is no git."""
    top = Path(__file__).parent
    try:
        run = subprocess.run(
            ["git", "rev-parse", "--short", "HEAD"], cwd=top, capture_output=True, text=True, check=True
        )
    except (OSError, subprocess.CalledProcessError):
        return "unknown"
    return run.stdout.strip()
