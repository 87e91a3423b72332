"""What tracing back to true curves costs, against the booleans on chords alone."""

from __future__ import annotations

import math
from collections.abc import Callable

import shapely
from fixtures.cpu import cpu_s
from fixtures.outlines import leaf, leaf_frame, ring, spokes, teardrop

from frameforge.geometry import boolean
from frameforge.geometry.canonical import regions_of
from frameforge.geometry.combine import evaluate
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.leaves import Leaves
from frameforge.geometry.trace.check import checked
from frameforge.geometry.trace.runs import Rings
from frameforge.geometry.trace.source import Source
from frameforge.geometry.trace.tracing import trace
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


def bench_trace_alone(holds: Holds) -> None:
    """Tracing back that frame's rings, a last look at them and making the regions, against its booleans."""
    leaves = Leaves.from_expression(leaf_frame(MANY, 50.0 * MANY / 24))
    assert leaves is not None
    source = Source.from_chains(leaves.chains, CHORD_MM)
    shells = boolean.shells(leaves.geometry(source.vertices))

    def tracing() -> None:
        traced = trace(Rings(shells.point, shells.first), source)
        assert traced.result is not None
        assert checked(traced.result, traced.touches, CHORD_MM).crossed == ()
        assert regions_of(traced.outlines, shells.polygon)[0].segment_count == MANY * 13 + 1

    ratio = cpu_s(tracing, runs=2) / cpu_s(lambda: leaves.geometry(source.vertices), runs=2)
    holds(f"trace at n = {MANY} / booleans alone", ratio, 1.5)


def bench_growth_of_the_union(holds: Holds) -> None:
    """How the time of the whole evaluation grows from 24 to 2000 leaves and drops, as the exponent of n."""
    few = cpu_s(lambda: evaluate(leaf_frame(24, 50.0)), runs=3)
    many = cpu_s(lambda: evaluate(leaf_frame(MANY, 50.0 * MANY / 24)), runs=2)
    holds(
        f"growth of the union from 24 to {MANY} motifs, exponent of n", math.log(many / few) / math.log(MANY / 24), 1.1
    )
