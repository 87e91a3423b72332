"""Touches in one point: true ones found, and none where an outline of tiny bits only turns."""

from __future__ import annotations

import cmath
import math

import pytest

from frameforge.check.touches import find_touches
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle


def test_a_rough_scan_of_tiny_bits_touches_nowhere() -> None:
    """Each direction from the middle is met once, so that the outline cannot meet itself."""
    turns = [math.tau * k / 2000 for k in range(2000)]
    points = [cmath.rect(5 + 0.1 * math.sin(90 * turn), turn) for turn in turns]
    lines = tuple(Line(a, b) for a, b in zip(points, (*points[1:], points[0]), strict=True))
    assert find_touches([Region(Outline(lines))]) == ()


def test_a_hole_that_touches_the_edge_does_so_once() -> None:
    (touch,) = find_touches([Region(circle(0, 20), (circle(12, 8).reversed(),))])
    assert touch.at == pytest.approx(20, abs=1e-6)
