"""Small holes made larger in their own shape, or filled."""

from __future__ import annotations

from frameforge.check.holes import Hole
from frameforge.geometry.affine import Affine
from frameforge.geometry.nearest import distance
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.mend.patch import Patch
from frameforge.mend.view import View
from frameforge.tolerances import GAP_MM

__all__ = ["enlarge", "enlarge_away", "fill"]


def enlarge(hole: Hole, least_mm: float) -> Patch | None:
    """Return the hole scaled about the middle of its largest disc until that disc is ``least_mm`` across."""
    return None if hole.disc is None else _scaled(hole, least_mm, hole.disc.centre)


def enlarge_away(view: View, hole: Hole, least_mm: float) -> Patch | None:
    """Return the hole scaled about its point nearest to another edge: the card between them keeps its width."""
    others = [outline for loop, outline in enumerate(view.chords.outlines) if loop != hole.loop]
    if not others:
        return None
    return _scaled(hole, least_mm, distance([hole.outline], others).at_a)


def fill(outline: Outline) -> Patch:
    """Return the hole filled."""
    return Patch(fills=(outline,))


def _scaled(hole: Hole, least_mm: float, about: complex) -> Patch | None:
    if hole.disc is None or hole.disc.diameter_mm <= 0:
        return None
    # The largest disc of any but a round hole is known to a thousandth.
    wanted = least_mm if len(hole.outline.segments) == 1 else least_mm + 2 * GAP_MM
    scale = wanted / hole.disc.diameter_mm
    return Patch(cuts=(Region(hole.outline.transformed(Affine.from_scale(scale, about)).reversed()),))
