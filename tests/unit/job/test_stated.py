"""Places that a recipe states: laid as they are written, refused with a way out where they do not hold."""

from __future__ import annotations

import re
from collections.abc import Sequence

import pytest
from fixtures.laid import box_part, disc_part, ring_part

from frameforge.card.sheet_size import A4, SheetSize, parse_sheet
from frameforge.errors import FrameforgeError, InputError, NestError
from frameforge.geometry.measure import bounds
from frameforge.job.laid_sheet import SheetsMade
from frameforge.job.laying import Search, laid_out
from frameforge.job.part import Part
from frameforge.job.sheet_terms import SheetGroup, SheetTerms, groups_of
from frameforge.job.stated import STATED, stated_layouts
from frameforge.job.stated_proof import refuse_near
from frameforge.recipe.model import LaidTable
from frameforge.sheet.design import Turning
from frameforge.sheet.lay import Laid


def where(number: int) -> str:
    return f"laid {number + 1}"


def made(
    parts: Sequence[Part],
    tables: Sequence[LaidTable],
    sizes: tuple[SheetSize, ...] = (A4,),
    turn: Turning = "free",
    apart_mm: float = 3.0,
    margin_mm: float = 5.0,
) -> SheetsMade:
    """Return the sheets of parts whose places are stated."""
    groups = groups_of(parts, lambda card: SheetTerms(sizes, margin_mm, apart_mm), lambda card: "make")

    def stated(groups: Sequence[SheetGroup]) -> Sequence[Laid | None]:
        layouts = stated_layouts(groups, tables, where, turn)
        refuse_near(groups, layouts, tables, where, turn)
        return layouts

    return laid_out(groups, Search(turn, 1, 0), lambda done, total, name: None, stated=stated)


def lines(error: type[FrameforgeError], *arguments: object, **named: object) -> tuple[str, ...]:
    with pytest.raises(error) as caught:
        made(*arguments, **named)  # type: ignore[arg-type]
    return caught.value.lines


def test_pieces_lie_where_the_recipe_says() -> None:
    box = box_part("label", 60, 30, 2, "moss")
    sheets = made([box], [LaidTable("label", 80, 50, turn=90), LaidTable("Label", 60, 120, sheet=2)])
    assert sheets.methods == (STATED,)
    first, second = (sheet.pieces[0] for sheet in sheets.sheets)
    assert [sheet.name for sheet in sheets.sheets] == ["moss-1", "moss-2"]
    box_mm = bounds(first.cut.region)
    assert (box_mm.left, box_mm.bottom, box_mm.width_mm, box_mm.height_mm) == pytest.approx((65, 20, 30, 60))
    assert bounds(second.cut.region).center == pytest.approx(60 + 120j)
    assert (first.copy, second.copy) == (1, 2)


def test_turns_count_clockwise() -> None:
    corner = box_part("label", 60, 30).cut.region.outer.segments[0].start
    (sheet,) = made([box_part("label", 60, 30)], [LaidTable("label", 80, 50, turn=90)]).sheets
    assert corner == 0
    # The lower left corner of a piece turned a quarter clockwise is its upper left one.
    assert sheet.pieces[0].cut.region.outer.segments[0].start == pytest.approx(65 + 80j)


def test_a_piece_in_an_opening_is_cut_before_its_host() -> None:
    parts = [ring_part("ring", 100, 60), disc_part("seal", 40)]
    (sheet,) = made(parts, [LaidTable("ring", 60, 60), LaidTable("seal", 60, 60)]).sheets
    assert [(piece.part.name, piece.inside_of) for piece in sheet.pieces] == [("seal", 1), ("ring", None)]


def test_cards_without_a_word_are_laid_as_ever() -> None:
    sheets = made([disc_part("seal", 40, 1, "moss"), disc_part("tag", 30, 2, "sand")], [LaidTable("seal", 100, 100)])
    assert sheets.sheets[0].pieces[0].x_mm == 100
    assert len(sheets.sheets[1].pieces) == 2


@pytest.mark.parametrize(
    ("tables", "say"),
    [
        ([LaidTable("saal", 60, 60)], 'laid 1: no piece is called "saal"; the nearest is seal.'),
        ([LaidTable("seal", 60, 60)], "laid 1: seal is laid 2 times, and laid says so 1 times. Say where 1 more"),
        ([LaidTable("seal", 60, 60 * k) for k in (1, 2, 3)], "laid 3: seal is laid 2 times, and laid says so 3 times"),
        (
            [LaidTable("seal", 60, 60), LaidTable("seal", 60, 60, sheet=3)],
            "laid 2: sheet 3, and sheet 2 is empty. Number them from 1",
        ),
        (
            [LaidTable("seal", 60, 60, size="A3"), LaidTable("seal", 60, 160)],
            'laid 1: no sheet to lie on is called "A3". Write A4.',
        ),
    ],
)
def test_statements_that_mean_nothing_are_refused(tables: list[LaidTable], say: str) -> None:
    assert lines(InputError, [disc_part("seal", 40, 2)], tables)[0].startswith(say)


def test_a_turn_that_the_grain_forbids_is_refused() -> None:
    table = [LaidTable("seal", 60, 60, turn=45)]
    say = lines(InputError, [disc_part("seal", 40)], table, turn="quarter")[0]
    assert say.startswith('laid 1: 45 deg of turn, and by turn = "quarter" pieces turn by 90 deg')
    assert "not at all" in lines(InputError, [disc_part("seal", 40)], table, turn="none")[0]
    assert made([disc_part("seal", 40)], [LaidTable("seal", 60, 60, turn=-90)], turn="quarter").sheets


def test_a_sheet_of_several_sizes_is_named() -> None:
    sizes = (A4, parse_sheet("12x12in"))
    (sheet,) = made([disc_part("seal", 250)], [LaidTable("seal", 150, 150, size="12x12in")], sizes=sizes).sheets
    assert sheet.size.name == "12 x 12 in"
    tables = [LaidTable("seal", 60, 60, size="A4"), LaidTable("seal", 60, 160, size="12 x 12 in")]
    say = lines(InputError, [disc_part("seal", 40, 2)], tables, sizes=sizes)
    assert say == ("laid 2: sheet 1 is A4 before. Give one of them another number.",)


def near(gap_mm: float) -> list[LaidTable]:
    return [LaidTable("seal", 60, 60), LaidTable("seal", 100 + gap_mm, 60)]


def test_pieces_too_near_are_refused_with_offers_that_hold() -> None:
    seals = [disc_part("seal", 40, 2)]
    (say,) = lines(NestError, seals, near(1.249))
    assert say.startswith("laid 2: on sheet 1 seal 2 lies 1.24 mm from seal 1, 3 mm wanted. Write from_left = ")
    left, bottom = (float(number) for number in re.findall(r"from_\w+ = ([\d.]+)mm", say))
    assert made(seals, [near(1)[0], LaidTable("seal", left, bottom)]).sheets
    apart = re.search(r"--apart ([\d.]+)mm", say)
    assert apart is not None
    assert made(seals, near(1.249), apart_mm=float(apart[1])).sheets
    assert made(seals, near(3)).sheets


def test_the_offered_distance_does_for_all_pieces() -> None:
    seals = [disc_part("seal", 40, 3)]
    tables = [*near(1.5), LaidTable("seal", 60, 100.7)]
    said = lines(NestError, seals, tables)
    assert len(said) == 2
    assert all("--apart 0.7mm" in say for say in said)
    assert made(seals, tables, apart_mm=0.7).sheets


def test_an_overlap_is_no_distance_to_be_taken() -> None:
    (say,) = lines(NestError, [disc_part("seal", 40, 2)], near(-5))
    assert "seal 2 lies over seal 1" in say
    assert "--apart" not in say
    (say,) = lines(NestError, [ring_part("ring", 60, 20), disc_part("seal", 10)], [
        LaidTable("ring", 60, 60), LaidTable("seal", 85, 60),
    ])  # fmt: skip
    assert "seal lies over ring" in say


def test_the_edge_is_kept_too() -> None:
    seals = [disc_part("seal", 40)]
    (say,) = lines(NestError, seals, [LaidTable("seal", 22.5, 60)])
    assert "seal lies 2.5 mm from the edge, 5 mm wanted" in say
    assert "from_left = 25mm" in say
    assert "--margin 2.5mm" in say
    assert made(seals, [LaidTable("seal", 22.5, 60)], margin_mm=2.5).sheets
    assert "seal reaches 3 mm over the edge" in lines(NestError, seals, [LaidTable("seal", 17, 60)])[0]
