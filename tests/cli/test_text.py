"""Words through the command line and the recipe: marked, cut through, joined; kept in the files; refused."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

SVG = "{http://www.w3.org/2000/svg}"
DEJAVU = Path("/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf")


def _groups(path: Path) -> dict[str, list[str]]:
    root = ET.parse(path).getroot()
    return {g.attrib["id"]: [p.attrib["d"] for p in g.iter(f"{SVG}path")] for g in root.iter(f"{SVG}g")}


def _piece(ran: Any) -> dict[str, Any]:
    assert ran.code == 0, ran.err
    (piece,) = ran.json["pieces"]
    assert isinstance(piece, dict)
    return piece


def test_a_badge_with_a_name_to_be_marked(run: Callable[..., Any], tmp_path: Path) -> None:
    out = tmp_path / "out"
    piece = _piece(
        run("make", "--size", "60mm", "--text", "Tansel Rootley", "--name", "badge", "--out", str(out), "--json")
    )
    assert sorted(piece["files"]) == ["cut.svg", "dxf", "mark.svg", "png", "svg"]
    assert piece["inside_cuts"] == 0
    groups = _groups(out / "badge.svg")
    assert list(groups) == ["cut", "mark"]
    # Letters of one outline each but for a, e, R and o with two: T a n s e l R o o t l e y.
    assert groups["mark"][0].count("M") == 13 + 6
    assert list(_groups(out / "badge.mark.svg")) == ["mark"]
    assert "C" in groups["mark"][0]


def test_words_cut_through_leave_one_piece(run: Callable[..., Any]) -> None:
    words = (
        "--size",
        "120x80mm",
        "--opening",
        "84x44mm",
        "--text",
        "BOARD 8",
        "--as",
        "window",
        "--letter-size",
        "9mm",
    )
    piece = _piece(run("make", *words, "--json"))
    assert piece["parts"] == 1
    assert piece["inside_cuts"] > 7
    assert not any(finding["code"] == "loose" for finding in piece["findings"])


@pytest.mark.parametrize(
    ("words", "holes"),
    [
        (("--size", "120x80mm", "--opening", "84x44mm", "--text", "Seed swap", "--letter-size", "9mm"), 7),
        (("--size", "100mm", "--text", "Peas & beans", "--letter-size", "12mm"), 9),
    ],
    ids=["oval", "disc"],
)
def test_joined_letters_shut_in_no_slivers(words: tuple[str, ...], holes: int, run: Callable[..., Any]) -> None:
    """Round letters stand on a round edge: what lies between their feet and it is card, unless it can be cut."""
    (piece,) = run("make", *words, "--as", "join", "--formats", "svg", "--json").json["pieces"]
    assert piece["inside_cuts"] == holes
    sizes = [found["measured"] for found in piece["findings"] if found["code"] in ("small-hole", "waste-crumb")]
    assert min(sizes, default=1.0) >= 1.0


def test_joined_words_make_the_piece_larger(run: Callable[..., Any]) -> None:
    piece = _piece(
        run(
            "make",
            "--size",
            "80mm",
            "--opening",
            "70mm",
            "--text",
            "Minty",
            "--as",
            "join",
            "--letter-size",
            "8mm",
            "--json",
        )
    )
    assert piece["parts"] == 1
    assert 86 < piece["height_mm"] < 91


def test_the_file_makes_the_words_again(run: Callable[..., Any], tmp_path: Path) -> None:
    one, two = tmp_path / "one", tmp_path / "two"
    words = ("--size", "90mm", "--text", "Seed swap", "--as", "window", "--along", "middle", "--letter-size", "12mm")
    assert run("make", *words, "--name", "sign", "--out", str(one)).code == 0
    assert run("make", str(one / "sign.svg"), "--out", str(two)).code == 0
    assert (one / "sign.svg").read_bytes() == (two / "sign.svg").read_bytes()
    assert (one / "sign.dxf").read_bytes() == (two / "sign.dxf").read_bytes()


@pytest.mark.skipif(not DEJAVU.exists(), reason="fonts-dejavu-core is not there")
def test_a_recipe_names_a_font_of_the_maker_s_own(run: Callable[..., Any], tmp_path: Path) -> None:
    (tmp_path / "Mine.ttf").write_bytes(DEJAVU.read_bytes())
    recipe = tmp_path / "sign.toml"
    recipe.write_text(
        '[[piece]]\nname = "sign"\nsize = "90mm"\n[[piece.text]]\nwords = "שלום"\nfont = "Mine.ttf"\nsize = "8mm"\n'
        '[[piece.text]]\nwords = "Élodeà"\nreads = "inside"\n',
        encoding="utf-8",
    )
    assert _piece(run("make", str(recipe), "--json"))["files"]["mark.svg"] == "sign.mark.svg"


def test_the_report_lists_the_words_and_what_there_is_to_mark(run: Callable[..., Any], tmp_path: Path) -> None:
    recipe = tmp_path / "sign.toml"
    recipe.write_text(
        '[[piece]]\nname = "sign"\nsize = "90mm"\n[[piece.text]]\nwords = "Seed *swap*"\n'
        '[[piece.text]]\nwords = "8"\nas = "window"\nalong = "middle"\nsize = "12mm"\n',
        encoding="utf-8",
    )
    ran = run("make", str(recipe), "--formats", "svg", "--out", str(tmp_path / "out"), "--json")
    assert ran.code == 0, ran.err
    (piece,) = ran.json["pieces"]
    report = (tmp_path / "out" / "report.md").read_text(encoding="utf-8")
    assert '- Words: "Seed \\*swap\\*", to be marked, along the rim, Overpass Regular\n' in report
    assert '- Words: "8", cut through, in the middle, Overpass Bold\n' in report
    assert f"- To mark: {piece['mark_length_mm']:.1f} mm\n" in report
    # S e e d * s w a p *: letters of one outline, but for e, e, d, a and p with two.
    assert piece["marks"] == 10 + 5
    assert f"{piece['mark_length_mm']:.1f} mm to mark in 15 lines, about " in ran.err
    assert "takes sign.mark.svg and sign.cut.svg in turn." in ran.err


@pytest.mark.skipif(not DEJAVU.exists(), reason="fonts-dejavu-core is not there")
def test_another_font_of_that_name_is_told(run: Callable[..., Any], tmp_path: Path) -> None:
    """A file keeps which font its words were set in."""
    mine = tmp_path / "Mine.ttf"
    mine.write_bytes(DEJAVU.read_bytes())
    words = ("--size", "60mm", "--text", "Ixo", "--font", "Mine.ttf", "--name", "sign", "--formats", "svg")
    assert run("make", *words, "--out", ".").code == 0
    assert run("make", "sign.svg", "--out", "two").code == 0
    assert (tmp_path / "two" / "sign.svg").read_bytes() == (tmp_path / "sign.svg").read_bytes()
    mine.write_bytes(DEJAVU.with_name("DejaVuSans-Bold.ttf").read_bytes())
    ran = run("make", "sign.svg", "--out", "three")
    assert ran.code == 2
    assert ran.faults == [
        'sign.svg, text 1, font "Mine.ttf": DejaVu Sans Bold in this file is not the font that the words were set in. '
        "Put that one back, or take this one with --font Mine.ttf."
    ]
    ran = run("make", "sign.svg", "--font", "Mine.ttf", "--out", "three")
    assert ran.code == 0, ran.err


def test_words_that_shrink_are_told(run: Callable[..., Any]) -> None:
    ran = run("make", "--size", "60mm", "--text", "Bartholomallow Featherstonecrop")
    assert ran.code == 0
    assert "Took letters" in ran.out
    assert "so that they have room" in ran.out


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (("--text", "אב"), 2, 'make: Overpass Regular has no letter for "א", "ב".'),
        (("--as", "window"), 2, "make, --as: there are no words that it could be of."),
        (("--text", "A", "--as", "jojn"), 2, 'make, --as "jojn": no such choice.'),
        (("--text", "A", "--font", "none.ttf"), 4, 'make, --font "none.ttf": no such file.'),
        (("--text", "A", "--as", "join", "--along", "middle"), 2, "no edge to be joined to"),
        (("--text", "A", "--letter-size", "40mm"), 3, "do not go round so tight an edge"),
        (("--text", " "), 2, "no words"),
    ],
)
def test_what_cannot_be_is_told_in_one_line(
    run: Callable[..., Any], words: tuple[str, ...], code: int, said: str
) -> None:
    ran = run("make", "--size", "60mm", *words)
    assert said in ran.err
    assert ran.code == code
    assert len(ran.err.strip().splitlines()) == 1


def test_words_of_a_list_need_the_list(run: Callable[..., Any], tmp_path: Path) -> None:
    recipe = tmp_path / "badge.toml"
    recipe.write_text('[[piece]]\nsize = "60mm"\n[[piece.text]]\ncolumn = "name"\n', encoding="utf-8")
    ran = run("make", str(recipe))
    assert ran.code == 2
    assert '"name" comes from a list of names' in ran.err
