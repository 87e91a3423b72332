"""Places stated in a recipe, by the command: written as stated, kept in the files, refused with exit code 3."""

from __future__ import annotations

from pathlib import Path

import pytest

from frameforge.cli.entry import main

RECIPE = """\
[files]
formats = ["svg"]

[sheets]
laid = [
  { piece = "tag", from_left = 50, from_bottom = 40 },
  { piece = "tag", from_left = 120, from_bottom = 40, turn = "90deg" },
]

[[piece]]
name = "tag"
size = "60x30mm"
copies = 2
"""


def made(folder: Path, text: str, *options: str) -> int:
    folder.mkdir(exist_ok=True)
    recipe = folder / "tag.toml"
    recipe.write_text(text, encoding="utf-8")
    return main(["make", str(recipe), "--out", str(folder / "out"), *options])


def test_the_files_keep_the_places_and_make_the_same_again(tmp_path: Path) -> None:
    assert made(tmp_path / "a", RECIPE) == 0
    sheet = tmp_path / "a" / "out" / "sheet-1.svg"
    assert main(["make", str(sheet), "--out", str(tmp_path / "b")]) == 0
    assert (tmp_path / "b" / "sheet-1.svg").read_bytes() == sheet.read_bytes()


def test_places_too_near_end_with_nothing_written_and_an_offer_that_works(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    near = RECIPE.replace("120", "97")
    assert made(tmp_path, near) == 3
    said = capsys.readouterr().err
    assert "tag.toml line 5, laid 2: on sheet 1 tag 2 lies 2 mm from tag 1, 3 mm wanted. Write from_left = " in said
    assert not (tmp_path / "out").exists()
    assert "--apart 2mm" in said
    assert made(tmp_path, near, "--apart", "2mm") == 0
