"""Regions: what card is, as an outer outline with holes."""

from __future__ import annotations

from dataclasses import dataclass

from frameforge.geometry.affine import Affine
from frameforge.geometry.outline import Outline

__all__ = ["Region"]


@dataclass(frozen=True, slots=True)
class Region:
    """One connected area: an outer outline, run counter-clockwise (y up), and holes, run clockwise.

    Outlines do not cross themselves or each other. Results of ``geometry.combine`` keep this; who builds a region by
    hand and is not sure of direction or crossings passes it through ``combine.evaluate``.
    """

    outer: Outline
    holes: tuple[Outline, ...] = ()

    @property
    def outlines(self) -> tuple[Outline, ...]:
        """The outer outline, then the holes."""
        return (self.outer, *self.holes)

    @property
    def segment_count(self) -> int:
        """Number of lines, arcs and cubics in all outlines."""
        return sum(len(outline.segments) for outline in self.outlines)

    def transformed(self, affine: Affine) -> Region:
        """Return the image under an affine map that does not flatten; a mirror keeps the directions right."""
        moved = [outline.transformed(affine) for outline in self.outlines]
        if affine.determinant < 0:
            moved = [outline.reversed() for outline in moved]
        return Region(moved[0], tuple(moved[1:]))
