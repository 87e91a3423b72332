"""Layers typed behind an option: colour, border, opening."""

from __future__ import annotations

import pytest

from frameforge.recipe.layer_text import layer_tables


@pytest.mark.parametrize(
    ("text", "tables"),
    [
        ("cream 5mm, brick 5mm", [{"card": "cream", "border": "5mm"}, {"card": "brick", "border": "5mm"}]),
        ("cream 2,5mm; brick 5mm", [{"card": "cream", "border": "2,5mm"}, {"card": "brick", "border": "5mm"}]),
        ("dark moss 1/4 in closed", [{"card": "dark moss", "border": "1/4 in", "opening": "closed"}]),
        ("cream -5mm same", [{"card": "cream", "border": "-5mm", "opening": "same"}]),
        ("card-2 .5in", [{"card": "card-2", "border": ".5in"}]),
        ("5mm", [{"border": "5mm"}]),
        ("cream", [{"card": "cream"}]),
    ],
)
def test_layers_as_tables(text: str, tables: list[dict[str, str]]) -> None:
    assert layer_tables(text) == tables
