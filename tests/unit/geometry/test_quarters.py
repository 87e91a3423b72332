"""Ellipses cut at the ends of their axes."""

from __future__ import annotations

import math

import pytest

from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.quarters import quarters


@pytest.mark.parametrize("sweep", [math.tau, -math.tau])
@pytest.mark.parametrize("start", [0.0, 0.3, -2.0])
def test_a_slanted_ellipse_is_cut_where_it_is_longest_and_shortest(start: float, sweep: float) -> None:
    arc = Arc.from_ellipse(3 + 4j, 60 + 0j, 40j, start, sweep).transformed(Affine.from_turn(0.7))
    parts = quarters(arc)
    assert len(parts) == (4 if start == 0 else 5)
    assert (parts[0].start, parts[-1].end) == (arc.start, arc.end)
    cuts = [abs(part.end - arc.center) for part in parts[:-1]]
    assert sorted(round(cut, 9) for cut in cuts) in ([40, 40, 60], [40, 40, 60, 60])


def test_a_short_arc_stays_whole() -> None:
    arc = Arc.from_ellipse(0j, 60 + 0j, 40j, 0.1, 1.2)
    assert quarters(arc) == [arc]


def test_slanted_half_axes() -> None:
    """Conjugate half-axes that are not perpendicular: the cuts are at the greatest and least distances."""
    arc = Arc.from_ellipse(0j, 30 + 10j, -9 + 12j, 0.0, math.tau)
    long, short, _ = arc.principal_axes
    cuts = [abs(part.end) for part in quarters(arc)[:-1]]
    assert sorted(cuts) == pytest.approx([short, short, long, long], abs=1e-9)
