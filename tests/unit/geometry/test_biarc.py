"""Circular arcs for cubics and elliptical arcs: true deviation, joints, tangents, number of arcs."""

from __future__ import annotations

import cmath
import itertools
import math

import numpy as np
import pytest
import shapely

from frameforge.geometry import biarc
from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.biarc import to_arcs
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.direction import end_direction, start_direction
from frameforge.geometry.flatten import sample
from frameforge.geometry.line import Line
from frameforge.geometry.measure import length_mm
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


def test_lengths_of_biarcs_are_those_of_their_arcs() -> None:
    """Joints of every split against arcs built from their bulges, S-shaped and C-shaped, and nearly straight."""
    for alpha, beta in ((0.7, -0.4), (0.5, 0.6), (-0.9, 0.2), (1e-11, 1e-11), (0.3, 0.3)):
        lengths = biarc._lengths(alpha, beta)
        for k, w in enumerate(biarc._SPLITS.tolist()):
            joint = biarc._joint(alpha, beta, w)
            first, second = cmath.phase(joint), cmath.phase(1 - joint)
            arcs = [
                Arc.from_bulge(a, b, math.tan(half / 2)) if abs(half) > 1e-9 else Line(a, b)
                for a, b, half in ((0j, joint, first - alpha), (joint, 1 + 0j, beta - second))
            ]
            assert lengths[k] == pytest.approx(sum(length_mm(arc) for arc in arcs))
            assert start_direction(arcs[0]) == pytest.approx(cmath.rect(1, alpha))
            assert end_direction(arcs[0]) == pytest.approx(start_direction(arcs[1]))
            assert end_direction(arcs[1]) == pytest.approx(cmath.rect(1, beta))


@pytest.mark.parametrize(("alpha", "beta"), [(0.7, -0.4), (0.5, 0.6), (-0.9, 0.2), (0.0, 0.0)])
def test_distances_from_biarcs_are_those_from_their_circles(alpha: float, beta: float) -> None:
    """Each point from the circle, or line, on its side of the joint; the greatest of them for every split."""
    rng = np.random.default_rng(2)
    points = np.linspace(0.02, 0.98, 40) + 1j * rng.uniform(-0.15, 0.15, 40)
    found = biarc._distances(points, alpha, beta)
    for k, w in enumerate(biarc._SPLITS.tolist()):
        joint = biarc._joint(alpha, beta, w)
        first, second = cmath.phase(joint), cmath.phase(1 - joint)
        way = cmath.rect(1, 2 * first - alpha)
        away = []
        for point in points.tolist():
            is_ahead = ((point - joint) * way.conjugate()).real > 0
            a, b, half = (joint, 1 + 0j, beta - second) if is_ahead else (0j, joint, first - alpha)
            if abs(half) < 1e-9:
                away.append(abs(((point - a) / (b - a)).imag) * abs(b - a))
            else:
                arc = Arc.from_bulge(a, b, math.tan(half / 2))
                away.append(abs(abs(point - arc.center) - abs(arc.u)))
        assert found[k] == pytest.approx(max(away))


def test_a_circle_is_one_biarc_and_a_turn_too_far_is_none() -> None:
    """Cubics within 0.0003 of a circle; past 2 radians, and for a loop that comes back, the distance is infinite."""
    quarter = Cubic(10 + 0j, 10 + 5.522847j, 5.522847 + 10j, 10j)
    span = biarc._fitted(quarter, 0.0, 1.0)
    assert span.distance == pytest.approx(0.00272 / 0.98, rel=0.1)
    half = Cubic(10 + 0j, 10 + 13j, -10 + 13j, -10 + 0j)
    assert biarc._fitted(half, 0.0, 1.0).distance == math.inf
    assert biarc._fitted(CURVES["closed loop"], 0.0, 1.0).distance == math.inf  # type: ignore[arg-type]
    still = biarc._fitted(quarter.transformed(Affine.from_scale(1e-11)), 0.2, 0.7)
    assert still == (0.2, 0.7, 0.5, 0.0)


@pytest.mark.parametrize(("tolerance", "most"), [(0.05, 30), (0.01, 76), (0.001, 60)])
def test_the_longest_stretch_is_found_in_a_few_tries(
    tolerance: float, most: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """No longer one keeps the tolerance, to a fiftieth of it. In all for eight stretches."""
    tried: list[float] = []
    plain = biarc._fitted

    def counted(curve: Cubic | Arc, t0: float, t1: float) -> biarc._Span:
        tried.append(t1)
        return plain(curve, t0, t1)

    monkeypatch.setattr(biarc, "_fitted", counted)
    for curve in (*LEAF, S_CURVE):
        for t0 in (0.0, 0.2):
            span = biarc._longest(curve, t0, tolerance)
            assert span.distance <= tolerance
            assert span.t1 == 1 or plain(curve, t0, span.t1 + 0.025 * (span.t1 - t0)).distance > tolerance
    assert len(tried) <= most


def test_errors_of_stretches_are_evened_out() -> None:
    """As many, from 0 to 1, and the greatest error no more than before; of one stretch nothing changes."""
    for curve in (*LEAF, S_CURVE):
        spans = [biarc._longest(curve, 0.0, 0.01)]
        while spans[-1].t1 < 1:
            spans.append(biarc._longest(curve, spans[-1].t1, 0.01))
        even = biarc._balanced(curve, spans)
        assert len(even) == len(spans)
        assert (even[0].t0, even[-1].t1) == (0, 1)
        assert all(a.t1 == b.t0 for a, b in itertools.pairwise(even))
        assert max(s.distance for s in even) <= max(s.distance for s in spans)
    one = [biarc._fitted(LEAF[0], 0.0, 1.0)]
    assert biarc._balanced(LEAF[0], one) is one


@pytest.mark.parametrize(
    ("cubic", "is_straight"),
    [
        (Cubic(0j, 1 + 0j, 2 + 0j, 9 + 0j), True),
        (Cubic(0j, 0j, 9 + 0j, 9 + 0j), True),
        (Cubic(0j, -0.1 + 0j, 2 + 0j, 9 + 0j), False),
        (Cubic(0j, 1 + 0j, 9.1 + 0j, 9 + 0j), False),
        (Cubic(0j, 1 + 0.9e-9j, 2 - 0.9e-9j, 9 + 0j), True),
        (Cubic(0j, 1 + 1.1e-9j, 2 + 0j, 9 + 0j), False),
        (Cubic(0j, 1 + 0j, 2 + 1.1e-9j, 9 + 0j), False),
        (Cubic(1j, 1j + 0.9e-9, 1j, 1j), True),
        (Cubic(1j, 1j, 1j + 1.1e-9, 1j), False),
    ],
)
def test_which_cubics_are_straight(cubic: Cubic, is_straight: bool) -> None:
    assert biarc._is_straight(cubic) == is_straight


def test_bulges_within_a_joint_of_their_chord_are_lines() -> None:
    """A bulge b of a chord c is b c / 2 high."""
    assert biarc._bulge(2 + 0j, 2 * math.atan(0.9e-9)) == 0
    assert biarc._bulge(2 + 0j, 2 * math.atan(1.1e-9)) == pytest.approx(1.1e-9)
    assert biarc._bulge(-4j, -0.6) == pytest.approx(math.tan(-0.3))
