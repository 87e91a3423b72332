"""A style's stroke properties become a pen.

Source: SVG 2 sections 13.5.2 - 13.5.6 (initial values, odd dash lists taken twice, negative values not rendered).
"""

from __future__ import annotations

import pytest

from frameforge.read.svg_stroke import Pen, pen_of
from frameforge.read.svg_style import ROOT_STYLE, inherit


def pen(viewport: complex = 100 + 100j, **properties: str) -> Pen:
    """Return the pen of these stroke properties (without their ``stroke-``)."""
    return pen_of(inherit(ROOT_STYLE, {f"stroke-{key}": value for key, value in properties.items()}), viewport)


def test_initial_values() -> None:
    assert pen() == Pen(1, "butt", "miter", 4)


def test_values_are_taken() -> None:
    found = pen(width="2mm", linecap="round", linejoin="bevel", miterlimit="2.5", dashoffset="3")
    assert found.width == pytest.approx(2 * 96 / 25.4)
    assert (found.cap, found.join, found.mitre_limit, found.dash_offset) == ("round", "bevel", 2.5, 3)
    assert pen(linejoin="miter-clip").join == "miter"
    assert pen(miterlimit=".5").mitre_limit == 1


def test_percentages_are_of_the_viewports_diagonal() -> None:
    """sqrt(30^2 + 40^2) / sqrt(2), so 10 % of 35.355."""
    assert pen(30 + 40j, width="10%").width == pytest.approx(3.5355339)


@pytest.mark.parametrize(
    ("text", "dashes"),
    [
        ("none", ()),
        ("5", (5, 5)),
        ("5, 2 1", (5, 2, 1, 5, 2, 1)),
        ("1 2,3 4", (1, 2, 3, 4)),
        ("0 0", ()),
        ("4 -1", ()),
        ("4 dots", ()),
        ("1em 2", (16, 2)),
        ("0 5", (0, 5)),
    ],
)
def test_dashes(text: str, dashes: tuple[float, ...]) -> None:
    assert pen(dasharray=text).dashes == pytest.approx(dashes)


def test_a_negative_width_counts_as_not_given() -> None:
    assert pen(width="-3").width == 1
    assert pen(width="wide").width == 1
