"""``guide`` through the command line: what it says, what it refuses, and that its files are kept as others are."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader


def _text(ran: Any, page: int = 0) -> str:
    assert ran.code == 0, ran.err
    return PdfReader(Path(ran.json["out"]) / ran.json["files"][0]).pages[page].extract_text()


def test_a_bare_foot_is_enough(run: Callable[..., Any]) -> None:
    ran = run("guide", "--foot", "20", "--size", "100mm", "--count", "14", "--json")
    assert ran.json["files"] == ["guide-foot-14-on-100mm.pdf"]
    assert ran.json["pages"] == 1
    text = _text(ran)
    for words in (
        "Base circle 100 mm (3.94 in).",
        "14 feet round 100 mm",
        "gap 2.3 mm each",
        "One every 25.71 deg.",
        "334.29 deg",
        "100 mm",
        "4 in",
        "50 x 50 mm",
        "Sharp blade",
    ):
        assert words in text


def test_a_motif_is_drawn_where_it_goes_and_its_gap_is_the_real_one(run: Callable[..., Any]) -> None:
    ran = run("guide", "--motif", "bean-leaf", "--size", "76mm", "--count", "16", "--opening", "50mm", "--json")
    assert "16 bean leaves round 76 mm" in _text(ran)


def test_an_oval_tells_the_way_along_its_edge(run: Callable[..., Any]) -> None:
    """Half way round 150 x 100 is 198.318 mm: half of the perimeter 396.636 (complete elliptic integral)."""
    ran = run("guide", "--motif", "arch", "--size", "150x100mm", "--count", "16", "--json")
    text = "".join(_text(ran, page) for page in range(ran.json["pages"]))
    assert "198.3 mm" in text
    assert "deg" not in text.replace("degrees", "")


def test_a_recipe_gives_a_guide_for_every_piece(run: Callable[..., Any], tmp_path: Path) -> None:
    recipe = tmp_path / "two.toml"
    recipe.write_text(
        '[[piece]]\nname = "lid"\nsize = "80mm"\n[[piece.row]]\nmotif = "arch"\ncount = 12\n'
        '[[piece]]\nname = "tag"\nsize = "60mm"\n[[piece.hole]]\nsize = "4mm"\nat = "top"\n'
        '[[piece.row]]\nmotif = "scallop"\ncount = 12\nskip = [1]\n',
        encoding="utf-8",
    )
    ran = run("guide", str(recipe), "--json")
    assert ran.code == 0, ran.err
    assert ran.json["files"] == ["guide-lid.pdf", "guide-tag.pdf"]
    assert ran.json["pages"] == 2
    again = run("guide", str(recipe), "--json")
    assert again.code == 0


def test_same_input_same_bytes(run: Callable[..., Any], tmp_path: Path) -> None:
    words = ("guide", "--motif", "arch", "--size", "90mm", "--count", "12", "--json")
    one, two = (run(*words, "--out", str(tmp_path / folder)) for folder in ("a", "b"))
    assert one.code == two.code == 0
    name = one.json["files"][0]
    assert (tmp_path / "a" / name).read_bytes() == (tmp_path / "b" / name).read_bytes()


def test_a_bare_grid_marks_the_circle_that_closes(run: Callable[..., Any]) -> None:
    """8 feet of 20 mm, 4 mm apart, close on 62.048 mm: chord geometry."""
    ran = run("guide", "--grid", "--count", "8", "--foot", "20", "--gap", "4", "--json")
    text = _text(ran)
    words = ("8 spokes, one every 45 deg", "315 deg", "diameters in mm", "8 feet", "62 mm", "A circle every 10 mm")
    assert [word for word in words if word not in text] == []


def test_a_grid_in_inches_has_circles_every_half_inch(run: Callable[..., Any]) -> None:
    text = _text(run("guide", "--grid", "--count", "12", "--size", "6in", "--json"))
    assert "half inch" in text
    assert "diameters in in" in text


def test_paper_lies_the_way_that_takes_fewer_pages(run: Callable[..., Any]) -> None:
    ran = run("guide", "--grid", "--count", "6", "--size", "230mm", "--page", "A3")
    assert ran.code == 0
    assert "1 page of A3" in ran.out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), 'guide: neither a motif nor a foot. Add --motif, for example --motif arch, or --foot 20mm.'),
        (("--grid",), "guide, --grid: how many spokes? Add --count, for example --count 8."),
        (("--grid", "--count", "1"), "guide, --count 1: a grid takes 2 to 360 spokes."),
        (("--grid", "--count", "8", "--size", "90x50mm"), "a grid is round"),
        (("--foot", "20", "--size", "100", "--page", "A9"), "too small for the measuring bar"),
        (("--foot", "20", "--size", "100", "--page", "A44"), "no sheet of that name"),
        (("--foot", "20", "--size", "100", "--overlap", "-3mm"), "--overlap"),
        (("--foot", "20", "--size", "100", "--place", "window"), "a motif is needed for this"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_told_in_one_line(run: Callable[..., Any], words: tuple[str, ...], said: str) -> None:
    ran = run("guide", *words)
    assert ran.code == 2
    assert said in ran.err
    assert len(ran.err.strip().splitlines()) == 1


def test_more_feet_than_go_round_are_refused_with_what_works(run: Callable[..., Any]) -> None:
    ran = run("guide", "--foot", "20", "--size", "20mm", "--count", "14")
    assert ran.code == 3
    assert ran.err.startswith("guide: 14 feet do not go round a 20 mm circle")
    assert "--size 98.7mm" in ran.err


def test_a_foreign_file_is_left_alone(run: Callable[..., Any], tmp_path: Path) -> None:
    there = tmp_path / "guide-foot-14-on-100mm.pdf"
    there.write_bytes(b"mine")
    ran = run("guide", "--foot", "20", "--size", "100mm", "--count", "14", "--out", str(tmp_path))
    assert ran.code == 4
    assert there.read_bytes() == b"mine"


def test_what_a_guide_does_not_show_is_said(run: Callable[..., Any], tmp_path: Path) -> None:
    tent = (
        '[[piece]]\nname = "tent"\nsize = 100\n[[piece.fold]]\ndepth = 10\n[[piece.row]]\nmotif = "arch"\ncount = 8\n'
        '[[piece.text]]\nwords = "Table 3"\nalong = "middle"\n'
    )
    (tmp_path / "tent.toml").write_text(tent, encoding="utf-8")
    ran = run("guide", "tent.toml")
    assert ran.code == 0, ran.err
    assert "One half is shown. Fold the card double, the fold 10 mm in from the edge at 12 o'clock." in ran.out
    assert "Words are not shown: letter them by hand." in ran.out
    rings = '[[rings]]\nsizes = "60-140 by 20"\n[[rings.row]]\nmotif = "arch"\ncount = 24\n'
    (tmp_path / "rings.toml").write_text(rings, encoding="utf-8")
    ran = run("guide", "rings.toml")
    assert ran.code == 2
    assert ran.faults == [
        "rings.toml: rings are cut along one line for two, which no guide shows. Write the ring that takes the motifs "
        "as a [[piece]], its inside as the opening."
    ]


def test_a_guide_proves_that_it_is_ours_where_a_run_ended_before_it_was_listed(
    run: Callable[..., Any], tmp_path: Path
) -> None:
    words = ("guide", "--foot", "20", "--size", "60mm", "--count", "8", "--name", "spokes")
    assert run(*words).code == 0
    (tmp_path / "out" / "run.json").unlink()
    assert run(*words).code == 0
    (guide,) = (tmp_path / "out").glob("*.pdf")
    guide.write_bytes(guide.read_bytes() + b"\n")
    assert run(*words).code == 4
