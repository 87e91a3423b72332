"""The steps by which ways out are looked for: the least change first, each further than the one before."""

from __future__ import annotations

from itertools import pairwise

import pytest

from frameforge.frame import behind, encounters, last_ways, loose, narrow_base, teeth, tent_ways, words_apart

SMALLER = [
    behind._SCALES,
    encounters._SCALES,
    last_ways._SMALLER,
    loose._SCALES,
    tent_ways._OPENINGS,
    tent_ways._SMALLER,
    words_apart._SCALES,
]
LARGER = [last_ways._LARGER, narrow_base._FACTORS[1:]]
FROM_NOTHING = [encounters._INSETS_MM, loose._SINKS_MM, teeth._WIDER_MM[1:], last_ways._ROUNDER]


@pytest.mark.parametrize("steps", SMALLER)
def test_smaller_and_smaller(steps: tuple[float, ...]) -> None:
    assert all(0 < after < before < 1 for before, after in pairwise(steps))
    assert all(after >= before / 2 for before, after in pairwise(steps))


@pytest.mark.parametrize("steps", LARGER)
def test_larger_and_larger(steps: tuple[float, ...]) -> None:
    assert all(1 < before < after <= 1.6 * before for before, after in pairwise(steps))


@pytest.mark.parametrize("steps", FROM_NOTHING)
def test_further_and_further(steps: tuple[float, ...]) -> None:
    assert all(0 < before < after <= 2.5 * before for before, after in pairwise(steps))
