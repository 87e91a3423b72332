"""What a recipe says of sheets, as values and by options."""

from __future__ import annotations

from typing import Any

import pytest

from frameforge.card.sheet_size import parse_sheet
from frameforge.errors import InputError
from frameforge.recipe import sheet_fields
from frameforge.recipe.from_options import with_options
from frameforge.recipe.recipe import Recipe, check_recipe, parse_toml, read_recipe
from frameforge.recipe.source import Source

TWO = """
[card.moss]
sheets = ["A4", "12x12in"]
margin = 4
price = 0.35
stack = "0.9mm"

[card.sand]
used = "off-cut.svg"

[sheets]
turn = "half"
seed = 3
tries = 50

[[piece]]
name = "gate"
card = "moss"
size = 100
sheet = "A3"

[[piece]]
name = "seal"
card = "sand"
size = 40
"""


def laid_over(**options: Any) -> Recipe:
    """Return the recipe of two pieces with options laid over it."""
    return check_recipe(*with_options(parse_toml(TWO, "swap.toml"), Source("swap.toml"), options))


def test_a_card_tells_its_sheets() -> None:
    recipe = read_recipe(TWO, "swap.toml")
    moss = recipe.tables.card["moss"]
    assert moss.sheets == (parse_sheet("A4"), parse_sheet("12x12in"))
    assert (moss.margin, moss.apart, moss.price, moss.stack) == (4, None, 0.35, 0.9)
    assert recipe.tables.card["sand"].used == ("off-cut.svg",)
    sheets = recipe.tables.sheets
    assert sheets is not None
    assert (sheets.turn, sheets.seed, sheets.tries) == ("half", 3, 50)
    assert recipe.pieces[0].sheet == (parse_sheet("A3"),)


def test_options_about_sheets_go_with_any_recipe_and_come_before_its_own_words() -> None:
    recipe = laid_over(sheet=("A2",), margin="6mm", apart="2mm", seed="9", price="0,5", stack="2")
    sheets = recipe.tables.sheets
    assert sheets is not None
    assert sheets.sheet == (parse_sheet("A2"),)
    assert (sheets.margin, sheets.apart, sheets.seed, sheets.price, sheets.stack) == (6, 2, 9, 0.5, 2)
    assert (sheets.turn, sheets.tries) == ("half", 50)
    moss = recipe.tables.card["moss"]
    assert (moss.sheets, moss.margin, moss.price, moss.stack) == (None, None, None, None)
    assert recipe.pieces[0].sheet is None


def test_a_fault_in_an_option_names_the_option() -> None:
    with pytest.raises(InputError) as caught:
        laid_over(sheet=("A44",))
    assert str(caught.value).startswith('make, --sheet "A44": no sheet of that name; the nearest is A4.')


@pytest.mark.parametrize(
    ("value", "names"),
    [
        ("A4", ["A4"]),
        ("A4,12x12in", ["A4", "12 x 12 in"]),
        (["A4", "A4"], ["A4"]),
        ([304.8, 304.8], ["304.8 x 304.8 mm"]),
        ([[300, 200], "A4 landscape"], ["300 x 200 mm", "A4 landscape"]),
    ],
)
def test_sheets_may_be_one_or_several(value: object, names: list[str]) -> None:
    assert [size.name for size in sheet_fields.as_sheets(value, "mm")] == names


def test_a_stack_is_a_number_or_a_depth() -> None:
    assert sheet_fields.as_stack("3", "mm") == 3
    assert isinstance(sheet_fields.as_stack(3, "mm"), int)
    assert isinstance(sheet_fields.as_stack("1mm", "mm"), float)


@pytest.mark.parametrize(
    ("line", "say"),
    [
        ('[sheets]\nturn = "round"', 'turn "round": no such choice. Write "free", "quarter", "half" or "none"'),
        ("[sheets]\nseed = -1", "seed -1: it goes from 0"),
        ("[sheets]\ntries = 1.5", "tries 1.5: not a whole number."),
        ("[card.moss]\nprice = -1", "price -1: not a number of 0 or more."),
        ("[card.moss]\nsheets = []", "no sheet in it."),
        ('[card.moss]\nsheets = ["12x12"]', "Write 12x12in for inches."),
        ("[card.moss]\nstack = 0", "stack 0: it goes from 1 to 50."),
        ("[card.moss]\nused = 4", "used 4: not the name of a file."),
        ("[sheets]\nsheat = 1", '"sheat" is not known here; the nearest is sheet.'),
    ],
)
def test_what_does_not_go_is_told(line: str, say: str) -> None:
    with pytest.raises(InputError) as caught:
        read_recipe(f'{line}\n[[piece]]\nname = "a"\nsize = 40\n', "a.toml")
    assert say in str(caught.value)
