"""How much room outlines take: at the best turn, as round ones, in a circle; against closed forms of ovals."""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest

from frameforge.card.envelope import Envelope
from frameforge.frame.extent import hull_of, outline_points, room_taken, round_mm
from frameforge.frame.profile import Complexes
from frameforge.geometry.shapes import circle, ellipse, rectangle


def box(width: float, height: float) -> Envelope:
    """A box that takes width by height, the margin added."""
    return Envelope.from_size(width + 6, height + 6, is_circle=False)


def hull(*outlines: object) -> Complexes:
    return hull_of(outline_points(outlines))  # type: ignore[arg-type]


def test_points_miss_the_curve_by_no_more_than_their_tolerance() -> None:
    assert 60 - 2e-5 <= 2 * float(np.abs(hull(circle(0, 30))).max()) <= 60 + 1e-9


def test_a_rectangle_goes_in_where_its_sides_do_whichever_way_it_lies() -> None:
    points = hull(rectangle(-50, -20, 50, 20))
    for turn in (0.0, 0.3, math.pi / 2):
        assert room_taken(points * cmath.rect(1, turn), box(100, 40), on_circle=False) == pytest.approx(1, abs=1e-7)
        assert room_taken(points * cmath.rect(1, turn), box(50, 80), on_circle=False) == pytest.approx(1.25, abs=1e-7)


def test_an_oval_goes_in_askew_where_it_does_not_upright() -> None:
    """Width of an oval turned by q: 2 hypot(a cos q, b sin q); the best turn here brings both parts to one value."""
    points, room = hull(ellipse(0, 80, 20)), box(154, 106)

    def parts(q: float) -> tuple[float, float]:
        wide, high = (2 * math.hypot(80 * math.cos(q - s), 20 * math.sin(q - s)) for s in (0, math.pi / 2))
        return wide / 154, high / 106

    best = min(max(parts(k * math.pi / 200000)) for k in range(100000))
    assert parts(0)[0] > 1 > best
    assert room_taken(points, room, on_circle=False) == pytest.approx(best, abs=1e-5)


def star(count: int, inner: float, outer: float) -> Complexes:
    spokes = [outer * cmath.rect(1, math.tau * k / count) for k in range(count)]
    return hull_of(np.array([*spokes, *(inner * cmath.rect(1, math.tau * k / 100) for k in range(100))]))


@pytest.mark.parametrize(("count", "is_round"), [(2, False), (3, False), (4, False), (6, True), (7, True), (16, True)])
def test_a_ring_of_six_or_more_is_round(count: int, *, is_round: bool) -> None:
    assert (round_mm(star(count, 30, 50)) is not None) == is_round


def test_a_round_piece_takes_its_width_whichever_way_it_is_turned() -> None:
    """Sixteen tips on a circle of 108.874: turned by half a step they would reach 106.78 only; on a card that turns in
    its envelope the tips count."""
    points = star(16, 40, 108.874 / 2)
    room = box(108, 156)
    assert round_mm(points) == pytest.approx(108.874, abs=1e-9)
    assert room_taken(points, room, on_circle=True) == pytest.approx(108.874 / 108, abs=1e-9)
    assert room_taken(points, room, on_circle=False) == pytest.approx(108.874 * math.cos(math.pi / 16) / 108, abs=1e-6)


def test_in_a_lid_the_circle_round_it_counts() -> None:
    lid = Envelope.from_size(76, 76, is_circle=True)
    points = hull(rectangle(-30, -20, 30, 20))
    assert room_taken(points + 7, lid, on_circle=False) == pytest.approx(2 * math.hypot(30, 20) / 70, abs=1e-9)


@pytest.mark.parametrize("seed", range(6))
def test_the_least_circle_round_many_corners_is_that_of_a_few_of_them(seed: int) -> None:
    """Three corners of it lie on a circle of 20 mm about 3 + 4j, all others within; and an oval of thousands."""
    chance = np.random.default_rng(seed)
    spots = 3 + 4j + 19 * np.sqrt(chance.random(300)) * np.exp(1j * math.tau * chance.random(300))
    on_it = 3 + 4j + 20 * np.exp(1j * (chance.random() + np.array([0.0, 2.0, 4.1])))
    corners = hull_of(np.concatenate([spots, on_it]))
    room = Envelope.from_size(56, 56, is_circle=True)
    assert room_taken(corners, room, on_circle=False) == pytest.approx(40 / room.short_mm, rel=1e-9)
    oval = hull(ellipse(0, 335, 201))
    assert room_taken(oval, room, on_circle=False) == pytest.approx(670 / room.short_mm, rel=1e-5)


@pytest.mark.parametrize(("count", "seed"), [(12, 44), (16, 9)])
def test_of_many_turns_nearly_as_good_the_best_is_found(count: int, seed: int) -> None:
    """Corners about a circle of 100 mm, none quite in its place: as narrow as at any of 20000 turns, or narrower."""
    chance = np.random.default_rng(seed)
    turned = math.tau * np.arange(count) / count + chance.normal(0, 0.02, count)
    corners = np.exp(1j * turned) * (50 + chance.normal(0, 0.05, count))
    along = (np.exp(-1j * math.pi * np.arange(20000) / 20000)[:, None] * corners).real
    width = along.max(axis=1) - along.min(axis=1)
    least = float(np.maximum(width, np.roll(width, 10000)).min()) / 100
    assert least - 1e-4 < room_taken(hull_of(corners), box(100, 100), on_circle=False) <= least + 1e-12


def test_a_piece_that_is_not_round_is_turned_even_on_a_circle() -> None:
    """Three spokes of 50 mm on a small disc: in a lid the circle round them counts, in a box their best turn."""
    points = star(3, 10, 50)
    assert round_mm(points) is None
    lid = Envelope.from_size(106, 106, is_circle=True)
    assert room_taken(points, lid, on_circle=True) == pytest.approx(1.0, abs=1e-9)
    # The corners of an equal-sided triangle of 50 sqrt 3 fit a square of side 100 cos 30 cos 15.
    side = 50 * math.sqrt(3) * math.cos(math.radians(15))
    assert room_taken(points, box(side, side), on_circle=True) == pytest.approx(1.0, abs=1e-6)


def test_a_round_piece_is_as_wide_as_twice_its_outermost_corner_from_0() -> None:
    corners = hull(circle(0, 30)) + 2
    assert round_mm(corners) == pytest.approx(64, abs=1e-4)
    assert room_taken(corners, box(64, 80), on_circle=True) == pytest.approx(1.0, abs=1e-5)
    assert room_taken(corners, box(64, 80), on_circle=False) == pytest.approx(60 / 64, abs=1e-5)
