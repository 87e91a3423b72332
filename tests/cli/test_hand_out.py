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
