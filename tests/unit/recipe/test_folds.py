"""Folds, lids and stands as they are written: values, options, single tables, and what does not go together."""

from __future__ import annotations

from typing import Any

import pytest

from frameforge.errors import InputError
from frameforge.frame.spec import CreaseSpec, FlangeSpec, FoldSpec, StandSpec
from frameforge.recipe.fold_fields import as_feet, as_layers, as_play, as_teeth, fold_said, lid_said, stand_said
from frameforge.recipe.fold_options import lay_folds
from frameforge.recipe.fold_specs import flange_spec, fold_spec, stand_spec
from frameforge.recipe.recipe import Recipe, read_recipe
from frameforge.recipe.source import Source

FLANGE = 'lid = { height = 8, wall = "flange" }'


def recipe(*lines: str) -> Recipe:
    return read_recipe("\n".join(("[[piece]]", "size = 100", *lines, "")), "table.toml")


def faults(*lines: str) -> list[str]:
    with pytest.raises(InputError) as caught:
        recipe(*lines)
    return list(caught.value.lines)


def test_a_fold_in_full() -> None:
    lines = ("[[piece.fold]]", 'depth = "10mm"', 'at = "left"', "flat = 8", 'crease = "dashed"', "dash = 4", "stop = 1")
    assert fold_spec(recipe(*lines).pieces[0]) == FoldSpec(10, 270, 8, CreaseSpec("dashed", 4, None, 1))


def test_what_is_left_out_of_a_fold() -> None:
    assert fold_spec(recipe("[[piece.fold]]", "depth = 10").pieces[0]) == FoldSpec(10, 0, 0, CreaseSpec())
    assert fold_spec(recipe().pieces[0]) is None


@pytest.mark.parametrize(
    "lines", [("fold = { depth = 10 }",), ("[piece.fold]", "depth = 10"), ("[[piece.fold]]", "depth = 10")]
)
def test_one_table_may_stand_alone(lines: tuple[str, ...]) -> None:
    made = recipe(*lines)
    assert made.pieces[0].fold[0].depth == 10
    assert made.raw["piece"][0]["fold"] == [{"depth": 10}]


def test_a_hole_may_stand_alone() -> None:
    assert recipe('hole = { size = 4, at = "top" }').pieces[0].hole[0].size == 4


def test_a_lid_with_a_strip_and_one_with_a_flange() -> None:
    strip = recipe("lid = { height = 20, lap = 8, parts = 2 }").pieces[0]
    assert (strip.lid[0].height, strip.lid[0].lap, strip.lid[0].parts) == (20, 8, 2)
    assert flange_spec(strip) is None
    flange = recipe('lid = { height = 8, wall = "flange", teeth = 24, crease = "dashed" }').pieces[0]
    assert flange_spec(flange) == FlangeSpec(8, 24, CreaseSpec("dashed"))


def test_a_stand() -> None:
    made = recipe("stand = { size = 50, feet = 3, layers = 2, play = 0.2 }").pieces[0]
    assert stand_spec(made) == StandSpec(50, 3, 2, 0.2)
    assert stand_spec(recipe().pieces[0]) is None


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        (("fold = {}",), 'no "depth". Write a length'),
        (("fold = { depth = 0 }",), "a length must be above 0"),
        (("fold = { depth = 10, flatt = 2 }",), "the nearest is flat"),
        (('fold = { depth = 10, crease = "dotted" }',), 'Write "full" or "dashed"'),
        (("fold = { depth = 10, dash = 3 }",), '"dash" goes with a dashed crease'),
        (("[[piece.fold]]", "depth = 10", "[[piece.fold]]", "depth = 9"), "a piece is folded once"),
        (("fold = { depth = 10 }", "lid = { height = 9 }"), "A lid is not folded as a tent card is"),
        (("fold = { depth = 10 }", "stand = { size = 50 }"), "A tent card stands by itself"),
        (("lid = { height = 9 }", "stand = { size = 50 }"), "A lid lies and does not stand"),
        (("lid = { height = 20, teeth = 12 }",), '"teeth" is of a flange, and the wall of this lid is a strip'),
        (('lid = { height = 8, wall = "flange", lap = 5 }',), '"lap" is of a strip'),
        (('lid = { height = 8, wall = "flange", teeth = 5 }',), "a flange takes 6 to 720 teeth"),
        (("stand = { size = 50, feet = 5 }",), "a stand takes 1 to 4 feet"),
        (("stand = { size = 50, layers = 21 }",), "a slot takes 1 to 20 layers"),
        (("stand = { size = 50, play = 3 }",), "3 mm of play, and nothing would hold"),
        (("fold = 10",), 'Write a table written [[piece.fold]]'),
        ((FLANGE, "[[piece.row]]", 'motif = "arch"'), "the teeth of the flange take this edge"),
    ],
)  # fmt: skip
def test_what_does_not_hold_is_told(lines: tuple[str, ...], said: str) -> None:
    assert said in "\n".join(faults(*lines))


def test_windows_and_rows_in_the_opening_go_with_a_flange() -> None:
    assert recipe(FLANGE, "[[piece.row]]", 'motif = "rose-drop"', 'place = "window"')
    assert recipe("opening = 60", FLANGE, "[[piece.row]]", 'motif = "arch"', 'place = "in"')


def test_a_test_piece_is_neither_folded_nor_a_lid() -> None:
    with pytest.raises(InputError, match="a test piece has its own size and shape"):
        read_recipe("[[piece]]\ntest_piece = true\nfold = { depth = 10 }\n", "t.toml")


def test_dashes_may_stand_with_the_card_and_in_a_preset() -> None:
    made = read_recipe('[card.moss]\ndash = 5\ndash_space = 1\n[preset.mine]\nlike = "card-240-knife"\ndash = 4\n'
                       '[[piece]]\nsize = 100\ncard = "moss"\n', "t.toml")  # fmt: skip
    assert made.tables.card["moss"].limits == {"dash_mm": 5, "dash_space_mm": 1}
    assert made.tables.preset["mine"].limits == {"dash_mm": 4}


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("10mm top", {"depth": "10mm", "at": "top"}),
        ("10 mm at 30deg", {"depth": "10 mm", "at": "30deg"}),
        ("1/2 in LEFT", {"depth": "1/2 in", "at": "left"}),
        ("10mm", {"depth": "10mm"}),
    ],
)
def test_folds_as_they_are_typed(text: str, said: dict[str, Any]) -> None:
    assert fold_said(text) == said


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("20mm", {"height": "20mm"}),
        ("20mm strip", {"height": "20mm", "wall": "strip"}),
        ("8 mm Flange", {"height": "8 mm", "wall": "flange"}),
        ("20mm strip in 3 parts", {"height": "20mm", "wall": "strip", "parts": 3}),
    ],
)
def test_lids_as_they_are_typed(text: str, said: dict[str, Any]) -> None:
    assert lid_said(text) == said


def test_stands_as_they_are_typed() -> None:
    assert stand_said("50mm") == {"size": "50mm"}
    assert stand_said("3 x 50 mm") == {"feet": 3, "size": "50 mm"}


def test_options_are_laid_over_what_the_recipe_says() -> None:
    piece: dict[str, Any] = {"fold": [{"depth": 10, "at": "left", "flat": 5}]}
    places: dict[Any, str] = {}
    lay_folds(piece, Source("t.toml"), {"fold": "12mm top", "flat": "8mm", "crease": "dashed"}, places)
    assert piece["fold"] == [{"depth": "12mm", "at": "top", "flat": "8mm", "crease": "dashed"}]
    assert places["piece", 0, "fold", 0, "flat"] == "--flat"
    assert places["piece", 0, "fold", 0, "depth"] == "--fold"


def test_a_crease_belongs_to_a_fold_or_a_lid() -> None:
    piece: dict[str, Any] = {"lid": {"height": 8, "wall": "flange"}}
    lay_folds(piece, Source("t.toml"), {"crease": "dashed"}, {})
    assert piece["lid"] == [{"height": 8, "wall": "flange", "crease": "dashed"}]
    with pytest.raises(InputError, match=r"there is no fold that it could be of\. Add --fold"):
        lay_folds({}, Source("t.toml"), {"flat": "8mm"}, {})


def test_numbers_in_range() -> None:
    assert (as_teeth(6), as_feet(4), as_layers(20), as_play("0.2mm", "mm"), as_play(0, "mm")) == (6, 4, 20, 0.2, 0.0)
