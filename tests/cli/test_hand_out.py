"""``make --hand-out``: a page a project, read back by pypdf."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from pypdf import PdfReader


def test_a_page_for_each_table_of_the_recipe(run: Callable[..., Any], tmp_path: Path) -> None:
    recipe = tmp_path / "swap.toml"
    recipe.write_text(
        "[files]\nhand_out = true\n"
        '[[piece]]\nname = "lid"\ncard = "moss"\ncopies = 4\nsize = "80mm"\n[[piece.row]]\nmotif = "arch"\ncount = 12\n'
        '[[piece]]\nname = "tag"\nsize = "60mm"\n[[piece.hole]]\nsize = "4mm"\nat = "top"\n',
        encoding="utf-8",
    )
    ran = run("make", str(recipe), "--out", str(tmp_path / "out"))
    assert ran.code == 0, ran.err
    assert "hand-out.pdf" in ran.out
    reader = PdfReader(tmp_path / "out" / "hand-out.pdf")
    lid, tag = (page.extract_text() for page in reader.pages)
    for words in (
        "lid",
        "moss",
        "12 arches round 80 mm",
        "Cut lid 4 times from moss",
        "Pick out 48 bits",
        "By hand",
        "Sharp blade",
        "1 of 2",
    ):
        assert words in lid
    for words in ("tag", "any", "Pick out 1 bit of waste", "2 of 2"):
        assert words in tag
    assert "By hand" not in tag
    again = (tmp_path / "out" / "hand-out.pdf").read_bytes()
    assert run("make", str(recipe), "--out", str(tmp_path / "two")).code == 0
    assert (tmp_path / "two" / "hand-out.pdf").read_bytes() == again


def test_a_laser_is_told_its_own_cautions(run: Callable[..., Any], tmp_path: Path) -> None:
    ran = run("make", "--size", "60mm", "--preset", "card-240-laser", "--hand-out", "--out", str(tmp_path))
    assert ran.code == 0, ran.err
    assert "fumes led outside" in PdfReader(tmp_path / "hand-out.pdf").pages[0].extract_text()


def test_stacks_folds_words_and_rings_are_told_in_their_order(run: Callable[..., Any], tmp_path: Path) -> None:
    recipe = tmp_path / "swap.toml"
    recipe.write_text(
        '[files]\nhand_out = true\nformats = ["svg"]\n'
        '[[piece]]\nname = "mat"\nsize = "120x80mm"\n[[piece.layer]]\ncard = "cream"\nborder = 5\n'
        '[[piece]]\nname = "tent"\nsize = 100\n[[piece.fold]]\ndepth = 10\n'
        '[[piece.text]]\nwords = "Table 3"\nalong = "middle"\n'
        '[[rings]]\nname = "set"\nsizes = "60-100 by 20"\npreset = "card-240-laser"\n',
        encoding="utf-8",
    )
    ran = run("make", str(recipe), "--out", str(tmp_path / "out"))
    assert ran.code == 0, ran.err
    mat, tent, rings = (page.extract_text() for page in PdfReader(tmp_path / "out" / "hand-out.pdf").pages)
    assert "Glue from below: mat-layer-2-cream, then mat." in mat
    assert "card-240-knife: 20 mm a second, 1 pass; least web 1.5 mm, least slot 1 mm, least hole 2 mm." in mat
    steps = [
        tent.index(words) for words in ("Mark tent first, 9 lines", "Crease tent first, 1 line", "Cut tent", "Fold")
    ]
    assert steps == sorted(steps)
    assert '"Table 3", to be marked, in the middle' in tent
    assert "card-240-laser: " in rings
    assert "fumes led outside" in rings
    assert "Glue" not in tent + rings
