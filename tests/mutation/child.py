"""One mutant's tests, run in a child of a process that has the heavy libraries loaded but nothing of ours.

The mutated text is handed to the import system: no file of the checkout is touched.
"""

from __future__ import annotations

import importlib.machinery
import json
import os
import resource
import signal
import sys
import time
import traceback
from dataclasses import dataclass
from pathlib import Path
from types import CodeType
from typing import Any

import hypothesis
import numpy as np  # noqa: F401 - loaded once, for all children
import pytest
import shapely  # noqa: F401
from mutants import ROOT, Mutant

__all__ = ["Outcome", "outcome"]

MOST_BYTES = 6 << 30
WALL_S = 900


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came of a mutant: "killed" by a test, by "time" or at "import"; "survived"; "no test".

    ``first`` is what came of it in the first pass over its sample, where it was tried again since.
    """

    kind: str
    by: str = ""
    cpu_s: float = 0.0
    first: str = ""


class _Plugin:
    """Keeps the chosen tests (or whole files of tests), in their order, and the names of those that did not pass."""

    def __init__(self, chosen: list[str]) -> None:
        self.order = {name: i for i, name in enumerate(chosen)}
        self.ran = 0
        self.failed: list[str] = []

    def pytest_sessionstart(self) -> None:
        """Let a property end at its first counterexample: nobody reads the least one here."""
        phases = [hypothesis.Phase.explicit, hypothesis.Phase.generate]
        hypothesis.settings.register_profile("mutant", hypothesis.settings(), phases=phases)
        hypothesis.settings.load_profile("mutant")

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Keep the chosen."""
        places = [(self._place(item.nodeid), item) for item in items]
        items[:] = [item for place, item in sorted(places, key=lambda each: each[0]) if place < len(self.order)]
        self.ran = len(items)

    def _place(self, name: str) -> int:
        """Return where in the order a test stands; at the end where it was not chosen."""
        return self.order.get(name, self.order.get(name.split("::")[0], len(self.order)))

    def pytest_collectreport(self, report: pytest.CollectReport) -> None:
        """Note a file of tests that cannot be read in: what it makes as it is read fails on the mutant."""
        if report.failed:
            self.failed.append(report.nodeid)

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Note a failure."""
        if report.failed:
            self.failed.append(report.nodeid)


def outcome(mutant: Mutant | None, chosen: list[str], limit_s: float, log: Path) -> Outcome:
    """Run the chosen tests on a mutant (None: on the source as it is) and return what came of it."""
    if not chosen:
        return Outcome("no test")
    told = log.with_suffix(".json")
    told.unlink(missing_ok=True)
    child = os.fork()
    if child == 0:
        try:
            _run(mutant, chosen, limit_s, log, told)
        except BaseException:  # noqa: BLE001 - told by the exit code
            traceback.print_exc()
        finally:
            os._exit(9)
    usage, code = _waited(child)
    if code > 0:
        raise SystemExit(f"a child broke off: see {log}")
    if not told.exists():
        return Outcome("time", "", usage)
    result = json.loads(told.read_text())
    return Outcome(result["kind"], result["by"], usage)


def _waited(child: int) -> tuple[float, int]:
    """Wait for a child, not for ever; return the seconds of CPU it took and its exit code, below 0 for a signal."""
    end = time.monotonic() + WALL_S
    done = status = 0
    while not done:
        if time.monotonic() > end:
            os.kill(child, signal.SIGKILL)
        done, status, usage = os.wait4(child, os.WNOHANG)
        time.sleep(0.05)
    return usage.ru_utime + usage.ru_stime, os.waitstatus_to_exitcode(status)


def _run(mutant: Mutant | None, chosen: list[str], limit_s: float, log: Path, told: Path) -> None:
    """Do the child's work: runs pytest, writes what came of it, never returns."""
    with log.open("w") as file:
        os.dup2(file.fileno(), 1)
        os.dup2(file.fileno(), 2)
    seconds = int(limit_s) + 1
    resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 5))
    resource.setrlimit(resource.RLIMIT_AS, (MOST_BYTES, MOST_BYTES))
    os.chdir(ROOT)
    sys.dont_write_bytecode = True
    if mutant is not None:
        _plant(mutant)
    plugin = _Plugin(chosen)
    files = list(dict.fromkeys(name.split("::")[0] for name in chosen))
    os.environ["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"  # a third of what a short run takes
    options = ["-x", "-q", "-p", "no:cacheprovider", "--tb=line"]
    options += ["-W", "ignore::pytest.PytestAssertRewriteWarning"]  # of what was loaded before the fork
    code = pytest.main([*options, *files], plugins=[plugin])
    kind = "killed" if plugin.failed else {0: "survived", 2: "import"}.get(int(code), "no test")
    told.write_text(json.dumps({"kind": kind, "by": plugin.failed[0] if plugin.failed else ""}))
    os._exit(0)


def _plant(mutant: Mutant) -> None:
    """Let the import of one module take the mutated text."""
    wanted = str(ROOT / mutant.path)
    text = mutant.text()
    plain = importlib.machinery.SourceFileLoader.get_code

    def get_code(loader: Any, fullname: str) -> CodeType | None:
        if os.path.realpath(loader.get_filename(fullname)) != wanted:
            return plain(loader, fullname)
        return compile(text, wanted, "exec")  # here, where warnings are errors as for any other module

    importlib.machinery.SourceFileLoader.get_code = get_code  # type: ignore[method-assign, assignment]
