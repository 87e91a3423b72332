"""What the pieces of a list are called: words that every system takes in a file name, nothing left out that is read."""

from __future__ import annotations

import pytest

from frameforge.job.batch.rows import batch_of
from frameforge.read.names_list import read_names
from frameforge.recipe.recipe import read_recipe

BADGE = '[[piece]]\nname = "badge"\nsize = 60\n[[piece.text]]\ncolumn = "name"\n'


@pytest.mark.parametrize(
    ("name", "called"),
    [
        ("Élodeà Crësswick", "badge-01-elodea-cresswick"),
        ("Søren Ærøby", "badge-01-soren-aeroby"),
        ("Łucja Święcicka", "badge-01-lucja-swiecicka"),
        ("Þórður Æðey", "badge-01-thordur-aedey"),
        ("Đorđe Çınar", "badge-01-dorde-cinar"),
        ("Großer Œuf", "badge-01-grosser-oeuf"),
        ("O'Radish Minty", "badge-01-oradish-minty"),
        ("小豆", "badge-01"),
    ],
)
def test_a_file_is_called_by_all_letters_of_its_name(name: str, called: str) -> None:
    names = read_names(f"name\n{name}\n".encode(), "names.csv")
    assert [task.name for task in batch_of(read_recipe(BADGE, "badge.toml"), names, "names.csv").tasks] == [called]
