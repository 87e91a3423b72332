"""How much of the program the default tests run: lines of the whole package, branches of geometry, frame and check.

    python tests/coverage/cover.py                 run the default tests under coverage, then tell; exit code 1 below 95
    python tests/coverage/cover.py --told          tell again what the last run found
    python tests/coverage/cover.py tests/unit/cli  run some tests only, added to what earlier runs found

It needs the extra ``measure``. Commands that tests start as processes of their own are measured too, and so are the
workers of batches. It takes about twice as long as the tests do (Python 3.11 has no cheaper way: its tracing is called
at every line), so it is no part of them.
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
"""Least share of lines (package), of branches (each of BRANCHED)."""
MOST_TOLD = 40


def main() -> int:
    """Run, join, tell; returns the exit code."""
    parser = argparse.ArgumentParser(description="Measure what the default tests run.")
    parser.add_argument("tests", nargs="*", help="some tests only; earlier runs count too")
    parser.add_argument("--told", action="store_true", help="tell what earlier runs found")
    asked = parser.parse_args()
    OUT.mkdir(parents=True, exist_ok=True)
    if not asked.tests and not asked.told:
        for old in OUT.glob("data*"):
            old.unlink()
    if not asked.told:
        options = ["-q", "-p", "no:cacheprovider", "--cov", "--cov-append", "--cov-report="]
        subprocess.run([sys.executable, "-m", "pytest", *options, *asked.tests], cwd=ROOT, check=True)
    told = OUT / "told.json"
    if list(OUT.glob("data.*")):
        _coverage("combine", "--append", "--quiet")
    _coverage("json", "--quiet", "-o", str(told))
    return _judged(json.loads(told.read_text(encoding="utf-8")))


def _coverage(*words: str) -> None:
    subprocess.run([sys.executable, "-m", "coverage", *words], cwd=ROOT, check=True)


def _judged(found: dict[str, Any]) -> int:
    """Print the shares and the worst modules; return 1 where a share is too small."""
    files = {name.removeprefix("frameforge/"): file["summary"] for name, file in found["files"].items()}
    shares = {"lines": _share(list(files.values()), "covered_lines", "num_statements")}
    for folder in BRANCHED:
        mine = [summary for name, summary in files.items() if name.startswith(f"{folder}/")]
        shares[f"branches of {folder}/"] = _share(mine, "covered_branches", "num_branches")
    missing = {
        name: [found["files"][f"frameforge/{name}"][key] for key in ("missing_lines", "missing_branches")]
        for name in files
    }
    worst = sorted(missing, key=lambda name: -len(missing[name][0]) - len(missing[name][1]))[:MOST_TOLD]
    for name in worst:
        lines, branches = missing[name]
        if lines or branches:
            print(f"{name}: lines {_few(lines)}, branches {_few([f'{a}-{b}' for a, b in branches])}")
    for what, share in shares.items():
        print(f"{share:.2%} of {what} (wanted: {LEAST:.0%})")
    return 0 if min(shares.values()) >= LEAST else 1


def _share(summaries: list[dict[str, int]], part: str, whole: str) -> float:
    return sum(each[part] for each in summaries) / max(sum(each[whole] for each in summaries), 1)


def _few(places: list[Any]) -> str:
    return " ".join(map(str, places[:12])) + (" ..." if len(places) > 12 else "") if places else "none"


if __name__ == "__main__":
    sys.exit(main())
