"""Rings made, and ways out where motifs on one edge meet the next one: each was tried by making the rings."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from itertools import islice

from frameforge.card.preset import Preset
from frameforge.errors import FrameforgeError, GeometryError, InputError
from frameforge.frame.make import make_piece
from frameforge.frame.piece import Piece
from frameforge.frame.spec import PieceSpec
from frameforge.frame.ways import sentence_of
from frameforge.frame.wording import size_words
from frameforge.sets.rings import EdgeRow, Rings, RingsSpec, ring_specs, to_rings

__all__ = ["Maker", "make_rings"]

Maker = Callable[[PieceSpec, tuple[int, ...]], Piece]
"""Makes the piece of one ring; told are its order and the numbers of its rows among all rows of the set."""

_SCALES = (0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2)


def make_rings(spec: RingsSpec, preset: Preset, maker: Maker | None = None) -> Rings:
    """Return the rings of an order. Raises InputError and GeometryError for what cannot be cut so, of all rings at
    once, with ways out that hold where motifs reach another edge."""

    def plain(order: PieceSpec, rows: tuple[int, ...]) -> Piece:
        return make_piece(order, preset)

    pieces = _made(ring_specs(spec, preset), maker or plain)
    try:
        return to_rings(spec, pieces)
    except GeometryError as fault:
        if fault.code != "crossing-rings":
            raise
        good = (words for words, edge, tried in _ways(spec, pieces, fault) if _can_make(_beside(tried, edge), preset))
        ways = sentence_of([*islice(good, 2)]) or " Take smaller motifs, or larger steps between the sizes."
        say = f"{fault.say}{ways}"
        raise GeometryError(say, where=fault.where, code=fault.code, **fault.numbers) from fault


def _made(orders: Sequence[tuple[PieceSpec, tuple[int, ...]]], maker: Maker) -> list[Piece]:
    """Return the pieces of all rings. Raises the faults of all of them together."""
    pieces: list[Piece] = []
    faults: list[FrameforgeError] = []
    for order, rows in orders:
        try:
            pieces.append(maker(order, rows))
        except (InputError, GeometryError) as fault:
            faults.append(fault)
    if faults:
        raise type(faults[0]).from_many(faults)
    return pieces


def _ways(spec: RingsSpec, pieces: Sequence[Piece], fault: GeometryError) -> Iterator[tuple[str, int, RingsSpec]]:
    """Yield the outermost edge in place of the one to blame, then smaller and smaller motifs: words, edge, order."""
    edge = int(fault.numbers["edge"])
    mine = [number for number, one in enumerate(spec.rows) if one.edge == edge]
    if len(mine) != 1:
        return
    number, row = mine[0], spec.rows[mine[0]].row
    rows = pieces[edge + 1 if row.place == "in" else edge].rows
    of_row = f" in row {number + 1}" if len(spec.rows) > 1 else ""
    last = len(spec.sizes) - 1
    if edge != last and row.place != "in":
        yield f"--on {size_words(spec.sizes[last])}{of_row}", last, _with(spec, number, EdgeRow(last, row))
    for factor in _SCALES if rows else ():
        scale = round(rows[0].scale * factor, 2)
        if scale > 0:
            smaller = EdgeRow(edge, replace(row, scale=scale, foot_mm=None))
            yield f"--scale {scale:g}{of_row}", edge, _with(spec, number, smaller)


def _with(spec: RingsSpec, number: int, row: EdgeRow) -> RingsSpec:
    """Return the order with one row replaced."""
    return replace(spec, rows=(*spec.rows[:number], row, *spec.rows[number + 1 :]))


def _can_make(spec: RingsSpec, preset: Preset) -> bool:
    try:
        to_rings(spec, [make_piece(order, preset) for order, _ in ring_specs(spec, preset)])
    except FrameforgeError:
        return False
    return True


def _beside(spec: RingsSpec, edge: int) -> RingsSpec:
    """Return the order with the edge and its two neighbours alone: no others meet its motifs."""
    first, last = max(edge - 1, 0), min(edge + 1, len(spec.sizes) - 1)
    rows = (
        EdgeRow(one.edge - first, one.row)
        for one in spec.rows
        if first <= one.edge <= last and not (one.edge == last and one.row.place == "in")
    )
    return RingsSpec(spec.name, spec.sizes[first : last + 1], tuple(rows))
