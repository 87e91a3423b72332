"""What makes no rings: edges that cross or leave too little card between them, motifs that meet the next edge."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

import numpy as np
import shapely

from frameforge.card.preset import Preset
from frameforge.errors import GeometryError, InputError
from frameforge.frame.base import Edge
from frameforge.frame.rim import least_rim_mm
from frameforge.frame.spec import Size
from frameforge.frame.wording import size_words
from frameforge.geometry.flatten import flatten_outline
from frameforge.geometry.nearest import distance
from frameforge.geometry.outline import Outline
from frameforge.sets.bond import holds
from frameforge.tolerances import CHORD_MM, TOUCH_MM
from frameforge.units import format_floor

__all__ = ["check_sizes", "lies_within", "ring_words", "stays_clear", "widths_mm"]

_SLACK_MM = 1e-9
_NEAR_CHORDS = 4
"""Chords further apart than this many times their distance from the curves belong to curves that do not meet."""


def ring_words(outside: Size, *, is_disc: bool) -> str:
    """Return a ring as it is spoken of, by its outer edge: "ring of 100 mm", "disc of 60 x 40 mm"."""
    return f"{'disc' if is_disc else 'ring'} of {_plain(outside)}"


def widths_mm(sizes: Sequence[Size]) -> tuple[float, ...]:
    """Return the least width of card between each edge and the next (mm); 0 or less where one passes the other."""
    edges = [Edge.from_size(size) for size in sizes]
    return tuple(least_rim_mm(outer, inner) for inner, outer in itertools.pairwise(edges))


def check_sizes(name: str, sizes: Sequence[Size], preset: Preset) -> None:
    """Refuse fewer than two edges, and neighbours with less card between them than this card's least neck (mm).

    ``sizes`` go from the smallest to the largest. Raises InputError and GeometryError, the latter with what to leave
    out so that all other rings hold.
    """
    if len(sizes) < 2:
        say = "rings need two sizes or more. For one alone write --size."
        raise InputError(say, where=name, code="few-rings")
    least = preset.least_neck_mm
    for (inner, outer), width in zip(itertools.pairwise(sizes), widths_mm(sizes), strict=True):
        if width >= least - _SLACK_MM:
            continue
        edges = f"between {_plain(inner)} and {_plain(outer)}"
        if width <= 0:
            say = f"{edges} there is no ring, since the two edges cross or touch."
        else:
            say = f"{edges} a ring is {format_floor(width)} wide, this card needs {least:g} mm."
        say += _without(sizes, inner, least)
        raise GeometryError(say, where=name, code="thin-ring", width_mm=width, limit_mm=least)


def _without(sizes: Sequence[Size], inner: Size, least: float) -> str:
    """Return what to do: the sizes that are left when as few as need be are left out, so that all rings hold."""
    kept: list[Size] = []
    for size in reversed(sizes):
        if not kept or widths_mm((size, kept[0]))[0] >= least - _SLACK_MM:
            kept.insert(0, size)
    if len(kept) < 2:
        return " Make the steps between the sizes larger."
    if len(kept) == len(sizes) - 1:
        gone = next(size for size in sizes if size not in kept)
        return f" Leave {size_words(gone)} out, or make the step from {size_words(inner)} larger."
    listed = ", ".join(map(size_words, kept))
    return f' Take --rings "{listed}".' if len(listed) <= 60 else " Make the steps between the sizes larger."


def lies_within(inner: Outline, outer: Outline) -> bool:
    """Whether one outline lies within another without coming nearer to it than ``TOUCH_MM``."""
    return stays_clear(inner, (outer,)) and holds(outer, inner.segments[0].start)


def stays_clear(line: Outline, others: Sequence[Outline]) -> bool:
    """Whether a line neither meets nor touches any of the others.

    Looked at on chords first: only where those come near each other are the curves themselves compared.
    """
    if not others:
        return True
    rings = [_ring(outline) for outline in others]
    if float(shapely.distance(_ring(line), shapely.MultiLineString(rings))) > _NEAR_CHORDS * CHORD_MM:
        return True
    return distance([line], list(others)).gap_mm > TOUCH_MM


def _ring(outline: Outline) -> shapely.LinearRing:
    points = flatten_outline(outline).points
    return shapely.LinearRing(np.column_stack((points.real, points.imag)))


def _plain(size: Size) -> str:
    sides = (size.width_mm,) if size.is_circle else (size.width_mm, size.height_mm)
    return f"{' x '.join(f'{side:g}' for side in sides)} mm"
