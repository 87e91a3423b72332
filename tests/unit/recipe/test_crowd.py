"""Recipes that ask for more than anybody wants, told at once: by their count, in one line. The bounds are ours."""

from __future__ import annotations

import tracemalloc

import pytest

from frameforge.errors import InputError
from frameforge.recipe.recipe import read_recipe

PIECE = '[[piece]]\nname = "a"\nsize = 76\n'


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("[[piece]]\nsize = 76\n" * 2001, "2001 of them are more than the 2000 that one run takes"),
        (PIECE + '[[piece.row]]\nmotif = "arch"\n' * 41, "row: 41 are more than the 40 that one piece takes"),
        (PIECE + '[[piece.hole]]\nsize = 1\nat = "top"\n' * 1001, "1001 are more than the 1000 that one piece takes"),
        (PIECE + '[[piece.text]]\nwords = "Seed"\n' * 201, "201 are more than the 200 that one piece takes"),
        (f"{PIECE}[[piece.row]]\ncount = {'9' * 5000}\n", "a number of thousands of digits"),
        (f"[{'.'.join('a' * 20_000)}]\n", "too deep for a recipe"),
        (f"{'.'.join('a' * 20_000)} = 1\n", "too deep for a recipe"),
        (f"a = {'[' * 20_000}{']' * 20_000}\n", "too deep for a recipe"),
        (f"a = {'{a = ' * 2000}1{'}' * 2000}\n", "too deep for a recipe"),
    ],
)
def test_what_is_too_much_is_one_line_at_once(text: str, said: str) -> None:
    tracemalloc.start()
    with pytest.raises(InputError, match=said) as raised:
        read_recipe(text, "b.toml")
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert len(raised.value.lines) == 1
    assert len(raised.value.lines[0]) < 300
    assert peak < 50_000_000


def test_of_many_faults_a_screen_is_told_and_how_many_more() -> None:
    text = "".join(f"k{k} = 1\n" for k in range(300))
    with pytest.raises(InputError) as raised:
        read_recipe(text, "b.toml")
    assert len(raised.value.lines) == 51
    assert raised.value.lines[-1] == "b.toml: and 250 more. Mend those above first."


def test_a_key_without_end_is_told_by_its_beginning() -> None:
    with pytest.raises(InputError) as raised:
        read_recipe(f"{'k' * 100_000} = 1\n{PIECE}", "b.toml")
    assert len(raised.value.lines[0]) < 300
    assert 'b.toml line 1: "kkkk' in raised.value.lines[0]


def test_as_many_as_there_may_be_are_taken() -> None:
    assert len(read_recipe("[[piece]]\nsize = 76\n" * 100, "b.toml").pieces) == 100
