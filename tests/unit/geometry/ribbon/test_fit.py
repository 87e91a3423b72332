"""Cubics fitted to parallels: as near as said, few, tangent at their ends."""

from __future__ import annotations

import numpy as np
import pytest

from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.flatten import sample
from frameforge.geometry.outline import Segment
from frameforge.geometry.ribbon.fit import Span, Stretch, fit_parallels
from frameforge.geometry.segment_table import SegmentTable

WAVE = Cubic(0j, 5 + 8j, 10 - 8j, 15 + 0j)
LEAF = Cubic(4 - 4.5j, 6 - 5.7j, 8.5 - 3.2j, 10 - 2.2j)
OVAL = Arc.from_ellipse(0j, 60 + 0j, 40j, 0.0, np.pi / 2)


def placed(curve: Cubic | Arc, span: Span, distance: float) -> Cubic:
    ends = []
    for t in (span.t0, span.t1):
        way = curve.velocity(t) / abs(curve.velocity(t))
        ends.append((curve.point(t) - 1j * distance * way, way))
    (q0, way0), (q1, way1) = ends
    return Cubic(q0, q0 + span.near_mm * way0, q1 - span.far_mm * way1, q1)


def off(curve: Segment, fitted: list[Cubic], distance: float) -> float:
    """Greatest |distance to 20,000 points of the curve - |d|| of 200 points a cubic."""
    source = sample(curve, np.linspace(0, 1, 20_001))
    points = np.concatenate([sample(cubic, np.linspace(0, 1, 200)) for cubic in fitted])
    nearest = np.array([np.abs(source - point).min() for point in points])
    return float(np.abs(nearest - abs(distance)).max())


@pytest.mark.parametrize("fit", [1e-2, 2e-3, 1e-4, 1e-5])
@pytest.mark.parametrize(("curve", "distance"), [(WAVE, 0.8), (LEAF, 1.5), (LEAF, -0.4), (OVAL, 10), (OVAL, -20)])
def test_the_fit_is_kept(curve: Cubic | Arc, distance: float, fit: float) -> None:
    table = SegmentTable.from_segments([curve])
    (spans,) = fit_parallels(table, [Stretch(0, 0.0, 1.0, fit)], distance)
    assert (spans[0].t0, spans[-1].t1) == (0, 1)
    assert off(curve, [placed(curve, span, distance) for span in spans], distance) <= fit + 1e-6


def test_a_quarter_of_an_oval_needs_two() -> None:
    table = SegmentTable.from_segments([OVAL])
    for distance in (5, 10, -5, -10):
        (spans,) = fit_parallels(table, [Stretch(0, 0.0, 1.0, 2e-3)], distance)
        assert len(spans) == 2


def test_many_at_once_are_as_one_by_one() -> None:
    table = SegmentTable.from_segments([WAVE, LEAF, OVAL])
    stretches = [
        Stretch(0, 0.1, 0.7, 1e-3),
        Stretch(1, 0.0, 1.0, 1e-4),
        Stretch(2, 0.5, 1.0, 1e-5),
        Stretch(0, 0.7, 1, 1e-3),
    ]
    together = fit_parallels(table, stretches, 0.5)
    alone = [fit_parallels(table, [stretch], 0.5)[0] for stretch in stretches]
    for ours, theirs in zip(together, alone, strict=True):
        assert np.allclose(np.array(ours), np.array(theirs), atol=1e-12)


def test_an_error_of_the_sixth_order() -> None:
    """Five decimals closer need seven times as many spans, 10^(5/6) (de Boor, Hollig, Sabin 1987), not a thousand."""
    table = SegmentTable.from_segments([LEAF, OVAL])
    for row, distance in ((0, 0.8), (1, 10.0)):
        counts = [len(fit_parallels(table, [Stretch(row, 0.0, 1.0, fit)], distance)[0]) for fit in (1e-2, 1e-7)]
        assert counts[1] <= 8 * counts[0]
