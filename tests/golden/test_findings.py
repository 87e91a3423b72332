"""The findings of demo and motifs are those that were looked at: the same codes, places, measures, and no more."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable

import pytest
from fixtures.golden_findings import EXPECTED, PRESETS, found_now

from frameforge.motif.catalogue import names

Found = dict[tuple[str, ...], list[tuple[complex, float]]]

PLACE_MM = 0.05
MEASURE = 1e-3


@pytest.fixture(scope="module")
def lines() -> list[str]:
    return found_now()


@pytest.fixture(scope="module")
def expected() -> list[str]:
    return EXPECTED.read_text(encoding="utf-8").splitlines()


def _by_kind(lines: Iterable[str]) -> Found:
    kinds: Found = defaultdict(list)
    for line in lines:
        *kind, x, y, measured = line.split()
        kinds[tuple(kind)].append((complex(float(x), float(y)), float(measured)))
    return kinds


def test_every_finding_is_one_that_was_looked_at(lines: list[str], expected: list[str]) -> None:
    assert Counter(line.rsplit(" ", 3)[0] for line in lines) == Counter(line.rsplit(" ", 3)[0] for line in expected)


def test_places_and_measures_stayed(lines: list[str], expected: list[str]) -> None:
    now = _by_kind(lines)
    for kind, findings in _by_kind(expected).items():
        for place, measured in findings:
            near = [value for at, value in now[kind] if abs(at - place) <= PLACE_MM]
            assert any(abs(value - measured) <= MEASURE for value in near), (kind, place, measured, near)


def test_what_is_known_of_the_motifs_is_among_them(expected: list[str]) -> None:
    """Widths by hand from the drawings: beetle's feelers 1.20, pea pod's web 1.04, scallop's 1.00, trellis 1.07."""
    knife = [line.split() for line in expected if PRESETS[0] in line]
    for motif, code, width in (
        ("beetle", "thin-finger", 1.20), ("pea-pod", "thin-web", 1.04), ("scallop", "thin-web", 1.00),
        ("trellis", "thin-web", 1.07),
    ):  # fmt: skip
        measured = [float(words[-1]) for words in knife if words[0] == f"motif/{motif}" and words[2] == code]
        assert min(measured) == pytest.approx(width, abs=0.02), motif
    assert {line.split()[0].removeprefix("motif/") for line in expected} & set(names())
