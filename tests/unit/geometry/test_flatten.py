"""Outlines as chords."""

from __future__ import annotations

import math

import numpy as np
import pytest
from fixtures.outlines import leaf, ring

from frameforge.geometry.affine import Affine
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.flatten import chord_count, flatten_outline, flatten_outlines, sample, to_polygon
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline
from frameforge.geometry.segment_table import SegmentTable
from frameforge.geometry.shapes import circle, ellipse

OUTLINES = (
    circle(0, 50),
    ellipse(1j, 30, 5).transformed(Affine.from_turn(0.4)),
    leaf().outer,
    Outline((Cubic(0, 10 + 10j, -10 + 10j, 0),)),
)


@pytest.mark.parametrize("outline", OUTLINES)
@pytest.mark.parametrize("chord_mm", [0.1, 0.01, 0.001])
def test_no_chord_is_further_from_its_curve_than_asked(outline: Outline, chord_mm: float) -> None:
    flat = flatten_outline(outline, chord_mm)
    after = np.roll(flat.points, -1)
    for k in range(len(flat.points)):
        segment, t0 = outline.segments[flat.segment[k]], float(flat.t[k])
        t1 = float(flat.t[(k + 1) % len(flat.t)]) or 1.0
        curve = sample(segment, np.linspace(t0, t1, 9))
        chord = after[k] - flat.points[k]
        assert (np.abs((chord.conj() * (curve - flat.points[k])).imag) <= chord_mm * abs(chord) * 1.000001).all()


@pytest.mark.parametrize(
    ("radius", "chord_mm", "count"), [(50, 0.01, 158), (50, 0.1, 50), (25, 0.05, 50), (150, 0.02, 193)]
)
def test_circles_have_the_tabled_number_of_chords(radius: float, chord_mm: float, count: int) -> None:
    # n = ceil(pi / acos(1 - e/r)), computed apart from this project; one chord fewer would not do.
    assert len(flatten_outline(circle(0, radius), chord_mm).points) == count
    assert radius * (1 - math.cos(math.pi / (count - 1))) > chord_mm


def test_vertices_remember_their_segment_and_joints_keep_their_bits() -> None:
    outline = leaf().outer
    flat = flatten_outline(outline, 0.01)
    joints = flat.points[flat.t == 0]
    assert joints.tolist() == [segment.start for segment in outline.segments]
    for k in (3, 20):
        assert flat.points[k] == pytest.approx(outline.segments[flat.segment[k]].point(flat.t[k]))


def test_coarse_chords_still_make_a_triangle() -> None:
    assert len(flatten_outline(circle(0, 1), 100).points) >= 3
    assert len(flatten_outline(Outline((Cubic(0, 1 + 1j, -1 + 1j, 0),)), 100).points) >= 3


@pytest.mark.parametrize("outline", OUTLINES)
def test_one_segment_has_as_many_chords_alone_as_among_others(outline: Outline) -> None:
    together = SegmentTable.from_segments(outline.segments).chord_counts(0.01)
    assert together.tolist() == [chord_count(segment, 0.01) for segment in outline.segments]


def test_a_line_is_one_chord() -> None:
    assert chord_count(Line(0, 1000), 0.001) == 1


def test_a_polygon_has_the_holes_of_its_region() -> None:
    polygon = to_polygon(ring(50, 40), 0.001)
    assert polygon.area == pytest.approx(900 * math.pi, rel=1e-4)
    assert len(polygon.interiors) == 1


@pytest.mark.parametrize("chord_mm", [0, -1, math.nan])
def test_the_chord_distance_must_be_above_nothing(chord_mm: float) -> None:
    with pytest.raises(ValueError, match="above 0"):
        flatten_outline(circle(0, 1), chord_mm)


def test_no_outline_gives_no_vertices() -> None:
    assert flatten_outlines([]) == []
