"""Motifs bent onto edges of any sensible size: near the true map, few segments, equal gaps, the same when turned."""

from __future__ import annotations

import numpy as np
from fixtures.bent_checks import off_mm, quartered_count
from fixtures.plain_motifs import arch, drop, husk, leaf, plain_rectangle, pod, scallop
from fixtures.rows import model_of
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from frameforge.frame.base import Edge
from frameforge.frame.bend import Bends
from frameforge.frame.spec import Size
from frameforge.frame.walk import walk_along
from frameforge.geometry.warp import warped
from frameforge.motif.motif import Motif
from frameforge.tolerances import BEND_FIT_MM

FEW = settings(max_examples=12, phases=(Phase.explicit, Phase.generate), deadline=None)
MOTIFS = st.sampled_from([arch(), drop(), husk(), leaf(), pod(), scallop(), plain_rectangle(20, 10)])


@FEW
@given(MOTIFS, st.floats(0.4, 1.6), st.floats(28, 120), st.floats(0.4, 1.0), st.floats(0, 1), st.sampled_from([1, -1]))
def test_a_bent_motif_lies_on_the_true_map_with_few_segments(
    motif: Motif, scale: float, wide: float, flat: float, part: float, side: int
) -> None:
    """Within .002 mm at 40 points a segment; at most twice the segments, arcs counted by quarters."""
    edge = Edge(wide, wide if flat > 0.9 else wide * flat)
    drawn = motif.scaled(scale).join
    top = max(point.imag for region in drawn for s in region.outer.segments for point in (s.start, s.point(0.5)))
    if side < 0 and top > 0.75 * edge.least_radius_mm:
        side = 1
    walk = walk_along(edge)
    bends = Bends(walk, np.array([part * walk.length_mm]), side)
    ((made,),) = [warped([drawn], bends, BEND_FIT_MM)[0]]
    assert off_mm(drawn, made, lambda z: bends.point(np.zeros(len(z), dtype=np.intp), z)) <= 2e-3
    assert sum(region.segment_count for region in made) <= 2 * quartered_count(drawn)


@FEW
@given(MOTIFS, st.integers(3, 14), st.floats(110, 170), st.floats(0.5, 0.95), st.floats(0, 360))
def test_gaps_of_a_bent_ring_are_equal_wherever_it_starts(
    motif: Motif, count: int, width: float, flat: float, start: float
) -> None:
    size = Size(width, width * flat)
    layout = model_of(motif, size=size, seat="bent", start_deg=start).layout(size, count, 0.6)
    assert layout.gap_mm is not None
    assert layout.gap_max_mm is not None
    assert layout.gap_max_mm - layout.gap_mm <= 1e-9
