"""The recipes kept in the files of pieces, put together for the files of a whole run."""

from __future__ import annotations

import tomllib

from frameforge.recipe.keep_all import kept_whole
from frameforge.recipe.recipe import read_recipe

ONE = """
units = "in"
[card.moss]
sheets = "A4"
[[piece]]
name = "badge"
card = "moss"
size = 3
[[piece.row]]
motif = ["leaf", { motif = "arch", scale = 0.5 }]
filler = "leaf"
[motif.leaf]
foot = 4.0
"""
OTHER = """
units = "in"
[card.sand]
apart = "2mm"
[[piece]]
name = "seal"
card = "sand"
size = 2
[[piece.row]]
motif = "leaf"
[motif.leaf]
foot = 9.0
"""


def test_pieces_cards_and_motifs_come_together() -> None:
    found = tomllib.loads(kept_whole([ONE, OTHER, ONE], {"turn": "half", "used": "off-cut.svg"}))
    assert [piece["name"] for piece in found["piece"]] == ["badge", "seal"]
    assert found["card"] == {"moss": {"sheets": "A4"}, "sand": {"apart": "2mm"}}
    assert (found["units"], found["sheets"]) == ("in", {"turn": "half"})


def test_motifs_of_one_name_stay_what_they_are() -> None:
    found = tomllib.loads(kept_whole([ONE, OTHER], None))
    assert {name: table["foot"] for name, table in found["motif"].items()} == {"leaf": 4, "leaf-2": 9}
    assert found["piece"][0]["row"][0] == {"motif": ["leaf", {"motif": "arch", "scale": 0.5}], "filler": "leaf"}
    assert found["piece"][1]["row"][0] == {"motif": "leaf-2"}
    assert "sheets" not in found


def test_what_comes_out_is_a_recipe() -> None:
    recipe = read_recipe(kept_whole([ONE, OTHER], {"tries": 5}), "kept.toml")
    assert [piece.name for piece in recipe.pieces] == ["badge", "seal"]
    assert recipe.tables.sheets is not None
    assert recipe.tables.sheets.tries == 5
