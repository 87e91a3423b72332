"""Outlines cut into chords that stay near their curves once these are bent."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

import numpy as np

from frameforge.frame.base import Edge
from frameforge.frame.profile import Complexes, Floats, Indices, Profile
from frameforge.frame.walk import walk_along
from frameforge.geometry.outline import Outline
from frameforge.geometry.segment_table import SegmentTable
from frameforge.tolerances import CHORD_MM

__all__ = ["bent_profile"]

_SAMPLES = 17
_PLACES = 257
_SPARE = 1.1
"""Between samples second derivatives may be greater by this factor."""


@lru_cache(maxsize=256)
def bent_profile(profile: Profile, edge: Edge, side: int, drop_mm: float) -> Profile:
    """Return the same flat outlines in chords that, bent anywhere along the edge, stay within ``CHORD_MM``.

    A chord over a step h of t errs by at most h^2/8 max|P''|; that of the bent curve is bounded by the edge's greatest
    curvature and by the greatest change of it. ``side`` and ``drop_mm`` are those of ``Bends``.
    """
    greatest = _greatest(edge)
    counts = [_counts(outline, greatest, side, drop_mm) for outline in profile.outlines]
    return Profile.from_chord_counts(profile.outlines, counts)


@lru_cache(maxsize=64)
def _greatest(edge: Edge) -> tuple[float, float]:
    """Return the greatest curvature of an edge, 1/mm, and the greatest change of it per mm."""
    walk = walk_along(edge)
    rates = walk.spot(np.linspace(0, walk.length_mm / 4, _PLACES)).curvature_rate
    return 1 / edge.least_radius_mm, _SPARE * float(np.abs(rates).max())


def _counts(outline: Outline, greatest: tuple[float, float], side: int, drop_mm: float) -> Indices:
    """Return into how many chords each segment is cut; a whole outline is no less than a triangle."""
    table = SegmentTable.from_segments(outline.segments)
    shape = (len(table), _SAMPLES)
    rows = np.broadcast_to(np.arange(len(table))[:, None], shape)
    t = np.broadcast_to(np.linspace(0, 1, _SAMPLES), shape)
    flat = table.point(rows, t), table.velocity(rows, t), table.acceleration(rows, t)
    bend = _SPARE * _greatest_acceleration(flat, greatest, side, drop_mm).max(axis=1)
    counts = np.maximum(np.ceil(np.sqrt(bend / (8 * CHORD_MM))), 1).astype(np.intp)
    return np.asarray(np.maximum(counts, -(-3 // len(counts))) if counts.sum() < 3 else counts)


def _greatest_acceleration(flat: Sequence[Complexes], greatest: tuple[float, float], side: int, drop: float) -> Floats:
    """Return an upper bound of |P''| of the bent curve, from the formula in ``Bends.curve``."""
    (z, v, a), (k, rate) = flat, greatest
    up = side * (z.imag - drop)
    wide = 1 + k * np.maximum(up, 0.0)
    across_v, along_v = np.abs(v.imag), np.abs(v.real)
    along = wide * np.abs(a.real) + rate * np.abs(up) * along_v**2 + 2 * k * along_v * across_v
    return np.asarray(np.hypot(along, np.abs(a.imag) + k * wide * along_v**2))
