"""The path of a picture on the page: the same curves as in our files, to a hundredth of a pixel."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from frameforge.desk.change import checked
from frameforge.desk.quick_path import quick_path
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, ellipse
from frameforge.job.looking import looking_first
from frameforge.job.make import built
from frameforge.job.motif_source import MotifSource
from frameforge.picture.elements import mm_to_px
from frameforge.picture.path_text import outline_text

from .conftest import RECIPE


def _made(motif: str, count: int) -> Region:
    text = RECIPE.replace("bean-leaf", motif).replace("16", str(count))
    with looking_first():
        (made,) = built(checked(text), MotifSource(Path()), lambda done, of, name: None)
    return made.piece.region


@pytest.mark.parametrize(
    "shape",
    [
        lambda: Region(circle(0, 20)),
        lambda: Region(ellipse(3 + 2j, 40, 12)),
        lambda: _made("bean-leaf", 16),
        lambda: _made("trellis", 8),
    ],
    ids=["circle", "oval", "leaves", "trellises"],
)
def test_the_page_is_shown_the_curves_that_are_written(shape: Callable[[], Region]) -> None:
    region, to_px = shape(), mm_to_px(3.7, 280 + 300j, 1 - 2j)
    ours = quick_path([region], to_px)
    # A region in px would run its outlines the other way round.
    theirs = " ".join(outline_text(one.transformed(to_px), 2) for one in (*region.holes, region.outer))
    assert re.findall(r"[A-Z]", ours) == re.findall(r"[A-Z]", theirs)
    numbers = re.compile(r"-?\d+(?:\.\d+)?")
    pairs = zip(numbers.findall(ours), numbers.findall(theirs), strict=True)
    assert max(abs(float(a) - float(b)) for a, b in pairs) <= 0.0101


def test_nothing_is_drawn_of_no_card() -> None:
    assert quick_path([], mm_to_px(1, 0, 0)) == ""
