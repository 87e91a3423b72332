"""What is said of sheets: counts, card used, costs, rests."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from fixtures.laid import disc_part, laid, sheet_of, sheets_of

from frameforge.geometry.box import Box
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle
from frameforge.job.laid_sheet import SheetsMade
from frameforge.job.sheet_words import closing_line, percent, sheet_lines, sheet_tables, what_words
from frameforge.sheet.off_cuts import OffCut


def eight_each(copies: int = 8, width_mm: float = 70.0, **more: object) -> SheetsMade:
    """Return badges of three colours, one sheet of each."""
    sheets = []
    for card in ("moss", "sand", "brick"):
        part = disc_part(f"badge-{card}", width_mm, copies, card)
        pieces = [laid(part, 50 + k, 50, k + 1) for k in range(copies)]
        sheets.append(sheet_of(pieces, f"{card}-sheet-1", **more))  # type: ignore[arg-type]
    return sheets_of(*sheets)


def test_the_closing_line_counts_pieces_sheets_colours_and_card() -> None:
    """24 discs of 70 mm on three A4 sheets: 24 x 35^2 pi / (3 x 210 x 297) = 49.36 % used, 50.64 % wasted."""
    made = eight_each()
    assert closing_line(made) == "24 badges on 3 sheets: moss 1, sand 1, brick 1. Card used 49 %."
    assert 100 * (1 - made.card_used) == pytest.approx(50.64, abs=0.005)


@pytest.mark.parametrize(
    ("names", "said"),
    [
        (["badge"], "3 badges"),
        (["bean-leaf"], "3 bean leaves"),
        (["badge", "seal"], "6 pieces"),
        (["arch-17-on-100mm"], "3 pieces"),
        (["moss badge", "badge_moss"], "6 badges"),
    ],
)
def test_pieces_are_called_by_their_name_where_they_have_one(names: list[str], said: str) -> None:
    assert what_words([disc_part(name, 10, 3, "moss") for name in names]) == said


def test_one_of_each_is_told_so() -> None:
    made = sheets_of(sheet_of([laid(disc_part("badge", 40), 50, 50)]))
    assert closing_line(made) == "1 badge on 1 sheet. Card used 2 %."


@pytest.mark.parametrize(("share", "said"), [(0.4936, "49 %"), (0.4999, "49 %"), (1.0, "100 %"), (0.29, "29 %")])
def test_a_share_is_never_rounded_up(share: float, said: str) -> None:
    assert percent(share) == said


def test_sheets_cost_what_they_cost_and_begun_ones_nothing() -> None:
    part = disc_part("badge", 40, 2)
    new = sheet_of([laid(part, 50, 50)], price=0.35)
    begun = sheet_of([laid(part, 50, 50, 2)], "sheet-2", price=0.35, used=(Region(circle(150 + 150j, 30)),))
    made = sheets_of(new, begun)
    assert (new.cost, begun.cost, made.cost) == (0.35, 0, 0.35)
    assert "Cost of the sheets: 0.35." in sheet_lines(made)
    assert sheets_of(sheet_of([laid(part, 50, 50)])).cost is None


def test_of_a_begun_sheet_only_what_is_left_counts_as_card() -> None:
    part = disc_part("badge", 40)
    begun = sheet_of([laid(part, 50, 50)], used=(Region(circle(150 + 150j, 30)),))
    assert begun.card_mm2 == pytest.approx(210 * 297 - 900 * math.pi, abs=0.01)
    assert begun.card_used == pytest.approx(400 * math.pi / begun.card_mm2, rel=1e-6)


def test_a_stack_gives_several_sheets_in_one_go() -> None:
    """Three sheets at once: 10 badges take 4 layers, of which 2 badges are more than was asked for."""
    part = disc_part("badge", 40, 10)
    made = sheets_of(sheet_of([laid(part, 50, 50, k) for k in range(4)], price=0.5, stack=3))
    assert made.count == 3
    assert made.cost == 1.5
    assert made.cut_s == pytest.approx(4 * part.cut_s)
    lines = sheet_lines(made)
    assert "3 at once" in lines[0]
    assert "The stacks give 2 more than asked for." in lines
    assert lines[-1].startswith("10 badges on 3 sheets.")


def test_a_rest_is_told_by_what_fits_in_it() -> None:
    """Cut to tenths of a millimetre, so that what is told can be cut."""
    part = disc_part("badge", 40)
    cuts = (OffCut(None, 100 + 100j, 61.29, Box(0, 0, 40.58, 190.04)), OffCut(0, 50 + 50j, 20.0, Box(0, 0, 14, 14)))
    made = sheets_of(replace(sheet_of([laid(part, 50, 50)]), off_cuts=cuts))
    assert "  Left of it: a disc of 61.2 mm, or 40.5 x 190 mm." in sheet_lines(made)
    _, rests = sheet_tables(made)
    assert rests.rows[1:] == (
        ("sheet-1", "rest of the sheet", "61.2 mm", "40.5 x 190 mm"),
        ("sheet-1", "opening of badge", "20 mm", "14 x 14 mm"),
    )


def test_a_search_cut_short_says_so() -> None:
    made = replace(sheets_of(sheet_of([laid(disc_part("badge", 40), 50, 50)])), is_interrupted=True)
    assert sheet_lines(made)[-2] == "Stopped early: this is the best layout found until then."


def test_the_report_tells_every_sheet() -> None:
    table, *_ = sheet_tables(eight_each(price=0.2))
    assert table.rows[1][:6] == ("moss-sheet-1", "moss", "A4 (210 x 297 mm)", "1", "8 x badge-moss", "49.36 %")
    assert table.rows[1][-1] == "0.20"
    assert any(note.startswith("Waste 50.64 %") for note in table.notes)


def test_sheets_that_hold_the_same_are_told_in_one_line() -> None:
    part = disc_part("seal", 60, 7)
    full = [sheet_of([laid(part, 50, 50), laid(part, 150, 50, 2)], f"sheet-{k}") for k in (1, 2, 3)]
    made = sheets_of(*full, sheet_of([laid(part, 50, 50, 7)], "sheet-4"))
    first, second, closing = sheet_lines(made)
    assert first.startswith("sheet-1 to 3, A4 (210 x 297 mm): 2 x seal each. Card used 9 %, 377 mm to cut in 2 lifts")
    assert first.endswith(" each.")
    assert second.startswith("sheet-4, A4 (210 x 297 mm): 1 x seal. Card used 4 %")
    assert closing == "7 seals on 4 sheets. Card used 7 %."


def test_files_of_many_sheets_are_told_by_the_first_and_the_last() -> None:
    made = eight_each()
    files = {sheet.name: {"svg": f"{sheet.name}.svg", "dxf": f"{sheet.name}.dxf"} for sheet in made.sheets}
    few = made.with_files(files, ("sheet-plan.svg",))
    assert few.told_files == (
        "moss-sheet-1.svg", "moss-sheet-1.dxf", "sand-sheet-1.svg", "sand-sheet-1.dxf", "brick-sheet-1.svg",
        "brick-sheet-1.dxf", "sheet-plan.svg",
    )  # fmt: skip
    files["sand-sheet-1"]["crease.svg"] = "sand-sheet-1.crease.svg"
    many = replace(made, sheets=tuple(replace(sheet, card="moss") for sheet in few.sheets))
    assert many.told_files == (
        "moss-sheet-1.svg to brick-sheet-1.svg", "moss-sheet-1.dxf to brick-sheet-1.dxf", "sand-sheet-1.crease.svg",
    )  # fmt: skip
