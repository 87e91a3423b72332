"""Before and after mending on the desk: what was changed, where, and the recipe of both."""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from frameforge.desk.mended import mended
from frameforge.finding import Finding
from frameforge.job.made import MadePiece
from frameforge.job.motif_source import MotifSource

from .conftest import RECIPE

Ask = Callable[..., dict[str, Any]]

SOURCE = MotifSource(Path("out"))
BEETLES = RECIPE.replace('"bean-leaf"', '"beetle"').replace("16", "3")
"""Three beetles: two eyes too small, two feelers too thin, and a slot too narrow in each."""


def test_changes_are_marked_and_listed_under_one_number() -> None:
    values = mended({"recipe": BEETLES, "width": 300}, SOURCE)
    (piece,) = values["pieces"]
    assert piece["before"]["path"] != piece["after"]["path"]
    assert {line["code"]: len(line["places"]) for line in piece["changed"]} == {
        "small-hole": 6, "thin-finger": 6, "narrow-slot": 3,
    }  # fmt: skip
    assert piece["left"] == []
    assert {label["number"] for label in piece["labels"]} == {line["number"] for line in piece["changed"]}
    assert len(piece["rings"]) == 15
    assert piece["changed"][0]["sentence"] == "beetle 1, at 12 o'clock, and 5 more: 2.01 mm2 of card added."
    for line in piece["changed"]:
        for place in line["places"]:
            assert any(abs(place["x"] - r["x"]) + abs(place["y"] - r["y"]) < 0.05 for r in piece["rings"])


def test_the_recipe_of_either_is_handed_over() -> None:
    off = mended({"recipe": BEETLES, "width": 300}, SOURCE)
    on = mended({"recipe": off["with"], "width": 300}, SOURCE)
    assert (off["is_on"], on["is_on"]) == (False, True)
    assert tomllib.loads(off["with"])["piece"][0]["mend"] == "all"
    assert tomllib.loads(on["without"]) == tomllib.loads(BEETLES)
    assert on["pieces"] == off["pieces"]
    assert tomllib.loads(off["with"])["piece"][0]["row"] == tomllib.loads(BEETLES)["piece"][0]["row"]


def test_a_piece_that_is_whole_is_left_out() -> None:
    assert mended({"recipe": RECIPE, "width": 300}, SOURCE)["pieces"] == []


@pytest.mark.slow
def test_only_the_pieces_that_mending_changes_are_compared() -> None:
    two = f'{BEETLES}\n[[piece]]\nname = "b"\nsize = "60mm"\n'
    assert [piece["name"] for piece in mended({"recipe": two, "width": 300}, SOURCE)["pieces"]] == ["beetle-3-on-76mm"]


def test_what_could_not_be_mended_is_told_apart(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of a finding that no remedy answers, here one that is put there for the test."""
    kept = Finding("thin-web", "warning", "0.4 mm of card.", "beetle 2, at 4 o'clock", x_mm=30.0, y_mm=-10.0, limit=1.0)
    whole = MadePiece.findings.fget  # type: ignore[attr-defined]
    monkeypatch.setattr(MadePiece, "findings", property(lambda made: (*whole(made), kept)))
    (piece,) = mended({"recipe": BEETLES, "width": 300}, SOURCE)["pieces"]
    assert [(line["label"], line["sentence"]) for line in piece["left"]] == [
        ("1", "beetle 2, at 4 o'clock: 0.4 mm of card.")
    ]
    assert [line["number"] for line in piece["changed"]] == [2, 3, 4]


@pytest.mark.parametrize("recipe", ["", "piece = 3", "piece = [3]", "[[piece]]\nmend = 3\nsize = 50"])
def test_an_odd_recipe_is_refused_in_words(ask: Ask, recipe: str) -> None:
    assert ask("mended", recipe=recipe, width=300)["refused"]
