"""Pages: their boxes and the order of their lines."""

from __future__ import annotations

import pytest
from fixtures.cut_pages import disc, leaf_frame, page_of, ring, sheet, tent

from frameforge.geometry.affine import Affine
from frameforge.geometry.line import Line
from frameforge.geometry.measure import area_mm2, bounds, centroid
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle
from frameforge.write.page import LINE_KINDS, CutPage, CutPiece


def test_a_page_made_to_measure_leaves_half_a_millimetre_on_every_side() -> None:
    box = page_of(ring(50, 42, at=7 - 3j)).box
    assert (box.left, box.bottom, box.right, box.top) == pytest.approx((-43.5, -53.5, 57.5, 47.5), abs=1e-12)


def test_a_sheet_is_its_own_page() -> None:
    box = sheet().box
    assert (box.left, box.bottom, box.right, box.top) == (0, 0, 200, 150)


def test_the_page_is_a_whole_number_of_ten_thousandths() -> None:
    box = page_of(disc(33.333333333)).box
    assert box.width_mm == pytest.approx(67.6667, abs=1e-12)


def test_holes_come_before_the_outside() -> None:
    region = leaf_frame()
    cuts = page_of(region).pieces[0].cuts()
    assert cuts[-1] == region.outer.segments
    assert len(cuts) == 26


def test_kinds_are_those_that_occur_in_their_order() -> None:
    assert tent().kinds() == ("cut", "crease", "mark")
    assert page_of(ring()).kinds() == ("cut",)


@pytest.mark.parametrize("run", [(), (Line(0, 1), Line(2, 3))])
def test_a_crease_without_length_or_with_a_gap_is_refused(run: tuple[Line, ...]) -> None:
    with pytest.raises(ValueError, match="gap"):
        CutPiece("tent", disc(), (run,))


def test_a_page_needs_a_piece_and_a_whole_size() -> None:
    with pytest.raises(ValueError, match="no piece"):
        CutPage("nothing", ())
    with pytest.raises(ValueError, match="half a size"):
        CutPage("half", (CutPiece("dot", disc()),), width_mm=100)


def test_a_piece_is_moved_with_all_its_lines() -> None:
    """Region, creases, marks and machine cuts go through one map, so that nothing shifts against anything else."""
    region = Region(Outline.from_points([0, 10, 10 + 5j, 5j]))
    crease, mark = (Line(1 + 1j, 9 + 1j),), (Line(2 + 2j, 2 + 4j),)
    run = region.outer.segments
    piece = CutPiece("tent", region, (crease,), (mark,), (run,))
    turn = Affine(1j, 0, 20 + 30j)
    moved = piece.transformed(turn)
    for kind in LINE_KINDS:
        for before, after in zip(piece.runs(kind), moved.runs(kind), strict=True):
            assert [s.start for s in after] == [turn.apply(s.start) for s in before]
            assert [s.end for s in after] == [turn.apply(s.end) for s in before]
    assert moved.region == region.transformed(turn)
    assert CutPiece("plain", region).transformed(turn).machine_cuts is None


def test_a_piece_for_the_back_of_the_card_is_mirrored_with_all_its_lines() -> None:
    region = Region(rectangle(-10.0, -5.0, 14.0, 5.0), (circle(3 + 1j, 2.0).reversed(),))
    crease, mark, cut = (Line(1 + 2j, 4 + 2j),), (Line(-3 + 0j, -1 + 1j),), (Line(14 + 0j, 15 + 1j),)
    over = CutPiece("plain", region, (crease,), (mark,), (cut,)).turned_over()
    assert over.creases == ((Line(-1 + 2j, -4 + 2j),),)
    assert over.marks == ((Line(3 + 0j, 1 + 1j),),)
    assert over.machine_cuts == ((Line(-14 + 0j, -15 + 1j),),)
    box = bounds(over.region)
    assert (box.left, box.right, centroid(over.region.holes[0])) == (-14, 10, pytest.approx(-3 + 1j))
    assert area_mm2(over.region) == pytest.approx(area_mm2(region))
    assert CutPiece("plain", region).turned_over().machine_cuts is None


def test_moving_a_piece_never_turns_it_over() -> None:
    piece = CutPiece("tent", Region(Outline.from_points([0, 10, 10 + 5j])))
    with pytest.raises(ValueError, match="never turned over"):
        piece.transformed(Affine.from_mirror())
