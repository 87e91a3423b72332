"""Widths between walls on chords and on the true curves: against shapely, by brute force, and in closed form."""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest
import shapely

from frameforge.check import width as widths
from frameforge.check.chords import Chords, to_chords
from frameforge.check.width import Width, is_empty, least_width, nearest_mm, polished, spot_on
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, ellipse, rectangle

WAIST = Outline.from_points((-10 - 6j, 10 - 6j, 10 + 6j, 1 + 0.8j, -10 + 6j))
"""A block with a notch from above down to 0.8 mm, its foot 1 mm right of the middle: 6.8 mm of card under it."""


@pytest.fixture(scope="module")
def ring() -> Chords:
    return to_chords([Region(ellipse(0, 20, 12), (circle(1, 9),)), Region(rectangle(30, 0, 40, 3))])


def test_what_is_nearest_is_as_far_as_shapely_says(ring: Chords) -> None:
    lines = shapely.MultiLineString([[(a.real, a.imag), (b.real, b.imag)] for a, b in zip(ring.start, ring.end)])  # noqa: B905
    for place in (0j, 25 + 1j, 35 + 1j, -30 - 4j):
        assert nearest_mm(ring, place) == pytest.approx(lines.distance(shapely.Point(place.real, place.imag)))


@pytest.mark.parametrize("reach", [0.0, 0.7, 5.0, 24.0, 60.0])
def test_chords_within_reach_along_the_loop(ring: Chords, reach: float) -> None:
    """All whose start is no further ahead or behind, ring shut; just those of the same loop."""
    for chord in (0, 3, int(ring.first[1]) - 1, int(ring.first[1]), int(ring.first[1]) + 9, int(ring.first[3]) - 1):
        loop = ring.loop[chord]
        whole = ring.loop_length[loop]
        off = (ring.along - ring.along[chord] + whole / 2) % whole - whole / 2
        mine = np.flatnonzero((ring.loop == loop) & (off >= -reach) & (off < reach))
        assert sorted(widths._within(ring, chord, reach)) == (
            mine.tolist() if 2 * reach < whole else np.flatnonzero(ring.loop == loop).tolist()
        )


@pytest.mark.parametrize("reach", [0.0, 0.7, 5.0])
def test_a_window_holds_the_chords_that_come_within_reach_and_both_neighbours(ring: Chords, reach: float) -> None:
    for chord in (0, 3, int(ring.first[1]) - 1, int(ring.first[1]) + 9):
        loop = ring.loop[chord]
        whole = ring.loop_length[loop]
        off = np.abs(ring.along - ring.along[chord])
        near = np.minimum(off, whole - off) <= reach + ring.length
        near[[ring.after[chord], ring.before[chord]]] = True
        window = widths._window(ring, chord, reach)
        assert sorted(window) == np.flatnonzero((ring.loop == loop) & near).tolist()


def test_the_way_along_an_edge_is_the_shorter_one(ring: Chords) -> None:
    i, j = np.array([0, 0, 2]), np.array([4, int(ring.first[1]) - 1, int(ring.first[1])])
    p, q = ring.middle[i], ring.middle[j]
    between = ring.length[0] / 2 + ring.length[1:4].sum() + ring.length[4] / 2
    over_seam = (ring.length[0] + ring.length[j[1]]) / 2
    assert widths._walked(ring, i, j, p, q) == pytest.approx([between, over_seam, math.inf])


def test_closest_points_of_chords_are_as_far_apart_as_shapely_says() -> None:
    rng = np.random.default_rng(5)
    ends = rng.uniform(-1, 1, (4, 300)) + 1j * rng.uniform(-1, 1, (4, 300))
    ends[2:] += 1.5
    pairs = np.stack([ends.real, ends.imag], axis=-1)
    a, b = (shapely.linestrings(pairs[k : k + 2].transpose(1, 0, 2)) for k in (0, 2))
    apart = ~shapely.intersects(a, b)
    p, q = widths._closest_points(*ends)
    assert np.abs(p - q)[apart] == pytest.approx(np.asarray(shapely.distance(a, b))[apart], abs=1e-12)
    on_a = shapely.distance(shapely.points(p.real, p.imag), a)
    on_b = shapely.distance(shapely.points(q.real, q.imag), b)
    assert np.max([on_a, on_b]) < 1e-12


def _contact(chords: Chords, point: complex) -> int:
    """The chord nearest to a point."""
    return int(chords.tree.nearest(shapely.Point(point.real, point.imag)))


def _pair(chords: Chords, a: complex, b: complex) -> Width:
    return Width(abs(b - a), a, b, _contact(chords, a), _contact(chords, b))


@pytest.mark.parametrize("off", [-0.8, 0.0, 0.9])
def test_the_least_width_is_at_the_foot_of_a_notch(off: float) -> None:
    chords = to_chords([Region(WAIST)])
    up = 1 + off + (0.8 + abs(off) * 0.5) * 1j
    found = least_width(chords, _pair(chords, complex(1 + off, -6), up), 2.0)
    assert found.mm == pytest.approx(6.8)
    assert (found.a, found.b) == (pytest.approx(1 - 6j), pytest.approx(1 + 0.8j))
    exact = polished(chords, found)
    assert (exact.mm, exact.a, exact.b) == (pytest.approx(6.8), pytest.approx(1 - 6j), pytest.approx(1 + 0.8j))


def test_a_width_between_curves_is_measured_on_the_curves() -> None:
    """Circles of radius 9 and 12 about 1 and 0 stand 2 mm apart at 10 and 12."""
    chords = to_chords([Region(circle(0, 12), (circle(1, 9),))])
    rough = least_width(chords, _pair(chords, 1 + cmath.rect(9, 0.12), cmath.rect(12, 0.13)), 3.0)
    assert rough.mm == pytest.approx(2, abs=0.02)
    exact = polished(chords, rough)
    assert exact.mm == pytest.approx(2, abs=1e-9)
    assert exact.middle == pytest.approx(11, abs=1e-4)


def test_a_closest_pair_far_off_leaves_the_width_where_it_is() -> None:
    """Newton leads from the middle of a wedge to its narrow end, 4.8 mm away: no place of this width."""
    wedge = Outline.from_points((0j, 10 + 0j, 10 + 3j, 1j))
    chords = to_chords([Region(wedge)])
    middle = _pair(chords, 5 + 0j, 4.7 + 1.94j)
    assert polished(chords, middle) == middle


def test_a_tip_is_not_followed_as_a_width() -> None:
    chords = to_chords([Region(Outline.from_points((0j, 10 - 1j, 10 + 1j)))])
    found = least_width(chords, _pair(chords, 9 - 0.9j, 9 + 0.9j), 30.0)
    assert found.mm == pytest.approx(1.8)


def test_the_spot_of_a_point_of_a_chord_is_on_the_curve() -> None:
    chords = to_chords([Region(circle(2j, 5))])
    for k in (0, 7, len(chords.start) - 1):
        spots = [spot_on(chords, k, complex(chords.start[k] + share * (chords.end[k] - chords.start[k])))
                 for share in (0, 0.25, 1, 4)]  # fmt: skip
        t0, t1 = chords.t0[k], chords.t1[k]
        assert [spot.t for spot in spots[:3]] == pytest.approx([t0, t0 + (t1 - t0) / 4, t1])
        assert 0 <= spots[3].t <= 1
        assert abs(spots[0].point - chords.start[k]) < 1e-9


def test_a_width_is_empty_unless_a_wall_stands_within_its_disc() -> None:
    """A post 3 mm off the line between the contacts, which are 2 x 3 mm apart: 1 % and .002 mm are allowed for."""
    for off, holds in ((3.0, True), (2.969, True), (2.967, False), (1.0, False)):
        post = rectangle(off, -0.5, off + 1, 0.5)
        chords = to_chords([Region(rectangle(-10, -4, 20, -3)), Region(rectangle(-10, 3, 20, 4)), Region(post)])
        assert is_empty(chords, Width(6.0, -3j, 3j, 0, 0)) == holds
