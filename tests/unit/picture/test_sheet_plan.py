"""The picture of all sheets."""

from __future__ import annotations

import re

import pytest

from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle
from frameforge.picture.look import BENCH, CARD_COLOURS
from frameforge.picture.sheet_plan import PlanPiece, PlanSheet, sheet_plan


def ring(x: float, y: float, number: str = "") -> PlanPiece:
    region = Region(circle(complex(x, y), 40), (circle(complex(x, y), 30).reversed(),))
    return PlanPiece(region, number, complex(x, y + 35), 5.0)


def sheet(name: str, card: str | None = "moss", **more: object) -> PlanSheet:
    return PlanSheet(name, card, 210, 297, (ring(50, 50), ring(150, 200)), **more)  # type: ignore[arg-type]


def fills(svg: str) -> list[str]:
    return [fill for fill in re.findall(r'<path d="[^"]*" fill="([^"]*)"', svg) if fill != "none"]


def test_a_sheet_has_the_colour_of_its_card_and_openings_show_the_bench() -> None:
    moss = CARD_COLOURS["moss"]
    svg = sheet_plan("Sheets", [sheet("moss-sheet-1", lines=("A4", "2 x ring"))])
    assert fills(svg) == [moss, BENCH, moss, BENCH, moss]
    for words in ("Sheets", "moss-sheet-1", "A4", "2 x ring", "50 mm"):
        assert f">{words}</text>" in svg


def test_hatching_stays_on_the_sheet() -> None:
    """Every line of it ends on the edge of the sheet: 210 x 297 mm at the greatest scale of 2.6 px a mm."""
    svg = sheet_plan("Sheets", [sheet("a")])
    (hatching,) = re.findall(r'<path d="([^"]*)"[^>]*stroke-opacity', svg)
    points = [complex(float(x), float(y)) for x, y in re.findall(r"[ML] (\S+) (\S+)", hatching)]
    left, top = min(p.real for p in points), min(p.imag for p in points)
    for p in points:
        x, y = p.real - left, p.imag - top
        assert min(abs(x), abs(x - 546), abs(y), abs(y - 772.2)) < 0.15
        assert -0.1 <= x <= 546.1
        assert -0.1 <= y <= 772.3


def test_what_was_cut_before_shows_the_bench() -> None:
    svg = sheet_plan("Sheets", [sheet("a", used=(Region(circle(150 + 60j, 20)),))])
    assert fills(svg)[1] == BENCH


def test_what_lies_in_an_opening_is_drawn_over_it() -> None:
    """It is cut before its host and stands before it in the list; drawn first it would be hidden by the opening."""
    inner = PlanPiece(Region(circle(50 + 50j, 10)))
    svg = sheet_plan("Sheets", [PlanSheet("a", None, 210, 297, (inner, ring(50, 50)))])
    drawn = re.findall(r'<path d="(M [^"]*)" fill="(#\w+)" fill-rule', svg)
    assert len(drawn) == 3
    assert drawn[-1][0].count("M") == 1


def test_numbers_are_drawn_where_there_are_any() -> None:
    svg = sheet_plan("Sheets", [PlanSheet("a", None, 210, 297, (ring(50, 50, "1"), ring(150, 200, "12")))])
    assert ">1</text>" in svg
    assert ">12</text>" in svg


def test_lines_within_a_piece_are_drawn_on_it() -> None:
    ring_line = circle(50 + 50j, 35).segments
    plain = sheet_plan("Sheets", [PlanSheet("a", None, 210, 297, (ring(50, 50),))])
    cut = PlanPiece(ring(50, 50).region, lines=(ring_line,))
    svg = sheet_plan("Sheets", [PlanSheet("a", None, 210, 297, (cut,))])
    assert (svg.count("<path"), svg.count("dasharray")) == (plain.count("<path") + 1, 0)
    folded = PlanPiece(ring(50, 50).region, creases=(ring_line,))
    assert sheet_plan("Sheets", [PlanSheet("a", None, 210, 297, (folded,))]).count("dasharray") == 1


def test_words_below_a_sheet_break_behind_commas() -> None:
    """Eight kinds of piece on a sheet of 105 mm, 273 px wide; a name longer than that breaks between its words."""
    listed = ", ".join(f"{k}: {k} x round-frame" for k in range(1, 9))
    narrow = PlanSheet("a", None, 105, 148, (ring(50, 50),), (), (listed, f"{'very ' * 20}long"))
    svg = sheet_plan("Sheets", [narrow])
    words = re.findall(r">([^<]*)</text>", svg)
    assert [line for line in words if "round-frame" in line] == [
        "1: 1 x round-frame, 2: 2 x round-frame,",
        "3: 3 x round-frame, 4: 4 x round-frame,",
        "5: 5 x round-frame, 6: 6 x round-frame,",
        "7: 7 x round-frame, 8: 8 x round-frame",
    ]
    assert sum(line.count("very") for line in words) == 20


def test_a_name_wider_than_a_sheet_breaks_behind_its_hyphens() -> None:
    name = "2 x photo-mat-with-a-border-layer-2-cream"
    svg = sheet_plan("Sheets", [PlanSheet("a", None, 60, 60, (ring(30, 30),), (), (name,))])
    words = re.findall(r">([^<]*)</text>", svg)
    found = words[words.index("a") + 1 :]
    assert len(found) > 1
    assert "".join(found) in (name, name.replace("x photo", "xphoto"))
    assert all(line.endswith("-") for line in found[1:-1])


@pytest.mark.parametrize("count", [1, 2, 3, 5, 9, 16, 48])
def test_many_sheets_stand_in_a_page_that_is_neither_wide_nor_high(count: int) -> None:
    svg = sheet_plan("Sheets", [sheet(f"moss-sheet-{k}") for k in range(count)])
    width, height = (float(side) for side in re.search(r'viewBox="0 0 (\d+) (\d+)"', svg).groups())  # type: ignore[union-attr]
    assert width <= 1300
    assert 0.4 < width / height < 2.6


def test_a_plan_needs_a_sheet() -> None:
    with pytest.raises(ValueError, match="at least one sheet"):
        sheet_plan("Sheets", [])
