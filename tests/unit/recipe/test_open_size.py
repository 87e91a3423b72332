"""A size left out where all else is stated is found; where more is open it is missed."""

from __future__ import annotations

import pytest

from frameforge.errors import InputError
from frameforge.recipe.open_size import with_open_sizes, with_size_to_find
from frameforge.recipe.recipe import read_recipe

ROW = {"motif": "arch", "count": 16, "gap": 2}


@pytest.mark.parametrize(
    ("piece", "is_found"),
    [
        ({"row": [ROW]}, True),
        ({"row": [{"motif": "arch", "count": 16, "foot_gap": 2}]}, True),
        ({"goes_in": "C6"}, True),
        ({"row": [{"motif": "arch", "count": 16}]}, False),
        ({"row": [{"motif": "arch", "count": "most", "gap": 2}]}, False),
        ({"row": [{"motif": "arch", "count": 16, "gap": "find"}]}, False),
        ({}, False),
    ],
)
def test_only_what_is_decided_is_found(piece: dict[str, object], *, is_found: bool) -> None:
    assert (with_size_to_find(piece).get("size") == "find") == is_found


def test_a_size_that_stands_there_is_kept() -> None:
    assert with_size_to_find({"size": 60, "row": [ROW]})["size"] == 60
    assert with_size_to_find({"test_piece": True}) == {"test_piece": True}


def test_what_is_no_list_of_pieces_is_left_to_the_checks() -> None:
    for raw in ({}, {"piece": 3}, {"piece": [3]}):
        assert with_open_sizes(raw) == raw


def test_a_recipe_may_leave_it_out() -> None:
    text = '[[piece]]\n[[piece.row]]\nmotif = "arch"\ncount = 16\ngap = 2\n'
    assert read_recipe(text, "a.toml").pieces[0].size == "find"
    with pytest.raises(InputError, match='no "size"'):
        read_recipe(text.replace("gap = 2\n", ""), "a.toml")
