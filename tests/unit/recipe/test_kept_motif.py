"""A motif kept as text comes back in the same bits."""

from __future__ import annotations

import math

import pytest

from frameforge.errors import InputError
from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle
from frameforge.motif.motif import Motif
from frameforge.recipe.kept_motif import kept_motif, read_motif
from frameforge.recipe.model import MotifTable
from frameforge.recipe.recipe import check_recipe
from frameforge.recipe.source import Source


def kept_table(motif: Motif) -> MotifTable:
    """Return the table of a kept motif as a recipe reads it."""
    raw = {"piece": [{"size": 50}], "motif": {"m": kept_motif(motif)}}
    return check_recipe(raw, Source("a.svg")).tables.motif["m"]


def sample() -> Motif:
    """Return a motif with every kind of segment, a hole, and numbers that no short decimal holds."""
    arc = Arc.from_circle(0, 10 / 3, 0.0, math.pi)
    outline = Outline((arc, Cubic(arc.end, -3 - 0.1j, -1 / 3 - 0.7j, -1e-7 - 1j), Line(-1e-7 - 1j, arc.start)))
    skewed = outline.transformed(Affine(0.7 + 0.1j, 0.2, 1 / 7))
    hole = circle(0.1 + 1j, 0.3).reversed()
    return Motif(
        "daisy", join=(Region(skewed, (hole,)),), foot_mm=20 / 3, window=(Region(circle(5j, 0.1)),), sink_mm=0.1
    )


def test_a_kept_motif_comes_back_in_the_same_bits() -> None:
    motif = sample()
    again = read_motif("daisy", kept_table(motif), "")
    assert again == motif
    assert kept_motif(again) == kept_motif(motif)


@pytest.mark.parametrize(
    "outline",
    [
        "",
        "M",
        "M 0 0",
        "M 0 0 L 1 1",
        "L 0 0",
        "M 0 0 Q 1 1 0 0",
        "M 0 0 L nan 0",
        "M 0 0 L 1e400 0 L 0 0",
        "M 0 0 C 1 1",
    ],
)
def test_a_kept_motif_that_was_changed_is_refused(outline: str) -> None:
    table = MotifTable(3.0, join=((outline,),))
    with pytest.raises(InputError, match=r"was changed and cannot be read\. Name its SVG file instead\."):
        read_motif("daisy", table, "a.svg")


def test_a_kept_motif_without_outlines_is_refused() -> None:
    with pytest.raises(InputError):
        read_motif("daisy", MotifTable(3.0), "")
    with pytest.raises(InputError):
        read_motif("daisy", MotifTable(3.0, join=((),)), "")
