"""How much of the program the default tests run: lines of the whole package, branches of geometry, frame and check.

    python tests/coverage/cover.py                 run the default tests under coverage, then tell; exit code 1 below 95
    python tests/coverage/cover.py --told          tell again what the last run found
    python tests/coverage/cover.py tests/unit/cli  run some tests only, added to what earlier runs found
    python tests/coverage/cover.py --units         only what the unit tests of geometry, frame and check run of them:
                                                   two minutes, held by .ci/run

It needs the extra ``measure`` (with --units, coverage alone). Commands that tests start as processes of their own are
measured too, and so are the workers of batches. It takes about twice as long as the tests do (Python 3.11 has no
cheaper way: its tracing is called at every line), so it is no part of them.
"""

from __future__ import annotations

import argparse
import json
import subprocess
import sys
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
OUT = ROOT / "out" / "coverage"
BRANCHED = ("geometry", "frame", "check")
LEAST = 0.95
"""Least share of lines (package), of branches (each of BRANCHED); of the units' own folders, of both."""
MOST_TOLD = 40
UNITS = Path(__file__).with_name("units.ini")

Files = dict[str, dict[str, Any]]
"""What coverage says of each module."""


def main() -> int:
    """Run, join, tell; returns the exit code."""
    parser = argparse.ArgumentParser(description="Measure what the default tests run.")
    parser.add_argument("tests", nargs="*", help="some tests only; earlier runs count too")
    parser.add_argument("--told", action="store_true", help="tell what earlier runs found")
    parser.add_argument("--units", action="store_true", help="only what the unit tests of three folders run of them")
    asked = parser.parse_args()
    OUT.mkdir(parents=True, exist_ok=True)
    if asked.units:
        return _units()
    if not asked.tests and not asked.told:
        for old in OUT.glob("data*"):
            old.unlink()
    if not asked.told:
        options = ["-q", "-p", "no:cacheprovider", "--cov", "--cov-append", "--cov-report="]
        subprocess.run([sys.executable, "-m", "pytest", *options, *asked.tests], cwd=ROOT, check=True)
    if list(OUT.glob("data.*")):
        _coverage("combine", "--append", "--quiet")
    files = _found(OUT / "data")
    shares = {"lines": _lines(files)}
    return _judged(files, shares | {f"branches of {folder}/": _branches(files, folder) for folder in BRANCHED})


def _units() -> int:
    """Run the unit tests of the three folders, and tell what they run of them."""
    tests = [f"tests/unit/{folder}" for folder in BRANCHED]
    _coverage("run", "--rcfile", str(UNITS), "-m", "pytest", "-q", "-p", "no:cacheprovider", *tests)
    files = _found(OUT / "units")
    shares = {f"lines of {folder}/": _lines(_of(files, folder)) for folder in BRANCHED}
    return _judged(files, shares | {f"branches of {folder}/": _branches(files, folder) for folder in BRANCHED})


def _found(data: Path) -> Files:
    """Return what a run found, by the names of modules."""
    told = data.with_suffix(".json")
    _coverage("json", "--quiet", "--data-file", str(data), "-o", str(told))
    files = json.loads(told.read_text(encoding="utf-8"))["files"]
    return {name.removeprefix("frameforge/"): found for name, found in files.items()}


def _coverage(*words: str) -> None:
    subprocess.run([sys.executable, "-m", "coverage", *words], cwd=ROOT, check=True)


def _judged(files: Files, shares: dict[str, float]) -> int:
    """Print the shares and the worst modules; return 1 where a share is too small."""
    missing = {name: [found[key] for key in ("missing_lines", "missing_branches")] for name, found in files.items()}
    worst = sorted(missing, key=lambda name: -len(missing[name][0]) - len(missing[name][1]))[:MOST_TOLD]
    for name in worst:
        lines, branches = missing[name]
        if lines or branches:
            print(f"{name}: lines {_few(lines)}, branches {_few([f'{a}-{b}' for a, b in branches])}")
    for what, share in shares.items():
        print(f"{share:.2%} of {what} (wanted: {LEAST:.0%})")
    return 0 if min(shares.values()) >= LEAST else 1


def _of(files: Files, folder: str) -> Files:
    return {name: found for name, found in files.items() if name.startswith(f"{folder}/")}


def _lines(files: Files) -> float:
    return _share(files, "covered_lines", "num_statements")


def _branches(files: Files, folder: str) -> float:
    return _share(_of(files, folder), "covered_branches", "num_branches")


def _share(files: Files, part: str, whole: str) -> float:
    summaries = [found["summary"] for found in files.values()]
    found, of = (int(sum(each[key] for each in summaries)) for key in (part, whole))
    return found / max(of, 1)


def _few(places: list[Any]) -> str:
    return " ".join(map(str, places[:12])) + (" ..." if len(places) > 12 else "") if places else "none"


if __name__ == "__main__":
    sys.exit(main())
