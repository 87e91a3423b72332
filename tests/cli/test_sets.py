"""Rings, layers and what an opening gives, from the command line: files, words, numbers, refusals."""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

SVG = "{http://www.w3.org/2000/svg}"
ONLY_SVG = ("--formats", "svg")


def paths(name: str) -> list[str]:
    """The path data of a cut file."""
    return [path.get("d", "") for path in ET.parse(Path("out") / name).iter(f"{SVG}path")]


def test_rings_as_written(run: Callable[..., Any]) -> None:
    """pi (60 + ... + 140) = 1570.796 mm in five loops of one path."""
    ran = run("make", "--rings", "60-140 by 20", "--formats", "svg,dxf")
    assert (ran.code, ran.err) == (0, "")
    (path,) = paths("rings-60-140mm.svg")
    assert (path.count("M"), path.count("Z")) == (5, 5)
    assert "4 rings and a disc, every edge between two of them cut once (1131 mm of cutting saved):" in ran.out
    assert "    ring  100 mm (3.94 in)  80 mm (3.15 in)   10 mm" in ran.out
    assert "Nothing to pick out, 1570.8 mm to cut in 5 lifts" in ran.out
    assert Path("out/rings-60-140mm.dxf").read_text(encoding="ascii").count("LWPOLYLINE") >= 5
    report = Path("out/report.md").read_text(encoding="utf-8")
    assert "| ring | 140 mm (5.51 in) | 120 mm (4.72 in) | 10 mm |" in report


def test_rings_with_motifs_make_themselves_again(run: Callable[..., Any]) -> None:
    ran = run("make", "--rings", "60-140 by 20", "--motif", "arch", "--count", "24", *ONLY_SVG, "--json")
    (piece,) = ran.json["pieces"]
    assert piece["width_mm"] == pytest.approx(155.083, abs=5e-4)
    assert (piece["parts"], piece["lifts"], piece["waste_bits"], piece["inside_cuts"]) == (5, 29, 24, 28)
    assert piece["rows"][0]["foot_gap_mm"] == pytest.approx(2.291, abs=5e-4)
    assert [ring["card"] for ring in piece["rings"]] == ["disc", "ring", "ring", "ring", "ring"]
    first = Path("out", piece["files"]["svg"]).read_bytes()
    assert run("make", f"out/{piece['files']['svg']}", "--out", "again").code == 0
    assert Path("again", piece["files"]["svg"]).read_bytes() == first


def test_the_edge_of_another_ring(run: Callable[..., Any]) -> None:
    ran = run(
        "make", "--rings", "60-120 by 20", "--motif", "scallop", "--count", "12", "--on", "80", *ONLY_SVG, "--json"
    )
    rings = ran.json["pieces"][0]["rings"]
    plain = [math.pi / 4 * (outer**2 - inner**2) for inner, outer in ((0, 60), (60, 80), (80, 100), (100, 120))]
    more = [ring["area_mm2"] - area for ring, area in zip(rings, plain, strict=True)]
    assert (more[0], more[3]) == pytest.approx((0, 0), abs=1e-6)
    assert more[2] < -100
    assert ran.json["pieces"][0]["width_mm"] == pytest.approx(120)


def test_kerf_takes_its_part_of_every_ring(run: Callable[..., Any]) -> None:
    """Steps of 20 across are 10 wide; .2 of kerf leaves 9.8 where both edges are shared."""
    ran = run("make", "--rings", "60-140 by 20", "--kerf", "0.2mm", *ONLY_SVG, "--json")
    (piece,) = ran.json["pieces"]
    assert [ring["cut_width_mm"] for ring in piece["rings"]] == pytest.approx([59.8, 9.8, 9.8, 9.8, 9.9])
    assert piece["cut_length_mm"] == pytest.approx(math.pi * 500.2)
    assert piece["width_mm"] == 140
    assert "9.8 mm" in ran.err
    assert "the beam takes 0.1 mm off each side of it" in ran.err


def test_a_ring_that_kerf_leaves_too_thin_is_told(run: Callable[..., Any]) -> None:
    ran = run("make", "--rings", "60, 63.2, 80mm", "--kerf", "0.2mm", *ONLY_SVG)
    assert "thin-web: ring of 63.2 mm: 1.4 mm wide once the beam has taken its part of both edges" in ran.out


RINGS = ("--rings", "60-100 by 20")
LOOSE = (
    "rings share the lines between them, so none sits loosely in the next. Leave clearance out, or write each ring as"
)
MATS = ("--size", "100mm", "--opening", "60mm")


@pytest.mark.parametrize(
    ("words", "code", "begin", "end"),
    [
        (
            (*RINGS, "--clearance", "0.3mm"), 2, f"make, --clearance: {LOOSE} a piece of its own: ",
            "size 59.4mm goes into opening 60mm of size 80mm.",
        ),
        ((*RINGS, "--size", "5in"), 2, "make, --size: this does not go with rings", "states. Leave out --size."),
        (
            (*RINGS, "--motif", "arch", "--on", "70"), 2, 'make, --on "70mm": none of the rings has this size.',
            "Take one of 60mm, 80mm, 100mm.",
        ),
        (
            ("--rings", "60-100 by 30"), 2, 'make, --rings "60-100 by 30": steps of 30 mm from 60mm do not',
            "Write 60mm - 90mm by 30mm or 60mm - 120mm by 30mm.",
        ),
        (
            ("--rings", "60,61mm"), 3, "make: between 60 mm and 61 mm a ring is 0.5 mm wide, this card needs 1.5 mm.",
            "Make the steps between the sizes larger.",
        ),
        (
            ("--size", "150x100mm", "--layers", "cream -34mm"), 3,
            "plain-150x100mm-layer-2-cream: 34 mm inside the edge of a 150 x 100 mm oval no border is ",
            "33.33 mm in from its ends the edge comes to a point. Take 33.33 mm in all or less.",
        ),
        (
            ("--size", "100mm", "--layers", "cream 5mm", "--match", "holes"), 3, "plain-100mm: the top card hides the ",
            "there is one alone to match. Take --match notches, or leave --match out.",
        ),
        (("--size", "100mm", "--layers", "cream"), 2, 'make, --layers: no "border". Write a length', "below it shows."),
        (("--size", "100mm", "--inside", "keep"), 2, "make, --inside: there is no opening", "opening or rim too."),
        (
            (*MATS, "--inside", "58mm"), 3, "plain-100mm: an opening of 58mm leaves 1 mm of card inside, this card ",
            "needs 1.5 mm. Take 57mm or less.",
        ),
        (
            ("--rings", "60-100", "by", "20"), 2, 'make: "by 20" stands alone after --rings 60-100. ',
            'Write "60-100 by 20" in quotes.',
        ),
    ],
)  # fmt: skip
def test_what_is_refused_is_told_in_one_line(
    run: Callable[..., Any], words: tuple[str, ...], code: int, begin: str, end: str
) -> None:
    ran = run("make", *words)
    assert (ran.code, len(ran.faults)) == (code, 1)
    assert ran.faults[0].startswith(begin)
    assert ran.faults[0].endswith(end)
    assert not Path("out").exists()


def test_layers_as_written(run: Callable[..., Any]) -> None:
    ran = run("make", "--size", "120x80mm", "--layers", "cream 5mm, brick 5mm", *ONLY_SVG, "--json")
    assert ran.code == 0
    names = ["plain-120x80mm", "plain-120x80mm-layer-2-cream", "plain-120x80mm-layer-3-brick"]
    assert [piece["name"] for piece in ran.json["pieces"]] == names
    assert [piece["card"] for piece in ran.json["pieces"]] == [None, "cream", "brick"]
    assert [piece["cut_length_mm"] for piece in ran.json["pieces"]] == pytest.approx(
        [317.309, 348.725, 380.141], abs=6e-4
    )
    assert [piece["area_mm2"] for piece in ran.json["pieces"]] == pytest.approx([7539.82, 9204.91, 11027.07], abs=6e-3)
    assert [layer["border_mm"] for layer in ran.json["pieces"][0]["layers"]] == [None, 5, 5]
    assert "Stack of 3 cards, 0.9 mm thick, from the top down:" in ran.err
    assert "lay brick down, glue cream on it with 5 mm of brick showing all round" in ran.err


def test_layers_with_an_opening_match_one_way_and_make_themselves_again(run: Callable[..., Any]) -> None:
    words = ("--size", "150x100mm", "--opening", "110x60mm", "--layers", "cream 5mm, brick 5mm", "--match", "holes")
    ran = run("make", *words, "--name", "mat", "--card", "moss", *ONLY_SVG, "--json")
    assert [piece["inside_cuts"] for piece in ran.json["pieces"]] == [1, 3, 3]
    assert "Matching holes of 3 and 4.5 mm in the 2 cards below the top one" in ran.err
    first = Path("out/mat-layer-3-brick.svg").read_bytes()
    assert run("make", "out/mat-layer-2-cream.svg", "--out", "again").code == 0
    assert {path.name for path in Path("again").glob("*.svg")} == {
        "mat.svg",
        "mat-layer-2-cream.svg",
        "mat-layer-3-brick.svg",
    }
    assert Path("again/mat-layer-3-brick.svg").read_bytes() == first


def test_notches_tell_the_order(run: Callable[..., Any]) -> None:
    ran = run(
        "make",
        "--size",
        "100mm",
        "--layers",
        "cream 5mm; brick 5mm; moss 5mm",
        "--match",
        "notches",
        *ONLY_SVG,
        "--json",
    )
    assert [piece["inside_cuts"] for piece in ran.json["pieces"]] == [0, 1, 2, 3]


@pytest.mark.slow
@pytest.mark.parametrize(
    ("words", "first"),
    [
        (("--motif", "strawberry-corner", "--count", "12", "--rim", "13.9mm", "--match", "notches"), "--rim 17.9mm"),
        (("--motif", "strawberry-corner", "--count", "12", "--rim", "8mm", "--match", "notches"), "--scale 0.52"),
        (("--motif", "bean-leaf", "--count", "12", "--rim", "1mm", "--match", "holes"), "--rim 6mm"),
        (("--motif", "bean-leaf", "--count", "12", "--opening", "96mm", "--match", "holes"), "--opening 88mm"),
    ],
)
def test_ways_out_hold_with_the_marks_of_the_stack(run: Callable[..., Any], words: tuple[str, ...], first: str) -> None:
    """What the topmost card can be made with is no way out where the marks that it hides find no room then."""
    line = ["--size", "100mm", "--layers", "cream 5mm, moss 5mm, sand 5mm", *words]
    ran = run("make", *line)
    assert ran.code == 3
    assert f"Take {first}" in ran.faults[0]
    key, value = first.split()
    typed = (
        [*line, key, value] if key not in line else [*line[: line.index(key) + 1], value, *line[line.index(key) + 2 :]]
    )
    assert run("make", *typed, *ONLY_SVG, "--json").code == 0


def test_what_comes_out_of_an_opening(run: Callable[..., Any]) -> None:
    """One line for both: pi 160. With a play of .3, 60 - .6 = 59.4 across, and a line of its own."""
    tight = run(
        "make", "--size", "100mm", "--opening", "60mm", "--inside", "keep", "--name", "frame", *ONLY_SVG, "--json"
    )
    (piece,) = tight.json["pieces"]
    assert (piece["parts"], piece["waste_bits"]) == (2, 0)
    assert piece["cut_length_mm"] == pytest.approx(math.pi * 160)
    assert "59.4 mm (2.34 in) would sit loosely, with 0.3 mm of play all round." in tight.err
    loose = run(
        "make", "--size", "100mm", "--opening", "60mm", "--inside", "keep", "--clearance", "0.3mm", "--name", "frame",
        *ONLY_SVG, "--json", "--out", "loose",
    )  # fmt: skip
    frame, disc = loose.json["pieces"]
    assert disc["name"] == "frame-inside"
    assert disc["width_mm"] + 2 * 0.3 == pytest.approx(60)
    assert frame["cut_length_mm"] == pytest.approx(math.pi * 160)


def test_a_smaller_frame_out_of_an_opening(run: Callable[..., Any]) -> None:
    ran = run("make", "--size", "100mm", "--opening", "60mm", "--inside", "40mm", *ONLY_SVG, "--json")
    (piece,) = ran.json["pieces"]
    assert [part["card"] for part in piece["inside"]] == ["frame", "frame", "disc"]
    assert piece["cut_length_mm"] == pytest.approx(math.pi * 200)


def test_rings_and_pieces_in_one_recipe(run: Callable[..., Any]) -> None:
    Path("swap.toml").write_text(
        '[[piece]]\nname = "seal"\nsize = 60\n'
        '[[rings]]\nname = "graded"\nsizes = "60-100 by 20"\n'
        '[[rings.row]]\non = 80\nmotif = "scallop"\ncount = 12\n'
        '[[rings.row]]\nmotif = "arch"\ncount = 8\n',
        encoding="utf-8",
    )
    ran = run("make", "swap.toml", *ONLY_SVG, "--json")
    assert [piece["name"] for piece in ran.json["pieces"]] == ["seal", "graded"]
    assert [row["motif"] for row in ran.json["pieces"][1]["rows"]] == ["scallop", "arch"]


@pytest.mark.slow
def test_a_recipe_of_rings_is_looked_at_as_it_is_made(run: Callable[..., Any]) -> None:
    Path("swap.toml").write_text('[[rings]]\nname = "graded"\nsizes = "60-100 by 20"\n', encoding="utf-8")
    ran = run("check", "swap.toml", "--out", "looked", "--json")
    assert (ran.code, ran.json["files"][0]["parts"], ran.json["files"][0]["inside_cuts"]) == (0, 3, 2)


@pytest.mark.slow
def test_a_stack_is_pictured_as_it_is_glued(run: Callable[..., Any]) -> None:
    ran = run("make", "--size", "60mm", "--layers", "cream 5mm", "--name", "mat", "--json")
    assert ran.json["pieces"][0]["files"]["stack.png"] == "mat-stack.png"
    assert Path("out/mat-stack.png").read_bytes().startswith(b"\x89PNG")
    assert "stack.png" not in ran.json["pieces"][1]["files"]


def test_a_piece_goes_into_the_opening_of_another(run: Callable[..., Any]) -> None:
    Path("swap.toml").write_text(
        '[[piece]]\nname = "frame"\nsize = 100\nopening = 60\n'
        '[[piece]]\nname = "mat"\nfrom_opening = "frame"\nclearance = 0.3\nopening = 30\n',
        encoding="utf-8",
    )
    ran = run("make", "swap.toml", *ONLY_SVG)
    assert "Its opening of 60 mm (2.36 in) takes mat of 59.4 mm (2.34 in) with 0.3 mm of play all round." in ran.out
    assert "Goes into the opening of frame with 0.3 mm of play all round." in ran.out
    assert run("make", "out/mat.svg", "--out", "again", "--json").json["pieces"][0]["width_mm"] == pytest.approx(59.4)


@pytest.mark.slow
def test_a_file_of_rings_is_looked_at_as_rings_and_not_mended(run: Callable[..., Any]) -> None:
    """Within a shared line lies a card of its own, and no loose part of the one round it."""
    run("make", "--rings", "60-100 by 20", "--name", "graded", *ONLY_SVG)
    run("make", "--size", "100mm", "--opening", "60mm", "--inside", "keep", "--name", "frame", *ONLY_SVG)
    looked = run("check", "out/graded.svg", "out/frame.svg", "--json").json["files"]
    assert [(file["parts"], file["findings"]) for file in looked] == [(3, []), (2, [])]
    mended = run("mend", "out/graded.svg", "--out", "mended")
    assert (mended.code, len(mended.faults)) == (2, 1)
    assert mended.faults[0].endswith("what is mended on one would change the next. Change its recipe instead.")


@pytest.mark.parametrize(("sheet", "size"), [('sheet = "A4"\n', "A4"), ("", "12 x 12 in")])
def test_rings_are_laid_as_one(run: Callable[..., Any], sheet: str, size: str) -> None:
    """Three lines a set on the sheet as in its own file; sizes in inches go on 12 x 12 in."""
    asked = "" if sheet else "[sheets]\n"
    text = f'{asked}[[rings]]\nname = "graded"\ncopies = 2\nsizes = "1.5in - 3.5in by 1in"\n{sheet}'
    Path("swap.toml").write_text(text, encoding="utf-8")
    ran = run("make", "swap.toml", *ONLY_SVG, "--json")
    (made,) = ran.json["sheets"]
    assert made["lifts"] == 2 * 3
    assert size in ran.err
