"""Arches between two walls, by hand: what keeps clear of a motif, and how high and how far aside an arch goes."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely

from frameforge.frame import raised
from frameforge.frame.edge_line import EdgeLine
from frameforge.frame.raised import Arch, Side, find_arch
from frameforge.geometry.arc import Arc
from frameforge.tolerances import CHORD_MM

SLOT = 1.0
LINE = EdgeLine(-10 + 0j, 10 + 0j)


def wall(x: float, lean_deg: float = 0.0, high: float = 40.0, low: float = 0.0) -> Side:
    """Return a straight side from the line's end up (and down), leaning outwards by so much."""
    out = math.copysign(1.0, x) * math.tan(math.radians(lean_deg))
    points = [(x, -low), (x, 0.0), (x + out * high, high)]
    return Side(shapely.MultiLineString([points]), complex(x, 0))


def walls(lean_deg: float = 0.0, low: float = 0.0) -> tuple[Side, Side]:
    return wall(-10.0, lean_deg, low=low), wall(10.0, lean_deg, low=low)


def points(*places: complex) -> np.ndarray:
    return np.array(places, dtype=np.complex128)


def test_points_keep_clear_by_a_slot_and_what_chords_may_be_off() -> None:
    side = wall(10.0)
    limit = SLOT + 2 * CHORD_MM
    assert side.keeps_clear(points(10 - limit - 1e-9 + 5j, 5 + 5j), SLOT)
    assert not side.keeps_clear(points(10 - limit + 1e-6 + 5j, 5 + 5j), SLOT)


def test_in_the_corner_at_a_foot_points_may_be_nearer_where_it_opens() -> None:
    side = wall(10.0)

    def at(distance: float, opening_deg: float) -> np.ndarray:
        return points(
            10 + distance * 1j * complex(math.cos(math.radians(opening_deg)), math.sin(math.radians(opening_deg)))
        )

    assert side.keeps_clear(at(0.5, 61.0), SLOT, 60.0)
    assert not side.keeps_clear(at(0.5, 50.0), SLOT, 60.0)
    assert not side.keeps_clear(at(0.5, 61.0), SLOT)
    assert side.keeps_clear(at(1.4, 50.0), SLOT, 60.0), "a slot away"
    assert side.keeps_clear(at(0.5, 50.0), SLOT, 45.0)
    assert side.keeps_clear(points(10 + 0j), SLOT, 60.0), "the foot's end itself"


def test_a_low_arch_runs_from_foot_to_foot() -> None:
    """At a foot it opens by 90 less 2 atan(2 r / c) to an upright wall: 61 degrees for r = 2.6, 51 for 3.5."""
    assert find_arch(LINE, walls(), 2.6, SLOT) == Arch(2.6, 0.0, 1.0)
    higher = find_arch(LINE, walls(), 3.5, SLOT)
    assert higher is not None
    assert higher.aside_mm > 0


@pytest.mark.parametrize("rise", [3.5, 5.0, 8.0])
def test_a_higher_arch_begins_a_slot_beside_the_feet(rise: float) -> None:
    """Its sides then stand no nearer than that to the upright walls, in hundredths of a millimetre."""
    found = find_arch(LINE, walls(), rise, SLOT)
    assert found is not None
    assert found.aside_mm == pytest.approx(SLOT + 2 * CHORD_MM, abs=0.011)
    assert found == Arch(rise, found.aside_mm, 1.0)


def test_no_arch_is_higher_than_half_as_wide() -> None:
    found = find_arch(LINE, walls(), 30.0, SLOT)
    assert found is not None
    assert found.rise_mm == pytest.approx(10 - found.aside_mm, abs=0.011)
    assert found.rise_mm == pytest.approx(10 - SLOT - 2 * CHORD_MM, abs=0.011)
    assert round(found.rise_mm, 2) == pytest.approx(found.rise_mm)


def test_between_feet_too_near_for_straight_bits_the_corner_is_the_limit() -> None:
    """2 mm apart an arch from foot to foot opens by 51 degrees at a rise of .35."""
    found = find_arch(EdgeLine(-1 + 0j, 1 + 0j), (wall(-1.0), wall(1.0)), 5.0, SLOT)
    assert found is not None
    assert found.aside_mm == 0
    assert found.rise_mm == pytest.approx(0.35, abs=0.02)


def test_an_arch_lower_than_two_tenths_is_not_taken_in_place_of_a_higher_one() -> None:
    narrow = EdgeLine(-0.4 + 0j, 0.4 + 0j), (wall(-0.4, -10.0, 2.0), wall(0.4, -10.0, 2.0))
    assert find_arch(*narrow, 5.0, SLOT) is None
    low = find_arch(*narrow, 0.05, SLOT)
    assert low == Arch(0.05, 0.0, 1.0)


def test_an_arch_inwards_has_its_rise_below_the_line() -> None:
    """Upright walls that go on below it: the corner is as on the other side."""
    found = find_arch(LINE, walls(low=40.0), -2.6, SLOT)
    assert found == Arch(2.6, 0.0, -1.0)
    assert found is not None
    line = found.over(LINE)
    assert (line.rise_mm, line.aside_mm) == (-2.6, 0.0)
    assert line.top == pytest.approx(-2.6j)


def test_beside_an_arch_inwards_the_straight_bits_must_be_open() -> None:
    """Bits of 2 mm beside walls that lean over them: 33 degrees are open, less is a slit."""
    bit = EdgeLine(-10 + 0j, 10 + 0j, -3.0, 2.0)
    assert raised._is_open(bit, walls(-56.0), SLOT)
    assert not raised._is_open(bit, walls(-58.0), SLOT)
    assert not raised._is_open(bit, (wall(-10.0), wall(10.0, -58.0)), SLOT)
    assert not raised._is_open(bit, (wall(-10.0, -58.0), wall(10.0)), SLOT)
    assert raised._is_open(EdgeLine(-10 + 0j, 10 + 0j, -3.0, 0.0), walls(-80.0), SLOT)


def test_an_arch_is_looked_at_closely_near_its_ends() -> None:
    """A half circle of 20 mm: 31.4 mm long; tenths up to five slots from both ends, slots in between."""
    arc = Arc.from_bulge(-10 + 0j, 10 + 0j, -1.0)
    places = raised._places(arc, SLOT)
    length = 10 * math.pi
    steps = np.diff(places) * length
    assert (places[0], places[-1]) == (0, 1)
    assert steps.max() <= SLOT + 1e-9
    assert steps[:49] == pytest.approx([steps[0]] * 49, abs=0.11)
    assert steps[: int(4.9 / 0.1)].max() <= 0.1 + 1e-9
    assert steps[-int(4.9 / 0.1) :].max() <= 0.1 + 1e-9
    middle = steps[(places[:-1] * length > 5.2) & (places[1:] * length < length - 5.2)]
    assert middle.min() > 0.8
    short = raised._places(Arc.from_bulge(-1 + 0j, 1 + 0j, -0.5), SLOT)
    assert np.diff(short).max() * 2.4 <= 0.13


def test_least_and_greatest_are_found_to_a_part_of_the_way_in_few_looks() -> None:
    asked: list[float] = []

    def holds(value: float) -> bool:
        asked.append(value)
        return value >= 3.3

    assert raised._least(holds, 1.0, 9.0) == pytest.approx(3.3, abs=8 / 2**14)
    assert raised._least(holds, 1.0, 9.0) >= 3.3
    assert len(asked) == 30
    assert raised._least(holds, 4.0, 9.0) == 4.0
    assert raised._greatest(lambda value: value <= 3.3, 0.0, 8.0) == pytest.approx(3.3, abs=8 / 2**14)
    assert raised._greatest(lambda value: value <= 3.3, 0.0, 3.0) == 3.0
    assert raised._greatest(lambda value: value <= 3.3, 0.0, 8.0) <= 3.3


@pytest.mark.parametrize(("opening_deg", "is_clear"), [(60.5, True), (59.0, False)])
def test_a_corner_is_open_from_sixty_degrees_on(opening_deg: float, *, is_clear: bool) -> None:
    """An arch of 1000 mm on a wall that leans: beside its end it is as good as straight, and a slot off at 1.15 mm."""
    line = EdgeLine(-500 + 0j, 500 + 0j)
    rise = 0.01
    at_end = math.degrees(2 * math.atan(2 * rise / 1000))
    sides = wall(-500.0, opening_deg + at_end - 90.0), wall(500.0, opening_deg + at_end - 90.0)
    found = find_arch(line, sides, rise, 4.0)
    assert (found == Arch(rise, 0.0, 1.0)) is is_clear
