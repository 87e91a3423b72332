"""What the page is told: the recipe after a change, its blanks, the piece drawn, and ways out of what is refused."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable
from typing import Any

import pytest

from frameforge.desk.offers import message_parts

from .conftest import RECIPE

Ask = Callable[..., dict[str, Any]]


def test_a_piece_is_drawn_at_true_proportion(ask: Ask) -> None:
    """16 bean leaves on 76 mm: 107.87 mm across, drawn with true curves beside a bar of 50 mm."""
    values = ask("see", recipe=RECIPE, width=560)
    (piece,) = values["pieces"]
    path = piece["cards"][0]["path"]
    assert re.search(r"[CA]", path)
    assert path.count("M") == path.count("Z") == 18
    xs = [float(x) for x in re.findall(r"(?:[ML]|\d) (-?[\d.]+) [\d.]+(?= [MLCAZ])", path)]
    px_per_mm = piece["bar"] / 50
    assert (max(xs) - min(xs)) / px_per_mm == pytest.approx(107.87, abs=0.05)
    assert piece["size"] == "107.9 mm (4 1/4 in) across"
    assert piece["findings"] == []


def test_the_blanks_stand_as_they_would_be_typed(ask: Ask) -> None:
    row = '[[piece.row]]\nmotif = "arch"\ncount = "most"\ngap = "3mm"\n'
    recipe = f'units = "in"\n[[piece]]\nsize = [6, 4]\nrim = 0.5\n{row}'
    (sentence,) = ask("see", recipe=recipe)["sentences"]
    assert sentence["blanks"] == {
        "size": "6x4in", "rim": "0.5in", "motif": "arch", "count": "most", "gap": "3mm", "shape": "oval",
        "units": "in",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("options", "leave_out", "expected"),
    [
        ({"count": "15"}, [], {"count": "15"}),
        ({"motif": ["arch"], "count": "most"}, [], {"motif": "arch", "count": "most"}),
        ({"size": "3 1/4 in"}, [], {"size": "3 1/4 in"}),
        ({"rim": "8mm"}, [], {"rim": "8mm", "opening": None}),
        ({}, ["opening"], {"opening": None}),
        ({"shape": "oval"}, [], {"shape": "oval", "size": "114x76mm", "rim": "13mm", "opening": None}),
        ({"hole": ["4mm top"]}, [], {"hole.0.size": "4mm", "hole.0.at": "top"}),
        ({"text": "Seed swap"}, [], {"text.0.words": "Seed swap"}),
        ({"layers": "cream 5mm"}, [], {"layer.0.card": "cream", "layer.0.border": "5mm"}),
        ({"mend": "all"}, [], {"mend": "all"}),
        ({"hand_out": True, "files.as_cut": True}, [], {"files.hand_out": "yes", "files.as_cut": "yes"}),
    ],
)
def test_a_change_is_laid_over_the_recipe(
    ask: Ask, options: dict[str, Any], leave_out: list[str], expected: dict[str, str | None]
) -> None:
    values = ask("see", recipe=RECIPE, options=options, leave_out=leave_out)
    assert values["is_changed"] is True
    (sentence,) = values["sentences"]
    assert {key: sentence["blanks"].get(key) for key in expected} == expected
    assert values["pieces"]
    again = ask("see", recipe=values["recipe"])
    assert again["recipe"] == values["recipe"]
    assert again["pieces"] == values["pieces"]


def test_what_is_put_in_can_be_left_out_again(ask: Ask) -> None:
    """Words, holes and layers stand in tables of their own."""
    options = {"hole": ["4mm top"], "text": "Seed swap", "layers": "cream 5mm", "hand_out": True}
    full = ask("see", recipe=RECIPE, options=options)
    bare = ask("see", recipe=full["recipe"], leave_out=list(options))
    assert tomllib.loads(bare["recipe"]) == tomllib.loads(RECIPE)


def test_a_recipe_that_is_only_looked_at_stays_as_it_was_written(ask: Ask) -> None:
    written = f"# for the seed swap\n{RECIPE}"
    assert ask("see", recipe=written)["recipe"] == written


def test_neighbouring_counts_tell_their_gaps(ask: Ask) -> None:
    (row,) = ask("see", recipe=RECIPE)["pieces"][0]["rows"]
    assert row["counts"] == [
        {"count": 15, "words": "15 bean leaves", "gap": "gap 4.53 mm"},
        {"count": 16, "words": "16 bean leaves", "gap": "gap 3.38 mm"},
        {"count": 17, "words": "17 bean leaves", "gap": "gap 2.37 mm"},
    ]
    for count, gap in ((15, "4.53"), (17, "2.37")):
        made = ask("see", recipe=RECIPE, options={"count": str(count)})["pieces"][0]
        assert f"gap {gap} mm each" in made["said"][0]


def test_what_cannot_be_understood_leaves_the_recipe_and_names_the_blank(ask: Ask) -> None:
    values = ask("see", recipe=RECIPE, options={"size": "100 milimeters"})
    assert values["is_changed"] is False
    assert values["recipe"] == RECIPE
    said = "".join(part["words"] for part in values["refused"][0])
    assert said.startswith('Size "100 milimeters": no such unit.')
    assert "--" not in said


def test_a_fault_typed_into_the_recipe_names_its_line(ask: Ask) -> None:
    values = ask("see", recipe=RECIPE.replace('"76mm"', '"76 milimeters"'))
    assert values["refused"][0][0]["words"].startswith("recipe line 3, ")


def test_every_offer_of_a_refusal_works_when_it_is_taken(ask: Ask) -> None:
    asked = ask("see", recipe=RECIPE, options={"count": "30"})
    assert asked["is_changed"] is True
    assert "pieces" not in asked
    offers = [part for part in asked["refused"][0] if "options" in part]
    assert {key for offer in offers for key in offer["options"]} == {"count", "size", "scale"}
    for offer in offers:
        assert ask("see", recipe=asked["recipe"], options=offer["options"]).get("pieces"), offer


def test_findings_are_ringed_labelled_and_listed_under_one_number(ask: Ask) -> None:
    (piece,) = ask("see", recipe=RECIPE, options={"motif": ["beetle"], "count": "5"}, width=400)["pieces"]
    listed = {finding["number"]: finding["severity"] for finding in piece["findings"]}
    labels = {label["number"]: label["severity"] for label in piece["labels"]}
    assert labels == listed
    assert len(piece["rings"]) >= 5
    for label in piece["labels"]:
        assert label["width"] / 2 <= label["x"] <= 400 - label["width"] / 2
        assert 0 <= label["y"] <= piece["height"]
    assert piece["mendable"] is True
    (mended,) = ask("see", recipe=RECIPE, options={"motif": ["beetle"], "count": "5", "mend": "all"}, width=400)[
        "pieces"
    ]
    assert mended["mendable"] is False
    assert any(line.startswith("mended ") for line in mended["said"])


def test_several_pieces_are_drawn_and_have_a_sentence_each(ask: Ask) -> None:
    two = 'size = "60mm"\n[[piece.row]]\nmotif = "arch"\n'
    values = ask("see", recipe=f'[[piece]]\nname = "a"\n{two}[[piece]]\nname = "b"\n{two}')
    assert [(sentence["at"], sentence["name"]) for sentence in values["sentences"]] == [
        ("piece.0", "a"),
        ("piece.1", "b"),
    ]
    assert [(piece["of"], piece["name"]) for piece in values["pieces"]] == [("piece.0", "a"), ("piece.1", "b")]


def test_the_gallery_shows_every_motif(ask: Ask) -> None:
    motifs = {motif["name"]: motif for motif in ask("motifs")["motifs"]}
    assert len(motifs) == 17
    assert motifs["bean-leaf"]["words"] == "bean leaf"
    assert motifs["bean-leaf"]["foot"] == "foot 4.4 mm"
    for motif in motifs.values():
        numbers = [float(n) for n in re.findall(r"(?<=[ML] )-?[\d.]+", motif["join"] + motif["cut_away"])]
        assert numbers
        assert all(0 <= n <= motif["width"] for n in numbers)


def test_a_position_is_left_out_and_the_others_keep_their_places(ask: Ask) -> None:
    """Positions are counted from 1 at the top, clockwise; on the page y goes down."""
    (whole,) = ask("see", recipe=RECIPE, width=560)["pieces"]
    numbers = [place["number"] for place in whole["positions"]]
    assert numbers == list(range(1, 17))
    top, right = whole["positions"][0], whole["positions"][4]
    assert top["x"] == pytest.approx(whole["middle"]["x"], abs=0.01)
    assert top["y"] < whole["middle"]["y"]
    assert right["x"] > whole["middle"]["x"]
    values = ask("see", recipe=RECIPE, options={"skip": ["3", "9"]}, width=560)
    assert values["sentences"][0]["blanks"]["skip"] == "3,9"
    assert [place["number"] for place in values["pieces"][0]["positions"]] == [n for n in numbers if n not in (3, 9)]


def test_a_size_told_in_a_sentence_is_an_offer_too(ask: Ask) -> None:
    asked = ask("see", recipe=RECIPE, options={"goes_in": "C6", "size": "100mm"})
    (offer,) = [part for part in asked["refused"][0] if "options" in part]
    assert offer["options"].keys() == {"size"}
    made = ask("see", recipe=asked["recipe"], options=offer["options"])
    assert made["pieces"], made


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        (
            "desk: Take --gap 0 --scale find (they touch) or --count 13.",
            [{"gap": "0", "scale": "find"}, {"count": "13"}],
        ),
        ("x: Choose another folder with --out, or replace it with --force.", []),
        ('x: write --text "Seed swap", or --keep-counters.', [{"text": "Seed swap"}, {"keep_counters": True}]),
        ("x: take --size 93.3mm.", [{"size": "93.3mm"}]),
        ("x: take --keep-free '60deg at top' or --skip 1,4.", [{"keep_free": "60deg at top"}, {"skip": ["1,4"]}]),
    ],
)
def test_offers_are_what_a_command_would_be_given(line: str, expected: list[dict[str, Any]]) -> None:
    parts = message_parts(line, tells_lines=True)
    assert [part["options"] for part in parts if "options" in part] == expected
    assert all("--" not in part["words"] for part in parts if "options" in part)


@pytest.mark.parametrize(
    "recipe",
    ["", "x", "piece = 3", "piece = [3]", "rings = 3", "[[piece]]", 'files = 3\n[[piece]]\nsize = 100',
     '[[piece]]\nsize = "100mm"\nrow = 3', "card = 3\n[[piece]]\nsize = 100"],
)  # fmt: skip
@pytest.mark.parametrize("options", [{}, {"count": "7"}, {"shape": "oval"}, {"as_cut": True}])
def test_no_recipe_is_so_odd_that_nothing_sensible_is_said(ask: Ask, recipe: str, options: dict[str, Any]) -> None:
    values = ask("see", recipe=recipe, options=options, leave_out=["gap"] if options else [])
    assert values["refused"]
    assert values["recipe"] == recipe


def test_a_finding_offers_in_the_words_of_the_recipe_what_ends_it(ask: Ask) -> None:
    recipe = '[[piece]]\nsize = "50mm"\n[[piece.row]]\nmotif = "scallop"\ncount = 12\n'
    (piece,) = ask("see", recipe=recipe)["pieces"]
    slits = next(one for one in piece["findings"] if one["code"] == "narrow-slot")
    assert "Take gap 0, scale find (they touch), count 11 (2.16 mm) or size 50.2mm." in slits["sentence"]
    assert [offer["words"] for offer in slits["offers"]] == ["gap 0, scale find", "count 11", "size 50.2mm"]
    for offer in slits["offers"]:
        (taken,) = ask("see", recipe=recipe, options=offer["options"])["pieces"]
        assert not any(one["code"] == "narrow-slot" and "slits" in one["sentence"] for one in taken["findings"])
