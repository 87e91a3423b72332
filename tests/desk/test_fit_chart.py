"""The chart of sizes and counts: the numbers of the command, and a cell that is taken comes out as it was told."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from frameforge.cli.entry import main

from .conftest import RECIPE

Ask = Callable[..., dict[str, Any]]
ROW = '[[piece.row]]\nmotif = "scallop"\n'


def _cells(chart: dict[str, Any]) -> dict[tuple[str, str], dict[str, Any]]:
    """Return the cells by size and count as they are headed."""
    counts = [head["words"] for head in chart["counts"]]
    return {
        (line["words"], count): cell
        for line in chart["rows"]
        for count, cell in zip(counts, line["cells"], strict=True)
    }


def test_every_cell_tells_what_the_command_tells(ask: Ask, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    cells = _cells(ask("fit", recipe=RECIPE, at="piece.0", step=10))
    sizes = list(dict.fromkeys(size for size, _ in cells))
    counts = list(dict.fromkeys(count for _, count in cells))
    assert sizes == ["40 mm", "50 mm", "60 mm", "70 mm", "76 mm", "80 mm", "90 mm", "100 mm", "110 mm", "120 mm"]
    asked = [part for size in sizes for part in ("--size", size.replace(" ", ""))]
    asked += [part for count in counts for part in ("--count", count)]
    line = ["fit", "--motif", "bean-leaf", "--opening", "50mm", *asked, "--json", "--formats", "svg"]
    assert main([*line, "--out", str(tmp_path)]) == 0
    answers = json.loads(capsys.readouterr().out)["answers"]
    told = {(f"{answer['size_mm']:g} mm", str(answer["count"])): answer["gap_mm"] for answer in answers}
    assert told.keys() == cells.keys()
    for place, cell in cells.items():
        gap = told[place]
        assert (cell["options"] is None) == (gap is None), place
        if gap is not None:
            assert -1e-6 <= gap - float(cell["gap"]) < 0.01, place  # a millionth under a hundredth counts as that
    assert any(cell["options"] is None for cell in cells.values())


@pytest.mark.slow
def test_a_cell_that_is_taken_comes_out_as_it_was_told(ask: Ask) -> None:
    recipe = RECIPE + 'gap = "find"\n\n' + ROW + 'place = "in"\ncount = 8\n'
    chart = ask("fit", recipe=recipe, at="piece.0", row=0, step=5)
    cell = _cells(chart)["80 mm", "15"]
    values = ask("see", recipe=recipe, options=cell["options"], leave_out=chart["leave_out"])
    assert f"15 bean leaves round 80 mm (3.15 in), gap {cell['gap']} mm each" in values["pieces"][0]["said"][0]


def test_what_is_chosen_what_divides_360_and_what_is_hard_to_hold_is_marked(ask: Ask) -> None:
    chart = ask("fit", recipe=RECIPE, at="piece.0", step=5)
    assert [place for place, cell in _cells(chart).items() if cell["is_chosen"]] == [("76 mm", "16")]
    degrees = {head["words"]: head["deg"] for head in chart["counts"]}
    assert degrees["15"] == "24 deg"
    assert degrees["18"] == "20 deg"
    assert degrees["16"] == ""
    assert [line["words"] for line in chart["rows"] if line["is_hard"]] == ["55 mm"]


@pytest.mark.slow
def test_a_stated_gap_gives_way_and_narrower_cells_are_told(ask: Ask) -> None:
    chart = ask("fit", recipe=RECIPE.replace("count = 16", 'gap = "3mm"'), at="piece.0", count=16)
    assert chart["leave_out"] == ["row.0.gap"]
    cells = _cells(chart)
    assert cells["76 mm", "16"]["is_narrow"] is False
    assert cells["76 mm", "17"]["is_narrow"] is True


@pytest.mark.slow
def test_inches_stay_inches(ask: Ask) -> None:
    chart = ask("fit", recipe=RECIPE.replace('"76mm"', '"3 in"').replace('opening = "50mm"\n', ""), at="piece.0")
    assert [line["inches"] for line in chart["rows"]][3:6] == ["2 3/4 in", "3 in", "3 1/4 in"]
    cells = [cell for cell in chart["rows"][5]["cells"] if cell["options"]]
    assert {cell["options"]["size"] for cell in cells} == {"3.25in"}


@pytest.mark.slow
def test_a_pattern_is_told_in_whole_turns_of_it(ask: Ask) -> None:
    chart = ask("fit", recipe=RECIPE.replace('"bean-leaf"', '["bean-leaf", "arch"]'), at="piece.0")
    assert all(int(head["words"]) % 2 == 0 for head in chart["counts"])


def test_a_piece_without_motifs_has_no_chart(ask: Ask) -> None:
    for recipe in ('[[piece]]\nsize = "60mm"\n', '[[rings]]\nsizes = "60-100 by 20"\n'):
        assert "motifs" in ask("fit", recipe=recipe)["none"]
    found = '[[piece]]\nsize = "find"\n\n[[piece.row]]\nmotif = "arch"\ncount = 12\ngap = "2mm"\n'
    assert "size first" in "".join(part["words"] for part in ask("fit", recipe=found)["refused"][0])
    assert ask("fit", recipe=found, size=[69.32, 69.32])["rows"]


@pytest.mark.parametrize(
    ("size", "opening"), [("76mm", "50mm"), pytest.param("120x90mm", "80x50mm", marks=pytest.mark.slow)]
)
def test_a_row_in_an_opening_is_told_of_by_openings_while_the_base_stays(ask: Ask, size: str, opening: str) -> None:
    recipe = RECIPE.replace('"76mm"', f'"{size}"').replace('"50mm"', f'"{opening}"')
    recipe = recipe.replace("count = 16", "count = 8") + f'\n{ROW}place = "in"\ncount = 6\n'
    chart = ask("fit", recipe=recipe, at="piece.0", row=1, step=5)
    assert (chart["of"], chart["title"]) == ("opening", "Gaps between scallops in mm, by opening and count")
    cells = _cells(chart)
    now = opening.removesuffix("mm").replace("x", " x ")
    assert [place for place, cell in cells.items() if cell["is_chosen"]] == [(f"{now} mm", "6")]
    assert all(line["is_hard"] is False for line in chart["rows"])
    larger = chart["rows"][[line["words"] for line in chart["rows"]].index(f"{now} mm") + 1]
    cell = next(cell for cell in larger["cells"] if cell["options"] and cell["label"].startswith("7 in"))
    assert set(cell["options"]) == {"opening", "row.1.count"}
    values = ask("see", recipe=recipe, options=cell["options"], leave_out=chart["leave_out"])
    said = next(line for line in values["pieces"][0]["said"] if line.startswith("7 scallops in an opening of"))
    assert f"gap {cell['gap']} mm" in said or f"gaps {cell['gap']} to" in said
    assert f'size = "{size}"' in values["recipe"]


def test_an_opening_that_leaves_no_rim_is_told_so(ask: Ask) -> None:
    recipe = RECIPE + f'\n{ROW}place = "in"\ncount = 6\n'
    rows = ask("fit", recipe=recipe, at="piece.0", row=1, step=10)["rows"]
    assert [line["words"] for line in rows][-2:] == ["60 mm", "70 mm"]
    tight = ask("fit", recipe=recipe.replace('"50mm"', '"74mm"'), at="piece.0", row=1, step=2)["rows"]
    assert {cell["words"] for cell in tight[-1]["cells"]} == {"no rim"}
