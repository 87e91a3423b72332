"""Which segments lie on one support."""

from __future__ import annotations

import numpy as np

from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.geometry.segment_table import SegmentTable
from frameforge.geometry.trace.supports import is_after, support_labels


def labels(*segments: Segment) -> list[int]:
    return [int(label) for label in support_labels(SegmentTable.from_segments(segments))]


def same(*segments: Segment) -> bool:
    return len(set(labels(*segments))) == 1


def test_lines_of_one_line_in_either_direction() -> None:
    start, along = 30 + 40j, 0.6 - 0.8j
    lines = [Line(start + a * along, start + b * along) for a, b in ((0, 1), (9, 5), (-70, 30), (0.1, 0.2))]
    assert same(*lines)
    assert not same(lines[0], Line(start + 1e-8j, start + along + 1e-8j))
    assert not same(lines[0], Line(start, start + along * (1 + 1e-6j)))


def test_arcs_of_one_circle_or_ellipse() -> None:
    turned = Affine.from_turn(1.0).after(Affine.from_turn(-1.0))
    circle = Arc.from_circle(3 + 4j, 50, 0, 1)
    assert same(circle, Arc.from_circle(3 + 4j, 50, 2, -0.3), circle.transformed(turned))
    assert not same(circle, Arc.from_circle(3 + 4j, 50 + 1e-7, 0, 1))
    upright = Arc.from_ellipse(1j, 4j, -2, 0.1, 1)  # the long axis along y, where its direction may flip
    tilted = upright.transformed(Affine.from_turn(1e-16))
    assert same(upright, tilted, upright.reversed())
    assert not same(upright, Arc.from_ellipse(1j, 4, 2j, 0.1, 1))


def test_cubics_only_when_they_are_the_same_curve() -> None:
    cubic = Cubic(0, 1 + 3j, 4 - 2j, 6 + 1j)
    closed = Cubic(0, 10 + 10j, -10 + 10j, 0)
    assert same(cubic, cubic.reversed())
    assert same(closed, closed.reversed())
    assert not same(cubic, cubic.piece(0, 0.5))


def test_kinds_never_share_a_label() -> None:
    found = labels(Line(0, 1), Arc.from_circle(0, 1, 0, 1), Cubic(0, 1, 2, 3))
    assert len(set(found)) == 3


def test_points_are_compared_by_x_then_y() -> None:
    a, b = np.array([1 + 0j, 1 + 2j, 0 + 9j]), np.array([0 + 5j, 1 + 1j, 1 + 0j])
    assert is_after(a, b).tolist() == [True, True, False]
