"""The words of the page: those of the craft, one for one thing, none that blames, none from the geometry book."""

from __future__ import annotations

import re
from importlib import resources

import pytest
from fixtures.words import BLAMING, GEOMETRY

PAGE = resources.files("frameforge").joinpath("desk/page")


def _sentences(name: str) -> list[str]:
    """Return what a maker may read of a file of the page: texts in quotes of a script, words between tags."""
    text = PAGE.joinpath(name).read_text(encoding="utf-8")
    if name.endswith(".html"):
        return re.findall(r">([^<>]*\w[^<>]*)<", text)
    lines = "\n".join(line.split("//")[0] for line in text.splitlines() if not line.lstrip().startswith(("//", "/**")))
    return [said for said in re.findall(r'["`]([^"`\n]*)["`]', lines) if re.search(r"[A-Za-z] [A-Za-z]", said)]


NAMES = sorted(entry.name for entry in PAGE.iterdir() if entry.name.endswith((".html", ".js")))


@pytest.mark.parametrize("name", NAMES)
def test_the_page_speaks_of_card(name: str) -> None:
    assert [words for words in _sentences(name) if BLAMING.search(words) or GEOMETRY.search(words)] == []


def test_sentences_are_found_in_the_page() -> None:
    assert {"index.html", "words.js", "clauses.js"} <= {name for name in NAMES if len(_sentences(name)) > 3}
