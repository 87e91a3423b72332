"""What came of one sector of a result, turned for all the others.

Each segment belongs to the sector in which it starts. Those of one sector must be found again in the next, and each
must be followed by the same one there: then the whole is these segments under every turn, and what follows what says
how they join up into rings. Whatever does not come round so is told by None, and is worked out as it stands.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from frameforge.geometry.measure import ring_areas_mm2
from frameforge.geometry.outline import Outline
from frameforge.geometry.ragged import counted, following, row_starts
from frameforge.geometry.sectors import Sectors
from frameforge.geometry.segment_table import ARC, Bools, Complexes, Floats, Ints, SegmentTable
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.emit import from_smallest_joint
from frameforge.tolerances import JOINT_MM, NATURAL_JOINT_MM

__all__ = ["TurnedRings", "turned"]

_CLEAR = 1e-6
"""Part of a sector that must be free of joints where sectors are parted."""


@dataclass(frozen=True, slots=True, eq=False)
class TurnedRings:
    """All rings of the whole, the outer one first, and the places (mm) where they touch."""

    rings: Chains
    touches: tuple[complex, ...]

    @property
    def outlines(self) -> dict[int, Outline]:
        """The outlines by the number of their ring."""
        segments, first = self.rings.table.to_segments(), self.rings.first.tolist()
        return {k: Outline(tuple(segments[first[k] : first[k + 1]])) for k in range(len(first) - 1)}

    @property
    def polygon(self) -> Ints:
        """The polygon of each ring: all are of one."""
        return np.zeros(len(self.rings.first) - 1, dtype=np.intp)


def turned(rings: Chains, touches: tuple[complex, ...], sectors: Sectors) -> TurnedRings | None:
    """Return the rings of the whole for the closed ``rings`` of ``sectors.part``, whose outlines meet in ``touches``.

    None where they do not come round again, or make up other than one region.
    """
    places = _Places.from_rings(rings, np.array(touches, dtype=np.complex128), sectors)
    if places is None:
        return None
    order = places.in_rings(sectors.count)
    if order is None:
        return None
    row, sector, ring = order
    round_rows = np.flatnonzero(places.is_round)
    ring = np.concatenate([ring, len(ring) + np.arange(len(round_rows))])
    turn = sectors.turn(np.concatenate([sector, np.zeros(len(round_rows))]))
    table = rings.table.taken(np.concatenate([row, round_rows])).turned(turn)
    table, first = _joined_up(table, row_starts(ring))
    outer = np.flatnonzero(ring_areas_mm2(table, first) > 0)
    if len(outer) != 1:
        return None
    table, first = _begun_with(table, first, int(outer[0]))
    met = (places.touches[:, None] * sectors.turn(np.arange(sectors.count))).ravel()
    met = met[np.lexsort((np.round(met.imag, 8), np.round(met.real, 8)))]
    return TurnedRings(Chains(table, first, np.zeros(len(first) - 1, dtype=bool)), tuple(met.tolist()))


def _is_full_turn(rings: Chains) -> Bools:
    """Return which segments are rings by themselves: whole circles and ellipses."""
    return np.asarray((rings.following == np.arange(len(rings.table))) & (rings.table.kind == ARC))


@dataclass(frozen=True, slots=True, eq=False)
class _Places:
    """Segments of one sector (``rows``) with what follows each: ``after`` (an index of ``rows``), ``sectors_on`` on.

    ``is_round`` tells which rings of the part are circles about 0; ``touches`` are those of the sector.
    """

    rows: Ints
    after: Ints
    sectors_on: Ints
    is_round: Bools
    touches: Complexes

    @classmethod
    def from_rings(cls, rings: Chains, touches: Complexes, sectors: Sectors) -> _Places | None:
        table, is_full = rings.table, _is_full_turn(rings)
        is_round = is_full & (abs(table.k1) <= NATURAL_JOINT_MM)
        place = sectors.place(np.where(is_full, table.k1, table.start))
        met = sectors.place(touches)
        cut = _cut(np.concatenate([place[~is_round], met]))
        if cut is None:
            return None
        sector = np.where(is_round, len(table), np.floor(place - cut).astype(np.intp))
        own, others = np.flatnonzero(sector == 0), np.flatnonzero(sector == 1)
        image = _images(_Marks.of(table, own, is_full).turned(sectors.turn(1)), _Marks.of(table, others, is_full))
        touch = touches[np.floor(met - cut) == 0]
        met_next = touches[np.floor(met - cut) == 1]
        if image is None or _same(touch * sectors.turn(1), met_next) is None:
            return None
        number = np.full(len(table), -1)
        number[own], number[others[image]] = np.arange(len(own)), np.arange(len(own))
        after = _following(rings.following, sector, number, own, others[image])
        return None if after is None else cls(own, *after, is_round, touch)

    def in_rings(self, count: int) -> tuple[Ints, Ints, Ints] | None:
        """Return row, sector and ring of all segments of the whole, ring by ring; None for rings that go round more
        than once."""
        parts: list[tuple[Ints, Ints, Ints]] = []
        many, is_left = 0, np.ones(len(self.rows), dtype=bool)
        after, on = self.after.tolist(), self.sectors_on.tolist()
        for begin in range(len(after)):
            if not is_left[begin]:
                continue
            members, steps, at, step = [begin], [0], after[begin], on[begin]
            while at != begin:
                members.append(at)
                steps.append(step)
                step += on[at]
                at = after[at]
            is_left[members] = False
            if abs(step) > 1:
                return None
            turn = np.repeat(np.arange(count) * (step or 1), len(members))
            ring = np.full(len(turn), many) if step else many + np.repeat(np.arange(count), len(members))
            parts.append((np.tile(self.rows[members], count), turn + np.tile(steps, count), ring))
            many += 1 if step else count
        if not parts:
            return (np.zeros(0, dtype=np.intp),) * 3
        row, sector, ring = (np.concatenate(column) for column in zip(*parts, strict=True))
        return row, sector, ring


@dataclass(frozen=True, slots=True, eq=False)
class _Marks:
    """What segments are told apart by: points (n, 3) that turn with them, and sizes (n, 2) that do not."""

    points: Complexes
    sizes: Floats

    @classmethod
    def of(cls, table: SegmentTable, rows: Ints, is_full: Bools) -> _Marks:
        some, full = table.taken(rows), is_full[rows, None]
        half = some.point(np.arange(len(rows)), np.full(len(rows), 0.5))
        points = np.stack([some.start, half, some.end], axis=1)
        # A whole circle starts anywhere: it is told by its middle.
        points = np.where(full, some.k1[:, None], points)
        axes = np.where(some.kind == ARC, abs(some.k2) + abs(some.k3), 0.0)
        return cls(points, np.stack([axes, some.sweep + 10.0 * some.kind], axis=1))

    def turned(self, turn: Complexes) -> _Marks:
        """Return the marks after a turn about 0."""
        return _Marks(self.points * turn, self.sizes)


def _images(marks: _Marks, others: _Marks) -> Ints | None:
    """Return the number of the one that is alike for each; None where they do not pair off."""
    if len(marks.points) != len(others.points):
        return None
    apart = abs(marks.points[:, None] - others.points[None]).max(axis=2)
    apart = np.maximum(apart, abs(marks.sizes[:, None] - others.sizes[None]).max(axis=2))
    return _pairs(apart)


def _same(points: Complexes, others: Complexes) -> Ints | None:
    """Return the number of the same point for each; None where they do not pair off."""
    return _pairs(abs(points[:, None] - others[None])) if len(points) == len(others) else None


def _pairs(apart: Floats) -> Ints | None:
    """Return for each row of a square table of distances the one column that is nothing; None without."""
    is_pair = apart <= JOINT_MM
    if not ((is_pair.sum(axis=0) == 1).all() and (is_pair.sum(axis=1) == 1).all()):
        return None
    return np.asarray(is_pair.argmax(axis=1)) if len(apart) else np.zeros(0, dtype=np.intp)


def _cut(place: Floats) -> float | None:
    """Return where to part sectors, from -1 to 0: in the middle of the widest stretch without joints."""
    within = np.sort(place[(place >= -1) & (place < 2)] % 1)
    if not len(within):
        return -0.5
    free = np.diff(np.append(within, within[0] + 1))
    widest = int(free.argmax())
    return float((within[widest] + free[widest] / 2) % 1 - 1) if free[widest] > _CLEAR else None


def _following(after: Ints, sector: Ints, number: Ints, own: Ints, images: Ints) -> tuple[Ints, Ints] | None:
    """Return the number of what follows each segment of the sector, and how many sectors on that is.

    It is read off in the sector and in the next one, where both know it from both. None where they do not agree.
    """
    found = np.full((2, len(own)), -1)
    on = np.zeros((2, len(own)), dtype=np.intp)
    for k, rows in enumerate((own, images)):
        found[k], on[k] = number[after[rows]], sector[after[rows]] - k
    number_of, sectors_on = (np.where(found[0] >= 0, column[0], column[1]) for column in (found, on))
    differ = (found >= 0).all(axis=0) & ((found[0] != found[1]) | (on[0] != on[1]))
    if differ.any() or not np.array_equal(np.sort(number_of), np.arange(len(own))):
        return None
    return number_of, sectors_on


def _joined_up(table: SegmentTable, first: Ints) -> tuple[SegmentTable, Ints]:
    """Return rings whose segments end where the next one starts, each started at its smallest joint."""
    after = following(first)
    is_full = (after == np.arange(len(after))) & (table.kind == ARC)
    start = np.where(is_full, table.k1 + table.k2, table.start)
    q0 = np.where(is_full, 0.0, table.q0)
    order = from_smallest_joint(start, first)
    return replace(table, start=start, end=start[after], q0=q0).taken(order), first


def _begun_with(table: SegmentTable, first: Ints, ring: int) -> tuple[SegmentTable, Ints]:
    """Return the rings with one of them put first."""
    order = np.concatenate([[ring], np.delete(np.arange(len(first) - 1), ring)])
    many = np.diff(first)[order]
    which, step = counted(many)
    return table.taken(first[order][which] + step), np.concatenate([[0], np.cumsum(many)]).astype(np.intp)
