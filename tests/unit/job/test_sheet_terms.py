"""On what sheets pieces are laid: what was said, what holds otherwise, how they are grouped."""

from __future__ import annotations

from dataclasses import replace

import pytest
from fixtures.laid import disc_part

from frameforge.card.sheet_size import A4, parse_sheet
from frameforge.errors import InputError
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle
from frameforge.job.sheet_terms import SheetTerms, default_size, groups_of, terms_of
from frameforge.job.used_sheet import UsedSheet
from frameforge.recipe.model import CardTable, SheetsTable
from frameforge.recipe.recipe import read_recipe


def test_a_card_speaks_before_all_cards_and_they_before_us() -> None:
    general = SheetsTable(margin=4.0, apart=2.0, price=0.2)
    terms = terms_of(general, CardTable(margin=0.0, stack=3), A4)
    assert (terms.margin_mm, terms.apart_mm, terms.price, terms.stack) == (0, 2, 0.2, 3)
    assert terms.sizes == (A4,)
    plain = terms_of(None, CardTable(), A4)
    assert (plain.margin_mm, plain.apart_mm, plain.price, plain.stack) == (5, 3, None, 1)


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("size = 60", "A4"),
        ('size = "60mm"', "A4"),
        ('size = "2 1/4 in"', "12 x 12 in"),
        ('size = "6x4in"', "12 x 12 in"),
    ],
)
def test_the_sheet_goes_by_the_unit_of_the_sizes(text: str, name: str) -> None:
    assert default_size(read_recipe(f"[[piece]]\n{text}\n", "a.toml")).name == name


def test_a_recipe_in_inches_is_laid_on_craft_sheets() -> None:
    assert default_size(read_recipe('units = "in"\n[[piece]]\nsize = 3\n', "a.toml")).name == "12 x 12 in"


@pytest.mark.parametrize(
    ("stack", "thickness_mm", "count"), [(1, 0.3, 1), (4, 0.3, 4), (0.9, 0.3, 3), (1.0, 0.3, 3), (0.2, 0.3, 1)]
)
def test_a_depth_takes_as_many_sheets_as_lie_in_it(stack: int | float, thickness_mm: float, count: int) -> None:
    assert SheetTerms((A4,), stack=stack).stacked(thickness_mm) == count


@pytest.mark.parametrize(("copies", "stack", "laid"), [(10, 3, 4), (9, 3, 3), (1, 5, 1), (24, 1, 24)])
def test_of_a_stack_every_sheet_gives_its_copies(copies: int, stack: int, laid: int) -> None:
    (group,) = groups_of(
        [disc_part("badge", 40, copies)], lambda card: SheetTerms((A4,), stack=stack), lambda card: "make"
    )
    assert group.laid_copies(group.parts[0]) == laid


def test_pieces_are_grouped_by_card_and_by_the_sheet_they_insist_on() -> None:
    a3 = parse_sheet("A3")
    parts = [
        disc_part("a", 10, card="moss"),
        disc_part("b", 10, card="sand"),
        replace(disc_part("c", 10, card="moss"), sheets=(a3,)),
        disc_part("d", 10, card="moss"),
    ]
    groups = groups_of(parts, lambda card: SheetTerms((A4,)), lambda card: "make")
    assert [(g.card, [p.name for p in g.parts], g.sizes) for g in groups] == [
        ("moss", ["a", "d"], (A4,)),
        ("moss", ["c"], (a3,)),
        ("sand", ["b"], (A4,)),
    ]


def test_a_begun_sheet_comes_first_and_once() -> None:
    begun = UsedSheet(parse_sheet("A3"), (Region(circle(100 + 100j, 50)),))
    part = replace(disc_part("c", 10, card="moss"), sheets=(A4,))
    terms = SheetTerms((A4,), used=(begun,))
    first, second = groups_of([disc_part("a", 10, card="moss"), part], lambda card: terms, lambda card: "make")
    assert [(kind.sheet.width_mm, kind.how_many) for kind in first.stock.kinds] == [(297, 1), (210, None)]
    assert first.stock.kinds[0].used == begun.regions
    assert [kind.used for kind in second.stock.kinds] == [()]


def test_lead_ins_keep_pieces_further_apart() -> None:
    """Cuts begin 4 mm off in the waste; a slot of 1 mm stays between them and the neighbour's line."""
    part = replace(disc_part("a", 10), lead_in_mm=4.0)
    (group,) = groups_of([part], lambda card: SheetTerms((A4,)), lambda card: "make")
    assert group.stock.apart_mm == 5
    assert group.notes == ("pieces lie 5 mm apart: a lead-in of 4 mm begins in the waste there.",)
    (narrow,) = groups_of([part], lambda card: SheetTerms((A4,), margin_mm=1), lambda card: "make")
    assert (narrow.stock.kinds[0].sheet.margin_mm, group.stock.kinds[0].sheet.margin_mm) == (4, 5)
    (wide,) = groups_of([part], lambda card: SheetTerms((A4,), apart_mm=6), lambda card: "make")
    assert (wide.stock.apart_mm, wide.notes) == (6, ())


def test_a_margin_that_leaves_nothing_is_refused() -> None:
    with pytest.raises(InputError) as caught:
        groups_of([disc_part("a", 10)], lambda card: SheetTerms((A4,), margin_mm=105.0), lambda card: "make, --margin")
    assert str(caught.value) == (
        "make, --margin: a margin of 105 mm leaves nothing of an A4 sheet, 210 mm wide. Take less than 104.9 mm."
    )
