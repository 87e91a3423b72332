"""Union, difference and intersection of seeded random shapes: what must hold whatever the shapes are."""

from __future__ import annotations

import random

import pytest
from fixtures.outlines import disc, leaf, spokes
from fixtures.random_shapes import any_loop, blob, moved, tight_frame
from hypothesis import given, settings
from hypothesis import strategies as st

from frameforge.geometry import boolean
from frameforge.geometry.affine import Affine
from frameforge.geometry.combine import (
    Combined,
    Copies,
    Expression,
    Loops,
    difference,
    evaluate,
    intersection,
    union,
)
from frameforge.geometry.flatten import flatten_outline
from frameforge.geometry.leaves import Leaves
from frameforge.geometry.measure import area_mm2
from frameforge.geometry.trace.source import Source
from frameforge.tolerances import CHORD_MM

seeds = st.integers(0, 2**32 - 1)
a_few = settings(max_examples=20, deadline=None, derandomize=True)


def area(expression: Expression) -> float:
    combined = evaluate(expression)
    assert combined.report.is_exact
    return area_mm2(combined.regions)


def shape_of(combined: Combined) -> tuple[int, int, int]:
    """Parts, holes and segments."""
    regions = combined.regions
    return len(regions), sum(len(r.holes) for r in regions), sum(r.segment_count for r in regions)


def test_a_hundred_tight_frames_are_exact_and_the_same_on_finer_chords() -> None:
    repeated = 0
    for seed in range(100):
        frame = tight_frame(random.Random(seed))
        combined = evaluate(frame)
        assert combined.report.is_exact, seed
        repeated += combined.report.repeats > 0
        if seed % 5:
            continue
        finer = evaluate(frame, chord_mm=CHORD_MM / 7.3)
        assert shape_of(combined) == shape_of(finer), seed
        assert area_mm2(combined.regions) == pytest.approx(area_mm2(finer.regions), abs=1e-8), seed
    assert repeated <= 2


@a_few
@given(seeds)
def test_union_and_intersection_share_out_the_areas(seed: int) -> None:
    rng = random.Random(seed)
    a, b = moved(rng, blob(rng)), moved(rng, blob(rng))
    both = area(intersection(a, b))
    assert area(union(a, b)) + both == pytest.approx(area_mm2(a) + area_mm2(b), abs=1e-9)
    assert area(difference(a, b)) + both == pytest.approx(area_mm2(a), abs=1e-9)


@a_few
@given(seeds)
def test_a_turn_and_a_mirror_change_no_area(seed: int) -> None:
    rng = random.Random(seed)
    shapes = [moved(rng, blob(rng)) for _ in range(4)]
    straight = area(difference(union(*shapes[:3]), shapes[3]))
    for map_ in (Affine.from_turn(rng.uniform(0, 6)), Affine.from_mirror(rng.uniform(0, 3))):
        placed = [shape.transformed(map_) for shape in shapes]
        assert area(difference(union(*placed[:3]), placed[3])) == pytest.approx(straight, abs=1e-9)


@a_few
@given(seeds)
def test_the_order_of_the_items_does_not_matter(seed: int) -> None:
    rng = random.Random(seed)
    shapes = [moved(rng, blob(rng)) for _ in range(5)]
    one = evaluate(union(*shapes)).regions
    other = evaluate(union(*rng.sample(shapes, 5))).regions
    joints = [[s.start for r in regions for o in r.outlines for s in o.segments] for regions in (one, other)]
    assert len(joints[0]) == len(joints[1])
    assert max(abs(a - b) for a, b in zip(*joints, strict=True)) < 1e-11


@a_few
@given(seeds)
def test_what_was_joined_on_can_be_taken_off_again(seed: int) -> None:
    rng = random.Random(seed)
    motif = leaf() if rng.random() < 0.3 else blob(rng)
    base, row = disc(rng.uniform(20, 50)), Copies(motif, spokes(rng.randint(3, 12), 30))
    piece = evaluate(union(base, row)).regions
    assert area(union(*piece, row)) == pytest.approx(area_mm2(piece), abs=1e-9)
    assert area(difference(union(*piece), row)) == pytest.approx(area(difference(base, row)), abs=1e-8)


@a_few
@given(seeds, st.sampled_from(["nonzero", "evenodd"]))
def test_loops_have_the_area_of_their_fill_rule(seed: int, rule: boolean.Rule) -> None:
    rng = random.Random(seed)
    loops = Loops(tuple(any_loop(rng) for _ in range(rng.randint(1, 3))), rule)
    leaves = Leaves.from_expression(loops)
    assert leaves is not None
    vertices = Source.from_chains(leaves.chains, 2e-4, guards=False).vertices
    fine = boolean.filled(vertices.point, vertices.first, rule)
    assert area(loops) == pytest.approx(fine.area, abs=3e-4 * (fine.length + 1))


@settings(max_examples=8, deadline=None, derandomize=True)
@given(seeds)
def test_results_evaluate_to_themselves(seed: int) -> None:
    combined = evaluate(tight_frame(random.Random(seed)))
    again = evaluate(union(*combined.regions))
    assert shape_of(again) == shape_of(combined)
    assert area_mm2(again.regions) == pytest.approx(area_mm2(combined.regions), abs=1e-9)


def test_the_same_expression_gives_the_same_bytes() -> None:
    frame = tight_frame(random.Random(5))
    assert repr(evaluate(frame)) == repr(evaluate(tight_frame(random.Random(5))))


def test_directions_and_starts_are_canonical() -> None:
    for region in evaluate(tight_frame(random.Random(7))).regions:
        for outline in region.outlines:
            points = flatten_outline(outline, 0.1).points
            turned = float((points.conj() * [*points[1:], points[0]]).imag.sum())
            assert (turned > 0) == (outline is region.outer)
            first = min(outline.segments, key=lambda s: (round(s.start.real, 8), round(s.start.imag, 8)))
            assert first is outline.segments[0]
