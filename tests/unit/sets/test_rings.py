"""Rings from one sheet: which motif belongs to which ring, and one line for every edge."""

from __future__ import annotations

import math

import pytest
from fixtures.plain_motifs import arch, plain_rectangle, scallop
from fixtures.rows import KNIFE
from fixtures.sets import edge_row, rings_of

from frameforge.errors import GeometryError, InputError
from frameforge.frame.make import make_piece
from frameforge.frame.spec import Size
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.sets.ring_limits import ring_words
from frameforge.sets.ring_ways import make_rings
from frameforge.sets.rings import RingsSpec, ring_specs, to_rings


def test_plain_rings_are_the_card_between_circles() -> None:
    rings = rings_of(60, 80, 100)
    assert [ring.width_mm for ring in rings.rings] == pytest.approx([60, 10, 10])
    areas = [area_mm2(ring.piece.region) for ring in rings.rings]
    assert areas == pytest.approx([900 * math.pi, 700 * math.pi, 900 * math.pi])
    assert [ring.inside for ring in rings.rings] == [None, Size(60, 60), Size(80, 80)]
    assert rings.bond.faults() == ()


def test_ovals_tell_their_least_width() -> None:
    """60 x 40 within 90 x 60: 10 at the sides, 15 at the ends."""
    assert rings_of((60, 40), (90, 60)).rings[1].width_mm == pytest.approx(10)


@pytest.mark.parametrize(("place", "ring"), [("out", 1), ("in", 2), ("across", 1)])
def test_one_line_is_both_edges(place: str, ring: int) -> None:
    """Motifs on the middle edge belong to one of its rings; the other has them in its edge, from the same curves."""
    rings = rings_of(60, 80, 110, rows=(edge_row(1, scallop(), count=12, place=place),))
    line = rings.bond.parts[1].outer
    assert len(line.segments) > 12
    assert line.reversed() in rings.bond.parts[2].holes
    assert len(rings.rings[ring].piece.rows) == 1
    assert rings.bond.faults() == ()


def test_motifs_that_face_out_widen_their_ring_and_take_as_much_from_the_next() -> None:
    plain, made = rings_of(60, 80, 110), rings_of(60, 80, 110, rows=(edge_row(1, plain_rectangle(8, 5), count=10),))
    more = [area_mm2(a.piece.region) - area_mm2(b.piece.region) for a, b in zip(made.rings, plain.rings, strict=True)]
    # Ten rectangles 8 x 5 on chords of 8, less the arc's rise over each chord.
    angle = 2 * math.asin(8 / 80)
    rise = 40 * 40 / 2 * (angle - math.sin(angle))
    assert more == pytest.approx([0, 10 * (40 - rise), -10 * (40 - rise)], abs=1e-6)


def test_motifs_that_face_out_and_in_share_an_edge() -> None:
    rows = (edge_row(1, scallop(), count=8), edge_row(1, scallop(), count=8, place="in", starts_with_gap=True))
    rings = rings_of(60, 80, 120, rows=rows)
    both = bounds(rings.bond.parts[1].outer)
    assert both.width_mm > 80
    assert rings.bond.faults() == ()
    assert [len(ring.piece.rows) for ring in rings.rings] == [0, 1, 1]


def test_windows_lie_between_the_edges_of_their_ring() -> None:
    rings = rings_of(60, 100, rows=(edge_row(1, plain_rectangle(6, 6), count=8, place="window"),))
    assert len(rings.bond.parts[1].holes) == 9
    assert len(rings.bond.lines) == 10


def test_motifs_that_reach_the_next_edge_are_refused_with_ways_that_hold() -> None:
    rows = (edge_row(1, arch(), count=12),)
    with pytest.raises(
        GeometryError, match=r"edge of 80 mm: its motifs reach the next edge, that of the ring"
    ) as caught:
        rings_of(60, 80, 94, rows=rows)
    assert "ring of 94 mm. Take --on 94mm or --scale 0.9." in str(caught.value)
    smaller = rings_of(60, 80, 94, rows=(edge_row(1, arch(), count=12, scale=0.9),))
    assert smaller.bond.faults() == ()


def test_motifs_that_face_in_to_the_edge_before_are_refused() -> None:
    with pytest.raises(
        GeometryError, match=r"edge of 76 mm: its motifs reach the next edge, that of the disc of 60 mm"
    ):
        rings_of(60, 76, 120, rows=(edge_row(1, plain_rectangle(6, 8), count=6, place="in"),))


def test_windows_that_an_edge_runs_through_are_refused() -> None:
    windows = edge_row(2, plain_rectangle(6, 6), count=4, place="window", inset_mm=16.0)
    sizes = (Size(60, 60), Size(80, 80), Size(120, 120))
    spec = RingsSpec("rings", sizes, (edge_row(1, plain_rectangle(6, 6), count=4), windows))
    pieces = [make_piece(order, KNIFE) for order, _ in ring_specs(spec, KNIFE)]
    with pytest.raises(GeometryError, match="runs through windows"):
        to_rings(spec, pieces)


def test_no_way_out_changes_a_size_that_others_share() -> None:
    with pytest.raises(GeometryError) as caught:
        rings_of(60, 100, rows=(edge_row(1, arch(), count=18, gap_mm=2.0),))
    assert "--count 17" in str(caught.value)
    assert "--size" not in str(caught.value)


def test_faults_of_all_rings_are_told_at_once() -> None:
    rows = (edge_row(0, arch(), count=40), edge_row(1, arch(), count=60))
    with pytest.raises(GeometryError) as caught:
        rings_of(60, 100, rows=rows)
    assert len(caught.value.lines) == 2


@pytest.mark.parametrize(
    ("sizes", "say"),
    [
        ((60, 62.9), "between 60 mm and 62.9 mm a ring is 1.45 mm wide, this card needs 1.5 mm"),
        (((100, 60), (110, 50)), "there is no ring, since the two edges cross or touch"),
        ((60, 61, 100), "Leave 60mm out, or make the step from 60mm larger."),
        ((60, 60.5, 61, 80, 100), 'Take --rings "61mm, 80mm, 100mm".'),
    ],
)
def test_rings_too_thin_are_refused(sizes: tuple[float, ...], say: str) -> None:
    with pytest.raises(GeometryError) as caught:
        rings_of(*sizes)
    assert say in str(caught.value)


def test_one_size_is_no_ring() -> None:
    with pytest.raises(InputError, match="two sizes or more"):
        make_rings(RingsSpec("rings", (Size(60, 60),)), KNIFE)


def test_each_ring_is_ordered_with_its_own_rows() -> None:
    spec = RingsSpec("set", (Size(60, 60), Size(90, 90)), (edge_row(0, arch(), place="in"), edge_row(1, arch())))
    (disc, none), (ring, both) = ring_specs(spec, KNIFE)
    assert (disc.opening, none) == (None, ())
    assert (ring.opening, both) == (Size(60, 60), (0, 1))
    assert [row.on for row in ring.rows] == ["opening", "base"]
    assert ring.name == "set, ring of 90 mm"
    assert ring.is_size_fixed


def test_rings_go_by_their_outer_edge() -> None:
    assert ring_words(Size(80, 60), is_disc=False) == "ring of 80 x 60 mm"
    assert ring_words(Size(57.15, 57.15), is_disc=True) == "disc of 57.15 mm"
