"""Down a finger that narrows to its narrowest place: between the last samples, on the true curves."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely

from frameforge.check import taper
from frameforge.check.chords import Chords, to_chords
from frameforge.check.spot import Spot
from frameforge.check.taper import narrowest
from frameforge.check.width import Width
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region

TOP, END, LENGTH = 2.0, 1.0, 20.0
"""A finger 4 mm wide at its root and 2 at its end, 20 mm on."""
SLOPE = (TOP - END) / LENGTH
LEAN = math.atan(SLOPE)


def finger(cuts: int = 1) -> Outline:
    """The finger on a block; its lower wall cut into parts alike."""
    low = [LENGTH * k / cuts - 1j * (TOP - SLOPE * LENGTH * k / cuts) for k in range(cuts + 1)]
    return Outline.from_points([*low, LENGTH + 1j * END, 1j * TOP, 10j - 0.1, -10 + 10j, -10 - 10j, -0.1 - 10j])


def radius_at(x: float) -> float:
    """The disc that touches the lower wall at x: its centre on the middle line, a sine of the lean further back."""
    half = TOP - SLOPE * x
    return half / math.cos(LEAN)


def last_x() -> float:
    """Where the disc touches the end as well: r = L - (x - r sin)."""
    low, high = 0.0, LENGTH
    for _ in range(60):
        middle = (low + high) / 2
        room = LENGTH - (middle - radius_at(middle) * math.sin(LEAN))
        low, high = (middle, high) if room > radius_at(middle) else (low, middle)
    return low


def begun(chords: Chords, x: float) -> Width:
    low = complex(x, -(TOP - SLOPE * x))
    high = low.conjugate()
    one, two = (int(chords.tree.nearest(shapely.Point(z.real, z.imag))) for z in (low, high))
    return Width(2 * radius_at(x), low, high, one, two)


@pytest.mark.parametrize("cuts", [1, 2, 4])
@pytest.mark.parametrize("x", [11.0, 15.5, 17.0])
def test_the_walk_ends_where_the_end_of_the_finger_reaches_into_the_disc(cuts: int, x: float) -> None:
    """To a hundredth of a millimetre of the way, that by which chords stand off, and a ten-thousandth of a wall."""
    chords = to_chords([Region(finger(cuts))])
    found = narrowest(chords, begun(chords, x), 1)
    at = last_x()
    assert found.a.real == pytest.approx(at, abs=0.025)
    assert found.a.imag == pytest.approx(-(TOP - SLOPE * found.a.real))
    assert found.b == pytest.approx(found.a.conjugate(), abs=1e-6)
    assert found.mm == pytest.approx(2 * radius_at(found.a.real))
    assert (found.chord_a, found.chord_b) == (begun(chords, x).chord_a, begun(chords, x).chord_b)


def test_from_the_narrowest_place_the_walk_goes_nowhere() -> None:
    chords = to_chords([Region(finger())])
    start = begun(chords, last_x() + 0.02)
    assert narrowest(chords, start, 1) is start


def test_the_other_contact_is_followed_to_where_it_is() -> None:
    """However far off it was told to be: a quarter of its wall a round."""
    outline = finger()
    x = 10.0
    disc = taper._Disc(Spot(outline, 0, x / LENGTH), Spot(outline, 2, 0.05), 1.0)
    settled = taper._settled(disc, 1)
    assert settled.radius == pytest.approx(radius_at(x))
    assert settled.other.point == pytest.approx(complex(x, TOP - SLOPE * x))
    assert settled.centre(1) == pytest.approx(x - radius_at(x) * math.sin(LEAN), abs=1e-9)
    assert settled.spot == disc.spot


def test_along_one_wall_the_smaller_discs_are_towards_the_end_only() -> None:
    outline = finger()
    chords = to_chords([Region(outline)])
    x = 12.0
    disc = taper._Disc(Spot(outline, 0, x / LENGTH), Spot(outline, 2, 1 - x / LENGTH), radius_at(x))
    assert taper._towards(chords, disc, 0.0, 1) is disc
    further = taper._towards(chords, disc, 1.0, 1)
    assert further.spot.point.real == pytest.approx(last_x(), abs=0.025)
    assert np.isclose(further.radius, radius_at(further.spot.point.real))
