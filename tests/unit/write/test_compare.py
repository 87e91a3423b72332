"""Lines read back against those of the page: every way in which they may differ is told."""

from __future__ import annotations

import pytest
from fixtures.cut_pages import disc, every_page, leaf_frame, page_of, ring, tent

from frameforge.geometry.affine import Affine
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle
from frameforge.write.compare import differences, measured_page, read_lines
from frameforge.write.page import CutPage, LineKind, Run


def _on_page(page: CutPage, kind: LineKind = "cut") -> list[Run]:
    """Return the page's own lines of one kind, moved onto the page."""
    box = page.box
    move = Affine.from_move(-complex(box.left, box.bottom))
    return [tuple(s.transformed(move) for s in run) for piece in page.pieces for run in piece.runs(kind)]


def _differences(page: CutPage, runs: list[Run], tolerance_mm: float = 2e-4) -> list[str]:
    """Return what is told of these lines as cuts."""
    return list(differences("cut", read_lines(runs), measured_page(page)["cut"], tolerance_mm))


def test_the_page_agrees_with_itself_to_the_last_digits() -> None:
    for page in every_page().values():
        assert _differences(page, _on_page(page), 1e-9) == []


def test_open_lines_agree_too() -> None:
    own = measured_page(tent())
    for kind in ("crease", "mark"):
        assert list(differences(kind, read_lines(_on_page(tent(), kind)), own[kind], 1e-9)) == []


def test_another_starting_joint_makes_no_difference() -> None:
    page = page_of(leaf_frame())
    runs = [run[3:] + run[:3] for run in _on_page(page)]
    assert _differences(page, runs, 1e-9) == []


def test_a_shift_of_all_is_told_by_box_and_distance() -> None:
    page = page_of(leaf_frame())
    moved = [tuple(s.transformed(Affine.from_move(3e-4)) for s in run) for run in _on_page(page)]
    said = _differences(page, moved)
    assert any("left side" in line for line in said)
    assert any("0.000300 mm from the other" in line for line in said)


def test_a_missing_and_a_doubled_line_are_told() -> None:
    page = page_of(ring())
    runs = _on_page(page)
    assert _differences(page, runs[:1]) == ["cut: 1 lines, the page has 2"]
    assert _differences(page, [*runs, runs[0]]) == ["cut: 3 lines, the page has 2"]


def test_a_line_run_the_wrong_way_is_told_by_its_area() -> None:
    page = page_of(ring())
    hole, outside = _on_page(page)
    turned = tuple(s.reversed() for s in reversed(hole))
    assert [line for line in _differences(page, [turned, outside]) if "area" in line] != []


def test_lines_in_another_order_are_told() -> None:
    page = page_of(ring())
    assert _differences(page, _on_page(page)[::-1]) != []


def test_a_dent_in_one_curve_is_told_where_it_is() -> None:
    page = page_of(leaf_frame())
    runs = _on_page(page)
    first = runs[0][0]
    assert isinstance(first, Cubic)
    dented = (Cubic(first.start, first.c1 + 0.002j, first.c2, first.end), *runs[0][1:])
    said = _differences(page, [dented, *runs[1:]])
    assert len([line for line in said if "passes" in line]) == 2


def test_a_part_left_out_is_told_although_all_that_is_there_is_right() -> None:
    page = page_of(leaf_frame())
    runs = _on_page(page)
    short = Outline.from_chain(runs[-1][:6] + runs[-1][12:], joint_mm=1e-9).segments
    assert any("line of the page" in line for line in _differences(page, [*runs[:-1], short]))


def test_an_open_line_in_place_of_a_closed_one_is_told() -> None:
    page = page_of(leaf_frame())
    runs = _on_page(page)
    assert any("closed False" in line for line in _differences(page, [*runs[:-1], runs[-1][:-1]]))


def test_slivers_that_rounding_swallows_may_be_missing() -> None:
    sliver = Outline.from_points([0, 5 + 1e-6j, 10]).reversed()
    page = page_of(Region(circle(0, 50), (sliver, circle(-20, 5).reversed())))
    _, hole, outside = _on_page(page)
    assert _differences(page, [hole, outside]) == []
    assert _differences(page, [outside]) != []


def test_the_page_is_measured_by_kind() -> None:
    own = measured_page(tent())
    assert tuple(own) == ("cut", "crease", "mark")
    assert own["crease"].is_closed.tolist() == [False] * 8
    assert own["mark"].is_closed.tolist() == [True, False]
    assert own["cut"].lengths_mm.tolist() == pytest.approx([314.159265], abs=1e-3)
    assert measured_page(page_of(disc()))["cut"].areas_mm2.tolist() == pytest.approx([7853.981634])
