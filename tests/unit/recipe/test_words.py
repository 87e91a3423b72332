"""The nearest word, and the agreement of the tables of words with each other and with the models."""

from __future__ import annotations

import dataclasses

import pytest

from frameforge.recipe import checks, model, words
from frameforge.recipe.words import KEYS, nearest


@pytest.mark.parametrize(
    ("word", "known", "near"),
    [
        ("--colour", ("card", "count"), ("card",)),
        ("diameter", KEYS["piece"], ("size",)),
        ("number", KEYS["row"], ("count",)),
        ("spacing", KEYS["row"], ("gap",)),
        ("offset", ("border", "rim"), ("border", "rim")),
        ("offset", KEYS["piece"], ("rim",)),
        ("cuont", KEYS["row"], ("count",)),
        ("Motif", KEYS["row"], ("motif",)),
        ("dxf-unit", KEYS["files"], ("dxf_unit",)),
        ("form", KEYS["files"], ("formats",)),
        ("zzzz", KEYS["row"], ()),
        ("", KEYS["row"], ()),
    ],
)
def test_the_nearest_word(word: str, known: tuple[str, ...], near: tuple[str, ...]) -> None:
    assert nearest(word, known) == near


@pytest.mark.parametrize(
    ("table", "fields"),
    [
        ("recipe", model.RecipeTable),
        ("card", model.CardTable),
        ("piece", model.PieceTable),
        ("row", model.RowTable),
        ("hole", model.HoleTable),
        ("files", model.FilesTable),
        ("sheets", model.SheetsTable),
        ("laid", model.LaidTable),
        ("motif", model.MotifTable),
    ],
)
def test_every_key_of_a_table_is_told_what_it_may_hold(table: str, fields: type[model.RecipeTable]) -> None:
    assert set(words.KEYS[table]) == {field.name for field in dataclasses.fields(fields)}
    nested = {key for holder, key in checks.NESTED if holder == table}
    assert set(words.KEYS[table]) == set(checks.CHECKS[table]) | nested


def test_no_sentence_speaks_like_a_machine() -> None:
    says = [say for keys in words.ALLOWED.values() for say in keys.values()]
    for say in says:
        assert not any(word in say.lower() for word in ("please", "oops", "error", "invalid", "failed", "!"))
