"""A blank goes into its place in the recipe, shows there as it was typed, and is taken out again without a trace."""

from __future__ import annotations

import random
import tomllib
from collections.abc import Callable
from typing import Any

import pytest

from frameforge.desk.blanks import sentences_of
from frameforge.desk.change import Change, changed_text
from frameforge.desk.offer_place import offer_at
from frameforge.errors import InputError

from .conftest import RECIPE
from .test_keys import NOT_BLANKS, TABLES
from .test_keys import _keys as all_keys

Ask = Callable[..., dict[str, Any]]

MANY = (
    '[[piece]]\nname = "gate"\nsize = "100mm"\nopening = "60mm"\n\n'
    '[[piece.row]]\nmotif = "bean-leaf"\ncount = 20\n\n'
    '[[piece.row]]\nmotif = "seed-husk"\nplace = "in"\ncount = 12\n\n'
    '[[piece]]\nname = "badge"\nsize = "60mm"\n\n[[piece.row]]\nmotif = "arch"\ncount = 9\n'
)
"""Two pieces, the first with two rows."""

FULL = (
    f"{RECIPE}\n[[piece.hole]]\nsize = '4mm'\n\n[[piece.text]]\nwords = 'Seed swap'\n\n"
    "[[piece.layer]]\ncard = 'cream'\nborder = '5mm'\n"
)
RINGS = '[[rings]]\nsizes = "60-140 by 20"\n\n[[rings.row]]\nmotif = "arch"\n'
BASES = {
    "fold": f"{RECIPE}\n[[piece.fold]]\ndepth = '10mm'\ncrease = 'dashed'\n",
    "lid": f"{RECIPE}\n[[piece.lid]]\nheight = '20mm'\n",
    "flange": f"{RECIPE}place = 'window'\n\n[[piece.lid]]\nheight = '8mm'\nwall = 'flange'\ncrease = 'dashed'\n",
    "clearance": RECIPE.replace("opening", 'inside = "keep"\nopening'),
    "stand": f"{RECIPE}\n[[piece.stand]]\nsize = '50mm'\n",
    "rings": RINGS,
    "ring_row": RINGS,
    "card": f"[card.moss]\npreset = 'card-240-knife'\n\n{RECIPE}",
}
TYPED = {
    "name": "gate sign", "card": "moss", "preset": "card-240-laser", "copies": "12", "size": "3 1/4 in", "ratio": "1,5",
    "grow_from": "150x100mm", "goes_in": "C6", "opening": "1 7/8 in", "rim": "8,5mm", "kerf": "0.15mm",
    "overcut": "preset", "lead_in": "1mm", "bridges": "4 x 0.6mm", "mend": "thin-web,spike", "inside": "keep",
    "clearance": "0.3mm", "match": "holes", "sheet": "A4, 12x12in", "motif": "arch", "count": "15", "gap": "2½ mm",
    "foot_gap": "4mm", "scale": "0.8", "foot": "5mm", "lean": "15deg", "place": "window", "on": "base", "inset": "2mm",
    "seat": "bent", "between": "hollow", "depth": "1mm", "spread": "equal-arc", "mirror": "every-other",
    "start": "half", "skip": "1,4", "keep_free": "60deg at top", "free": "leave", "rest": "filler", "seam": "90deg",
    "filler": "scallop", "white": "cuts", "border": "4mm", "at": "bottom", "flat": "8mm", "crease": "full",
    "dash": "3mm", "dash_space": "1mm", "stop": "2mm", "height": "15mm", "wall": "strip", "lap": "8mm", "parts": "2",
    "teeth": "24", "words": "Gate", "along": "middle", "as": "window", "reads": "inside", "limit": "200deg",
    "feet": "3", "layers": "2", "play": "0.2mm", "units": "in", "formats": "svg,dxf", "dxf": "r12", "dxf_unit": "in",
    "margin": "6mm", "apart": "4mm", "price": "0.35", "stack": "3", "turn": "half", "seed": "2", "tries": "40",
    "sizes": "60-120 by 20", "thickness": "0.3mm", "least_web": "1.5mm", "least_neck": "1mm", "least_finger": "1mm",
    "least_slot": "1mm", "least_hole": "2mm", "crumb": "4", "tip": "20deg", "near_miss": "0.2mm", "speed": "20",
    "passes": "2", "lift_time": "0.5", "sheets": "A4", "loose": "tie", "font": "mine.ttf",
}  # fmt: skip
OTHERS = {
    ("layer", "opening"): "closed", ("ring_row", "on"): "100mm", ("fold", "depth"): "12mm", ("text", "size"): "9mm",
    ("hole", "size"): "5mm", ("stand", "size"): "40mm", ("piece", "match"): "notches",
}  # fmt: skip
ALONE = {("piece", "ratio"), ("piece", "grow_from"), ("row", "foot_gap"), ("piece", "from_opening")}
"""Keys that need others to be left out; each has its own test."""


def _address(table: str, key: str) -> str:
    if table in ("hole", "text", "layer", "fold", "lid", "stand"):
        return f"{table}.0.{key}"
    if table in ("files", "sheets"):
        return f"{table}.{key}"
    if table == "card":
        return f"card.moss.{key}"
    return f"this.{key}" if key == "sheet" else key


def _blanks(text: str, at: str = "piece.0") -> dict[str, str]:
    return next(sentence["blanks"] for sentence in sentences_of(tomllib.loads(text)) if sentence["at"] == at)


BLANKS = [place for place in all_keys() if place not in NOT_BLANKS and place[0] in TABLES and place not in ALONE]


@pytest.mark.parametrize(("table", "key"), BLANKS, ids=lambda part: part)
def test_every_blank_goes_in_as_typed_and_out_again(table: str, key: str) -> None:
    flange = "flange" if table == "lid" and key not in ("height", "wall", "lap", "parts") else table
    before, address = BASES.get("clearance" if key == "clearance" else flange, FULL), _address(table, key)
    at = "rings.0" if table in ("rings", "ring_row") else "piece.0"
    typed = OTHERS.get((table, key)) or TYPED.get(key, "yes")
    after = changed_text(before, Change({address: True if key in ("keep_counters", "flip") else typed}, [], at))
    assert _blanks(after, at)[address] == typed.replace("1,5", "1.5")
    if address in _blanks(before, at):
        again = changed_text(after, Change({address: _blanks(before, at)[address]}, [], at))
        assert _blanks(again, at)[address] == _blanks(before, at)[address]
    else:
        gone = tomllib.loads(changed_text(after, Change({}, [address], at)))
        kept = dict(_blanks(before, at)) if key not in ("rim",) else {}
        assert all(sentence["blanks"].items() >= kept.items() for sentence in sentences_of(gone))
        assert address not in sentences_of(gone)[0]["blanks"]


def test_a_slider_is_told_its_number_its_unit_and_the_proportion_of_an_oval() -> None:
    def slides(more: str, size: str = "76mm") -> Any:
        return sentences_of(tomllib.loads(RECIPE.replace("76mm", size) + more))[0]["slides"]

    assert slides('gap = "0.1in"\n') == {"size": {"now": 76.0, "unit": "mm"}, "gap": {"now": 0.1, "unit": "in"}}
    assert slides("scale = 0.8\n", "4x3in") == {
        "size": {"now": 4.0, "unit": "in", "times": 0.75}, "scale": {"now": 0.8, "unit": ""},
    }  # fmt: skip
    assert slides('scale = "find"\n', "find") == {}


def test_what_says_the_same_gives_way() -> None:
    assert "opening" not in _blanks(changed_text(RECIPE, Change({"rim": "8mm"}, [])))
    assert "scale" not in _blanks(changed_text(f"{RECIPE}scale = 0.8\n", Change({"foot": "5mm"}, [])))
    feet = changed_text(f'{RECIPE}gap = "2mm"\n', Change({"foot_gap": "4mm"}, ["gap"]))
    assert _blanks(feet)["foot_gap"] == "4mm"
    inner = changed_text(MANY, Change({"row.1.place": "window"}, []))
    inner = changed_text(inner, Change({"from_opening": "gate"}, ["row.0"], "piece.1"))
    assert "size" not in _blanks(inner, "piece.1")
    assert "from_opening" not in _blanks(changed_text(inner, Change({"size": "50mm"}, [], "piece.1")), "piece.1")
    found = changed_text(f'{RECIPE}gap = "2mm"\n', Change({"size": "find", "ratio": "1.5"}, ["opening"]))
    assert _blanks(found)["ratio"] == "1.5"
    assert _blanks(changed_text(found, Change({"grow_from": "150x100mm"}, ["ratio"])))["grow_from"] == "150x100mm"


def test_rows_and_pieces_are_changed_each_by_itself() -> None:
    text = changed_text(MANY, Change({"row.1.count": "10", "count": "19", "gap": "2mm"}, []))
    text = changed_text(text, Change({"count": "8", "name": "label"}, [], "piece.1"))
    first, second = tomllib.loads(text)["piece"]
    assert [row["count"] for row in first["row"]] == [19, 10]
    assert first["row"][0]["gap"] == "2mm"
    assert "gap" not in first["row"][1]
    assert (second["name"], second["row"][0]["count"]) == ("label", 8)


def test_tables_are_added_and_taken_away_the_others_keep_their_order() -> None:
    text = RECIPE
    for place, size in enumerate(("4mm", "5mm", "6mm")):
        text = changed_text(text, Change({f"hole.{place}.size": size, f"hole.{place}.at": "top"}, []))
    text = changed_text(text, Change({}, ["hole.0", "hole.2"]))
    assert tomllib.loads(text)["piece"][0]["hole"] == [{"size": "5mm", "at": "top"}]
    assert tomllib.loads(changed_text(text, Change({}, ["hole.0"]))) == tomllib.loads(RECIPE)
    more = changed_text(RECIPE, Change({"row.1.motif": ["scallop"], "row.1.place": "in"}, []))
    assert [row["motif"] for row in tomllib.loads(more)["piece"][0]["row"]] == ["bean-leaf", "scallop"]
    assert tomllib.loads(changed_text(more, Change({}, ["row.1"]))) == tomllib.loads(RECIPE)
    rings = changed_text(RECIPE, Change({"rings.0.sizes": "60-100 by 20", "piece.1.size": "50mm"}, []))
    assert [sentence["at"] for sentence in sentences_of(tomllib.loads(rings))] == ["piece.0", "piece.1", "rings.0"]
    assert tomllib.loads(changed_text(rings, Change({}, ["rings.0", "piece.1"]))) == tomllib.loads(RECIPE)


def test_a_pattern_grows_differs_and_becomes_one_motif_again() -> None:
    two = changed_text(RECIPE, Change({"motif.1": "arch"}, []))
    assert tomllib.loads(two)["piece"][0]["row"][0]["motif"] == ["bean-leaf", "arch"]
    other = changed_text(two, Change({"motif.1.scale": "0,8", "motif.1.mirror": "yes", "motif.0": "beetle"}, []))
    row = tomllib.loads(other)["piece"][0]["row"][0]
    assert row["motif"] == ["beetle", {"motif": "arch", "scale": 0.8, "mirror": True}]
    named = changed_text(other, Change({"motif.1": "scallop"}, []))
    assert _blanks(named)["motif"] == "beetle, scallop"
    assert _blanks(named)["motif.1.scale"] == "0.8"
    plain = changed_text(named, Change({}, ["motif.1.scale", "motif.1.mirror"]))
    assert tomllib.loads(plain)["piece"][0]["row"][0]["motif"] == ["beetle", "scallop"]
    one = changed_text(plain, Change({}, ["motif.1"]))
    assert tomllib.loads(one)["piece"][0]["row"][0]["motif"] == "beetle"


@pytest.mark.parametrize(
    ("options", "leave_out", "said"),
    [
        ({"row.1.count": "ten"}, [], 'desk, --count "ten": not a whole number'),
        ({"hole.0.size": "4 leagues"}, [], 'desk, --size "4 leagues": no such unit'),
        ({"hole.3.size": "4mm"}, [], "Add one after the other"),
        ({"row.4.motif": ["arch"]}, [], "Add one after the other"),
        ({"files.dxf": "curly"}, [], 'desk, --dxf "curly"'),
        ({"piece.4.size": "60mm"}, [], "Add one after the other"),
        ({"motif": ["../leaf.svg"]}, [], "reads no drawings by their names"),
        ({"text.0.font": "../Mine.ttf"}, [], "reads no fonts by their places"),
        ({"sheets.used": "off-cut.svg"}, [], "reads no files by their names"),
        ({}, ["size"], "size"),
        ({"hole.size.0": "4mm"}, [], "no such place"),
        ({"0": "x"}, [], "no such place"),
        ({"drawing.daisy": "x"}, [], "no such place"),
        ({"lid": ["20mm"]}, [], "not a text"),
        ({"card": True}, [], "not a text"),
    ],
)
def test_what_does_not_do_is_said_of_its_blank(options: dict[str, Any], leave_out: list[str], said: str) -> None:
    with pytest.raises(InputError) as caught:
        changed_text(MANY, Change(options, leave_out))
    assert said in "\n".join(caught.value.lines)


def test_a_drawing_goes_when_no_piece_needs_it() -> None:
    kept = '[motif.daisy]\nfoot = 4.0\njoin = [["M 0 0 L 4 0 L 2 5 Z"]]\n\n'
    used = kept + RECIPE.replace("bean-leaf", "daisy")
    with pytest.raises(InputError, match="daisy stands in this recipe"):
        changed_text(used, Change({}, ["drawing.daisy"]))
    assert tomllib.loads(changed_text(kept + RECIPE, Change({}, ["drawing.daisy"]))) == tomllib.loads(RECIPE)


def test_where_one_colour_has_its_limits_the_others_are_named_too() -> None:
    text = changed_text(FULL, Change({"card.moss.kerf": "0.1mm"}, []))
    assert tomllib.loads(text)["card"] == {"moss": {"kerf": "0.1mm"}, "cream": {}}
    text = changed_text(text, Change({"card": "sand"}, []))
    assert "sand" in tomllib.loads(text)["card"]


@pytest.mark.slow
def test_offers_go_to_the_piece_and_the_row_that_they_are_of(ask: Ask) -> None:
    """The command tells of a recipe of several pieces what is to be written; here a click has to know where."""
    refused = ask("see", recipe=MANY, options={"row.1.count": "60"})
    offers = [part["options"] for line in refused["refused"] for part in line if "options" in part]
    assert {key for offer in offers for key in offer} >= {"piece.0.row.1.count"}
    made = ask("see", recipe=refused["recipe"], options=offers[0])
    assert made["pieces"]
    assert tomllib.loads(made["recipe"])["piece"][0]["row"][0]["count"] == 20
    refused = ask("see", recipe=MANY, options={"motif": ["arch", "scallop"]}, at="piece.1")
    offers = [part["options"] for line in refused["refused"] for part in line if "options" in part]
    assert offers == [{"piece.1.row.0.count": "8"}, {"piece.1.row.0.count": "10"}]


@pytest.mark.parametrize(
    ("line", "place"),
    [
        ("gate: 60 seed husks do not go round a 60 mm opening with gaps of 2 mm; 14 do.", ("piece.0", 1)),
        ("gate: 60 bean leaves do not go round a 100 mm circle with gaps of 2 mm; 24 do.", ("piece.0", 0)),
        ("gate: 12 slits of 0.7 mm, this card needs 1.0 mm.", ("piece.0", 1)),
        ("gate: the piece falls into 3 parts at the seed husks. Take --inset 1mm in row 1.", ("piece.0", 0)),
        ("badge: 18 arches do not go round a 60 mm circle with gaps of 2 mm; 10 do.", ("piece.1", 0)),
    ],
)
def test_a_refusal_tells_its_piece_and_its_row(line: str, place: tuple[str, int]) -> None:
    found = offer_at(line, tomllib.loads(MANY))
    assert found is not None
    assert (found.table, found.row) == place
    offers = found.addressed({"count": "9", "size": "80mm", "sheet": "A4"})
    assert list(offers) == [f"{place[0]}.row.{place[1]}.count", f"{place[0]}.size", "sheet"]


def test_a_recipe_of_one_row_needs_no_place_for_its_offers() -> None:
    assert offer_at("bean-leaf: 30 bean leaves do not go round", tomllib.loads(RECIPE)) is None


@pytest.mark.slow
def test_no_address_and_no_value_breaks_it() -> None:
    """Addresses and values put together at random: taken, or refused in words."""
    words = ["piece", "rings", "row", "hole", "text", "motif", "0", "1", "99", "count", "size", "at", "files", "sheets",
             "card", "moss", "units", "this", "sheet", "drawing", "", "name", "kerf", "lid", "dxf", "-1", "shape",
             "opening", "skip", "laid", "font"]  # fmt: skip
    values: list[Any] = ["", "1", "yes", "4mm", True, ["a"], ["1", "2"], "find", "x" * 50, "1,5", "A4", "arch", "oval"]
    chance = random.Random(7)

    def address() -> str:
        return ".".join(chance.choices(words, k=chance.randint(1, 5)))

    taken = 0
    for _ in range(2000):
        options = {address(): chance.choice(values) for _ in range(chance.randint(0, 2))}
        leave_out = [address() for _ in range(chance.randint(0, 2))]
        try:
            text = changed_text(MANY, Change(options, leave_out, chance.choice(["", "piece.1", "piece.9", "x"])))
        except InputError:
            continue
        assert sentences_of(tomllib.loads(text))
        taken += 1
    assert 100 < taken < 1900
