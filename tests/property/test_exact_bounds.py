"""Bounds of exact unions: segment counts, gaps, distance from a far finer truth, seeded random frames."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from fixtures.outlines import disc, leaf, leaf_frame, ring, scallops, spokes, teardrop

from frameforge.geometry.affine import Affine
from frameforge.geometry.combine import Combined, Copies, Expression, difference, evaluate, union
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import area_mm2
from frameforge.geometry.outline import Outline


def outlines(combined: Combined) -> list[Outline]:
    return [outline for region in combined.regions for outline in region.outlines]


def segments(combined: Combined) -> int:
    return sum(region.segment_count for region in combined.regions)


@pytest.mark.parametrize("chord", [0.02, 0.01, 0.005])
def test_the_leaf_frame_has_the_segments_of_its_sources_at_any_chord_distance(chord: float) -> None:
    # 24 leaves of 6 cubics and 24 arcs between them, 24 holes of 6 cubics, one opening: 24 x 7 + 24 x 6 + 1.
    combined = evaluate(leaf_frame(), chord_mm=chord)
    assert segments(combined) == 24 * 7 + 24 * 6 + 1
    assert combined.report.is_exact
    assert combined.report.repeats == 0


@pytest.mark.parametrize("count", [6, 12, 24, 30])
def test_scallops_are_two_arcs_each_and_as_large_as_the_closed_form(count: int) -> None:
    # Area of a disc united with discs centred on its edge; lens by the standard formula (MathWorld, from memory).
    big, small = 50.0, 4.5
    combined = evaluate(scallops(count))
    assert segments(combined) == 2 * count
    lens = (
        small**2 * math.acos(small / (2 * big))
        + big**2 * math.acos(1 - small**2 / (2 * big**2))
        - small / 2 * math.sqrt(4 * big**2 - small**2)
    )
    wanted = math.pi * big**2 + count * (math.pi * small**2 - lens)
    assert area_mm2(combined.regions) == pytest.approx(wanted, abs=1e-9)


def test_neighbouring_segments_share_their_joint_and_pass_through_it() -> None:
    for outline in outlines(evaluate(leaf_frame())):
        for segment in outline.segments:
            velocity = max(abs(segment.velocity(0)), abs(segment.velocity(1)))
            assert abs(segment.point(1e-9) - segment.start) < 1e-9 * velocity + 1e-9
            assert abs(segment.point(1 - 1e-9) - segment.end) < 1e-9 * velocity + 1e-9


def test_the_result_lies_within_5e_6_mm_of_a_far_finer_truth() -> None:
    # The truth: shapely alone on chords within 1e-6 mm of the sources.
    leaves = [to_polygon(leaf().transformed(spoke), 1e-6) for spoke in spokes(3, 50)]
    edge = shapely.union_all([to_polygon(disc(50), 1e-6), *leaves]).boundary
    (region,) = evaluate(union(disc(50), Copies(leaf(), spokes(3, 50)))).regions
    points = [segment.point(t) for segment in region.outer.segments for t in (0, 0.2, 0.5, 0.8)]
    off = shapely.distance(shapely.points([(z.real, z.imag) for z in points]), edge)
    assert off.max() < 5e-6


def random_frame(seed: int) -> tuple[Expression, Expression]:
    """Leaves and drops on a ring whose joints miss by 10^-5 .. 10^-1.5 mm: their union, and the drops pierced."""
    rng = np.random.default_rng(seed)
    count = int(rng.integers(3, 20))
    off = float(rng.choice([-1, 1])) * 10 ** rng.uniform(-5, -1.5)
    radius = 50 + off
    scale = rng.uniform(0.6, 1.4)
    sized = Affine.from_scale(float(scale))
    leaves = Copies(leaf().transformed(sized), spokes(count, radius))
    drops = Copies(teardrop().transformed(sized), spokes(count, radius - 4, half_step=bool(rng.integers(2))))
    base = ring(50, 38)
    return union(base, leaves, drops), difference(union(base, leaves), drops)


@pytest.mark.parametrize("block", range(2))
def test_random_frames_lose_nothing_and_patch_nothing(block: int) -> None:
    repeated = 0
    for seed in range(50 * block, 50 * block + 50):
        for expression in random_frame(seed):
            combined = evaluate(expression)
            assert combined.report.lost == (), seed
            assert combined.report.patched == (), seed
            assert combined.report.crossed == (), seed
            repeated += combined.report.repeats > 0
            chords = shapely.union_all([to_polygon(region, 1e-3) for region in combined.regions])
            assert chords.is_valid, seed
    # 2 % of the 100 unions and differences of a block.
    assert repeated <= 2
