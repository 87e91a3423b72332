"""Tent cards, lids, stands and hanging holes through the command: as typed, as told, as kept, as refused."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Run = Callable[..., Any]
TENT = ("make", "--size", "100mm", "--fold", "10mm top", "--flat", "8mm", "--name", "table")


def test_the_short_way_works_as_written(run: Run) -> None:
    ran = run("make", "--motif", "beetle", "--size", "100mm", "--fold", "10mm top", "--json")
    assert ran.code == 0
    [piece] = ran.json["pieces"]
    assert piece["name"] == "beetle-13-on-100mm-fold"
    assert piece["fold"]["hinge_mm"] == pytest.approx(60)
    assert set(piece["files"]) == {"svg", "dxf", "png", "cut.svg", "crease.svg"}
    assert all(Path("out", name).is_file() for name in piece["files"].values())
    assert "Left out 7 of 20 beetles, which would cross the fold; the other 13 are spread" in ran.err
    assert re.search(r"for a straight foot take --flat (\S+)\.\n", ran.err)


def test_the_foot_offered_is_one_that_goes(run: Run) -> None:
    said = run("make", "--size", "100mm", "--fold", "12mm left", "--formats", "svg").out
    flat = re.search(r"take --flat (\S+mm)", said)
    assert flat
    ran = run("make", "--size", "100mm", "--fold", "12mm left", "--flat", flat[1], "--formats", "svg", "--force")
    assert ran.code == 0
    assert "Stands on a straight foot of" in ran.out


def test_a_table_card_with_three_beetles_each_side(run: Run) -> None:
    """Two discs of 100 (hinge 60.000, flats 54.259), a half 82 high, the blank 164."""
    beetles = ("--motif", "beetle", "--count", "16")
    ran = run(*TENT, *beetles, "--crease", "dashed", "--formats", "svg", "--json")
    [piece] = ran.json["pieces"]
    fold = piece["fold"]
    assert piece["rows"][0]["count"] == 6
    assert piece["height_mm"] == pytest.approx(164, abs=1e-9)
    assert fold["foot_mm"] == pytest.approx(54.259, abs=5e-4)
    assert fold["folded_mm"] == pytest.approx([piece["width_mm"], 82], abs=1e-9)
    assert (piece["creases"], piece["crease_length_mm"]) == (12, pytest.approx(36, abs=1e-9))
    assert {finding["where"].startswith("other half") for finding in piece["findings"]} == {True, False}
    assert "on each half" in ran.err


def test_it_is_told_how_a_tent_card_is_made(run: Run) -> None:
    said = run(*TENT, "--formats", "svg").out
    report = Path("out/report.md").read_text()
    for line in (
        "olds 60 mm wide, 10 mm in from the top; folded it is 100 x 82 mm (3.94 x 3.23 in)",
        "tands on a straight foot of 54.25 mm on both halves.",
        "60 mm to crease in 1 line. Crease first, at low force or low power: it must not go through.",
        "A program that cuts all it sees takes table.crease.svg and table.cut.svg in turn.",
    ):
        assert line in said
        assert line in report


@pytest.mark.parametrize("more", [(), ("--one-file",), ("--formats", "dxf")])
def test_creases_have_a_file_of_their_own_where_svg_is_written_so(run: Run, more: tuple[str, ...]) -> None:
    files = run(*TENT, *more, "--json").json["pieces"][0]["files"]
    assert ("crease.svg" in files) == (more == ())


@pytest.mark.parametrize(
    ("words", "file", "names"),
    [
        (("--fold", "10mm 30deg", "--flat", "8mm", "--crease", "dashed"), "x.svg", {"x"}),
        (("--lid", "20mm strip in 2 parts"), "x-strip.dxf", {"x", "x-strip"}),
        (("--lid", "8mm flange"), "x.dxf", {"x"}),
        (("--stand", "2 x 60mm"), "x-foot.svg", {"x", "x-foot"}),
        (("--hole", "4mm top"), "x.dxf", {"x"}),
    ],
)
def test_a_file_makes_all_of_its_pieces_again(run: Run, words: tuple[str, ...], file: str, names: set[str]) -> None:
    assert run("make", "--size", "100mm", *words, "--name", "x", "--formats", "svg,dxf").code == 0
    again = run("make", f"out/{file}", "--out", "again", "--json").json
    assert {piece["name"] for piece in again["pieces"]} == names
    for made in Path("again").glob("x*.[sd][vx][gf]"):
        assert made.read_bytes() == (Path("out") / made.name).read_bytes()


def test_a_lid_tells_its_strip_and_in_how_many_parts_it_goes_on_the_sheet(run: Run) -> None:
    ran = run("make", "--size", "200mm", "--lid", "20mm", "--name", "tin", "--formats", "svg", "--json")
    disc, strip = ran.json["pieces"]
    assert strip["width_mm"] == pytest.approx(200.3 * math.pi + 10, abs=1e-9)
    assert (strip["name"], strip["height_mm"], disc["lid"]["parts"]) == ("tin-strip", 20, 1)
    offer = re.search(r'an A4 sheet with 5 mm margin takes 287 mm.*--lid "(20mm strip in 3 parts)"', ran.err)
    assert offer
    ran = run("make", "--size", "200mm", "--lid", offer[1], "--name", "tin", "--formats", "svg", "--json", "--force")
    strip = ran.json["pieces"][1]
    assert (strip["copies"], strip["width_mm"]) == (3, pytest.approx(200.3 * math.pi / 3 + 10, abs=1e-9))
    assert strip["width_mm"] < 287
    assert "A4 sheet" not in ran.err


def test_an_oval_lid_has_a_strip_by_its_own_way_round(run: Run) -> None:
    pieces = run("make", "--size", "120x80mm", "--lid", "15mm strip", "--formats", "svg", "--json").json["pieces"]
    assert pieces[1]["width_mm"] == pytest.approx(317.309 + math.pi * 0.3 + 10, abs=1e-3)


def test_a_flange_is_told_by_its_teeth(run: Run) -> None:
    ran = run("make", "--size", "80mm", "--lid", "8mm flange", "--formats", "svg", "--json")
    [piece] = ran.json["pieces"]
    assert piece["lid"]["teeth"] == 25
    assert piece["crease_length_mm"] == pytest.approx(80 * math.pi, abs=1e-9)
    assert piece["findings"] == []
    assert "25 teeth 8 mm high and 10.02 mm wide, notches of 24.4 deg between them" in ran.err


def test_a_stand_comes_with_feet_whose_slots_are_no_findings(run: Run) -> None:
    ran = run(
        "make", "--size", "100mm", "--stand", "2 x 60mm", "--name", "sign", "--formats", "svg", "--strict", "--json"
    )
    piece, foot = ran.json["pieces"]
    assert (foot["name"], foot["copies"], foot["width_mm"]) == ("sign-foot", 2, 60)
    assert piece["findings"] == foot["findings"] == []
    assert "the slots of the piece are 0.4 mm wide" in ran.err.lower()


def test_a_hole_is_moved_so_that_a_piece_hangs_straight(run: Run) -> None:
    ran = run("make", "--motif", "pea-pod", "--size", "100mm", "--skip", "3,4", "--hole", "4mm top", "--formats", "svg",
              "--json")  # fmt: skip
    [hole] = ran.json["pieces"][0]["holes"]
    assert abs(hole["off_plumb_mm"]) < 0.05
    assert hole["x_mm"] < -0.5
    assert "so that it hangs straight" in ran.err


def test_kerf_moves_cuts_and_leaves_creases(run: Run) -> None:
    plain = run(*TENT, "--formats", "dxf", "--json").json["pieces"][0]
    laser = run(*TENT, "--kerf", "0.2mm", "--formats", "dxf", "--json", "--force").json["pieces"][0]
    assert laser["crease_length_mm"] == plain["crease_length_mm"]
    assert laser["cut_length_mm"] > plain["cut_length_mm"]


def test_what_it_goes_in_is_asked_of_the_flat_card(run: Run) -> None:
    assert "before it is folded" in run(*TENT, "--goes-in", "A5", "--formats", "svg").out
    ran = run(*TENT, "--goes-in", "C6")
    assert (ran.code, len(ran.faults)) == (3, 1)
    assert "leave --goes-in out and fold it first: folded it goes in" in ran.faults[0]
    size = re.search(r"Make the circle ([\d.]+) mm", ran.faults[0])
    assert size
    words = [f"{size[1]}mm" if word == "100mm" else word for word in TENT]
    assert run(*words, "--goes-in", "C6", "--formats", "svg").code == 0


def test_a_size_is_found_for_the_flat_card(run: Run) -> None:
    words = ("make", "--size", "find", "--goes-in", "A5", "--fold", "10mm top", "--flat", "8mm", "--formats", "svg")
    piece = run(*words, "--json").json["pieces"][0]
    high, wide = piece["height_mm"], piece["width_mm"]
    assert max(high / 204, wide / 142) == pytest.approx(1, abs=1e-4)


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (("--flat", "8mm"), 2, "make, --flat: there is no fold that it could be of. Add --fold"),
        (("--fold", "10 milimeters top"), 2, "no such unit"),
        (("--fold", "10mm up"), 2, "no such unit"),
        (("--fold", "99.9mm top"), 3, "leaves 0.1 mm of card below it. Take a depth of 98.5 mm or less."),
        (("--fold", "10mm top", "--opening", "90mm", "--flat", "45mm"), 3, "falls into"),
        (("--fold", "10mm top", "--lid", "9mm"), 2, "A lid is not folded"),
        (("--lid", "8mm flange", "--motif", "arch"), 2, "the teeth of the flange take this edge"),
        (("--stand", "10mm"), 3, "Take feet of 34 mm or more."),
        (
            ("--hole", "100mm top"),
            3,
            "a hole of 100 mm at the top would reach past the middle of a 100 mm circle. Make",
        ),
    ],
)
def test_refusals_are_one_line_that_says_what_to_do(run: Run, words: tuple[str, ...], code: int, said: str) -> None:
    ran = run("make", "--size", "100mm", *words)
    assert (ran.code, ran.out, len(ran.faults)) == (code, "", 1)
    assert said in ran.faults[0]
    assert not list(Path().glob("out/*"))


def test_a_small_hanging_hole_is_a_finding(run: Run) -> None:
    findings = run("make", "--size", "100mm", "--hole", "1mm top", "--formats", "svg", "--json").json["pieces"][0][
        "findings"
    ]
    assert "small-hole" in {finding["code"] for finding in findings}


def test_a_recipe_with_all_of_them(run: Run) -> None:
    Path("table.toml").write_text(
        """
[[piece]]
name = "table"
size = 100
fold = { depth = 10, at = "left", flat = 8, crease = "dashed", dash = 4, dash_space = 1, stop = 1 }

[[piece]]
name = "tin"
size = 80
lid = { height = 20 }

[[piece]]
name = "sign"
size = "120x80"
[[piece.stand]]
size = 60
[[piece.hole]]
size = 4
at = "top"
"""
    )
    pieces = run("make", "table.toml", "--formats", "svg", "--json").json["pieces"]
    assert [piece["name"] for piece in pieces] == ["table", "tin", "tin-strip", "sign", "sign-foot"]
    # floor((60 - 2 + 1) / (4 + 1)) dashes
    assert pieces[0]["creases"] == 11
