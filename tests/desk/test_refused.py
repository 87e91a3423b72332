"""What is refused is ringed on the picture and listed; what it offers, and what any finding offers, goes to its row."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest

from .conftest import RECIPE, TOKEN, Client

Ask = Callable[..., dict[str, Any]]
TOUCHING = RECIPE.replace("count = 16", 'count = 12\ngap = "0"\nscale = "find"')
TWO_ROWS = (
    RECIPE.replace("count = 16", "count = 10")
    + '\n[[piece.row]]\nmotif = "scallop"\nplace = "in"\ncount = 9\ngap = "0.5mm"\nscale = "find"\n'
)


def _found(client: Client, recipe: str) -> dict[str, Any]:
    body = json.dumps({"recipe": recipe, "width": 400})
    response = client.post("/findings", content=body, headers={"x-desk-token": TOKEN})
    values = response.json()
    assert isinstance(values, dict)
    return values


def test_a_refused_piece_is_ringed_and_listed_where_it_is_refused(client: Client, ask: Ask) -> None:
    found = _found(client, TOUCHING)
    (marks,) = found["marked"]
    assert {ring["severity"] for ring in marks["rings"]} == {"refused"}
    assert len(marks["rings"]) == 12
    (label,) = marks["labels"]
    (line,) = marks["findings"]
    assert (line["label"], line["severity"], line["code"]) == ("1 x12", "refused", "point-touch")
    assert (label["number"], label["severity"]) == (line["number"], "refused")
    assert len(line["places"]) == 12
    assert found["refused"][0][0]["words"].startswith("Between bean leaf 1 and 2")
    # Each offer ends it, from the list as from the message.
    told = [part["options"] for part in found["refused"][0] if "options" in part]
    assert [list(offer["options"].values()) for offer in line["offers"]] == [list(one.values()) for one in told]
    changed = ask("see", recipe=TOUCHING, options=line["offers"][-1]["options"])["recipe"]
    assert "pieces" in _found(client, changed)


@pytest.mark.slow
def test_of_several_pieces_only_the_refused_one_is_ringed(client: Client) -> None:
    found = _found(client, f"{TOUCHING}\n{RECIPE.replace('count = 16', 'count = 14')}")
    first, second = found["marked"]
    assert len(first["rings"]) == 12
    assert second["rings"] == second["findings"] == []
    assert found["refused"][0][0]["words"].startswith("bean-leaf-12-on-76mm: between")
    assert {key for offer in first["findings"][0]["offers"] for key in offer["options"]} == {
        "piece.0.mend", "piece.0.row.0.gap",
    }  # fmt: skip


def test_a_piece_that_cannot_even_be_drawn_has_nothing_to_ring(client: Client) -> None:
    assert "marked" not in _found(client, RECIPE.replace("count = 16", "count = 40"))


@pytest.mark.parametrize("ahead", ["", pytest.param('[[piece]]\nsize = "60mm"\n\n', marks=pytest.mark.slow)])
def test_an_offer_of_a_finding_goes_to_its_row(client: Client, ask: Ask, ahead: str) -> None:
    at = 1 if ahead else 0
    recipe = ahead + TWO_ROWS
    slits = next(line for line in _found(client, recipe)["pieces"][at]["findings"] if line["offers"])
    assert slits["code"] == "narrow-slot"
    keys = {key for offer in slits["offers"] for key in offer["options"]}
    assert keys == {f"piece.{at}.row.1.gap"}
    for offer in slits["offers"]:
        changed = ask("see", recipe=recipe, options=offer["options"])["recipe"]
        found = _found(client, changed)
        lines = found["pieces"][at]["findings"] if "pieces" in found else found["marked"][at]["findings"]
        assert not any("slits" in line["sentence"] for line in lines)


FALLING = RECIPE + '\n[[piece.row]]\nmotif = "plum-blossom"\nplace = "window"\ncount = 10\ninset = "2mm"\n'


@pytest.mark.slow
def test_a_piece_that_would_fall_apart_is_drawn_with_its_loose_parts_ringed(client: Client, ask: Ask) -> None:
    values = ask("see", recipe=FALLING, width=400)
    assert "pieces" not in values
    (fallen,) = values["fallen"]
    (line,) = fallen["findings"]
    assert line["sentence"][1:] == "".join(part["words"] for part in values["refused"][0])[1:]
    assert (line["label"], line["severity"], line["code"]) == ("1 x6", "refused", "loose")
    assert line["sentence"].startswith("the piece falls into 7 parts")
    assert line["sentence"].endswith("Take the piece without row 1.")
    assert len(line["places"]) == len(fallen["rings"]) == 6
    assert {ring["severity"] for ring in fallen["rings"]} == {"refused"}
    assert fallen["cards"][0]["path"].count("M") >= 7
    assert (fallen["of"], fallen["card"]) == ("piece.0", "moss")
    assert all(0 < ring["x"] < 400 and 0 < ring["y"] < fallen["height"] for ring in fallen["rings"])


@pytest.mark.slow
def test_of_several_pieces_that_fall_apart_each_is_drawn(ask: Ask) -> None:
    name = '[[piece]]\nname = "{}"'
    badge, plain = (
        FALLING.replace("[[piece]]", name.format("badge"), 1),
        RECIPE.replace("[[piece]]", name.format("plain")),
    )
    values = ask("see", recipe="\n".join((badge, plain, FALLING)))
    assert [one["of"] for one in values["fallen"]] == ["piece.0", "piece.2"]
    assert [one["name"] for one in values["fallen"]] == ["badge", ""]
    assert all(one["findings"][0]["sentence"].startswith("the piece falls into 7") for one in values["fallen"])
