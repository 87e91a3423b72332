"""Sheets being filled: pieces laid one after the other at the first free cell in the direction told for each.

Free cells are kept as bits, eight rows in a byte: laying a piece is one AND over its neighbourhood. The table of a pair
is therefore kept at eight bit offsets.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from copy import copy
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from frameforge.sheet.cost import cost_in_sheets
from frameforge.sheet.raster import Cells, Variant, mask_of, no_fit
from frameforge.sheet.stock import FIT_SLACK_MM, StockSheet

__all__ = ["INSIDE", "LEFT", "LOW", "WAYS", "Filled", "Filler", "Order", "Spot"]

INSIDE, LEFT, LOW = range(3)
"""Ways of looking for a place: the tightest opening on any sheet, else as LEFT: the leftmost free cell, and of those
the lowest; LOW: the lowest, and of those the leftmost."""
WAYS = (INSIDE, LEFT, LOW)

Order = Sequence[tuple[int, int]]
"""Pieces in the order they are laid: the design of each, and the way its place is looked for."""

Bits = npt.NDArray[np.uint8]
_Pair = tuple[tuple[Bits, ...], int, int]


@dataclass(frozen=True, slots=True)
class Spot:
    """One piece on the grid: its variant's number, and its box's lower left corner in cells from the margin's."""

    variant: int
    column: int
    row: int


@dataclass(slots=True)
class _Maps:
    """One sheet: what lies on it, and for each variant where it may still stand, stamped as far as needed."""

    kind: int
    area: float = 0.0
    right: float = 0.0
    spots: list[Spot] = field(default_factory=list)
    free: dict[int, Bits] = field(default_factory=dict)
    stamped: dict[int, int] = field(default_factory=dict)
    full: set[int] = field(default_factory=set)


@dataclass(frozen=True, slots=True, eq=False)
class _Table:
    """Where one shape lies in another's openings: bits at eight offsets, the indices of offset (0, 0), how many."""

    bits: tuple[Bits, ...]
    i0: int
    j0: int
    size: int


@dataclass(slots=True)
class _Host:
    """A laid piece with openings, and the shapes that these no longer take."""

    sheet: int
    spot: Spot
    closed: set[int] = field(default_factory=set)


@dataclass(frozen=True, slots=True)
class Filled:
    """The outcome of one order: the spots of each sheet and its kind, and on which sheet each piece came to lie.

    A piece that no sheet took because none was left has the sheet -1. ``order`` is what was laid, ``cost`` what
    ``cost_in_sheets`` makes of it.
    """

    order: tuple[tuple[int, int], ...]
    cost: float
    sheets: tuple[tuple[Spot, ...], ...]
    kinds: tuple[int, ...]
    sheet_of: tuple[int, ...]


class Filler:
    """Fills sheets with variants of designs; keeps the tables of where pairs overlap."""

    def __init__(self, kinds: Sequence[StockSheet], variants: Sequence[Sequence[Variant]], cell_mm: float) -> None:
        """Prepare for designs given by their variants; ``cell_mm`` is the cell of the masks.

        A new sheet is of the first of the ``kinds`` that takes the piece and is not used up.
        """
        self.cell_mm = cell_mm
        self.kinds = tuple(kinds)
        self.variants: list[Variant] = [variant for group in variants for variant in group]
        numbers = iter(range(len(self.variants)))
        self.of_design = [[next(numbers) for _ in group] for group in variants]
        self.areas = [v.area_mm2 for v in self.variants]
        # Designs that differ in small holes only have one mask, and share their tables.
        self._shape = [self._first_alike(v) for v in range(len(self.variants))]
        self._empty = [[self._room(kind, v) for v in self.variants] for kind in self.kinds]
        self._pairs: dict[tuple[int, int], _Pair] = {}
        self._openings: dict[tuple[int, int], _Table | None] = {}

    @property
    def shape_count(self) -> int:
        """How many different masks there are."""
        return len(set(self._shape))

    def on(self, kinds: Sequence[StockSheet]) -> Filler:
        """Return a filler of other sheets that shares the tables of pairs."""
        other = copy(self)
        other.kinds = tuple(kinds)
        other._empty = [[other._room(kind, v) for v in other.variants] for kind in other.kinds]
        return other

    def _first_alike(self, v: int) -> int:
        """Return the first variant that has the mask and the size in cells of variant v."""
        one = self.variants[v]
        for k, other in enumerate(self.variants[:v]):
            if one.is_alike(other):
                return k
        return v

    def _room(self, kind: StockSheet, v: Variant) -> Bits | None:
        """Return where a variant may stand on an untouched sheet, None when nowhere."""
        columns, rows = (
            self._steps(room - size) for room, size in zip(kind.sheet.usable_mm, (v.width_mm, v.height_mm), strict=True)
        )
        free = np.ones((columns, rows), dtype=np.bool_)
        if kind.used and free.size:
            fixed, pad = mask_of(kind.used, kind.sheet.apart_mm, self.cell_mm, kind.sheet.margin_mm)
            hits, i, j = _corner_to_corner(fixed, pad, v.mask, v.pad)
            c0, r0 = max(-i, 0), max(-j, 0)
            part = hits[max(i, 0) : i + columns, max(j, 0) : j + rows]
            free[c0 : c0 + part.shape[0], r0 : r0 + part.shape[1]] &= ~part
        return np.packbits(free, axis=1) if free.any() else None

    def _steps(self, room_mm: float) -> int:
        """Return at how many cells a corner may stand in the room left beside it; none when the room is negative."""
        return max(int(room_mm / self.cell_mm + 1e-9) + 1, 0) if room_mm > -FIT_SLACK_MM else 0

    def fill(self, order: Order) -> Filled:
        """Return the sheets filled in the order of designs; each piece goes on the first sheet that takes it."""
        filled = self.fill_below(order, math.inf)
        assert filled is not None
        return filled

    def fill_below(self, order: Order, most: float) -> Filled | None:
        """Return the sheets filled, None as soon as they cost more than ``most``."""
        sheets: list[_Maps] = []
        sheet_of = []
        hosts: list[_Host] = []
        for design, way in order:
            held = self._in_opening(sheets, hosts, design) if way == INSIDE else None
            place = held or self._on_sheet(sheets, design, way)
            if place is not None:
                number, spot = place
                self._put(sheets[number], spot)
                if self.variants[spot.variant].filled is not None:
                    hosts.append(_Host(number, spot))
            sheet_of.append(place[0] if place else -1)
            if self._cost(sheets, sheet_of[-1] == -1) > most:
                return None
        spots, kinds = tuple(tuple(s.spots) for s in sheets), tuple(s.kind for s in sheets)
        return Filled(tuple(order), self._cost(sheets, sheet_of.count(-1)), spots, kinds, tuple(sheet_of))

    def _put(self, sheet: _Maps, spot: Spot) -> None:
        """Lay a piece on a sheet."""
        sheet.spots.append(spot)
        sheet.area += self.areas[spot.variant]
        sheet.right = max(sheet.right, spot.column * self.cell_mm + self.variants[spot.variant].width_mm)

    def _cost(self, sheets: list[_Maps], unlaid: int) -> float:
        """Return the cost so far; it never falls when another piece is laid."""
        if not sheets:
            return cost_in_sheets([], self.kinds, unlaid, 0.0, 0.0)
        last = sheets[-1]
        width, height = self.kinds[last.kind].sheet.usable_mm
        used = [sheet.kind for sheet in sheets]
        return cost_in_sheets(used, self.kinds, unlaid, last.area / (width * height), last.right / width)

    def _on_sheet(self, sheets: list[_Maps], design: int, way: int) -> tuple[int, Spot] | None:
        """Return the first sheet that takes a design, opening one where none does, and its spot there."""
        for k, sheet in enumerate(sheets):
            spot = self._first_free(sheet, design, way)
            if spot is not None:
                return k, spot
        opened = self._opened(sheets, design, way)
        if opened is None:
            return None
        sheets.append(opened[0])
        return len(sheets) - 1, opened[1]

    def _in_opening(self, sheets: list[_Maps], hosts: list[_Host], design: int) -> tuple[int, Spot] | None:
        """Return sheet and spot in the tightest opening that takes a design, None when none does."""
        found: list[tuple[int, int, _Host, int]] = []
        for v in self.of_design[design]:
            shape = self._shape[v]
            for k, host in enumerate(hosts):
                if shape not in host.closed:
                    table = self._opening(self._shape[host.spot.variant], shape)
                    if table is None or self._empty[sheets[host.sheet].kind][v] is None:
                        host.closed.add(shape)
                    else:
                        found.append((table.size, k, host, v))
        for _, _, host, v in sorted(found, key=lambda entry: entry[:2]):
            cell = self._first_inside(sheets[host.sheet], host, v)
            if cell is not None:
                return host.sheet, Spot(v, *cell)
            host.closed.add(self._shape[v])
        return None

    def _first_inside(self, sheet: _Maps, host: _Host, v: int) -> tuple[int, int] | None:
        """Return the first free cell in the openings of one piece."""
        shape = self._shape[v]
        table = self._opening(self._shape[host.spot.variant], shape)
        empty = self._empty[sheet.kind][v]
        if table is None or empty is None:
            return None
        free = self._stamped(sheet, shape, empty)
        left = host.spot.column - table.i0
        byte, bit = divmod(host.spot.row - table.j0, 8)
        inside = table.bits[bit]
        c0, b0 = max(left, 0), max(byte, 0)
        c1, b1 = min(left + inside.shape[0], free.shape[0]), min(byte + inside.shape[1], free.shape[1])
        if c0 >= c1 or b0 >= b1:
            return None
        cell = _first_cell(free[c0:c1, b0:b1] & inside[c0 - left : c1 - left, b0 - byte : b1 - byte], LEFT)
        return (cell[0] + c0, cell[1] + 8 * b0) if cell else None

    def _opening(self, fixed: int, moved: int) -> _Table | None:
        """Return where ``moved`` lies in an opening of ``fixed``, None when nowhere."""
        key = fixed, moved
        if key not in self._openings:
            a, b = self.variants[fixed], self.variants[moved]
            assert a.filled is not None
            if b.mask.sum() > a.filled.sum() - a.mask.sum():
                self._openings[key] = None
                return None
            over, i0, j0 = _corner_to_corner(a.filled, a.pad, b.mask, b.pad)
            inside = over & ~_corner_to_corner(a.mask, a.pad, b.mask, b.pad)[0]
            columns, rows = np.flatnonzero(inside.any(axis=1)), np.flatnonzero(inside.any(axis=0))
            if not len(columns):
                self._openings[key] = None
            else:
                part = inside[columns[0] : columns[-1] + 1, rows[0] : rows[-1] + 1]
                shifted = tuple(np.packbits(np.pad(part, ((0, 0), (bit, 0))), axis=1) for bit in range(8))
                self._openings[key] = _Table(shifted, i0 - int(columns[0]), j0 - int(rows[0]), int(part.sum()))
        return self._openings[key]

    def _opened(self, sheets: Sequence[_Maps], design: int, way: int) -> tuple[_Maps, Spot] | None:
        """Return a new sheet of the first kind that takes the design, and the design's place on it."""
        taken = Counter(sheet.kind for sheet in sheets)
        for k, kind in enumerate(self.kinds):
            if kind.how_many is None or taken[k] < kind.how_many:
                fresh = _Maps(k)
                spot = self._first_free(fresh, design, way)
                if spot is not None:
                    return fresh, spot
        return None

    def _first_free(self, sheet: _Maps, design: int, way: int) -> Spot | None:
        """Return the free spot that keeps the piece furthest left (lowest) over its variants, None without any."""
        best: tuple[float, int] | None = None
        found: Spot | None = None
        for v in self.of_design[design]:
            empty, shape = self._empty[sheet.kind][v], self._shape[v]
            if empty is None or shape in sheet.full:
                continue
            cell = _first_cell(self._stamped(sheet, shape, empty), way)
            if cell is None:
                sheet.full.add(shape)
                continue
            column, row = cell
            variant = self.variants[v]
            if way == LOW:
                key = (row * self.cell_mm + variant.height_mm, column)
            else:
                key = (column * self.cell_mm + variant.width_mm, row)
            if best is None or key < best:
                best, found = key, Spot(v, column, row)
        return found

    def _stamped(self, sheet: _Maps, v: int, empty: Bits) -> Bits:
        """Return where variants alike v may stand on a sheet, with all pieces laid so far stamped out."""
        free = sheet.free.get(v)
        if free is None:
            free = sheet.free[v] = empty.copy()
        for spot in sheet.spots[sheet.stamped.get(v, 0) :]:
            self._stamp(free, spot, v)
        sheet.stamped[v] = len(sheet.spots)
        return free

    def _stamp(self, free: Bits, spot: Spot, v: int) -> None:
        """Take away the places of variant v that overlap a piece."""
        packed, i0, j0 = self._pair(self._shape[spot.variant], v)
        left = spot.column - i0
        byte, bit = divmod(spot.row - j0, 8)
        clear = packed[bit]
        c0, b0 = max(left, 0), max(byte, 0)
        c1, b1 = min(left + clear.shape[0], free.shape[0]), min(byte + clear.shape[1], free.shape[1])
        if c0 < c1 and b0 < b1:
            free[c0:c1, b0:b1] &= clear[c0 - left : c1 - left, b0 - byte : b1 - byte]

    def _pair(self, fixed: int, moved: int) -> _Pair:
        """Return where ``moved`` is clear of ``fixed``, as bits at eight offsets, and the indices of offset (0, 0)."""
        key = fixed, moved
        if key not in self._pairs:
            a, b = self.variants[fixed], self.variants[moved]
            hits, i0, j0 = _corner_to_corner(a.mask, a.pad, b.mask, b.pad)
            shifted = (np.pad(hits, ((0, 0), (bit, 0))) for bit in range(8))
            self._pairs[key] = tuple(~np.packbits(cells, axis=1) for cells in shifted), i0, j0
        return self._pairs[key]


def _first_cell(free: Bits, way: int) -> tuple[int, int] | None:
    """Return column and row of the first free cell, None when there is none."""
    if way == LOW:
        rows = np.bitwise_or.reduce(free, axis=0)
        byte = int((rows != 0).argmax())
        bit = int(rows[byte]).bit_length()
        return (int((free[:, byte] & (1 << bit - 1) != 0).argmax()), 8 * byte + 8 - bit) if bit else None
    column, byte = divmod(int((free.reshape(-1) != 0).argmax()), free.shape[1])
    bits = int(free[column, byte])
    if not bits:
        return None
    return column, 8 * byte + 8 - bits.bit_length()


def _corner_to_corner(
    fixed: Cells, fixed_pad: tuple[int, int], moved: Cells, moved_pad: tuple[int, int]
) -> tuple[Cells, int, int]:
    """Return where two masks overlap, and the indices of the offset that puts their corners on one another."""
    hits, i, j = no_fit(fixed, moved)
    return hits, i + fixed_pad[0] - moved_pad[0], j + fixed_pad[1] - moved_pad[1]
