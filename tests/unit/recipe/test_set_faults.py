"""Rings, layers and what is kept inside: faults between their values, each at its line, with what to do."""

from __future__ import annotations

import pytest

from frameforge.errors import InputError
from frameforge.recipe.recipe import read_recipe

RINGS = '[[rings]]\nsizes = "60-100 by 20"\n'
MAT = "[[piece]]\nsize = 100\nopening = 60\n"


IN_A_ROW = RINGS + '[[rings.row]]\nmotif = "arch"\n'
NO_MOS = 'card "mos": there is no [card.mos]; the nearest is moss.'


@pytest.mark.parametrize(
    ("text", "begin", "end"),
    [
        (IN_A_ROW + "on = 70", 'a.toml line 5, rings 1, row 1, on "70mm": none of', "Take one of 60mm, 80mm, 100mm."),
        (
            IN_A_ROW + 'place = "in"',
            'a.toml line 5, rings 1, row 1, place "in": ',
            "Take --on 80mm or another inner edge.",
        ),
        (RINGS + "clearance = 0.3", "a.toml line 3, rings 1: ", "size 59.4mm goes into opening 60mm of size 80mm."),
        (IN_A_ROW + 'rest = "size"\ngap = 2', 'a.toml line 5, rings 1, row 1, rest "size": ', '"spread" or "filler".'),
        (
            RINGS + 'motif = "arch"',
            "a.toml line 3, rings 1: ",
            '"motif" belongs to a row. Move it below [[rings.row]].',
        ),
        (
            IN_A_ROW + "copies = 2",
            "a.toml line 5, rings 1, row 1: ",
            '"copies" belongs to the rings, not to their row. Move it above [[rings.row]].',
        ),
        ("[[rings]]\nname = 'a'", 'a.toml line 1, rings 1: no "sizes". ', '"44, 61, 78 mm" or [60, 80, 100].'),
        (
            "[[piece]]\nsize=50\nname = 'A'\n" + RINGS + "name = 'a'",
            'a.toml line 6, rings 1, name "a": ',
            "another name.",
        ),
        ("[card.moss]\n" + RINGS + "card = 'mos'", "a.toml line 4, rings 1, ", NO_MOS),
        ("[card.moss]\n" + MAT + "[[piece.layer]]\ncard = 'mos'\nborder = 5", "a.toml line 6, layer 1, ", NO_MOS),
        (MAT + "match = 'holes'", 'a.toml line 4, match "holes": ', "there are no layers. Write [[piece.layer]]."),
        (MAT + "border = 5", 'a.toml line 4: "border" belongs to a layer. ', "Move it below [[piece.layer]]."),
        ("[[piece]]\nsize = 100\ninside = 'keep'", "a.toml line 3: there is no opening", "Write opening or rim too."),
        (MAT + "clearance = 0.3", "a.toml line 4: a clearance goes with", 'Write inside = "keep" too.'),
        (MAT + "inside = 'keep'\nmend = 'all'", "a.toml line 4: a piece that is mended", "Leave mend or inside out."),
    ],
)
def test_a_fault_is_told_at_its_line(text: str, begin: str, end: str) -> None:
    with pytest.raises(InputError) as caught:
        read_recipe(text, "a.toml")
    (line,) = caught.value.lines
    assert line.startswith(begin)
    assert line.endswith(end)


def test_rings_alone_are_a_recipe() -> None:
    recipe = read_recipe(RINGS, "a.toml")
    assert recipe.pieces == ()
    assert len(recipe.tables.rings) == 1
    assert recipe.asked(("rings", 0)).copies == 1
    assert recipe.given_names == frozenset()
