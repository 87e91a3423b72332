"""Places where three curves nearly meet."""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest
from fixtures.outlines import disc

from frameforge.geometry.affine import Affine
from frameforge.geometry.combine import difference, evaluate, intersection, union
from frameforge.geometry.expression import Expression
from frameforge.geometry.leaves import Leaves
from frameforge.geometry.measure import area_mm2
from frameforge.geometry.trace.added import Added
from frameforge.geometry.trace.settle import settling_vertices
from frameforge.geometry.trace.source import Source
from frameforge.geometry.trace.tracing import Traced

COMMON = 0.3 + 0.2j


def three(off_mm: float, turn: float = 0.0) -> tuple[Expression, Expression, Expression]:
    """Three discs of which two cross in a point, the third passing it at a distance (positive: not covering it)."""
    centers = [5 + 1j, -4 + 4j, -1 - 6j]
    discs = [disc(abs(COMMON - center) - (off_mm if k == 2 else 0), center) for k, center in enumerate(centers)]
    return tuple(d.transformed(Affine.from_turn(turn)) for d in discs)  # type: ignore[return-value]


@pytest.mark.parametrize("turn", [0.0, 0.9])
@pytest.mark.parametrize("off_mm", [5e-3, 1e-4, 1e-7])
def test_a_gap_between_three_discs_is_seen_at_any_chord_distance(off_mm: float, turn: float) -> None:
    one, two, third = three(off_mm, turn)
    corner = evaluate(difference(intersection(one, two), third))
    assert corner.report.is_exact
    apart = evaluate(difference(intersection(one, two), third), chord_mm=1e-3)
    assert [r.segment_count for r in corner.regions] == [r.segment_count for r in apart.regions]
    assert area_mm2(corner.regions) == pytest.approx(area_mm2(apart.regions), abs=1e-10)
    assert evaluate(union(one, two, third)).report.is_exact


@pytest.mark.parametrize("off_mm", [5e-3, 1e-4, 1e-7])
def test_a_speck_common_to_three_discs_is_seen(off_mm: float) -> None:
    one, two, third = three(-off_mm)
    (speck,) = evaluate(intersection(intersection(one, two), third)).regions
    assert speck.segment_count == 3
    assert abs(speck.outer.segments[0].start - COMMON) < 20 * off_mm


def test_crossings_far_from_other_curves_need_no_vertices() -> None:
    leaves = Leaves.from_expression(union(disc(10), disc(10, 12)))
    assert leaves is not None
    source = Source.from_chains(leaves.chains, 0.01)
    height = math.sqrt(100 - 36)
    point = np.array([6 + 1j * height])
    angle = cmath.phase(6 + 1j * height) / (math.pi / 2)
    sides = tuple(Added(np.array([row]), np.array([t]), point) for row, t in ((0, angle), (5, 1 - angle)))
    crossings = Traced(None, np.zeros(0, dtype=int), crossings=sides)  # type: ignore[arg-type]
    assert len(settling_vertices(crossings, source).t) == 0
