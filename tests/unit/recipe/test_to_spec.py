"""From tables to the order that is built."""

from __future__ import annotations

import pytest
import tomli_w

from frameforge.errors import InputError
from frameforge.frame.spec import HoleSpec, Size
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.motif.motif import Motif
from frameforge.recipe.kept_motif import kept_motif
from frameforge.recipe.model import RowTable
from frameforge.recipe.recipe import read_recipe
from frameforge.recipe.to_spec import to_spec


def triangle(name: str) -> Motif:
    """Return a plain motif."""
    return Motif(name, (Region(Outline.from_points([-1, 1, 1j])),), foot_mm=2)


TEXT = """
[[piece]]
size = "150x100"
rim = 12
[[piece.row]]
motif = ["a", { motif = "b", lean = 5, mirror = true, scale = 2 }]
lean = "-3deg"
count = "most"
gap = 3
place = "in"
inset = 1
start = "half"
mirror = "every-other"
skip = ["top", 3]
keep_free = "40deg at right"
free = "leave"
spread = "equal-arc"
between = "hollow"
depth = "0.2cm"
[[piece.hole]]
size = 4
at = 30
"""


def test_every_value_arrives() -> None:
    asked: list[tuple[str, str]] = []

    def load(name: str, row: RowTable, where: str) -> Motif:
        asked.append((name, where))
        return triangle(name)

    spec = to_spec(read_recipe(TEXT, "a.toml"), 0, "sign", load)
    assert (spec.name, spec.size, spec.rim_mm, spec.holes) == ("sign", Size(150, 100), 12, (HoleSpec(4, 30),))
    (row,) = spec.rows
    first, second = row.pattern
    assert (first.motif.name, first.scale, first.lean_deg, first.is_mirrored) == ("a", 1, -3, False)
    assert (second.motif.name, second.scale, second.lean_deg, second.is_mirrored) == ("b", 2, 5, True)
    assert (row.count, row.gap_mm, row.place, row.inset_mm, row.starts_with_gap) == ("most", 3, "in", 1, True)
    assert row.is_mirrored_every_other
    assert (row.between, row.depth_mm) == ("hollow", 2)
    assert (row.skip, row.keep_free, row.free, row.spread) == (("top", 3), (40, 90), "leave", "equal-arc")
    assert asked == [("a", "a.toml line 6, row 1, motif a"), ("b", "a.toml line 6, row 1, motif b")]


def test_a_kept_motif_goes_before_the_loader() -> None:
    table = {"piece": [{"size": 50, "row": [{"motif": "a"}]}], "motif": {"a": kept_motif(triangle("a"))}}

    def refuse(name: str, row: RowTable, where: str) -> Motif:
        raise InputError("not asked for", where=where)

    spec = to_spec(read_recipe(tomli_w.dumps(table), "a.svg"), 0, "tag", refuse)
    assert spec.rows[0].pattern[0].motif == triangle("a")


def test_what_the_loader_refuses_is_passed_on() -> None:
    def refuse(name: str, row: RowTable, where: str) -> Motif:
        raise InputError("no such motif.", where=where)

    with pytest.raises(InputError, match=r"a\.toml line 6, row 1, motif a: no such motif\."):
        to_spec(read_recipe(TEXT, "a.toml"), 0, "tag", refuse)
