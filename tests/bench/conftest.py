"""Benchmarks judge ratios measured in one run, so that they hold on any machine.

``pytest -c tests/bench/pytest.ini tests/bench`` runs all but batches, packings and strips (``-m long``); a ratio above
its bound is a failure. ``--slack 2`` doubles every bound, for a machine that other work shares; ``--rows 1000`` makes
the batches as large as their bounds are meant for.
"""

from __future__ import annotations

import platform
import subprocess
from collections.abc import Callable
from importlib.metadata import version
from pathlib import Path

import pytest

LINES = pytest.StashKey[list[str]]()


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add --slack and --rows."""
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
        request.config.stash[LINES].append(f"{measured:10.3f}  of {bound * slack:8.3f}   {what}")
        assert measured <= bound * slack, f"{what}: {measured:.3f} is above {bound * slack:.3f}"

    return judge


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter, config: pytest.Config) -> None:
    """Print every measured value beside its bound, then what was measured and where."""
    terminalreporter.section("measured")
    for line in config.stash[LINES]:
        terminalreporter.write_line(line)
    names = ("numpy", "shapely", "ezdxf", "typer")
    versions = ", ".join(f"{name} {version(name)}" for name in names)
    terminalreporter.write_line(f"commit {_commit()}, Python {platform.python_version()}, {versions}")
    terminalreporter.write_line(f"{platform.system()} on {platform.machine()}, slack {config.getoption('--slack')}")


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
