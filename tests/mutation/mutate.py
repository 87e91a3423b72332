"""Mutants of geometry, frame and check: how many of a seeded sample do the default tests notice?

    python tests/mutation/mutate.py            measure which tests run which line, run the mutants, write the report
    python tests/mutation/mutate.py --again    run those again that survived, with more tests each
    python tests/mutation/mutate.py --only 1a2b3c4d   run one, and say what came of it

It needs the extra ``mutation``. What it found lies in out/mutation/, so that a run that was cut short goes on where it
stopped; REPORT.md beside this file is kept. Exit code 1 when fewer than 85 of 100 are killed.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import os
import sys
import traceback
from dataclasses import asdict, replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

from child import Outcome, outcome
from covering import MAP, OUT, Covering, measure
from mutants import Mutant, drawn, sources
from report import WANTED, share_killed, write_report

RESULTS = OUT / "results.json"
CAP_S, MORE_S = 25.0, 100.0
"""Most seconds of tests for a mutant: at first, and ``--again``."""
FILES, MORE_FILES = 16, 40
"""Most test files, likewise: collecting one takes its time too."""
TESTS = [f"tests/{folder}" for folder in ("unit", "property", "outside", "golden", "cli")]
VALUES = "tests/rules/test_values.py"
LEAST_LIMIT_S = 12.0
"""Seconds of CPU that a mutant has beyond twice what its tests take."""


def main() -> int:
    """Measure, run, report; returns the exit code."""
    asked = _asked()
    OUT.mkdir(parents=True, exist_ok=True)
    if asked.map or not MAP.exists():
        measure(asked.tests)
    covering = Covering(
        [p for p in sorted(OUT.glob("map*.sqlite")) if p.stat().st_size], sorted(OUT.glob("times*.json"))
    )
    sample = _sample(asked.seed, asked.count)
    if asked.fresh:
        for old in OUT.glob("results*.json"):
            old.unlink()
    results = _kept()
    wanted = [mutant for mutant in sample if _is_wanted(mutant, results.get(mutant.name), asked)]
    _at_once([wanted[i :: asked.at_once] for i in range(asked.at_once)], results, covering, asked)
    results = _kept()
    done = [(mutant, results[mutant.name]) for mutant in sample if mutant.name in results]
    if not asked.only or asked.report:
        _unsound(done)
        write_report(asked.seed, done)
    return 0 if share_killed(done) >= WANTED else 1


def _asked() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description="Run seeded mutants against the default tests.")
    parser.add_argument("--seed", type=int, default=4002)
    parser.add_argument("--count", type=int, default=300)
    parser.add_argument("--map", action="store_true", help="measure anew which tests run which line")
    parser.add_argument("--tests", nargs="*", default=TESTS)
    parser.add_argument("--fresh", action="store_true", help="forget what was found before")
    parser.add_argument("--again", action="store_true", help="try survivors with more tests")
    parser.add_argument("--cap", type=float, default=CAP_S, help="most seconds of tests for a mutant")
    parser.add_argument("--at-once", type=int, default=os.cpu_count() or 1, metavar="N", help="processes")
    parser.add_argument("--report", action="store_true", help="write the report of what was found so far")
    parser.add_argument("--only", nargs="*", default=[], metavar="NAME")
    parser.add_argument("--also", nargs="*", default=[], metavar="FILE", help="files of tests newer than the map")
    return parser.parse_args()


def _sample(seed: int, count: int) -> list[Mutant]:
    """Return the mutants, drawn anew where the source is not what it was."""
    source = hashlib.sha256(b"".join(path.read_bytes() for path in sources())).hexdigest()
    kept = OUT / f"drawn-{seed}-{count}-{source[:12]}.json"
    if not kept.exists():
        kept.write_text(json.dumps([asdict(mutant) for mutant in drawn(seed, count)], indent=0))
    return [Mutant(**fields) for fields in json.loads(kept.read_text())]


def _is_wanted(mutant: Mutant, kept: Outcome | None, asked: argparse.Namespace) -> bool:
    """Return whether a mutant is to be tried: named, new, or one that survived and is to be tried again."""
    if asked.only:
        return mutant.name in asked.only
    return not kept or (asked.again and kept.kind in ("survived", "no test"))


def _at_once(
    parts: list[list[Mutant]], before: dict[str, Outcome], covering: Covering, asked: argparse.Namespace
) -> None:
    """Try each part in a process of its own; each keeps what it found in a file of its own as it goes."""
    children = []
    for number, part in enumerate(parts):
        child = os.fork()
        if child == 0:
            code = 9
            try:
                _try_all(part, before, covering, asked, OUT / f"results-{number}.json")
                code = 0
            except (Exception, SystemExit):  # noqa: BLE001 - told by the exit code
                traceback.print_exc()
            finally:
                os._exit(code)
        children.append(child)
    codes = [os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) for child in children]
    if any(codes):
        raise SystemExit("One of the processes broke off: what it found so far is kept.")
    RESULTS.write_text(_text(_kept()))
    for old in OUT.glob("results-*.json"):
        old.unlink()


def _try_all(
    part: list[Mutant], before: dict[str, Outcome], covering: Covering, asked: argparse.Namespace, file: Path
) -> None:
    results: dict[str, Outcome] = {}
    for mutant in part:
        found = _tried(mutant, covering, asked)
        if kept := before.get(mutant.name):
            found = replace(found, first=kept.first or kept.kind)
        results[mutant.name] = found
        print(mutant.name, mutant.path, mutant.line, found.kind, f"{found.cpu_s:.1f} s", found.by, flush=True)
        file.write_text(_text(results))


def _text(results: dict[str, Outcome]) -> str:
    return json.dumps({name: asdict(result) for name, result in results.items()}, indent=0)


def _kept() -> dict[str, Outcome]:
    """Return what was found before, also by processes that broke off."""
    found: dict[str, Outcome] = {}
    for file in (RESULTS, *sorted(OUT.glob("results-*.json"))):
        if file.exists():
            found |= {name: Outcome(**result) for name, result in json.loads(file.read_text()).items()}
    return found


def _tried(mutant: Mutant, covering: Covering, asked: argparse.Namespace) -> Outcome:
    """Return what came of one mutant; those of a decorator of a value are held by the house rule too."""
    also = asked.also
    if asked.again:
        chosen = covering.chosen(mutant, MORE_S, MORE_FILES)
    else:
        chosen = covering.chosen(mutant, asked.cap, FILES) if asked.cap else []
    if mutant.before.startswith("@dataclass"):
        chosen.append(VALUES)
    found, spent_s = Outcome("no test"), 0.0
    for part in _parts([*also, *chosen]):
        limit_s = LEAST_LIMIT_S + 2 * sum(covering.seconds.get(name, LEAST_LIMIT_S) for name in part)
        found = outcome(mutant, part, limit_s, OUT / f"{mutant.name}.log")
        spent_s += found.cpu_s
        if found.kind != "survived":
            break
    return replace(found, cpu_s=spent_s)


def _parts(chosen: list[str]) -> list[list[str]]:
    """Return the tests of the first file, and the rest: most mutants die in the first, and each file takes its time."""
    files = list(dict.fromkeys(name.split("::")[0] for name in chosen))
    first = [name for name in chosen if name.split("::")[0] in files[:1]]
    rest = [name for name in chosen if name.split("::")[0] not in files[:1]]
    return [part for part in (first, rest) if part]


def _unsound(done: list[tuple[Mutant, Outcome]]) -> None:
    """Run every test that killed on the source as it is, the same way: one that does not pass there kills nothing."""
    killers = sorted({result.by for _, result in done if result.kind == "killed"})
    found = outcome(None, killers, 1200, OUT / "plain.log")
    if found.kind != "survived" and killers:
        raise SystemExit(f"On the source as it is {found.by or 'something'} does not pass either: see {OUT}/plain.log")


if __name__ == "__main__":
    sys.exit(main())
