"""The recipe as lines of a DXF. JSON strings by RFC 8259; what they must not hold, by the DXF readers we know."""

from __future__ import annotations

import json

import pytest
from fixtures.cut_pages import RECIPE

from frameforge.read.kept_recipe import RECIPE_LINE
from frameforge.write.kept import LINE_BYTES, kept_element, kept_lines
from frameforge.write.marker import BLANK_MARKER

AWKWARD = 'name = "O\'Radish \\u00e9 \\U+00E9 ^J %%d"\t# é 花 🌱\n\n  x = 1   \n' + "y" * 999


def test_a_recipe_is_a_line_of_json_for_each_line_of_its_own() -> None:
    lines = kept_lines(RECIPE)
    assert lines[0] == r'frameforge recipe "units = \"mm\"\n"'
    assert lines[1] == r'frameforge recipe "\n"'
    assert lines[-1] == BLANK_MARKER


@pytest.mark.parametrize("recipe", [RECIPE, AWKWARD, "\ud800 alone", ""])
def test_the_lines_are_short_plain_ascii_and_give_the_recipe_back(recipe: str) -> None:
    *lines, marker = kept_lines(recipe)
    assert marker == BLANK_MARKER
    assert all(len(line) <= LINE_BYTES and line.isascii() and line.isprintable() for line in lines)
    assert "".join(json.loads(line.removeprefix(RECIPE_LINE)) for line in lines) == recipe


def test_nothing_in_them_means_something_to_a_dxf_reader() -> None:
    text = "\n".join(kept_lines(AWKWARD))
    assert "^" not in text
    assert "\\U+" not in text
    assert "\\M+" not in text


def test_without_a_recipe_only_the_marker_is_kept() -> None:
    assert [child.tag for child in kept_element("")] == ["proof"]
    assert [child.tag for child in kept_element(RECIPE)] == ["recipe", "proof"]
