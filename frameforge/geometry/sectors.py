"""Expressions that come round again and again: copies in even turns about 0, with discs about 0.

What such an expression covers in one sector hangs only on the copies that reach into it, since union, difference and
intersection are settled point by point. So it is enough to work out a few sectors; ``geometry.turned`` turns what came
of one of them for all the others.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from frameforge.geometry.arc import Arc
from frameforge.geometry.expression import Copies, Expression, leaves_of, with_copies
from frameforge.geometry.ragged import counted
from frameforge.geometry.region import Region
from frameforge.geometry.segment_table import Complexes, Floats, SegmentTable
from frameforge.tolerances import CHORD_MM, NATURAL_JOINT_MM

__all__ = ["Sectors", "sectors_of"]

_WIDEST_RAD = math.pi / 4
"""A motif that takes up more of the turn, seen from 0, is not worked out by sectors."""

_LEAST_MM = 1.0
"""Nor is one that comes nearer to 0: its directions say little there."""

_PART = 0.5
"""Only where no more than this part of the copies is needed is it worth while."""

_MOST = 1000
"""Segments of a sector at most: those of one are looked for among those of the next, each among all."""


@dataclass(frozen=True, slots=True)
class Sectors:
    """``part`` is the expression with those copies only that reach into the sectors -1, 0 and 1, or next to them.

    The whole is the same after a turn by one of ``count`` sectors. Places are told in sectors counter-clockwise from
    the direction ``middle_rad``.
    """

    count: int
    middle_rad: float
    part: Expression

    def place(self, z: Complexes) -> Floats:
        """Return in which sector points lie, from -count/2 to count/2."""
        around = np.angle(z * np.exp(-1j * self.middle_rad))
        return np.asarray(around * self.count / math.tau, dtype=np.float64)

    def turn(self, sectors: Floats | int) -> Complexes:
        """Return the factor that turns points by so many sectors."""
        return np.asarray(np.exp(1j * np.asarray(sectors) * (math.tau / self.count)), dtype=np.complex128)


def sectors_of(expression: Expression) -> Sectors | None:
    """Return the sectors of an expression; None where it has none, or where too few copies could be spared."""
    copies = []
    for leaf in leaves_of(expression):
        if isinstance(leaf, Copies) and leaf.placements:
            copies.append(leaf)
        elif not isinstance(leaf, Region) or not _is_round(leaf):
            return None
    count = math.gcd(*(len(leaf.placements) for leaf in copies))
    if count * _PART < 1 or sum(leaf.region.segment_count * len(leaf.placements) for leaf in copies) > _MOST * count:
        return None
    spans = [span for leaf in copies if (span := _Span.from_copies(leaf, count)) is not None]
    if len(spans) < len(copies):
        return None
    return _parted(expression, copies, spans, count)


def _parted(expression: Expression, copies: list[Copies], spans: list[_Span], count: int) -> Sectors | None:
    """Return the sectors, the first of which lies about the first copy; None where too few copies could be spared.

    Segments that start in the sectors 0 and 1, as ``turned`` parts them somewhere from -1 to 2, end no further on than
    a motif is wide, or than the next motif of the kind is away: up to there all copies must be there.
    """
    widest = max((span.high - span.low).max() for span in spans)
    reach = max(1.0, float(widest))
    sectors = Sectors(count, float(np.angle(spans[0].middle[0])), expression)
    kept = {}
    for leaf, span in zip(copies, spans, strict=True):
        place = sectors.place(span.middle)
        is_near = (place + span.high >= -1 - reach) & (place + span.low <= 2 + reach)
        if is_near.sum() > _PART * len(is_near):  # so, too, where these sectors would come half-way round
            return None
        kept[id(leaf)] = Copies(leaf.region, tuple(leaf.placements[k] for k in np.flatnonzero(is_near).tolist()))
    return Sectors(count, sectors.middle_rad, with_copies(expression, kept))


@dataclass(frozen=True, slots=True, eq=False)
class _Span:
    """Where copies lie: a point of each (mm), and how far each reaches to both sides of it, in sectors."""

    middle: Complexes
    low: Floats
    high: Floats

    @classmethod
    def from_copies(cls, copies: Copies, count: int) -> _Span | None:
        """Return where the copies lie; None where a turn by one of ``count`` sectors does not carry them onto others,
        or where they are wide or near to 0."""
        a, b, c = (np.array([getattr(p, name) for p in copies.placements], dtype=np.complex128) for name in "abc")
        table = SegmentTable.from_segments([s for outline in copies.region.outlines for s in outline.segments])
        row, step = counted(many := table.chord_counts(CHORD_MM))
        point = table.point(row, step / many[row])
        each = len(a) // count
        if not _comes_round((a, b, c), float(abs(point).max()), count):
            return None
        placed = a[:each, None] * point + b[:each, None] * point.conj() + c[:each, None]
        middle = placed.mean(axis=1)
        around = np.angle(placed * middle.conj()[:, None])
        low, high = around.min(axis=1), around.max(axis=1)
        nearest = float(abs(placed).min())
        if (high - low).max() > _WIDEST_RAD or nearest < _LEAST_MM or abs(middle).min() < _LEAST_MM:
            return None
        slack, sectors = 2 * CHORD_MM / nearest, count / math.tau
        mean = point.mean()
        return cls(
            a * mean + b * mean.conjugate() + c,
            np.tile((low - slack) * sectors, count),
            np.tile((high + slack) * sectors, count),
        )


def _comes_round(maps: tuple[Complexes, Complexes, Complexes], reach_mm: float, count: int) -> bool:
    """Whether maps, in their order, are the same again after every turn by one of ``count`` sectors, either way."""
    each = len(maps[0]) // count
    for way in (-1, 1):
        turn = np.exp(way * 1j * math.tau / count)
        a, b, c = (abs(np.roll(part, -each) - turn * part).max() for part in maps)
        if (a + b) * reach_mm + c <= NATURAL_JOINT_MM:
            return True
    return False


def _is_round(region: Region) -> bool:
    """Whether a region is bounded by circles about 0 alone."""
    return all(
        isinstance(segment, Arc) and segment.is_circular and abs(segment.center) <= NATURAL_JOINT_MM
        for outline in region.outlines
        for segment in outline.segments
    )
