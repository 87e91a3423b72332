"""Sizes that are likely meant as inches."""

from __future__ import annotations

import pytest

from frameforge.recipe.recipe import read_recipe
from frameforge.recipe.slips import slip_lines


@pytest.mark.parametrize(
    ("size", "line"),
    [
        ("4", "a.toml line 2, size 4: 4 mm? For inches write 4in."),
        ('"3.5"', 'a.toml line 2, size "3.5": 3.5 mm? For inches write 3.5in.'),
        ('"4mm"', None),
        ("15", None),
        ('"find"', None),
        ("[4, 4]", None),
    ],
)
def test_a_bare_small_number_is_asked_about(size: str, line: str | None) -> None:
    found = slip_lines(read_recipe(f"[[piece]]\nsize = {size}\n", "a.toml"))
    assert found == (() if line is None else (line,))


def test_in_inches_it_is_what_it_says() -> None:
    assert slip_lines(read_recipe('units = "in"\n[[piece]]\nsize = 4\n', "a.toml")) == ()
