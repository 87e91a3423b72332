"""Slits between two rows: motifs of one that come near those of another without meeting them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np
import shapely

from frameforge.finding import Finding
from frameforge.frame.piece import PlacedMotif, RowResult
from frameforge.frame.wording import place_words, plural
from frameforge.geometry.flatten import flatten_outline, to_polygon
from frameforge.geometry.region import Region
from frameforge.motif.motif import Motif
from frameforge.tolerances import CHORD_MM, TOUCH_MM
from frameforge.units import format_floor

if TYPE_CHECKING:
    from frameforge.geometry.nearest import Closest

__all__ = ["slits_between_rows"]

Rings = tuple[np.ndarray[tuple[int], np.dtype[np.complex128]], ...]


def slits_between_rows(rows: Sequence[RowResult], region: Region, limit_mm: float) -> Iterator[tuple[int, Finding]]:
    """Yield a warning for every slit between motifs of two rows of a piece that is narrower than the card's limit.

    With each comes the number of the later row, from 0. Measured between the true outlines of the card joined on;
    motifs that meet are one, and where card of the piece ``region`` lies between there is no slit.
    """
    solid = [k for k, row in enumerate(rows) if row.place != "window" and row.repeats]
    for k, first in enumerate(solid):
        for second in solid[k + 1 :]:
            for pair, closest in _slits(rows[first].repeats, rows[second].repeats, limit_mm):
                if not _is_card(region, closest):
                    yield second, _finding(pair, closest, limit_mm)


def _finding(pair: tuple[PlacedMotif, PlacedMotif], closest: Closest, limit_mm: float) -> Finding:
    b = pair[1]
    names = " and the ".join(plural(repeat.motif.name) for repeat in pair)
    say = (
        f"A slit of {format_floor(closest.gap_mm)} between the {names} of two rows, this card needs {limit_mm:.1f} mm."
    )
    spot = (closest.at_a + closest.at_b) / 2
    return Finding(
        "narrow-slot", "warning", say, place_words(b.motif.name, b.position, b.direction_deg),
        x_mm=spot.real, y_mm=spot.imag, measured=closest.gap_mm, limit=limit_mm,
    )  # fmt: skip


def _slits(
    one: Sequence[PlacedMotif], other: Sequence[PlacedMotif], limit_mm: float
) -> Iterator[tuple[tuple[PlacedMotif, PlacedMotif], Closest]]:
    """Yield pairs of motifs nearer than the limit that do not meet, with their closest points."""
    from frameforge.geometry.nearest import distance  # here, since most pieces have one row

    shapes = np.array([_shape(repeat) for repeat in other])
    tree = shapely.STRtree(shapes)
    for repeat in one:
        shape = _shape(repeat)
        for k in sorted(tree.query(shape, predicate="dwithin", distance=limit_mm).tolist()):
            if shapely.intersects(shape, shapes[k]):
                continue
            placed = [[r.outer.transformed(p.placement) for r in p.motif.join] for p in (repeat, other[k])]
            closest = distance(*placed)
            if TOUCH_MM < closest.gap_mm < limit_mm - TOUCH_MM:
                yield (repeat, other[k]), closest


def _is_card(region: Region, closest: Closest) -> bool:
    """Whether card of the piece lies all about the middle of a gap; beside two feet only its floor does."""
    spot = (closest.at_a + closest.at_b) / 2
    card, point = to_polygon(region), shapely.Point(spot.real, spot.imag)
    return bool(card.contains(point)) and card.boundary.distance(point) > closest.gap_mm / 2 + CHORD_MM


def _shape(repeat: PlacedMotif) -> shapely.MultiPolygon:
    """Return the filled outlines of a motif where it stands, as chords."""
    rings = [repeat.placement.apply(points) for points in _chords(repeat.motif)]
    return shapely.MultiPolygon([shapely.Polygon(np.column_stack([ring.real, ring.imag])) for ring in rings])


@lru_cache
def _chords(motif: Motif) -> Rings:
    return tuple(flatten_outline(region.outer).points for region in motif.join)
