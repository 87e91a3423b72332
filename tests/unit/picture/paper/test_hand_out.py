"""The hand-out's page: all parts to one scale inside the frame, the table, what does not go on it."""

from __future__ import annotations

from frameforge.geometry.measure import bounds
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, ellipse
from frameforge.picture.look import CARD_COLOURS, DRAB
from frameforge.picture.paper.hand_out import HandOut, HandOutPart, hand_out_page


def _part(name: str, width: float, card: str | None = "moss") -> HandOutPart:
    return HandOutPart(name, card, 2, f"{width} mm", "about 1 min", (Region(ellipse(0, width / 2, width / 3)),))


def test_parts_are_drawn_to_one_scale_and_none_larger_than_it_is() -> None:
    page = hand_out_page(HandOut("sign", (_part("a", 300), _part("b", 150), _part("c", 60, None)), ()), 1, 1)
    boxes = [bounds(area.outlines[0]) for area in page.marks.areas]
    assert abs(boxes[0].width_mm / boxes[1].width_mm - 2) < 1e-9
    assert abs(boxes[0].width_mm / boxes[2].width_mm - 5) < 1e-9
    for box in boxes:
        assert page.window.left <= box.left
        assert box.right <= page.window.right
        assert box.top <= page.window.top
    assert [area.colour for area in page.marks.areas] == [CARD_COLOURS["moss"], CARD_COLOURS["moss"], DRAB]
    (small,) = hand_out_page(HandOut("dot", (_part("a", 20),), ()), 1, 1).marks.areas
    assert abs(bounds(small.outlines[0]).width_mm - 20) < 1e-9


def test_the_bar_is_50_mm_in_the_scale_of_the_picture() -> None:
    page = hand_out_page(HandOut("sign", (_part("a", 300),), ()), 1, 1)
    scale = bounds(page.marks.areas[0].outlines[0]).width_mm / 300
    lengths = [abs(stroke.run[0].end - stroke.run[0].start) for stroke in page.marks.strokes]
    assert any(abs(length - 50 * scale) < 1e-9 for length in lengths)


def test_long_names_are_cut_short_and_long_pages_end_in_words() -> None:
    lines = tuple(f"line {k} of many" for k in range(200))
    page = hand_out_page(HandOut("sign", (_part("a-very-long-name-" * 6, 100),), (("Steps", lines),)), 2, 5)
    words = [word.words for word in page.marks.words]
    assert any(word.endswith("...") for word in words)
    assert words[-1] == "More in report.md."
    assert [word.words for word in page.furniture.words] == ["2 of 5"]
    assert all(word.at.imag >= page.window.bottom - 1e-9 for word in page.marks.words)


def test_holes_show_the_paper() -> None:
    part = HandOutPart("ring", "sand", 1, "80 mm", "1 min", (Region(circle(0, 40), (circle(0, 30).reversed(),)),))
    page = hand_out_page(HandOut("ring", (part,), ()), 1, 1)
    assert len(page.marks.areas[0].outlines) == 2
