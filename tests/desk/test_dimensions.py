"""Dimension lines on the desk: each as long as the very thing it names, in mm and inches, off all labels."""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from frameforge.desk.dimensions import dimensions
from frameforge.job.motif_source import MotifSource
from frameforge.picture.letter_widths import text_width

from .conftest import RECIPE

Ask = Callable[..., dict[str, Any]]

SOURCE = MotifSource(Path("out"))
BEETLES = RECIPE.replace('"bean-leaf"', '"beetle"').replace("16", "5")


def lengths(piece: dict[str, Any], lines: list[dict[str, Any]]) -> dict[str, float]:
    """How long each line is in mm, by its words; tight ones have tails of 18 px at both ends."""
    found = {}
    for line in lines:
        (x1, y1), (x2, y2) = [map(float, pair) for pair in re.findall(r"(-?[\d.]+) (-?[\d.]+)", line["line"])]
        found[line["words"]] = max(abs(x2 - x1), abs(y2 - y1)) / piece["map"][0]
    return found


def seen(recipe: str, width: float = 620) -> dict[str, Any]:
    (piece,) = dimensions({"recipe": recipe, "width": width}, SOURCE)["pieces"]
    assert isinstance(piece, dict)
    return piece


def test_a_plain_disc_is_measured_to_the_hundredth() -> None:
    piece = seen('[[piece]]\nsize = "80mm"\nopening = "50.8mm"\n')
    told = lengths(piece, piece["dimensions"])
    assert told == {
        "base 80 mm (3.15 in)": pytest.approx(80, abs=0.01),
        "opening 50.8 mm (2 in)": pytest.approx(50.8, abs=0.01),
        "rim 14.6 mm (0.57 in)": pytest.approx(14.6, abs=0.01),
    }
    assert piece["motifs"] == []


def test_an_oval_is_measured_both_ways_and_a_rim_that_differs_twice() -> None:
    piece = seen('[[piece]]\nsize = "150x100mm"\nopening = "110x70mm"\n')
    told = lengths(piece, piece["dimensions"])
    assert {words: round(mm, 1) for words, mm in told.items()} == {
        "base 150 mm (5.91 in)": 150, "opening 110 mm (4.33 in)": 110, "rim 20 mm (0.78 in)": 20,
        "base 100 mm (3.94 in)": 100, "opening 70 mm (2.76 in)": 70, "rim 15 mm (0.59 in)": 15,
    }  # fmt: skip
    assert {line["words"].split()[0] for line in piece["dimensions"] if line["turn"]} == {"base", "opening", "rim"}
    even = seen('[[piece]]\nsize = "150x100mm"\nrim = "20mm"\n')
    assert sum(line["words"].startswith("rim") for line in even["dimensions"]) == 1


def test_a_row_adds_what_it_measures_across_and_its_motif() -> None:
    """16 bean leaves on 76 mm are 107.87 mm across; the motif is 16 mm high on a foot of 4.4 mm."""
    piece = seen(RECIPE)
    told = lengths(piece, piece["dimensions"])
    assert told["across 107.9 mm (4 1/4 in)"] == pytest.approx(107.87, abs=0.02)
    (motif,) = piece["motifs"]
    assert [line["words"] for line in motif["dimensions"]] == ["height 16 mm (5/8 in)", "foot 4.4 mm (0.17 in)"]
    half = seen(RECIPE.replace("count = 16", "count = 16\nscale = 0.5"))["motifs"][0]
    assert [line["words"] for line in half["dimensions"]] == ["height 8 mm (0.31 in)", "foot 2.2 mm (0.08 in)"]


@pytest.mark.parametrize("width", [358, 620])
def test_dimension_lines_keep_off_labels_and_one_another(width: float) -> None:
    piece = seen(BEETLES, width)
    boxes = []
    for line in piece["dimensions"]:
        half, x, y = text_width(line["words"], 14) / 2, line["x"], line["y"]
        boxes.append((x - 11, y - half, x, y + half) if line["turn"] else (x - half, y - 11, x + half, y))
    assert len(piece["labels"]) == len(boxes) + 2
    for label in piece["labels"]:
        y, up = label["y"], label["up"]
        half = label["width"] / 2
        boxes.append((label["x"] - half, min(y, y - 32 * up), label["x"] + half, max(y, y - 32 * up)))
    for one, other in itertools.combinations(boxes, 2):
        assert one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
    left, top, wide, high = piece["view"]
    assert wide == width
    for box in boxes:
        assert left <= box[0]
        assert box[2] <= left + wide
        assert top <= box[1]
        assert box[3] <= top + high


def test_cards_of_a_set_are_measured_each(ask: Ask) -> None:
    piece = seen('[[rings]]\nsizes = "60-140 by 20"\n')
    told = lengths(piece, piece["dimensions"])
    assert [round(mm) for mm in told.values()] == [60, 80, 100, 120, 140]
    layers = ask(
        "dimensions", recipe='[[piece]]\nsize = "80mm"\n[[piece.layer]]\ncard = "cream"\nborder = "5mm"\n', width=620
    )
    first, second = layers["pieces"]
    assert "cream card 90 mm (3.54 in)" in lengths(first, first["dimensions"])
    assert list(lengths(second, second["dimensions"])) == ["across 90 mm (3.54 in)"]
