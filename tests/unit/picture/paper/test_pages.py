"""A guide put together: the bar never cut by a page, the drawing in the middle, the furniture of each page."""

from __future__ import annotations

import pytest

from frameforge.geometry.box import Box
from frameforge.picture.letter_widths import text_width
from frameforge.picture.paper.marks import Marks, straight
from frameforge.picture.paper.pages import EDGE_MM, Page, guide_pages, put_together
from frameforge.picture.paper.scale_check import BAR_MM, SQUARE_MM, scale_check

A4_ROOM = (190.0, 277.0)
LINES = ["1. Print at 100 %.", "2. Measure the bar."]


def _drawing(width: float, height: float) -> Marks:
    return Marks(Box(0, 0, width, height), (straight(0, complex(width, height)),))


def _is_inside(page: Page, point: complex) -> bool:
    w = page.window
    return w.left - 1e-9 <= point.real <= w.right + 1e-9 and w.bottom - 1e-9 <= point.imag <= w.top + 1e-9


def _ends_of(page: Page, length: float) -> list[complex]:
    """Return the ends of all straight lines of a length."""
    lines = [stroke.run[0] for stroke in page.marks.strokes]
    return [z for line in lines if abs(abs(line.end - line.start) - length) < 1e-9 for z in (line.start, line.end)]


@pytest.mark.parametrize("height", [50, 150, 205, 215, 250, 266, 277, 300, 520, 560])
@pytest.mark.parametrize("width", [80, 185, 300])
def test_bar_and_square_lie_whole_on_one_page(width: float, height: float) -> None:
    pages = list(guide_pages(put_together("g", _drawing(width, height), LINES, A4_ROOM, 10)))
    for page in pages:
        bar, square = _ends_of(page, 4 * 25.4), _ends_of(page, SQUARE_MM)
        assert (len(bar), len(square)) == (2, 8)
        if all(_is_inside(page, z) for z in (*bar, *square)):
            return
    pytest.fail("bar and square are parted")


def test_the_next_page_covers_no_line() -> None:
    """Lines that one page takes in its whole width are broken before the overlap where a page lies to the right."""
    lines = ["1. " + "Print at 100 %. " * 20]

    def reach_mm(width: float, overlap_mm: float, room_mm: float = 190.0) -> float:
        page, *_ = guide_pages(put_together("g", _drawing(width, 100), lines, (room_mm, 277), overlap_mm))
        told = [words for words in page.marks.words if "Print at" in words.words]
        return max(words.at.real + text_width(words.words, words.size_mm) for words in told) - page.window.left

    assert 170 < reach_mm(150, 40) <= 190
    assert 130 < reach_mm(300, 40) <= 150
    assert reach_mm(300, 60, room_mm=128) <= 4 * 25.4  # the bar must have room all the same


def test_one_page_carries_no_crop_marks_and_its_number() -> None:
    (page,) = guide_pages(put_together("leaf", _drawing(80, 80), LINES, A4_ROOM, 10))
    assert page.furniture.strokes == ()
    assert [word.words for word in page.furniture.words] == ["leaf, page 1 of 1"]
    assert (page.width_mm, page.height_mm) == (210, 297)


def test_pages_carry_crop_marks_and_say_where_the_next_ones_lie() -> None:
    pages = list(guide_pages(put_together("leaf", _drawing(300, 300), LINES, A4_ROOM, 10)))
    assert len(pages) == 4
    said = [[word.words for word in page.furniture.words] for page in pages]
    assert said[0] == [
        "leaf, page 1 of 4 (row 1, column 1)",
        "page 2 goes on here, from the dashed line",
        "page 3 goes on here, from the dashed line",
    ]
    assert said[3] == ["leaf, page 4 of 4 (row 2, column 2)"]
    assert [len(page.furniture.strokes) for page in pages] == [10, 9, 9, 8]
    # The dashed line stands one overlap inside the window.
    dashed = [stroke for stroke in pages[0].furniture.strokes if stroke.dashes_mm]
    assert {stroke.run[0].start.real for stroke in dashed} == {EDGE_MM + 180.0, EDGE_MM}


def test_pages_overlap_by_what_was_asked() -> None:
    one, two, *_ = guide_pages(put_together("leaf", _drawing(300, 300), LINES, A4_ROOM, 10))
    shift = one.marks.strokes[0].run[0].start - two.marks.strokes[0].run[0].start
    assert shift == pytest.approx(180)


def test_the_bar_measures_100_mm_and_4_in() -> None:
    marks = scale_check(LINES, 190)
    ticks = [s.run[0] for s in marks.strokes if s.run[0].start.real == s.run[0].end.real and s.width_mm == 0.2]
    above = sorted(tick.start.real for tick in ticks if tick.end.imag > tick.start.imag)
    below = sorted(tick.start.real for tick in ticks if tick.end.imag < tick.start.imag)
    assert above == pytest.approx([10 * k for k in range(11)], abs=1e-12)
    assert above[-1] == BAR_MM
    assert below == pytest.approx([25.4 * k for k in range(5)], abs=1e-12)


def test_a_page_too_small_for_the_bar_is_refused() -> None:
    with pytest.raises(ValueError, match="4 in"):
        scale_check(LINES, 90)
    with pytest.raises(ValueError, match="no room"):
        put_together("g", _drawing(50, 50), LINES, (110, 60), 10)
