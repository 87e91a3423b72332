"""Parts of outlines: exact parallels, fitted ones, inverted ones; small curves that would trip."""

from __future__ import annotations

import cmath
import math

import pytest

from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.geometry.ribbon.cuts import _spread, cut_stretches
from frameforge.geometry.ribbon.stretches import parts_of
from frameforge.geometry.segment_table import SegmentTable
from frameforge.geometry.shapes import circle, ellipse

# A bend of radius 1/2 at its tip: y = x^2 over -2 .. 2.
PARABOLA = Cubic.from_quadratic(-2 + 4j, 0 - 4j, 2 + 4j)


def test_lines_and_circles_have_exact_parallels() -> None:
    (parts,), fitted = parts_of([[Line(0j, 4 + 0j), Arc.from_circle(0j, 5, 0, 1)]], 2, 1e-3)
    line, arc = parts
    assert fitted == 0
    assert line.parallel == Line(0 - 2j, 4 - 2j)
    assert isinstance(arc.parallel, Arc)
    assert abs(arc.parallel.u) == pytest.approx(7)
    assert abs(arc.parallel.start - 7) < 1e-12


@pytest.mark.parametrize(("radius", "distance", "is_inverted"), [(5, -4.9, False), (5, -5, True), (5, -6, True)])
def test_circles_that_vanish_are_inverted(radius: float, distance: float, is_inverted: bool) -> None:
    (parts,), _ = parts_of([circle(0j, radius).segments], distance, 1e-3)
    assert len(parts) == 4
    assert all((part.parallel is None) == is_inverted for part in parts)
    (clockwise,), _ = parts_of([circle(0j, radius).reversed().segments], -distance, 1e-3)
    assert all((part.parallel is None) == is_inverted for part in clockwise)


def test_a_bend_too_tight_is_inverted_in_its_middle() -> None:
    """The parabola turns left with radius 1/2 (1 + 4 x^2)^1.5: at 1 mm inside, inverted for |x| < .383."""
    (parts,), _ = parts_of([[PARABOLA]], -1, 1e-3)
    inverted = [part for part in parts if part.parallel is None]
    assert len(inverted) == 1
    edge = math.sqrt((2 ** (2 / 3) - 1) / 4)
    assert abs(PARABOLA.point(inverted[0].t0).real + edge) < 1e-7
    assert abs(PARABOLA.point(inverted[0].t1).real - edge) < 1e-7
    assert all(part.parallel is not None for part in parts_of([[PARABOLA]], 1, 1e-3)[0][0])


def test_no_part_turns_by_more_than_a_right_angle() -> None:
    loop = Cubic(0j, 30 + 20j, -15 + 20j, 15 + 0j)
    for part in parts_of([[loop]], 0.5, 1e-2)[0][0]:
        assert abs(cmath.phase(part.end_way / part.start_way)) <= math.pi / 2 + 0.05


def test_a_cubic_is_cut_at_its_cusp() -> None:
    cusp = Cubic(1 - 1j, -1 / 3 + 1j, -1 / 3 - 1j, 1 + 1j)
    (parts,), _ = parts_of([[cusp]], 0.1, 1e-3)
    at = [k for k, part in enumerate(parts) if abs(part.source.point(part.t1)) < 1e-9]
    assert len(at) == 1
    assert abs(cmath.phase(parts[at[0]].end_way / parts[at[0] + 1].start_way)) == pytest.approx(math.pi, abs=1e-4)


def test_what_has_no_length_is_left_out() -> None:
    outline: list[Segment] = [Line(0j, 0j), Line(0j, 1 + 0j), Cubic(1 + 0j, 1 + 0j, 1 + 0j, 1 + 0j)]
    assert len(parts_of([outline], 1, 1e-3)[0][0]) == 1


def test_straight_cubics_are_lines() -> None:
    (parts,), fitted = parts_of([[Cubic(0j, 1 + 0j, 2 + 0j, 9 + 0j)]], 1, 1e-3)
    assert fitted == 0
    assert parts[0].parallel == Line(-1j, 9 - 1j)


def test_a_handle_shorter_than_a_shape_can_tell_is_no_handle() -> None:
    """A handle of 3e-7 mm that points backwards must not turn the parallel round."""
    cubic = Cubic(0j, -3e-7 + 0j, 6 + 5j, 10 + 0j)
    (parts,), _ = parts_of([[cubic]], 1, 1e-3)
    assert abs(parts[0].start_way - (6 + 5j) / abs(6 + 5j)) < 1e-6


def test_copies_share_their_fits() -> None:
    oval = ellipse(0j, 60, 40)
    assert parts_of([oval.segments], 5, 2e-3)[1] == 2
    assert parts_of([oval.segments, ellipse(200j, 60, 40).segments], 5, 2e-3)[1] == 2


def test_small_swallowtails_are_fitted_closely_or_passed_over() -> None:
    """Just past the least radius 1/2 of the parabola: at 1e-3 more a close fit, at 1e-5 more none is seen."""
    table = SegmentTable.from_segments([PARABOLA])
    (row,) = cut_stretches(table, -0.51, 2e-3)
    assert [cut.fit_mm == 0 for cut in row] == [False, True, False]
    assert 0 < row[0].fit_mm < 2e-3
    (row,) = cut_stretches(table, -0.50001, 2e-3)
    assert all(cut.fit_mm == 2e-3 for cut in row)


def test_cuts_that_crowd_together_are_spread() -> None:
    assert _spread([0.0, 0.01, 0.5, 0.51, 0.6, 0.99, 1.0], 0.02) == [0.0, 0.5, 0.6, 1.0]
    assert _spread([0.0, 1.0], 0.02) == [0.0, 1.0]
