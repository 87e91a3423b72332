"""Discs at a spot of an outline: the largest one between two walls, and the way up to it."""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest

from frameforge.check import spot
from frameforge.check.spot import Spot, closest_pair, disc_radius, widest_disc
from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline
from frameforge.geometry.shapes import rectangle


@pytest.mark.parametrize("begin", [0.3, 0.4, 0.5, 0.55, 0.7])
def test_the_largest_disc_of_a_lens_lies_in_its_middle(begin: float) -> None:
    """Two arcs of radius 20 about -16i and 16i leave a lens 8 high: its largest disc has the radius 4."""
    half = math.acos(16 / 20)
    upper = Arc.from_circle(-16j, 20, math.pi / 2 - half, 2 * half)
    lower = Arc.from_circle(16j, 20, -math.pi / 2 - half, 2 * half)
    lens = Outline((upper, lower.with_ends(upper.end, upper.start)))
    start, facing = Spot(lens, 0, begin), Spot(lens, 1, 1 - begin)
    first = disc_radius(start, facing, 1)[0]
    radius, touch, other = widest_disc(start, facing, 1)
    assert radius >= first
    assert radius == pytest.approx(4, abs=1e-3 if begin != 0.5 else 1e-9)
    assert abs(touch.point - 4j) < 0.5
    assert abs(other.point + 4j) < 0.5
    assert radius <= 4 + 1e-9


SQUARE = rectangle(0, 0, 4, 4)


def test_beside_a_joint_is_the_same_joint_of_the_neighbour() -> None:
    assert Spot(SQUARE, 3, 1.0).beside() == Spot(SQUARE, 0, 0.0)
    assert Spot(SQUARE, 1, 1.0).beside() == Spot(SQUARE, 2, 0.0)
    assert Spot(SQUARE, 0, 0.0).beside() == Spot(SQUARE, 3, 1.0)
    assert Spot(SQUARE, 2, 0.0).beside() == Spot(SQUARE, 1, 1.0)
    between = Spot(SQUARE, 2, 0.3)
    assert between.beside() is between
    assert [between.at(t).t for t in (-0.1, 0.0, 0.6, 1.0, 1.7)] == [0, 0, 0.6, 1, 1]


def cut_circle(center: complex, radius: float, first_rad: float) -> Outline:
    """A circle of four arcs, the first of which begins at an angle."""
    arcs = [Arc.from_circle(center, radius, first_rad + k * math.pi / 2, math.pi / 2) for k in range(4)]
    return Outline.from_chain(arcs, joint_mm=1e-9)


def on_circle(center: complex, radius: float, first_rad: float, angle_rad: float) -> Spot:
    """The spot of such a circle in a direction from its middle."""
    arc, t = divmod((angle_rad - first_rad) % math.tau, math.pi / 2)
    return Spot(cut_circle(center, radius, first_rad), int(arc), t / (math.pi / 2))


@pytest.mark.parametrize("first_rad", [-0.3, -1.2, 0.4, 0.8])
@pytest.mark.parametrize("off", [(0.3, 0.25), (-0.6, 0.5), (-0.3, -0.25)])
def test_the_closest_pair_of_two_circles_is_found_over_joints(first_rad: float, off: tuple[float, float]) -> None:
    way = (12 + 5j) / 13
    toward = cmath.phase(way)
    one = on_circle(0, 5, first_rad, toward + off[0])
    a, b = closest_pair(one, on_circle(12 + 5j, 6, first_rad + 2, toward + math.pi + off[1]))
    assert abs(a.point - 5 * way) < 1e-9
    assert abs(b.point - 7 * way) < 1e-9


def test_the_closest_pair_of_corners_and_sides() -> None:
    other = rectangle(7, 8, 9, 9)
    a, b = closest_pair(Spot(SQUARE, 1, 0.7), Spot(other, 0, 0.4))
    assert (a.point, b.point) == (4 + 4j, 7 + 8j)
    a, b = closest_pair(Spot(SQUARE, 1, 0.3), Spot(cut_circle(9 + 3j, 2, 2.9), 0, 0.4))
    assert (a.point, b.point) == (pytest.approx(4 + 3j), pytest.approx(7 + 3j))
    b, a = closest_pair(Spot(cut_circle(9 + 7j, 2, 2.9), 0, 0.4), Spot(SQUARE, 1, 0.3))
    assert (a.point, b.point) == (pytest.approx(4 + 4j), pytest.approx(9 + 7j - 2 * (5 + 3j) / abs(5 + 3j)))


def closed(cubic: Cubic) -> Outline:
    return Outline((cubic, Line(cubic.end, cubic.start)))


@pytest.mark.parametrize("seed", range(10))
def test_a_step_is_newtons_on_half_the_square_of_the_distance(seed: int) -> None:
    """Against differences of the distance itself; no parameter steps further than a quarter."""
    rng = np.random.default_rng(seed)
    low, high = (
        [
            complex(x, side * (1 + y))
            for x, y in zip((0, 3, 6, 9), rng.uniform(-0.4, 0.4, 4) + np.array([3, 0, 0, 3]), strict=True)
        ]
        for side in (-1, 1)
    )
    first, second = Spot(closed(Cubic(*low)), 0, rng.uniform(0.3, 0.7)), Spot(closed(Cubic(*high)), 0, 0.5)

    def half_square(s: float, t: float) -> float:
        return abs(first.at(first.t + s).point - second.at(second.t + t).point) ** 2 / 2

    h = 1e-4
    steps = [np.array([h, 0]), np.array([0, h])]
    slope = np.array([(half_square(*d) - half_square(*-d)) / (2 * h) for d in steps])
    bend = np.array(
        [[(half_square(*(d + e)) - half_square(*(d - e)) - half_square(*(e - d)) + half_square(*(-d - e))) / (4 * h * h)
          for d in steps] for e in steps]
    )  # fmt: skip
    assert np.linalg.det(bend) > 0
    wanted = np.clip(-np.linalg.solve(bend, slope), -0.25, 0.25)
    assert spot._newton_step(first, second) == pytest.approx(wanted, abs=1e-5)


@pytest.mark.parametrize("turned", [False, True])
def test_a_parameter_held_at_its_end_stays_and_the_other_steps_to_its_foot(turned: bool) -> None:
    """From the near end of a side, the foot of it on a line 1 mm off: along 10 mm, 0.2 of it is 2 mm."""
    side, wall = Line(0j, -4 + 0j), Line(-1 + 1j, 9 + 1j)
    if turned:
        side = side.reversed()
    spots = Spot(Outline((side, side.reversed())), 0, float(turned)), Spot(Outline((wall, wall.reversed())), 0, 0.3)
    assert spot._newton_step(*spots) == pytest.approx((0.0, -0.2))
    assert spot._newton_step(*reversed(spots)) == pytest.approx((-0.2, 0.0))


def test_between_parallel_walls_the_second_steps_to_the_foot_of_the_first() -> None:
    low, high = Line(0j, 10 + 0j), Line(0 + 2j, 10 + 2j)
    spots = Spot(Outline((low, low.reversed())), 0, 0.5), Spot(Outline((high, high.reversed())), 0, 0.4)
    assert spot._newton_step(*spots) == pytest.approx((0.0, 0.1))
    still = Cubic(4 + 2j, 4 + 2j, 4 + 2j, 4 + 2j)
    assert spot._newton_step(spots[0], Spot(Outline((still, still)), 0, 0.5)) == pytest.approx((-0.1, 0.0))


def test_pairs_settle_in_a_few_rounds(monkeypatch: pytest.MonkeyPatch) -> None:
    seen: list[tuple[Spot, Spot]] = []
    plain = spot._newton_step

    def counted(first: Spot, second: Spot) -> tuple[float, float]:
        seen.append((first, second))
        return plain(first, second)

    monkeypatch.setattr(spot, "_newton_step", counted)
    closest_pair(Spot(cut_circle(0, 5, -0.3), 0, 0.4), Spot(cut_circle(12 + 5j, 6, 2.9), 0, 0.3))
    assert len(seen) <= 12


def test_a_wall_is_looked_at_a_quarter_of_it_either_way() -> None:
    """Under a slanting wall the touching disc is far to the left; within a quarter the end of that is nearest."""
    wall = Line(0 + 1j, 40 + 41j)
    outline, edge = Outline((wall, wall.reversed())), Outline((Line(0j, 40 + 0j), Line(40 + 0j, 0j)))
    radius, touch = disc_radius(Spot(edge, 0, 0.5), Spot(outline, 0, 0.9), 1)
    at = wall.point(0.65)
    assert touch.t == pytest.approx(0.65)
    assert radius == pytest.approx(abs(at - 20) ** 2 / (2 * at.imag))
    assert disc_radius(Spot(edge, 0, 0.5), Spot(outline, 0, 0.3), 1)[0] == pytest.approx(21 * (math.sqrt(2) - 1))


def test_between_parallel_walls_the_first_disc_is_kept() -> None:
    bar = rectangle(0, 0, 10, 2)
    radius, touch, other = widest_disc(Spot(bar, 0, 0.4), Spot(bar, 2, 0.6), 1)
    assert (radius, touch.t, other.point) == (pytest.approx(1), 0.4, pytest.approx(4 + 2j))


def test_the_widest_disc_of_a_horn_is_at_the_end_of_what_is_climbed() -> None:
    """A floor under a circle of radius 19 about 20i: r = (39 + x^2) / 78 over the place x. Each step is 1/16 of the one
    before."""
    floor, roof = Line(0j, 20 + 0j), Arc.from_circle(20j, 19, 0, -math.pi / 2)
    horn = Outline.from_chain((floor, Line(20 + 0j, roof.start), roof, Line(roof.end, 0j)), joint_mm=1e-9)
    for begin in (0.4, 0.55):
        radius, touch, other = widest_disc(Spot(horn, 0, begin), Spot(horn, 2, 0.7), 1)
        x = 20 * (begin + 0.1 * (1 + 1 / 16 + 1 / 256))
        assert touch.point == pytest.approx(x)
        assert radius == pytest.approx((39 + x * x) / 78)
        assert abs(other.point - (x + radius * 1j)) == pytest.approx(radius)
    # The other way along the floor it is the same on the right.
    mirrored = Outline(tuple(segment.reversed() for segment in reversed(horn.segments)))
    assert widest_disc(Spot(mirrored, 3, 0.6), Spot(mirrored, 1, 0.3), -1)[0] == pytest.approx(
        widest_disc(Spot(horn, 0, 0.4), Spot(horn, 2, 0.7), 1)[0]
    )
