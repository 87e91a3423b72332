"""What one repeat less and one more would leave between the repeats of a row."""

from __future__ import annotations

import math
from collections.abc import Mapping

from frameforge.card.preset import Preset
from frameforge.frame.model import RowModel
from frameforge.frame.piece import Piece
from frameforge.frame.spec import PieceSpec

__all__ = ["neighbour_gaps"]


def neighbour_gaps(spec: PieceSpec, piece: Piece, preset: Preset) -> tuple[Mapping[int, float], ...]:
    """Return, for each row of a piece, the gap in mm by the counts next to its own; empty where none is asked for.

    Only counts that close the pattern are looked at, and of rows without left-out positions: there the count of
    repeats is not the count of places. A gap below 0 means that the repeats would stand in each other.
    """
    found: list[Mapping[int, float]] = []
    for row, result in zip(spec.rows, piece.rows, strict=True):
        model = RowModel(spec, row, preset).sized(piece.size)
        has_holes_in_it = bool(row.skip) or row.keep_free is not None or result.gap_mm is None
        row_model = RowModel(model, row, preset)
        counts = () if has_holes_in_it else (result.count - row_model.unit, result.count + row_model.unit)
        gaps = {count: row_model.clearance_mm(piece.size, count, result.scale) for count in counts if count > 1}
        found.append({count: gap for count, gap in gaps.items() if math.isfinite(gap)})
    return tuple(found)
