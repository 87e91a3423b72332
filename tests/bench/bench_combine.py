"""What tracing back to true curves costs, against the booleans on chords alone."""

from __future__ import annotations

from collections.abc import Callable

import shapely
from fixtures.cpu import cpu_s
from fixtures.outlines import leaf, leaf_frame, ring, spokes, teardrop

from frameforge.geometry.combine import evaluate
from frameforge.geometry.flatten import to_polygon
from frameforge.tolerances import CHORD_MM

Holds = Callable[[str, float, float], None]

MANY = 2000


def bench_trace_against_booleans(holds: Holds) -> None:
    """Flatten, booleans and trace of a frame with 2000 leaves and drops, against its booleans in plain shapely."""
    radius = 50.0 * MANY / 24
    base = to_polygon(ring(radius, radius - 10), CHORD_MM)
    leaves = [to_polygon(leaf().transformed(spoke), CHORD_MM) for spoke in spokes(MANY, radius)]
    drops = [to_polygon(teardrop().transformed(spoke), CHORD_MM) for spoke in spokes(MANY, radius - 5, half_step=True)]

    def booleans() -> None:
        shapely.difference(shapely.union_all([base, *leaves]), shapely.union_all(drops))

    def everything() -> None:
        evaluate(leaf_frame(MANY, radius))

    ratio = cpu_s(everything, runs=2) / cpu_s(booleans, runs=2)
    holds(f"flatten, booleans and trace at n = {MANY} / booleans alone", ratio, 2.5)
