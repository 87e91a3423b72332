"""Which recipes ask for sheets."""

from __future__ import annotations

import pytest

from frameforge.recipe.recipe import read_recipe
from frameforge.recipe.sheets_asked import asks_for_sheets


@pytest.mark.parametrize(
    ("head", "piece", "asked"),
    [
        ("", "", False),
        ("", 'card = "moss"', False),
        ('[card.moss]\npreset = "card-240-laser"\nkerf = 0.2\n', 'card = "moss"', False),
        ('[card.moss]\nsheets = "A4"\n', 'card = "moss"', True),
        ("[card.moss]\nprice = 0.3\nspeed = 9\n", 'card = "moss"', True),
        ("[card.moss]\n", 'card = "moss"', True),
        ('[card.moss]\nsheets = "A4"\n', "", False),
        ('[sheets]\nturn = "half"\n', "", True),
        ("", 'sheet = "A4"', True),
    ],
)
def test_whoever_speaks_of_sheets_gets_them(head: str, piece: str, asked: bool) -> None:
    recipe = read_recipe(f'{head}\n[[piece]]\nname = "badge"\nsize = 40\n{piece}\n', "a.toml")
    assert asks_for_sheets(recipe) is asked
