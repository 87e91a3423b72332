"""The recipe that a file keeps of itself."""

from __future__ import annotations

import tomllib

from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.motif.motif import Motif
from frameforge.recipe.keep import kept_text
from frameforge.recipe.recipe import Recipe, read_recipe
from frameforge.recipe.to_spec import to_spec

TEXT = """
units = "in"
[card.moss]
least_neck = 0.1
[card.sand]
[files]
dxf = "r12"
[[piece]]
name = "seal"
size = 2
[[piece]]
size = 4
card = "moss"
copies = 3
[[piece.row]]
motif = ["here/daisy.svg", { motif = "there/daisy.svg", scale = 0.5 }, "arch"]
white = "cuts"
count = 9
[[piece.hole]]
size = 0.2
"""


def motif(name: str, width: float) -> Motif:
    """Return a triangle of a motif."""
    return Motif(name, (Region(Outline.from_points([-width, width, 1j])),), foot_mm=2 * width)


OWN = {"here/daisy.svg": motif("daisy", 0.1), "there/daisy.svg": motif("daisy", 1 / 3)}


def kept(recipe: Recipe, index: int = 1) -> str:
    return kept_text(recipe, index, "tag", lambda place, name: OWN.get(name))


def test_it_is_the_wording_of_one_piece_with_everything_in_it() -> None:
    table = tomllib.loads(kept(read_recipe(TEXT, "a.toml")))
    assert table["units"] == "in"
    assert table["files"] == {"dxf": "r12"}
    assert table["card"] == {"moss": {"least_neck": 0.1}}
    (piece,) = table["piece"]
    assert (piece["name"], piece["size"], piece["copies"], piece["hole"]) == ("tag", 4, 3, [{"size": 0.2}])
    (row,) = piece["row"]
    assert row == {"motif": ["daisy", {"motif": "daisy-2", "scale": 0.5}, "arch"], "count": 9}
    assert set(table["motif"]) == {"daisy", "daisy-2"}


def test_it_gives_the_same_order_and_keeps_itself() -> None:
    first = kept(read_recipe(TEXT, "a.toml"))
    again = read_recipe(first, "tag.svg")
    spec = to_spec(again, 0, "tag", lambda name, row, where: motif(name, 5))
    assert [ornament.motif for ornament in spec.rows[0].pattern[:2]] == [
        OWN["here/daisy.svg"], Motif("daisy-2", OWN["there/daisy.svg"].join, foot_mm=2 / 3),
    ]  # fmt: skip
    tables = again.tables.motif
    kept_names = {name: motif(name, 1) for name in tables}
    assert kept_text(again, 0, "tag", lambda place, name: kept_names.get(name)) == first


def test_a_piece_without_rows_keeps_little() -> None:
    assert tomllib.loads(kept(read_recipe(TEXT, "a.toml"), 0)) == {
        "units": "in",
        "files": {"dxf": "r12"},
        "piece": [{"name": "tag", "size": 2}],
    }
