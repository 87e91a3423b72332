"""Cubics fitted to curves: what is a cubic comes back, others are met within the distance by as few as are needed."""

from __future__ import annotations

import math

import numpy as np
import pytest

from frameforge.geometry import cubic_fit
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.cubic_fit import Span, Stretch, fit_curves, wide_rows
from frameforge.geometry.segment_table import Complexes, Floats, Ints, SegmentTable


class Circles:
    """Circles about 0 of the radii given, t the angle; counts how often points are asked."""

    def __init__(self, *radii: float) -> None:
        self.radii = np.array(radii)
        self.asked = 0

    def speed(self, rows: Ints, t: Floats) -> Floats:
        return np.asarray(self.radii[rows] + 0 * t)

    def place(self, rows: Ints, t: Floats) -> tuple[Complexes, Complexes]:
        self.asked += 1
        return self.radii[rows] * np.exp(1j * t), 1j * np.exp(1j * t)

    def off_mm(self, rows: Ints, t: Floats, ends: tuple[Floats, Floats], points: Complexes) -> Floats:
        middle = (ends[0] + ends[1]) / 2
        assert t == pytest.approx(np.angle(points * np.exp(-1j * middle)) + middle, abs=0.02)
        return np.asarray(np.abs(np.abs(points) - self.radii[rows]))


class Cubics:
    """Cubics given."""

    def __init__(self, *cubics: Cubic) -> None:
        self.table = SegmentTable.from_segments(cubics)

    def speed(self, rows: Ints, t: Floats) -> Floats:
        return np.abs(self.table.velocity(rows, t))

    def place(self, rows: Ints, t: Floats) -> tuple[Complexes, Complexes]:
        velocity = self.table.velocity(rows, t)
        return self.table.point(rows, t), velocity / np.abs(velocity)

    def off_mm(self, rows: Ints, t: Floats, ends: tuple[Floats, Floats], points: Complexes) -> Floats:
        dense = np.linspace(0, 1, 2001)
        curve = self.table.point(wide_rows(rows[:, 0], np.tile(dense, (len(rows), 1))), np.tile(dense, (len(rows), 1)))
        return np.stack([np.abs(p[:, None] - c).min(axis=1) for p, c in zip(points, curve, strict=True)])


@pytest.mark.parametrize("sweep", [0.4, 1.0, math.pi / 2])
def test_handles_of_a_circle_are_those_that_swing_least(sweep: float) -> None:
    """4/3 tan(q/4) touches the circle in its middle; the least greatest error is some 2/3 of that one's (for a quarter
    0.0001961 against 0.0002725 of the radius: Goldapp, Approximation of circular arcs by cubic polynomials, Computer
    Aided Geometric Design 8 (1991))."""
    ((span,),) = fit_curves(Circles(10.0), [Stretch(0, 0.3, 0.3 + sweep, 1.0)])
    touching = 10 * 4 / 3 * math.tan(sweep / 4)
    assert (span.t0, span.t1) == (0.3, 0.3 + sweep)
    assert span.near_mm == pytest.approx(span.far_mm, rel=1e-6)
    assert span.near_mm == pytest.approx(touching, rel=1e-3)
    off = _off_circle(span, 10.0)
    plain = _off_circle(Span(span.t0, span.t1, touching, touching), 10.0)
    assert off < 0.85 * plain
    if sweep == math.pi / 2:
        assert off == pytest.approx(10 * 0.000196, rel=0.1)


def _cubic_of(span: Span, radius: float) -> Cubic:
    p0, p3 = (radius * complex(math.cos(t), math.sin(t)) for t in (span.t0, span.t1))
    return Cubic(p0, p0 + 1j * p0 / radius * span.near_mm, p3 - 1j * p3 / radius * span.far_mm, p3)


def _off_circle(span: Span, radius: float) -> float:
    cubic = _cubic_of(span, radius)
    return max(abs(abs(cubic.point(k / 200)) - radius) for k in range(201))


@pytest.mark.parametrize("fit_mm", [0.01, 0.001, 1e-5])
def test_a_circle_takes_as_many_cubics_as_the_sixth_power_says(fit_mm: float) -> None:
    """A quarter is off by 0.000196 r, and the error falls with the sixth power of the angle."""
    curves = Circles(10.0, 40.0)
    found = fit_curves(curves, [Stretch(0, 0.0, 3.0, fit_mm), Stretch(1, -1.0, 2.5, fit_mm), Stretch(1, 1, 1.1, 0.01)])
    for spans, radius, whole in zip(found, (10.0, 40.0, 40.0), (3.0, 3.5, 0.1), strict=True):
        assert max(_off_circle(span, radius) for span in spans) <= fit_mm * 1.02
        assert [b.t0 for b in spans[1:]] == [a.t1 for a in spans[:-1]]
        assert spans[-1].t1 - spans[0].t0 == pytest.approx(whole)
        least = whole / (math.pi / 2) * (0.000196 * radius / fit_mm) ** (1 / 6)
        assert math.ceil(least) <= len(spans) <= math.ceil(least + 0.25)
    assert len(found[2]) == 1
    assert curves.asked <= 6


def test_a_cubic_comes_back_with_its_own_handles() -> None:
    """Its lengths are the only ones without an error, however unequal; feet are found by Newton's steps."""
    given = (Cubic(0j, 2 + 1j, 5 + 3j, 9 + 2j), Cubic(0j, 1 + 3j, 6 + 3j, 7 + 0j), Cubic(0j, 1 + 0j, 6 + 2j, 9 + 3j))
    for k, spans in enumerate(fit_curves(Cubics(*given), [Stretch(k, 0, 1, 0.02) for k in range(3)])):
        (span,) = spans
        assert span.near_mm == pytest.approx(abs(given[k].c1 - given[k].start), rel=2e-3)
        assert span.far_mm == pytest.approx(abs(given[k].end - given[k].c2), rel=2e-3)


def test_a_straight_curve_has_handles() -> None:
    ((span,),) = fit_curves(Cubics(Cubic(0j, 1 + 0j, 2 + 0j, 3 + 0j)), [Stretch(0, 0, 1, 0.01)])
    assert (span.near_mm, span.far_mm) == pytest.approx((1, 1), rel=1e-3)


def test_points_of_a_goal_stand_at_equal_lengths() -> None:
    curves = Cubics(Cubic(0j, 1 + 0j, 6 + 2j, 9 + 3j))
    goal = cubic_fit._Goal.from_curves(curves, np.array([0]), np.array([0.1]), np.array([0.9]))
    assert (goal.t[0, 0], goal.t[0, -1]) == (0.1, 0.9)
    steps = np.abs(np.diff(goal.point[0]))
    assert steps == pytest.approx(np.full(32, steps.mean()), rel=2e-3)
    still = cubic_fit._Goal.from_curves(_Still(), np.array([0]), np.array([0.0]), np.array([1.0]))
    assert still.t[0] == pytest.approx(np.linspace(0, 1, 33))


class _Still(Cubics):
    """A curve that does not move."""

    def __init__(self) -> None:
        super().__init__(Cubic(0j, 1 + 0j, 2 + 0j, 3 + 0j))

    def speed(self, rows: Ints, t: Floats) -> Floats:
        return np.zeros(t.shape)


def _goal(points: int = 33) -> tuple[cubic_fit._Goal, Floats]:
    """Points of an arc of a circle of radius 5, and parameters that are not their own."""
    t = np.linspace(0, 1.2, points)[None]
    return cubic_fit._Goal(t, 5 * np.exp(1j * t), 1j * np.exp(1j * t)), np.linspace(0, 1, points)[None] ** 1.1


def test_least_squares_are_those_of_numpy() -> None:
    """Residuals as vectors; then only across the tangents, each with its weight."""
    goal, w = _goal()
    b0, b1, b2, b3 = ((1 - w) ** 3, 3 * w * (1 - w) ** 2, 3 * w * w * (1 - w), w**3)
    rest = (goal.point - goal.point[:, :1] * (b0 + b1) - goal.point[:, -1:] * (b2 + b3))[0]
    one, two = (goal.tangent[:, :1] * b1)[0], (-goal.tangent[:, -1:] * b2)[0]
    size = np.array([6.0])

    def solved(columns: list[Complexes], right: Complexes) -> Floats:
        real = [np.concatenate([z.real, z.imag]) for z in (*columns, right)]
        return np.asarray(np.linalg.lstsq(np.stack(real[:2], axis=1), real[2], rcond=None)[0])

    assert cubic_fit._least_squares(goal, w, size, None)[:, 0] == pytest.approx(solved([one, two], rest))
    weights = np.linspace(1, 3, 33)[None]
    turned = [np.sqrt(weights[0]) * (z * goal.tangent[0].conj()).imag + 0j for z in (one, two, rest)]
    assert cubic_fit._least_squares(goal, w, size, weights)[:, 0] == pytest.approx(
        solved(turned[:2], turned[2]), rel=1e-6
    )


def test_handles_are_held_between_a_thousandth_of_the_curve_and_twice_of_it() -> None:
    goal, w = _goal()
    assert cubic_fit._least_squares(goal, w, np.array([0.2]), None)[:, 0].tolist() == [0.4, 0.4]
    assert cubic_fit._least_squares(goal, w, np.array([9000.0]), None)[:, 0].tolist() == [9.0, 9.0]


def test_feet_are_moved_by_newtons_step_and_stay_in_order() -> None:
    goal, w = _goal()
    handles = np.array([[2.1], [2.0]])
    cubic = Cubic(5 + 0j, 5 + 2.1j, complex(goal.point[0, -1] - 2.0 * goal.tangent[0, -1]), complex(goal.point[0, -1]))
    point, velocity, acceleration = cubic_fit._cubic(goal, w, handles)
    for k in (0, 9, 20, 32):
        at = float(w[0, k])
        assert point[0, k] == pytest.approx(cubic.point(at))
        assert velocity[0, k] == pytest.approx(cubic.velocity(at))
        assert acceleration[0, k] == pytest.approx(cubic.acceleration(at))
    moved, residual = cubic_fit._with_foot_points(goal, w, handles)
    for k in (5, 9, 20, 30):
        at, aim = float(w[0, k]), complex(goal.point[0, k])

        def half_square(t: float, aim: complex = aim) -> float:
            return abs(cubic.point(t) - aim) ** 2 / 2

        h = 1e-4
        slope = (half_square(at + h) - half_square(at - h)) / (2 * h)
        bend = (half_square(at + h) - 2 * half_square(at) + half_square(at - h)) / h**2
        assert moved[0, k] == pytest.approx(at - slope / bend, abs=1e-6)
        across = (cubic.point(at) - aim) / complex(goal.tangent[0, k])
        assert residual[0, k] == pytest.approx(abs(across.imag))
    assert (moved[0, 0], moved[0, -1]) == (0, 1)
    assert (np.diff(moved[0]) >= 0).all()


def _job(cuts: list[float], fit_mm: float = 0.01) -> cubic_fit._Job:
    return cubic_fit._Job(Stretch(0, cuts[0], cuts[-1], fit_mm), cuts)


def test_a_job_whose_cubics_are_near_enough_is_done() -> None:
    job = _job([0.0, 1.0, 3.0])
    job.settle([1, 2], [3, 4], np.array([0.01, 0.002]))
    assert job.spans == (Span(0.0, 1.0, 1, 3), Span(1.0, 3.0, 2, 4))


@pytest.mark.parametrize(("times", "count"), [(1.01, 2), (64, 2), (2.1**6, 2), (2.2**6, 3), (50**6, 24)])
def test_one_cubic_too_far_off_is_cut_by_the_sixth_root(times: float, count: int) -> None:
    job = _job([1.0, 7.0])
    job.settle([1], [1], np.array([0.01 * times]))
    assert job.cuts == pytest.approx(np.linspace(1, 7, count + 1))
    assert job.spans == ()


def test_errors_of_several_are_evened_out_four_times_and_then_more_are_taken() -> None:
    job = _job([0.0, 2.0, 4.0])
    job.settle([1, 1], [1, 1], np.array([0.64, 0.01]))
    assert job.cuts == pytest.approx([0, 4 / 3, 4])
    for _ in range(3):
        job.settle([1, 1], [1, 1], np.array([0.64, 0.01]))
    assert len(job.cuts) == 3
    job.settle([1, 1], [1, 1], np.array([0.64, 0.01]))
    assert job.cuts == pytest.approx([0, 4 / 3, 8 / 3, 4])
    assert job.balances == 0
    many = _job(np.linspace(0, 9, 10).tolist())
    many.balances = 4
    many.settle([1] * 9, [1] * 9, np.full(9, 0.02))
    assert len(many.cuts) == 13


def test_no_more_than_24_cubics_are_tried() -> None:
    job = _job(np.linspace(0, 1, 25).tolist())
    job.settle([1] * 24, [1] * 24, np.full(24, 0.5))
    assert len(job.spans) == 24
    below = _job(np.linspace(0, 1, 23).tolist())
    below.balances = 4
    below.settle([1] * 22, [1] * 22, np.full(22, 0.5))
    assert len(below.cuts) == 25


def test_a_cubic_without_an_error_is_widened_a_tenfold_at_most() -> None:
    job = _job([0.0, 1.0, 2.0])
    job.settle([1, 1], [1, 1], np.array([0.0, 0.64]))
    assert job.cuts == pytest.approx([0, 20 / 10.5, 2])
