"""Curves as arrays: points, lengths, areas, and the distances of points, against closed forms."""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest
from fixtures.cut_pages import disc, every_page, leaf_frame

from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.measure import area_mm2, length_mm
from frameforge.write.curve_set import CurveSet
from frameforge.write.page import Run


def _stations(count: int, at: float) -> np.ndarray:
    """Return one station for each of ``count`` points."""
    return np.full(count, at)


def test_points_are_those_of_the_segments() -> None:
    run: Run = (Line(0, 4 + 2j), Cubic(4 + 2j, 6, 7 + 3j, 5 + 5j), Arc.from_ellipse(0, 5, 2j, 0.2, 1.1))
    curves = CurveSet.from_runs([run])
    for k, segment in enumerate(run):
        points, velocities = curves.at(np.array([k, k]), np.array([0.3, 1.0]))
        assert points.tolist() == pytest.approx([segment.point(0.3), segment.point(1)], abs=1e-12)
        assert velocities.tolist() == pytest.approx([segment.velocity(0.3), segment.velocity(1)], abs=1e-12)


def test_lengths_and_areas_agree_with_those_measured_by_other_formulae() -> None:
    for page in every_page().values():
        runs = page.pieces[0].cuts()
        curves = CurveSet.from_runs(runs)
        lengths = curves.sums(curves.parts_mm.sum(axis=1))
        assert lengths.tolist() == pytest.approx([length_mm(run) for run in runs], rel=1e-4)
        assert curves.areas_mm2().tolist() == pytest.approx([area_mm2(run) for run in runs], rel=1e-9)


def test_a_moved_set_has_moved_points_and_equal_lengths() -> None:
    curves = CurveSet.from_runs([leaf_frame().outer.segments])
    moved = curves.moved(3 - 7j)
    assert np.max(np.abs(moved.samples() - curves.samples() - (3 - 7j))) < 1e-12
    assert moved.areas_mm2().tolist() == pytest.approx(curves.areas_mm2().tolist(), rel=1e-9)


def test_stations_run_from_the_number_of_a_run_to_the_next() -> None:
    curves = CurveSet.from_runs([disc(10).outer.segments, (Line(0, 3), Line(3, 4))])
    assert curves.stations[:16].tolist() == pytest.approx([k / 16 for k in range(16)], abs=1e-6)
    assert curves.stations[16:].tolist() == pytest.approx(
        [1 + k * 3 / 16 for k in range(4)] + [1.75 + k / 16 for k in range(4)]
    )


@pytest.mark.parametrize("station", [0.0, 0.3, 0.99])
def test_a_far_point_is_found_wherever_it_is_expected(station: float) -> None:
    curves = CurveSet.from_runs([disc(50).outer.segments])
    points = np.array([cmath.rect(50 + d, q) for d, q in ((0.002, 0.1), (-0.3, 2.0), (1e-4, 4.0), (0, 6.0))])
    index, distance = curves.far_point(points, _stations(4, station), 0.1) or (None, 0)
    assert (index, distance) == (1, pytest.approx(0.3, abs=1e-9))
    assert curves.far_point(points, _stations(4, station), 0.301) is None


def test_distances_from_a_circle_are_exact() -> None:
    curves = CurveSet.from_runs([disc(50).outer.segments])
    for d, q in ((0.4, 0.1), (-0.3, 2.0), (1e-4, 4.0), (0.0, 6.0), (-49.0, 3.0)):
        assert curves.distance(cmath.rect(50 + d, q)) == pytest.approx(abs(d), abs=1e-9)


def test_distances_from_a_cubic_with_a_cusp_are_found() -> None:
    """x = t^3, y = t^2 turned back on itself: the cubic 1,1 / 0,-1/3 / 0,-1/3 / -1,1 has a cusp at 0,0."""
    cusp = Cubic(1 + 1j, -1j / 3, -1j / 3, -1 + 1j)
    assert cusp.point(0.5) == pytest.approx(0, abs=1e-15)
    curves = CurveSet.from_runs([(cusp,)])
    assert [curves.distance(p) for p in (-0.25j, cusp.point(0.37))] == pytest.approx([0.25, 0], abs=1e-7)


def test_of_two_lines_a_hair_apart_the_near_one_counts() -> None:
    curves = CurveSet.from_runs([(Line(0, 100),), (Line(0.004j, 100 + 0.004j),)])
    assert [curves.distance(p) for p in (30 + 0.001j, 70 + 0.0035j)] == pytest.approx([0.001, 0.0005], abs=1e-12)
    assert curves.far_point(np.array([70 + 0.0035j]), _stations(1, 0.7), 0.0006) is None


def test_only_some_runs_are_numbered_anew() -> None:
    curves = CurveSet.from_runs([disc(10).outer.segments, disc(20).outer.segments, disc(30).outer.segments])
    kept = curves.only(np.array([True, False, True]))
    assert kept.areas_mm2().tolist() == pytest.approx([100 * math.pi, 900 * math.pi])
    assert kept.starts().tolist() == pytest.approx([10, 30])
    assert kept.far_point(np.array([30.5j]), _stations(1, 1.25), 0.4) == (0, pytest.approx(0.5))


def test_a_point_between_samples_of_a_hairpin_is_found_on_it() -> None:
    """Once the search looked only beside the nearest sample, which lay on the other leg of the hairpin."""
    hairpin = Cubic(
        -107.13898305817955 - 11.789374202668682j,
        -75.18993586884395 - 6.949967612543574j,
        -290.0305704906374 - 34.88278974246095j,
        -181.2060193340962 - 19.681635612908938j,
    )
    curves = CurveSet.from_runs([(hairpin,)])
    assert max(curves.distance(hairpin.point(t)) for t in np.linspace(0, 1, 101).tolist()) < 1e-6
