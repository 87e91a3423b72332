"""What a few sectors come to, turned for all the others, is what the whole comes to as it stands."""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest
from fixtures.outlines import disc, leaf, leaf_frame, ring, scallops, spokes, teardrop

from frameforge.geometry import combine
from frameforge.geometry import turned as turned_module
from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.combine import Combined, Copies, Expression, difference, evaluate, intersection, union
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.geometry.region import Region
from frameforge.geometry.sectors import sectors_of
from frameforge.geometry.segment_table import SegmentTable
from frameforge.geometry.shapes import ellipse, rectangle
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.source import Source
from frameforge.geometry.turned import turned

NEAR = disc(0.2, 99)
"""Lies in the card of every piece below: with it there are no sectors, and all is worked out as it stands."""


def _points(segment: Segment) -> list[complex]:
    points = [segment.start, segment.point(0.5), segment.end]
    return [*points, segment.c1, segment.c2] if isinstance(segment, Cubic) else points


def _same(one: Combined, two: Combined) -> None:
    """Both have the same segments in the same order, to 1e-10 mm, and the same is told of them."""
    assert len(one.regions) == len(two.regions)
    for a, b in zip(one.regions, two.regions, strict=True):
        assert [len(outline.segments) for outline in a.outlines] == [len(outline.segments) for outline in b.outlines]
        pairs = zip(*((s for outline in region.outlines for s in outline.segments) for region in (a, b)), strict=True)
        for ours, theirs in pairs:
            assert type(ours) is type(theirs)
            assert np.abs(np.array(_points(ours)) - _points(theirs)).max() < 1e-10
            if isinstance(ours, Arc) and isinstance(theirs, Arc):
                assert ours.sweep_rad == pytest.approx(theirs.sweep_rad, abs=1e-10)
                assert ours.start_rad == pytest.approx(theirs.start_rad, abs=1e-10)
    assert np.array(one.report.touches) == pytest.approx(np.array(two.report.touches), abs=1e-9)
    assert (one.report.is_exact, one.report.repeats) == (two.report.is_exact, two.report.repeats)


def _pattern(count: int) -> Expression:
    """Leaves and their mirror images in turn, ovals pierced in them, small discs cut from the opening's edge."""
    places = spokes(2 * count, 100)
    mirror = tuple(place.after(Affine.from_mirror(0)) for place in places[1::2])
    leaning = leaf().transformed(Affine.from_turn(0.3))
    eyes = Region(ellipse(6 + 1.5j, 1.5, 0.7))
    whole = union(ring(100, 80), Copies(leaning, places[::2]), Copies(leaning, mirror))
    bites = Copies(disc(1), spokes(3 * count, 80))
    return difference(whole, Copies(eyes, places[::2]), Copies(eyes, mirror), bites)


WHOLES = {
    "leaves and drops": leaf_frame(48, 100),
    "discs that overlap": scallops(60, 100, 5.5),
    "discs apart": scallops(60, 100, 5.0),
    "pattern": _pattern(24),
    "chain with islands between": union(ring(100, 80), Copies(Region(rectangle(8, -8, 10, 8)), spokes(48, 97)),
                                        Copies(disc(1.5), spokes(48, 99)), Copies(disc(1.2), spokes(48, 104))),
    "window and bar": difference(disc(100), Copies(ring(3, 2), spokes(40, 60))),
    "all within": union(ring(100, 80), Copies(teardrop(), spokes(40, 90))),
    "what both cover": intersection(union(ring(100, 80), Copies(leaf(), spokes(40, 100))), disc(108)),
    "rows of other counts": difference(
        union(ring(100, 80), Copies(leaf(), spokes(48, 100))), Copies(disc(0.8), spokes(72, 94))
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", WHOLES)
def test_sectors_come_to_the_same_as_the_whole(name: str) -> None:
    expression = WHOLES[name]
    _same(evaluate(expression), evaluate(union(expression, NEAR)))


@pytest.mark.parametrize("name", ["leaves and drops", "pattern", "discs that overlap"])
def test_the_sectors_are_what_was_worked_out(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(combine, "_whole", lambda *_: pytest.fail("the whole was worked out"))
    assert evaluate(WHOLES[name]).report.is_exact


def test_segments_join_to_the_bit_and_the_symmetry_is_exact() -> None:
    (region,) = evaluate(WHOLES["pattern"]).regions
    turn = cmath.rect(1, math.tau / 24)
    starts = np.array([segment.start for segment in region.outer.segments])
    others = starts * turn
    assert abs(others[:, None] - starts[None, :]).min(axis=1).max() < 1e-12


def test_loose_parts_are_worked_out_as_they_stand() -> None:
    apart = union(disc(50), Copies(disc(1), spokes(48, 100)))
    assert sectors_of(apart) is not None
    assert len(evaluate(apart).regions) == 49


def test_touches_are_told_all_round() -> None:
    touching = union(disc(100), Copies(disc(2), spokes(40, 102)))
    combined = evaluate(touching)
    assert len(combined.report.touches) == 40
    _same(combined, evaluate(union(touching, NEAR)))


def _rings(regions: tuple[Region, ...]) -> Chains:
    """Return the outlines of regions as they come out of a trace: whole circles in one."""
    outlines = [outline.segments for region in regions for outline in region.outlines]
    first = np.cumsum([0, *map(len, outlines)])
    table = SegmentTable.from_segments([segment for segments in outlines for segment in segments])
    return Chains(table, first, np.zeros(len(outlines), dtype=bool))


def test_what_does_not_come_to_the_same_in_the_next_sector_is_refused() -> None:
    frame = leaf_frame(48, 100)
    sectors = sectors_of(frame)
    assert sectors is not None
    whole = evaluate(union(frame, NEAR)).regions
    found = turned(_rings(whole), (), sectors)
    assert found is not None
    assert len(found.rings.table) == whole[0].segment_count
    assert turned(_rings(whole), (97 + 0j,), sectors) is None
    scarred = evaluate(difference(*whole, disc(0.5, 92))).regions
    assert turned(_rings(scarred), (), sectors) is None


def test_the_work_does_not_grow_with_the_count(monkeypatch: pytest.MonkeyPatch) -> None:
    """Segments that are cut into chords: as many for 48 leaves as for 96."""
    cut: list[int] = []
    plain = Source.from_chains

    def counted(chains: Chains, *args: object, **named: object) -> Source:
        cut.append(len(chains.table))
        return plain(chains, *args, **named)  # type: ignore[arg-type]

    monkeypatch.setattr(Source, "from_chains", counted)
    for count in (48, 96):
        evaluate(leaf_frame(count, 50 * count / 24))
    assert cut[0] == cut[1] < 200


def test_sectors_are_parted_in_the_middle_of_the_widest_free_stretch() -> None:
    assert turned_module._cut(np.array([])) == -0.5
    assert turned_module._cut(np.array([0.2])) == pytest.approx(-0.3)
    assert turned_module._cut(np.array([0.1, 0.3, 0.9, 1.5])) == pytest.approx(-0.3)
    assert turned_module._cut(np.array([0.3, 0.5, -0.4, 1.9])) == pytest.approx(-0.9)
    assert turned_module._cut(np.array([0.5, 2.0, -1.2, 7.7])) == pytest.approx(0.0 - 1)
    assert turned_module._cut(np.arange(1_000_001) / 1_000_001) is None


def test_marks_pair_off_where_each_has_one_alike() -> None:
    a, b = np.array([1 + 1j, 2 + 0j, 5j]), np.array([5j, 1 + 1j + 1e-10, 2 + 0j])
    pairs = turned_module._same(a, b)
    assert pairs is not None
    assert pairs.tolist() == [1, 2, 0]
    assert turned_module._same(a, b[:2]) is None
    assert turned_module._same(a, np.array([5j, 1 + 1j, 3 + 0j])) is None
    assert turned_module._same(np.array([1j, 1j]), np.array([1j, 2j])) is None
    assert turned_module._same(np.array([1j, 2j]), np.array([1j, 1j])) is None
    none = turned_module._same(np.zeros(0, dtype=complex), np.zeros(0, dtype=complex))
    assert none is not None
    assert none.tolist() == []


def test_segments_are_told_apart_by_kind_size_and_way() -> None:
    """An arc and the line between its ends; arcs of unlike axes through three points; of one circle either way."""
    arc = Arc.from_circle(0, 5, 0, 1)
    table = SegmentTable.from_segments([arc, arc.reversed(), Line(arc.start, arc.end), arc])
    marks = turned_module._Marks.of(table, np.arange(4), np.zeros(4, dtype=bool))
    found = [
        turned_module._images(
            turned_module._Marks(marks.points[[0]], marks.sizes[[0]]),
            turned_module._Marks(marks.points[[k]], marks.sizes[[k]]),
        )
        for k in range(4)
    ]
    assert [pair is not None for pair in found] == [True, False, False, True]
    assert marks.points[0].tolist() == pytest.approx([5, cmath.rect(5, 0.5), cmath.rect(5, 1)])
    assert marks.sizes[0].tolist() == pytest.approx([10, 1 + 10])
    assert marks.turned(np.asarray(1j)).points[0, 0] == pytest.approx(5j)
    full = turned_module._Marks.of(table, np.array([0]), np.array([True, False, False, False]))
    assert full.points[0].tolist() == [0, 0, 0]


def test_rings_are_put_together_from_what_follows_what() -> None:
    """Three segments a sector, four sectors: two that follow on over the sectors, and one that closes in its own."""

    def of(after: list[int], on: list[int]) -> list[list[int]] | None:
        rows = np.array([10, 11, 12])[: len(after)]
        none = np.zeros(0, dtype=complex)
        found = turned_module._Places(rows, np.array(after), np.array(on), np.zeros(0, dtype=bool), none).in_rings(4)
        return None if found is None else [column.tolist() for column in found]

    assert of([1, 0, 2], [0, 1, 0]) == [
        [10, 11] * 4 + [12] * 4, [0, 0, 1, 1, 2, 2, 3, 3, 0, 1, 2, 3], [0] * 8 + [1, 2, 3, 4]
    ]  # fmt: skip
    assert of([1, 0], [0, -1]) == [[10, 11] * 4, [0, 0, -1, -1, -2, -2, -3, -3], [0] * 8]
    assert of([1, 0], [1, 0]) == [[10, 11] * 4, [0, 1, 1, 2, 2, 3, 3, 4], [0] * 8]
    assert of([1, 0], [1, 1]) is None
    assert of([1, 0], [1, -1]) == [[10, 11] * 4, [0, 1, 1, 2, 2, 3, 3, 4], [0, 0, 1, 1, 2, 2, 3, 3]]
    assert of([], []) == [[], [], []]


def test_what_follows_is_read_off_in_a_sector_and_in_the_next() -> None:
    """Rows 0, 1 of the sector and their images 2, 3: 1 is followed by the image of 0, 3 by what is not known."""
    number, sector = np.array([0, 1, 0, 1, -1]), np.array([0, 0, 1, 1, 2])
    own, images = np.array([0, 1]), np.array([2, 3])

    def follows(*after: int) -> list[list[int]] | None:
        found = turned_module._following(np.array(after), sector, number, own, images)
        return None if found is None else [column.tolist() for column in found]

    assert follows(1, 2, 3, 4, 0) == [[1, 0], [0, 1]]
    assert follows(1, 4, 3, 2, 0) == [[1, 0], [0, 0]]
    assert follows(1, 2, 2, 3, 0) is None
    assert follows(1, 2, 3, 2, 0) is None
    assert follows(0, 0, 4, 4, 0) is None


def test_rings_begun_with_another() -> None:
    table = SegmentTable.from_segments([Line(complex(k), complex(k, 1)) for k in range(6)])
    found, first = turned_module._begun_with(table, np.array([0, 1, 3, 6]), 1)
    assert found.start.tolist() == [1, 2, 0, 3, 4, 5]
    assert first.tolist() == [0, 2, 3, 6]
