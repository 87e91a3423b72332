"""Curves as paths for the page, the numbers of a whole picture at once."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Final

import numpy as np

from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc, principal_axes
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region

__all__ = ["quick_path"]

_POINT: Final = "%.2f %.2f"
_QUARTER: Final = math.pi / 2 * (1 + 1e-9)
"""Longer arcs are written in parts: near half a turn the rounded radius decides where the middle lies."""


def quick_path(regions: Iterable[Region], to_px: Affine) -> str:
    """Return one path (SVG 1.1, section 8.3) of all outlines of regions in mm, drawn in px to two decimals."""
    words: list[str] = []
    points: list[complex] = []
    for region in regions:
        for outline in (*region.holes, region.outer):
            _add(outline, to_px, words, points)
    drawn = to_px.apply(np.array(points, dtype=np.complex128))
    return " ".join(words) % tuple(np.ascontiguousarray(drawn).view(np.float64).tolist())


def _add(outline: Outline, to_px: Affine, words: list[str], points: list[complex]) -> None:
    """Add the commands of an outline, with room for its points, and the points (mm)."""
    words.append(f"M {_POINT}")
    points.append(outline.segments[0].start)
    for segment in outline.segments:
        if isinstance(segment, Cubic):
            words.append(f"C {_POINT} {_POINT} {_POINT}")
            points += (segment.c1, segment.c2, segment.end)
        elif isinstance(segment, Arc):
            command, count = _arc(segment, to_px), math.ceil(abs(segment.sweep_rad) / _QUARTER)
            words += [command] * max(count, 1)
            points += [segment.point((k + 1) / count) for k in range(count)] or [segment.end]
        else:
            words.append(f"L {_POINT}")
            points.append(segment.end)
    words.append("Z")


def _arc(arc: Arc, to_px: Affine) -> str:
    """Return the command of an arc as drawn, with room for its end. Sweep flag 1: counter-clockwise, y taken as up."""
    u, v = to_px.apply_vector(arc.u), to_px.apply_vector(arc.v)
    long, short, turn_rad = principal_axes(u, v)
    turns_left = ((u.conjugate() * v).imag > 0) == (arc.sweep_rad > 0)
    return f"A {long:.2f} {short:.2f} {math.degrees(turn_rad):.2f} 0 {int(turns_left)} {_POINT}"
