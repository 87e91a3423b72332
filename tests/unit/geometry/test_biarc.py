"""Circular arcs for cubics and elliptical arcs: true deviation, joints, tangents, number of arcs."""

from __future__ import annotations

import cmath
import itertools
import math

import numpy as np
import pytest
import shapely

from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.biarc import to_arcs
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.direction import end_direction, start_direction
from frameforge.geometry.flatten import sample
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment

LEAF = (
    Cubic(-1 - 1.2j, 1 - 1.4j, 2 - 2.6j, 4 - 4.5j),
    Cubic(4 - 4.5j, 6 - 5.7j, 8.5 - 3.2j, 10 - 2.2j),
    Cubic(10 - 2.2j, 11.5 - 1.4j, 13 - 0.9j, 14 + 0j),
)
CUSP = Cubic(1 - 1j, -1 / 3 + 1j, -1 / 3 - 1j, 1 + 1j)
LOOP = Cubic(0j, 12 + 6j, -8 + 6j, 4 + 0j)
S_CURVE = Cubic(0j, 8 + 0j, -3 + 6j, 5 + 6j)
CURVES: dict[str, Segment] = {
    "leaf, first": LEAF[0],
    "leaf, second": LEAF[1],
    "leaf, third": LEAF[2],
    "s": S_CURVE,
    "cusp": CUSP,
    "cusp off the middle": CUSP.piece(0, 0.77),
    "loop": LOOP,
    "closed loop": Cubic(0j, 10 + 10j, -10 + 10j, 0j),
    "handle on its start": Cubic(0j, 0j, 4 + 4j, 9 + 0j),
    "both handles on the ends": Cubic(0j, 0j, 9 + 3j, 9 + 3j),
    "straight, turning back": Cubic(0j, 12 + 0j, -3 + 0j, 9 + 0j),
    "oval": Arc.from_ellipse(3 + 1j, 60 + 0j, 40j, 0.3, math.tau),
    "oval, clockwise": Arc.from_ellipse(0j, 60 + 0j, 40j, 0.3, -5.0),
    "slanted half-axes": Arc.from_ellipse(0j, 30 + 10j, -4 + 12j, -0.4, 4.0),
    "flat oval": Arc.from_ellipse(0j, 50 + 0j, 1j, 0.0, math.pi),
}


def deviation(segment: Segment, arcs: tuple[Line | Arc, ...]) -> float:
    """Greatest distance between the curve and its arcs, both ways, on 4000 samples of the one, 100 an arc of the other.

    The samples are joined by chords, which at this density lie within 1e-6 of the greatest radius.
    """
    curve = sample(segment, np.linspace(0, 1, 4001))
    chain = np.concatenate([sample(arc, np.linspace(0, 1, 101)) for arc in arcs])
    return max(farthest(curve, chain), farthest(chain, curve))


def farthest(points: np.ndarray, chain: np.ndarray) -> float:
    ends = np.column_stack((chain.real, chain.imag))
    tree = shapely.STRtree(np.asarray(shapely.linestrings(np.stack((ends[:-1], ends[1:]), axis=1))))
    _, distances = tree.query_nearest(shapely.points(points.real, points.imag), return_distance=True)
    return float(distances.max())


@pytest.mark.parametrize("tolerance", [0.05, 0.01, 0.001])
@pytest.mark.parametrize("name", CURVES)
def test_the_arcs_stay_within_the_tolerance(name: str, tolerance: float) -> None:
    segment = CURVES[name]
    arcs = to_arcs(segment, tolerance)
    assert all(isinstance(arc, Line) or arc.is_circular for arc in arcs)
    assert (arcs[0].start, arcs[-1].end) == (segment.start, segment.end)
    assert all(a.end == b.start for a, b in itertools.pairwise(arcs))
    assert deviation(segment, arcs) <= tolerance


@pytest.mark.parametrize("name", ["leaf, first", "leaf, second", "leaf, third", "s", "oval", "slanted half-axes"])
def test_the_arcs_are_tangent_to_each_other_and_to_the_curve(name: str) -> None:
    segment = CURVES[name]
    arcs = to_arcs(segment, 0.01)
    ways = [start_direction(segment)]
    for arc in arcs:
        assert abs(cmath.phase(start_direction(arc) / ways[-1])) < 1e-6
        ways.append(end_direction(arc))
    assert abs(cmath.phase(ways[-1] / end_direction(segment))) < 1e-6


def test_the_arcs_are_few() -> None:
    """Numbers of arcs met when this was written: a step back shows."""
    assert sum(len(to_arcs(cubic, 0.01)) for cubic in LEAF) <= 14
    assert sum(len(to_arcs(cubic, 0.005)) for cubic in LEAF) <= 16
    assert len(to_arcs(CURVES["oval"], 0.01)) <= 36


def test_what_is_circular_already_comes_back() -> None:
    line, arc = Line(0j, 3 + 4j), Arc.from_circle(0j, 5, 0, math.tau)
    assert to_arcs(line) == (line,)
    assert to_arcs(arc) == (arc,)
    mirrored = arc.transformed(Affine.from_mirror(0.7))
    assert to_arcs(mirrored) == (mirrored,)


def test_a_straight_cubic_becomes_a_line() -> None:
    assert to_arcs(Cubic(0j, 1 + 1j, 2 + 2j, 9 + 9j)) == (Line(0j, 9 + 9j),)
    assert to_arcs(Cubic(1j, 1j, 1j, 1j)) == (Line(1j, 1j),)


def test_copies_get_congruent_arcs() -> None:
    """The mirrored half of a leaf, run the other way, is the mirror image of the first half's arcs."""
    for cubic in LEAF:
        arcs = to_arcs(cubic)
        mirror = Affine.from_mirror(0.0)
        other = to_arcs(cubic.reversed().transformed(mirror))
        assert len(arcs) == len(other)
        for arc, twin in zip(arcs, reversed(other), strict=True):
            assert abs(mirror.apply(arc.start) - twin.end) < 1e-9
        turn = Affine.from_turn(2.1, 40 - 7j)
        for arc, twin in zip(arcs, to_arcs(cubic.transformed(turn)), strict=True):
            assert abs(turn.apply(arc.end) - twin.end) < 1e-9


def test_scale_does_not_matter() -> None:
    """A big curve at a big tolerance needs as many arcs as a small one at a small tolerance."""
    for cubic in LEAF:
        small = cubic.transformed(Affine.from_scale(0.01))
        assert len(to_arcs(small, 0.0001)) == len(to_arcs(cubic, 0.01))
        assert deviation(small, to_arcs(small, 0.0001)) <= 0.0001


def test_a_tolerance_must_be_above_0() -> None:
    with pytest.raises(ValueError, match="above 0"):
        to_arcs(LEAF[0], 0)


@pytest.mark.parametrize("handle_mm", [3e-7, 5.4e-7, 2.5e-6, 1e-4])
def test_a_handle_near_the_grain_keeps_the_distance(handle_mm: float) -> None:
    """Once the arcs were planned on the rounded handle and built on the true one, 0.023 mm off the curve."""
    for turn in (0.1, 0.7, 2.0, -1.4):
        end = 10 + 0.4j
        curve = Cubic(0j, 0j, end - cmath.rect(handle_mm, turn), end)
        assert deviation(curve, to_arcs(curve, 0.01)) <= 0.01


@pytest.mark.parametrize(
    "hairpin",
    [
        Cubic(
            -18.015096664891825 + 0.007375562655117851j,
            -18.253561557327412 + 0.025024361383791563j,
            -17.911252377672913 + 0.005239095834137127j,
            -18.054326741548074 + 0.019047663495212336j,
        ),
        Cubic(
            -107.13898305817955 - 11.789374202668682j,
            -75.18993586884395 - 6.949967612543574j,
            -290.0305704906374 - 34.88278974246095j,
            -181.2060193340962 - 19.681635612908938j,
        ),
    ],
)
def test_where_a_curve_doubles_back_the_arcs_turn_with_it(hairpin: Cubic) -> None:
    """Once an arc ran past the turn by 0.25 mm, or cut it off by 0.05, on the very circle that the curve follows."""
    assert deviation(hairpin, to_arcs(hairpin, 0.01)) <= 0.01
