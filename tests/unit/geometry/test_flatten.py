"""Flattening: chords stay near, joints keep their bits, every vertex knows where it came from."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from fixtures.outlines import leaf

from frameforge.geometry.flatten import flatten_outline, to_polygon
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle


@pytest.mark.parametrize(
    ("radius", "chord", "count"), [(50, 0.01, 158), (50, 0.1, 50), (25, 0.05, 50), (150, 0.02, 193)]
)
def test_circles_have_the_tabled_number_of_chords(radius: float, chord: float, count: int) -> None:
    # n = ceil(pi / acos(1 - e/r)), computed apart from this project.
    assert len(flatten_outline(circle(0, radius), chord).points) == count


def test_every_vertex_is_the_point_its_memory_names() -> None:
    outline = leaf().outer
    flat = flatten_outline(outline, 0.01)
    named = [outline.segments[i].point(float(t)) for i, t in zip(flat.segment, flat.t, strict=True)]
    assert np.abs(flat.points - np.array(named)).max() < 1e-14
    joints = {segment.start for segment in outline.segments}
    assert joints <= set(flat.points.tolist())


@pytest.mark.parametrize("chord", [0.1, 0.01, 0.001])
def test_chords_stay_within_the_distance(chord: float) -> None:
    outline = leaf().outer
    coarse = to_polygon(Region(outline), chord).exterior
    fine = flatten_outline(outline, chord / 100).points
    off = shapely.distance(shapely.points(fine.real, fine.imag), coarse)
    assert off.max() <= chord


def test_a_distance_of_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="above 0"):
        flatten_outline(circle(0, 1), 0)
