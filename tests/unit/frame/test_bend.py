"""The bent seat as a map: closed forms on a circle, differences elsewhere; what stays straight or round."""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest

from frameforge.frame.base import Edge
from frameforge.frame.bend import Bends
from frameforge.frame.walk import walk_along
from frameforge.geometry.arc import Arc
from frameforge.geometry.line import Line
from frameforge.geometry.measure import area_mm2, length_mm
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.geometry.warp import warped
from frameforge.tolerances import BEND_FIT_MM

ZERO = np.zeros(1, dtype=np.intp)


def bends(edge: Edge, *at_mm: float, side: int = 1, drop_mm: float = 0.0) -> Bends:
    return Bends(walk_along(edge), np.array(at_mm), side, drop_mm)


def one(bend: Bends, z: complex) -> complex:
    return complex(bend.point(ZERO, np.array([z]))[0])


@pytest.mark.parametrize(("side", "radius"), [(1, 50.0), (-1, 50.0), (1, 28.5), (-1, 35.0)])
def test_on_a_circle_along_is_a_turn_and_up_is_a_radius(side: int, radius: float) -> None:
    """x -> angle x/R clockwise from the top (counter-clockwise where up points in), y -> radius R +- y."""
    bend = bends(Edge(radius, radius), 0.3 * radius, side=side, drop_mm=0.5)
    for z in (0j, 3 + 4j, -7 + 1.5j, 2 - 0.3j):
        angle = math.pi / 2 - 0.3 - side * z.real / radius
        assert abs(one(bend, z) - cmath.rect(radius + side * (z.imag - 0.5), angle)) < 1e-12


@pytest.mark.parametrize("edge", [Edge(50, 50), Edge(75, 50), Edge(40, 90), Edge(75, 50, -12), Edge(75, 50, 8)])
@pytest.mark.parametrize("side", [1, -1])
def test_moving_points_move_as_differences_say(edge: Edge, side: int) -> None:
    bend = bends(edge, 0.0, 17.0, 133.0, side=side, drop_mm=1.0)
    generator = np.random.default_rng(20261126)
    which = generator.integers(0, 3, 40)
    z, v, a = (generator.uniform(-6, 6, 40) + 1j * generator.uniform(-4, 6, 40) for _ in range(3))
    h = 1e-4
    ahead, here, behind = (bend.point(which, np.asarray(z + t * v + t * t / 2 * a)) for t in (h, 0.0, -h))
    point, velocity, acceleration = bend.curve(which, (z, v, a))
    assert np.abs(point - here).max() < 1e-12
    assert np.abs(velocity - (ahead - behind) / (2 * h)).max() < 1e-6
    assert np.abs(acceleration - (ahead - 2 * here + behind) / h**2).max() < 1e-4
    assert np.abs(bend.moving(which, z, v)[0] - point).max() < 1e-12
    assert np.abs(bend.moving(which, z, v)[1] - velocity).max() < 1e-12
    assert bend.widening(which, z) == pytest.approx(np.abs(bend.moving(which, z, np.ones(40, complex))[1]))


def test_a_rectangle_on_a_circle_has_the_area_of_its_ring() -> None:
    """20 x 10 on R 50: 20 x 10 (1 + 10 / (2 R)) = 220, its top 20 (1 + 10 / R) = 24, all of it lines and arcs."""
    ((image,),) = warped([[Region(rectangle(-10, 0, 10, 10))]], bends(Edge(50, 50), 0.0), BEND_FIT_MM)[0]
    assert area_mm2(image) == pytest.approx(220.0, abs=1e-12)
    arcs = [segment for segment in image.outer.segments if isinstance(segment, Arc)]
    assert sorted(abs(arc.sweep_rad) * abs(arc.u) for arc in arcs) == pytest.approx([20.0, 24.0], abs=1e-12)
    assert sum(isinstance(segment, Line) for segment in image.outer.segments) == 2
    inward = warped([[Region(rectangle(-10, 0, 10, 10))]], bends(Edge(50, 50), 0.0, side=-1), BEND_FIT_MM)[0][0][0]
    assert area_mm2(inward) == pytest.approx(180.0, abs=1e-12)


def test_on_an_oval_walls_stay_straight_and_the_foot_lies_on_the_oval() -> None:
    edge = Edge(75, 50)
    bend = bends(edge, 40.0)
    ((image,),) = warped([[Region(rectangle(-10, 0, 10, 10))]], bend, BEND_FIT_MM)[0]
    arcs = [segment for segment in image.outer.segments if isinstance(segment, Arc)]
    assert len(arcs) == 1
    assert length_mm(arcs[0]) == pytest.approx(20.0, abs=1e-9)
    for t in (0.0, 0.3, 1.0):
        point = arcs[0].point(t)
        assert (point.real / 75) ** 2 + (point.imag / 50) ** 2 == pytest.approx(1.0, abs=1e-12)
    assert sum(isinstance(segment, Line) for segment in image.outer.segments) == 2
    # Steiner: the strip between the edge and its parallel at h is h (L + turn h / 2).
    first, last = walk_along(edge).tau(np.array([30.0, 50.0])).tolist()
    turn = cmath.phase(edge.tangent(first) * edge.tangent(last).conjugate())
    assert area_mm2(image) == pytest.approx(10 * (20 + turn * 10 / 2), abs=20 * BEND_FIT_MM)


def test_a_level_line_on_a_parallel_lies_on_the_oval_when_it_comes_down_to_it() -> None:
    line = Line(-5 + 3j, 5 + 3j)
    assert isinstance(bends(Edge(75, 50, -3), 10.0).exact(0, line, (0j, 1j)), Arc)
    assert bends(Edge(75, 50, -2), 10.0).exact(0, line, (0j, 1j)) is None
    assert bends(Edge(75, 50), 10.0).exact(0, Line(0j, 4 + 1j), (0j, 1j)) is None


def test_even_places() -> None:
    round_edge, oval = bends(Edge(50, 50), 11.0), Edge(75, 50)
    quarter = walk_along(oval).length_mm / 4
    assert round_edge.is_even(0)
    assert [bends(oval, at).is_even(0) for at in (0.0, quarter, 2 * quarter, -quarter, 1.0)] == [True] * 4 + [False]
