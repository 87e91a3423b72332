"""Options checked like keys of a recipe, for commands that take none."""

from __future__ import annotations

import pytest

from frameforge.card.sheet_size import parse_sheet
from frameforge.errors import InputError
from frameforge.recipe.option_table import checked_options

TABLES = {"sheets": ("sheet", "margin", "seed", "turn"), "files": ("formats", "one_path")}


def test_values_come_in_our_units_and_what_was_left_out_stays_out() -> None:
    typed = {"sheet": ("A4", "12x12in"), "margin": "1/4 in", "seed": "7", "turn": None, "one_path": False, "out": "x"}
    found = checked_options(TABLES, typed, "nest")
    assert found == {"sheet": (parse_sheet("A4"), parse_sheet("12x12in")), "margin": pytest.approx(6.35), "seed": 7}


def test_every_fault_is_told_with_its_option() -> None:
    with pytest.raises(InputError) as caught:
        checked_options(TABLES, {"sheet": ("A44",), "turn": "round", "formats": "pdf"}, "nest")
    assert [line.split(":")[0] for line in caught.value.lines] == [
        'nest, --sheet "A44"', 'nest, --turn "round"', 'nest, --formats "pdf"',
    ]  # fmt: skip
    assert 'Write "free", "quarter", "half" or "none"' in caught.value.lines[1]
