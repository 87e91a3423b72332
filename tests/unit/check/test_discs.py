"""Discs through a point of one wall that touch a chord of another, against a search by halving."""

from __future__ import annotations

import cmath
import math
import random

import numpy as np
import pytest
import shapely

from frameforge.check import discs
from frameforge.check.chords import to_chords
from frameforge.check.discs import _tangent
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle

GREATEST = 1000.0


def searched(a: complex, n: complex, start: complex, end: complex) -> float:
    """Return the radius at which the disc that touches a, with its middle along n, comes to touch a stretch."""

    def reaches(radius: float) -> bool:
        middle, way = a + radius * n, end - start
        t = min(max(((middle - start) * way.conjugate()).real / abs(way) ** 2, 0.0), 1.0)
        return abs(middle - start - t * way) <= radius

    if not reaches(GREATEST):
        return math.inf
    low, high = 0.0, GREATEST
    for _ in range(80):
        radius = (low + high) / 2
        low, high = (low, radius) if reaches(radius) else (radius, high)
    return high


@pytest.mark.parametrize("seed", range(4))
def test_radius_and_contact_are_those_that_a_search_finds(seed: int) -> None:
    """A short wall across, level or aslant: the disc touches it inside, or at the one end or the other."""
    chance = random.Random(seed)
    seen = set()
    for _ in range(40):
        start = complex(chance.uniform(-9, 9), chance.uniform(3, 9))
        end = start + cmath.rect(chance.uniform(0.5, 4), chance.uniform(-1.2, 1.2))
        chords = to_chords([Region(Outline.from_points([start, end, start + 40j]))])
        a, n = 0j, cmath.rect(1, math.pi / 2 + chance.uniform(-0.3, 0.3))
        (radius,), (touch,) = _tangent(chords, np.array([0]), np.array([a]), np.array([n]), GREATEST)
        wanted = searched(a, n, complex(chords.start[0]), complex(chords.end[0]))
        assert radius == pytest.approx(wanted, rel=1e-7)
        if math.isfinite(wanted):
            assert abs(abs(touch - a - radius * n) - radius) < 1e-6 * radius
            seen.add("start" if abs(touch - start) < 1e-9 else "end" if abs(touch - end) < 1e-9 else "inside")
    assert seen == {"start", "end", "inside"}


@pytest.mark.parametrize("at_once", [1, 7, 50_000])
def test_the_walls_that_a_disc_reaches_are_those_that_a_distance_finds(
    at_once: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """However many are asked at once: against the distances that shapely measures, one by one."""
    monkeypatch.setattr(discs, "AT_ONCE", at_once)
    chords = to_chords([Region(circle(0, 10), (circle(2, 6).reversed(),)), Region(rectangle(12, -4, 20, 4))])
    rng = np.random.default_rng(5)
    centre = rng.uniform(-12, 22, 60) + 1j * rng.uniform(-12, 12, 60)
    samples, walls = discs._touched(chords, centre, 1.5)
    lines = chords.tree.geometries.tolist()
    wanted = {
        (k, wall)
        for k, z in enumerate(centre.tolist())
        for wall, line in enumerate(lines)
        if line.distance(shapely.Point(z.real, z.imag)) <= 1.5
    }
    assert len(wanted) > 50
    assert sorted(zip(samples.tolist(), walls.tolist(), strict=True)) == sorted(wanted)
    assert samples.tolist() == sorted(samples.tolist())


def test_no_wall_is_reached_by_no_disc() -> None:
    chords = to_chords([Region(circle(0, 10))])
    assert [len(part) for part in discs._touched(chords, np.empty(0, dtype=np.complex128), 1.0)] == [0, 0]


def test_of_discs_alike_the_one_that_reaches_furthest_is_kept() -> None:
    """Group by group the least radius; within 1e-7 of it the greatest reach, of equals the first; none of infinite."""
    group = np.array([0, 0, 0, 2, 2, 5, 7, 7])
    radius = np.array([3.0, 2.0, 2.0 + 0.9e-7, 1.0, 1.0 + 1.1e-7, np.inf, 4.0, 4.0])
    reach = np.array([9.0, 1.0, 1.5, 1.0, 2.0, 1.0, 2.0, 2.0])
    assert discs._least_of_each(group, radius, reach).tolist() == [2, 3, 6]


def test_samples_stand_in_the_middles_of_equal_parts_and_fan_out_at_corners() -> None:
    """A notched block: on the card's side the corner of the notch fans, on the slots' side the six others."""
    block = Region(Outline.from_points([0j, 6 + 0j, 6 + 4j, 4 + 4j, 4 + 2j, 0 + 2j]))
    chords = to_chords([block])
    for sign, corners in ((1, [4 + 2j]), (-1, [0j, 6 + 0j, 6 + 4j, 4 + 4j, 2j])):
        at, chord, along, normal = discs._samples(chords, 0.5, sign)
        at_corner = np.abs(at[:, None] - chords.start[None]).min(axis=1) < 1e-12
        assert {complex(z) for z in np.round(at[at_corner], 9)} == set(corners)
        way = chords.direction[chord]
        assert normal[~at_corner] == pytest.approx(sign * 1j * way[~at_corner])
        assert along == pytest.approx(chords.along[chord] + np.abs(at - chords.start[chord]))
        assert np.diff(along).max() < 0.51
        for corner in corners:
            fan = normal[np.abs(at - corner) < 1e-12]
            turns = np.abs(np.angle(fan[1:] / fan[:-1]))
            assert len(fan) == 9
            assert turns == pytest.approx(np.full(8, np.pi / 16))
            assert abs(abs(np.angle(fan[-1] / fan[0])) - np.pi / 2) < 1e-9
    middles, chord, *_ = discs._samples(chords, 2.0, 1)
    first = middles[(chord == 0)]
    assert first.tolist() == pytest.approx([1, 3, 5])


def test_the_screen_is_a_little_above_the_limit() -> None:
    assert discs.screen_mm(1.0) == pytest.approx(1.15)
    assert discs.screen_mm(0.0) == 0.05
    chords = to_chords([Region(Outline.from_points([0j, 6 + 0j, 6 + 4j]))])
    assert discs.tangent_discs(chords, 1.0, "card").step == pytest.approx(0.345)
    assert discs.tangent_discs(chords, 0.01, "card").step == 0.03


def test_crowded_samples_are_thinned_to_one_a_cell_of_way_or_of_turning() -> None:
    """Half a step of 1 mm, or 6 degrees either way, or another loop."""
    chords = to_chords([Region(circle(0, 20)), Region(circle(100, 20))])
    one, other = 0, int(chords.first[1])
    along = np.array([0.1, 0.2, 0.6, 0.9, 1.1, 0.3, 0.3, 0.4, 0.4, 0.4])
    turned = np.radians([1.0, 2, 2, 2, 3, 3, 3, 7, 13, 8])
    chord = np.array([one, one, one, one, one, one, other, other, other, other])
    kept = discs._thinned(chords, chord, along, turned, 1.0)
    assert kept.tolist() == [True, False, True, False, True, True, True, True, True, True]
