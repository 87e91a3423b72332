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


@pytest.mark.parametrize("ahead", ["", '[[piece]]\nsize = "60mm"\n\n'])
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
