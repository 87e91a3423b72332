"""Edges between repeats, corner motifs, what is chopped and holes, from the command line."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Run = Callable[..., Any]


@pytest.mark.parametrize(
    "words",
    [("--motif", "seed-husk", "--count", "8", "--size", "100mm", "--between", "raised", "--depth", "5mm"),
     ("--motif", "arch", "--count", "9", "--size", "140x90mm", "--between", "hollow", "--depth", "2mm", "--skip", "1"),
     ("--motif", "arch", "--count", "8", "--size", "150mm", "--opening", "100mm", "--place", "in", "--between", "flat"),
     ("--motif", "picket-corner", "--count", "9", "--size", "4in", "--between", "flat", "--depth", "1mm"),
     ("--motif", "trowel-corner", "--count", "10", "--size", "150x110mm", "--between", "level")],
)  # fmt: skip
def test_every_edge_is_made_as_written(run: Run, words: tuple[str, ...]) -> None:
    ran = run("make", *words, "--formats", "svg", "--json")
    assert ran.code == 0, ran.err
    (piece,) = ran.json["pieces"]
    assert [finding for finding in piece["findings"] if finding["severity"] != "note"] == []


def test_what_was_taken_in_place_of_what_was_asked_is_told(run: Run) -> None:
    ran = run("make", "--motif", "arch", "--size", "100mm", "--between", "raised", "--depth", "2mm", "--formats", "svg")
    assert ran.code == 0
    assert "took a rise of 0.59 mm in place of 2 mm" in ran.out.casefold()


REFUSED = [
    (("--motif", "arch", "--size", "100mm", "--between", "level"), 2,
     "between level goes with corner motifs, and the arches stand on their feet. "
     "Take --between flat or --between keep."),
    (("--motif", "picket-corner", "--size", "100mm", "--count", "13"), 3,
     "13 teeth of 1.38 mm between the picket corners, this card needs 1.5 mm. Take --count 12 (3 mm) or"),
    (("--size", "100mm", "--hole", "100mm top"), 3, "a hole of 100 mm at the top would reach past the middle"),
    (("--size", "100mm", "--rim", "60mm"), 3, "a rim of 60 mm takes all of a 100 mm circle"),
    (("--motif", "arch", "--size", "100mm", "--depth", "2mm"), 2, "a depth goes with a hollow or a raised edge"),
]  # fmt: skip


@pytest.mark.parametrize(("words", "code", "part"), REFUSED)
def test_what_does_not_go_is_one_line_with_a_way_out(run: Run, words: tuple[str, ...], code: int, part: str) -> None:
    ran = run("make", *words)
    assert ran.code == code
    assert part in ran.err
    assert ran.err.count("\n") == 1
    assert not Path("out").exists()


def test_what_is_chopped_stands_in_json_with_area_and_place(run: Run) -> None:
    words = ("--motif", "plum-blossom", "--place", "window", "--inset", "4mm", "--count", "6", "--size", "80mm")
    ran = run("make", *words, "--formats", "svg", "--json")
    found = [f for f in ran.json["pieces"][0]["findings"] if f["code"] == "chopped"]
    assert len(found) == 6
    assert {f["unit"] for f in found} == {"mm2"}
    assert all(f["measured"] > 1 and f["where"].startswith("plum blossom") and f["x_mm"] is not None for f in found)


def test_one_rule_rounds_outer_sizes(run: Run) -> None:
    """3 1/4 in is 82.55 mm: the name and the lines agree."""
    ran = run("make", "--size", "3 1/4 in", "--motif", "arch", "--count", "12", "--formats", "svg")
    assert "arch-12-on-82.6mm" in ran.out
    assert "12 arches round 82.6 mm (3 1/4 in)" in ran.out
