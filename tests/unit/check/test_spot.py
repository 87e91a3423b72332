"""Discs at a spot of an outline: the largest one between two walls, and the way up to it."""

from __future__ import annotations

import math

import pytest

from frameforge.check.spot import Spot, disc_radius, widest_disc
from frameforge.geometry.arc import Arc
from frameforge.geometry.outline import Outline


@pytest.mark.parametrize("begin", [0.3, 0.4, 0.5, 0.55, 0.7])
def test_the_largest_disc_of_a_lens_lies_in_its_middle(begin: float) -> None:
    """Two arcs of radius 20 about -16i and 16i leave a lens 8 high: its largest disc has the radius 4."""
    half = math.acos(16 / 20)
    upper = Arc.from_circle(-16j, 20, math.pi / 2 - half, 2 * half)
    lower = Arc.from_circle(16j, 20, -math.pi / 2 - half, 2 * half)
    lens = Outline((upper, lower.with_ends(upper.end, upper.start)))
    spot, facing = Spot(lens, 0, begin), Spot(lens, 1, 1 - begin)
    first = disc_radius(spot, facing, 1)[0]
    radius, touch, other = widest_disc(spot, facing, 1)
    assert radius >= first
    assert radius == pytest.approx(4, abs=1e-3 if begin != 0.5 else 1e-9)
    assert abs(touch.point - 4j) < 0.5
    assert abs(other.point + 4j) < 0.5
    assert radius <= 4 + 1e-9
