"""A piece that fits no sheet is named with its size, the room there is, and a sheet that takes it."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import partial

import pytest
from fixtures.laid import box_part, disc_part

from frameforge.card.sheet_size import A4, SheetSize, parse_sheet
from frameforge.job.laying import Search, laid_out
from frameforge.job.left_over import LeftOverError
from frameforge.job.part import Part
from frameforge.job.sheet_terms import SheetTerms, groups_of
from frameforge.sheet.design import Design, Turning
from frameforge.sheet.stock import too_big


def refused(*parts: Part, size: SheetSize = A4, turn: Turning = "free", margin_mm: float = 5.0) -> LeftOverError:
    """Return the refusal of parts that do not fit."""
    terms = SheetTerms((size,), margin_mm)
    groups = groups_of(parts, lambda card: terms, lambda card: "make")
    with pytest.raises(LeftOverError) as caught:
        laid_out(groups, Search(turn, 1, 0), lambda done, total, name: None)
    return caught.value


def test_a_round_piece_is_told_by_one_measure() -> None:
    assert refused(disc_part("hoop", 300)).lines == (
        "hoop: 300 mm across, an A4 sheet with 5 mm margin takes 200 mm. "
        "Make it smaller, or use --sheet A2 (takes 410 mm).",
    )


def test_a_long_piece_is_told_by_both() -> None:
    assert refused(box_part("strip", 262.3, 20), size=parse_sheet("A5")).lines == (
        "strip: 262.3 x 20 mm across, an A5 sheet with 5 mm margin takes 138 x 200 mm. "
        "Make it smaller, or use --sheet A4 (takes 200 x 287 mm).",
    )


def test_a_sheet_the_other_way_round_is_offered_where_pieces_may_not_turn() -> None:
    error = refused(box_part("strip", 262.3, 20), turn="none")
    assert error.lines[0].endswith('or use --sheet "A4 landscape" (takes 287 x 200 mm).')


def _given(terms: SheetTerms, card: str | None) -> SheetTerms:
    return terms


def test_every_offer_holds_when_typed_back() -> None:
    for mm in (201, 287.5, 290, 350, 409.9, 500, 830):
        error = refused(disc_part("hoop", mm))
        sheet = re.search(r"--sheet (\S+)", error.lines[0])
        assert sheet is not None
        size = parse_sheet(sheet[1])
        assert min(size.width_mm, size.height_mm) - 10 >= mm
        terms = SheetTerms((size,))
        (group,) = groups_of([disc_part("hoop", mm)], partial(_given, terms), lambda card: "make")
        assert too_big([Design("hoop", (group.parts[0].cut.region,))], group.stock) == ()


def test_where_no_sheet_is_large_enough_none_is_offered() -> None:
    assert refused(disc_part("hoop", 2000)).lines[0].endswith("takes 200 mm. Make it smaller.")


def test_a_size_that_would_read_like_the_room_is_told_finer() -> None:
    assert "200.03 mm across" in refused(disc_part("hoop", 200.03)).lines[0]


def test_all_that_is_left_over_is_told_at_once() -> None:
    error = refused(disc_part("hoop", 300, 2, "moss"), replace(box_part("strip", 400, 20), card="sand"))
    assert [line.split(":")[0] for line in error.lines] == ["hoop", "strip"]
    assert error.exit_code == 3
    assert [(entry["name"], entry["copies"], entry["why"]) for entry in error.left_over] == [
        ("hoop", 2, "too big"),
        ("strip", 1, "too big"),
    ]
