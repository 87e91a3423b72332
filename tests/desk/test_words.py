"""The words of the page: those of the craft, one for one thing, none that blames, none from the geometry book."""

from __future__ import annotations

import re
from importlib import resources

import pytest
from fixtures.words import BLAMING, GEOMETRY

from frameforge.recipe.fold_options import FOLD_OPTIONS
from frameforge.recipe.from_options import FILE_OPTIONS, PIECE_OPTIONS, ROW_OPTIONS
from frameforge.recipe.text_fields import TEXT_OPTIONS

PAGE = resources.files("frameforge").joinpath("desk/page")
KEYS = {*PIECE_OPTIONS, *ROW_OPTIONS, *FOLD_OPTIONS, *TEXT_OPTIONS, "hole", "layers", "shape", "middle", *FILE_OPTIONS}


def _sentences(name: str) -> list[str]:
    """Return what a maker may read of a file of the page: texts in quotes of a script, words between tags."""
    text = PAGE.joinpath(name).read_text(encoding="utf-8")
    if name.endswith(".html"):
        return re.findall(r">([^<>]*\w[^<>]*)<", text)
    lines = "\n".join(line.split("//")[0] for line in text.splitlines() if not line.lstrip().startswith(("//", "/**")))
    return [said for said in re.findall(r'["`]([^"`\n]*)["`]', lines) if re.search(r"[A-Za-z] [A-Za-z]", said)]


@pytest.mark.parametrize(
    "name",
    ["index.html", "words.js", "choices.js", "bench.js", "picture.js", "views.js", "main.js", "ask.js", "progress.js"],
)
def test_the_page_speaks_of_card(name: str) -> None:
    said = _sentences(name)
    assert said
    assert [words for words in said if BLAMING.search(words) or GEOMETRY.search(words)] == []


def test_blanks_have_the_names_of_the_recipe() -> None:
    table = PAGE.joinpath("words.js").read_text(encoding="utf-8").split("BLANKS = {")[1].split("\n};")[0]
    blanks = re.findall(r"^  (\w+): \{", table, re.MULTILINE)
    assert len(blanks) >= 18
    assert set(blanks) <= KEYS
