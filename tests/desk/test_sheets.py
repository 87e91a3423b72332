"""Sheets on the desk: laid, moved by steps, near or clear, and a recipe that the command writes alike."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from frameforge.desk.change import Change, changed_text

Ask = Callable[..., dict[str, Any]]
TAGS = """\
[[piece]]
name = "tag"
card = "moss"
size = "60x30mm"
copies = 3

[sheets]
laid = [
  { piece = "tag", sheet = 1, from_left = 40, from_bottom = 25 },
  { piece = "tag", sheet = 1, from_left = 40, from_bottom = 60 },
  { piece = "tag", sheet = 1, from_left = 40, from_bottom = 95 },
]
"""
WIDE = 420
"""Two pixels for a millimetre of an A4 sheet."""


@pytest.fixture
def laid(ask: Ask) -> dict[str, Any]:
    return ask("sheets", recipe=TAGS, width=WIDE)


def piece(answer: dict[str, Any], row: int) -> dict[str, Any]:
    found = answer["pieces"][row]
    assert found["row"] == row
    return dict(found)


def moving(ask: Ask, kind: str, answer: dict[str, Any], row: int, by: complex = 0, **more: Any) -> dict[str, Any]:
    """Ask about a piece moved by so many mm to the right and up."""
    at = piece(answer, row)
    place = {"x": at["x"] + 2 * by.real, "y": at["y"] - 2 * by.imag, "sheet": at["sheet"], "turn": at["turn"]}
    recipe = answer.get("recipe", TAGS)
    return ask(kind, recipe=recipe, laid=answer["laid"], width=WIDE, row=row, **{**place, **more})


def test_sheets_are_drawn_at_true_proportion_with_their_card_named(laid: dict[str, Any]) -> None:
    (sheet,) = laid["sheets"]
    assert (sheet["width"], sheet["height"], sheet["margin"]) == (420, 594, 10)
    assert sheet["card"] == "moss"
    assert sheet["lines"] == ["A4 (210 x 297 mm)", "3 x tag", "card used 6 %"]
    assert [one["words"] for one in laid["pieces"]] == ["tag 1", "tag 2", "tag 3"]
    assert laid["said"][-1] == "3 tags on 1 sheet: moss 1. Card used 6 %."
    assert laid["said"][0].startswith("Of the last sheet ")
    assert (laid["is_asked"], laid["is_stated"]) == (True, True)
    assert laid["terms"]["copies"] == [{"address": "piece.0.copies", "name": "tag", "value": "3"}]
    assert laid["faults"] == []


@pytest.mark.slow
def test_pieces_without_places_are_laid_by_the_placer(ask: Ask) -> None:
    recipe = TAGS.partition("[sheets]")[0] + "[card.moss]\n[sheets]\ntries = 0\n"
    found = ask("sheets", recipe=recipe, width=WIDE)
    assert (found["is_stated"], found["faults"]) == (False, [])
    moved = moving(ask, "moved", {**found, "recipe": recipe}, 0)
    assert moved["laid"] == found["laid"]
    assert moved["is_stated"]


def test_a_move_is_kept_in_the_recipe_and_proved(ask: Ask, laid: dict[str, Any]) -> None:
    before = laid["laid"][2]
    answer = moving(ask, "moved", laid, 2, 20 + 30j, turn=90)
    after = answer["laid"][2]
    assert after["from_left"] - before["from_left"] == pytest.approx(20)
    assert after["from_bottom"] - before["from_bottom"] == pytest.approx(30)
    assert after["turn"] == 90
    assert answer["laid"][:2] == laid["laid"][:2]
    assert 'laid = [\n  { piece = "tag", sheet = 1, from_left = ' in answer["recipe"]
    assert answer["is_stated"]
    assert piece(answer, 2)["x"] - piece(laid, 2)["x"] == pytest.approx(40)
    # Asked anew, the recipe gives the same.
    again = ask("sheets", recipe=answer["recipe"], width=WIDE)
    assert again["laid"] == answer["laid"]


def test_pieces_go_by_whole_tenths(ask: Ask, laid: dict[str, Any]) -> None:
    after = moving(ask, "moved", laid, 2, 1.234 + 0.03j)["laid"][2]
    assert after["from_left"] - laid["laid"][2]["from_left"] == pytest.approx(1.2)
    assert after["from_bottom"] == laid["laid"][2]["from_bottom"]


def test_what_is_told_on_the_way_is_what_holds_at_rest(ask: Ask, laid: dict[str, Any]) -> None:
    assert moving(ask, "near", laid, 2)["is_clear"]
    told = moving(ask, "near", laid, 2, -3.5j)
    assert told["words"] == "tag 3: 1.5 mm from tag 2, 3 mm wanted; 10 mm from the edge."
    assert [mark["is_clear"] for mark in told["marks"]] == [False, True]
    assert moving(ask, "near", laid, 2)["words"].startswith("tag 3: 5 mm from tag 2; ")
    (fault,) = moving(ask, "moved", laid, 2, -3.5j)["faults"]
    assert fault["words"] == "tag 3 lies 1.5 mm from tag 2, 3 mm wanted."
    assert (fault["rows"], fault["sheet"]) == ([1, 2], 0)
    assert 2 * (297 - 76.5) < fault["y"] < 2 * (297 - 75)
    assert "lies over tag 2" in moving(ask, "near", laid, 2, -10j)["words"]


def test_the_edge_is_watched_too(ask: Ask, laid: dict[str, Any]) -> None:
    low = 1
    told = moving(ask, "near", laid, low, -12 + 0j)
    assert "reaches 2 mm over the edge" in told["words"]
    told = moving(ask, "near", laid, low, -6 + 0j)
    assert "4 mm from the edge, 5 mm wanted" in told["words"]
    fault = moving(ask, "moved", laid, low, -6 + 0j)["faults"][0]
    assert fault["words"] == f"tag {low + 1} lies 4 mm from the edge, 5 mm wanted."
    assert fault["rows"] == [low]


def test_a_piece_is_moved_clear_by_itself(ask: Ask, laid: dict[str, Any]) -> None:
    over = {key: piece(laid, 0)[key] for key in ("x", "y", "turn", "sheet")}
    wrong = moving(ask, "moved", laid, 2, **over)
    assert wrong["faults"]
    right = ask("moved", recipe=wrong["recipe"], laid=wrong["laid"], width=WIDE, row=2, clear=True)
    assert right["faults"] == []


def test_a_piece_goes_to_a_new_sheet_and_back(ask: Ask, laid: dict[str, Any]) -> None:
    two = moving(ask, "moved", laid, 1, sheet=None)
    assert [sheet["name"] for sheet in two["sheets"]] == ["moss-sheet-1", "moss-sheet-2"]
    assert two["sheets"][1]["rows"] == [1]
    at = piece(laid, 1)
    one = moving(ask, "moved", two, 1, x=at["x"], y=at["y"], sheet=0)
    assert len(one["sheets"]) == 1
    # The first sheet left empty is gone, the others are numbered anew.
    for row in (0, 2):
        two = moving(ask, "moved", two, row, sheet=len(two["sheets"]) - 1)
    assert [entry["sheet"] for entry in two["laid"]] == [1, 1, 1]


def test_what_may_not_turn_is_not_turned(ask: Ask) -> None:
    recipe = TAGS.replace("laid = [", 'turn = "half"\nlaid = [')
    answer = {**ask("sheets", recipe=recipe, width=WIDE), "recipe": recipe}
    refused = moving(ask, "moved", answer, 0, turn=piece(answer, 0)["turn"] + 90)["refused"]
    assert 'turn = "half"' in refused[0][0]["words"]
    assert moving(ask, "moved", answer, 0, turn=piece(answer, 0)["turn"] + 180)["recipe"]


def test_what_no_sheet_takes_is_said_beside_the_sentence(ask: Ask) -> None:
    answer = ask("sheets", recipe=TAGS.partition("[sheets]")[0].replace("60x30mm", "400x300mm"), width=WIDE)
    assert "an A4 sheet" in "".join(part["words"] for part in answer["refused"][0])
    assert answer["terms"]["usual"]["sheet"] == "A4"


@pytest.mark.parametrize(
    "odd",
    [{"laid": 3}, {"laid": [{"piece": "tag"}]}, {"laid": [{"piece": 3, "from_left": 2, "from_bottom": 3}]}, {"row": 99},
     {"row": -1}, {"x": "a"}, {"x": 1e400}, {"sheet": 7}, {"laid": [{"piece": "x", "from_left": 1, "from_bottom": 1}]}],
)  # fmt: skip
def test_odd_questions_are_refused_in_a_sentence(ask: Ask, laid: dict[str, Any], odd: dict[str, Any]) -> None:
    for kind in ("near", "moved"):
        answer = moving(ask, kind, laid, 1, **odd) if "laid" not in odd and "row" not in odd else ask(
            kind, **{"recipe": TAGS, "laid": laid["laid"], "width": WIDE, "row": 1, "sheet": 0, "x": 5, "y": 5, **odd}
        )  # fmt: skip
        assert answer["refused"][0][0]["words"]


@pytest.mark.parametrize(
    ("options", "is_kept"),
    [
        ({"sheets.apart": "1mm"}, True),
        ({"sheets.margin": "2mm"}, True),
        ({"files.hand_out": "yes"}, True),
        ({"size": "62x30mm"}, False),
        ({"copies": "4"}, False),
        ({"sheets.sheet": "A3"}, False),
        ({"card": "sand"}, False),
    ],
)
def test_places_are_kept_while_the_pieces_are_the_same(options: dict[str, str], is_kept: bool) -> None:
    changed = changed_text(TAGS, Change(options, ()))
    assert ("laid = [" in changed) == is_kept
    assert "laid" not in changed_text(TAGS, Change({}, ["sheets.laid"]))
