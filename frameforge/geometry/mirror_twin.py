"""Which curves are mirror images of each other, left to right about x = 0."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from frameforge.geometry.region import Region
from frameforge.geometry.segment_table import SegmentTable
from frameforge.tolerances import SAME_SHAPE_MM

__all__ = ["are_mirrored", "twin_numbers"]

_TELLING = np.array([0.0, 0.2, 0.4, 0.6, 0.8, 1.0])
"""Points at these t tell a line, an arc up to half a turn or a cubic from any other."""

Numbers = tuple[int, ...]


def twin_numbers(table: SegmentTable) -> list[tuple[Numbers, Numbers]]:
    """Return for every segment numbers that tell it from others, and those of its mirror image run backwards.

    Two segments with the same numbers are alike to ``SAME_SHAPE_MM``; an outline and its mirror image run against
    each other, so what one runs forwards the other runs backwards.
    """
    shape = (len(table), len(_TELLING))
    rows, t = np.broadcast_to(np.arange(len(table))[:, None], shape), np.broadcast_to(_TELLING, shape)
    points = table.point(rows, t)
    both = points, -points[:, ::-1].conj()
    grains = [np.round(np.stack([z.real, z.imag], axis=2) / SAME_SHAPE_MM).astype(np.int64) for z in both]
    forth, back = ([tuple(row) for row in g.reshape(len(table), -1).tolist()] for g in grains)
    return list(zip(forth, back, strict=True))


def are_mirrored(one: Sequence[Region], other: Sequence[Region]) -> bool:
    """Whether some regions are the mirror image of others: their segments match one by one."""
    segments = [[s for region in regions for o in region.outlines for s in o.segments] for regions in (one, other)]
    if len(segments[0]) != len(segments[1]):
        return False
    if not segments[0]:
        return True
    ours, theirs = (twin_numbers(SegmentTable.from_segments(row)) for row in segments)
    return sorted(forth for forth, _ in ours) == sorted(back for _, back in theirs)
