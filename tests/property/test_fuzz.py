"""Whatever is asked: a sound piece whose files others read as told, or one clear line; whatever is read: the same.

Files with changed bytes run by default, 300 small random pieces with -m fuzz and with the slow tests. The long run is
one command, its parts each with a seed of their own, so that it can be stopped, and gone on with by a journal:

    FRAMEFORGE_FUZZ_JOURNAL=fuzz.txt .venv/bin/python -m pytest -m slow -s tests/property/test_fuzz.py

FRAMEFORGE_FUZZ_SEED gives other cases.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from fixtures.fuzz import Tally, fuzz_bytes, fuzz_pieces
from fixtures.fuzz_bytes import KINDS

SEED = int(os.environ.get("FRAMEFORGE_FUZZ_SEED", "9000"))
JOURNAL = os.environ.get("FRAMEFORGE_FUZZ_JOURNAL", "")
PARTS, CASES_A_PART = 40, 250


def check(tally: Tally) -> None:
    print(tally)  # noqa: T201  the seed stands in what a run prints
    assert not tally.faults, "\n\n".join([str(tally), *tally.faults])


@pytest.mark.slow
@pytest.mark.fuzz
@pytest.mark.parametrize("number", range(1, 7))
def test_random_pieces_are_sound_or_refused_in_one_line(number: int, tmp_path: Path) -> None:
    tally = fuzz_pieces(number, 50, tmp_path, shares=(6, 1, 1), most_offers=1, is_small=True)
    check(tally)
    assert tally.counts["cases"] == 50
    assert tally.counts["code 0"] >= 5
    assert tally.counts["code 2"] + tally.counts["code 3"] >= 5


@pytest.mark.parametrize("kind", KINDS)
def test_files_with_changed_bytes_are_read_or_refused_in_one_line(kind: str) -> None:
    check(fuzz_bytes(SEED, kind, 16))


def in_journal(line: str) -> bool:
    return bool(JOURNAL) and Path(JOURNAL).is_file() and line in Path(JOURNAL).read_text(encoding="utf-8").splitlines()


def told_journal(line: str, tally: Tally) -> None:
    if JOURNAL:
        with Path(JOURNAL).open("a", encoding="utf-8") as file:
            file.write(f"{line}\n  {tally}\n")
            file.writelines(f"  fault: {fault}\n" for fault in tally.faults)
            file.writelines(f"  {slow}\n" for slow in tally.slow)
            file.writelines(f"  second refusal: {second}\n" for second in tally.second)


@pytest.mark.slow
@pytest.mark.parametrize("part", range(PARTS))
def test_ten_thousand_random_pieces(part: int, tmp_path: Path) -> None:
    line = f"part {part} of seed {SEED}"
    if not in_journal(line):
        tally = fuzz_pieces(SEED + part, CASES_A_PART, tmp_path)
        told_journal(line, tally)
        check(tally)
        assert not tally.slow, "\n\n".join(tally.slow)


@pytest.mark.slow
@pytest.mark.parametrize("kind", KINDS)
def test_many_files_with_changed_bytes(kind: str) -> None:
    line = f"{kind} of seed {SEED}"
    if not in_journal(line):
        tally = fuzz_bytes(SEED + 1, kind, 1250)
        told_journal(line, tally)
        check(tally)
        assert not tally.slow, "\n\n".join(tally.slow)
