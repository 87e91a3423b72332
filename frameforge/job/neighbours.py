"""What one repeat less and one more would leave between the repeats of a row."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from typing import Final

from frameforge.card.preset import Preset
from frameforge.frame.model import RowModel
from frameforge.frame.piece import Piece
from frameforge.frame.spec import PieceSpec
from frameforge.job.looking import is_looking_first

__all__ = ["MOST_COMPARED", "neighbour_gaps"]

MOST_COMPARED: Final = 400
"""Rings of more repeats cost more to compare than to make, and one repeat more or less hardly shows in them."""


def neighbour_gaps(spec: PieceSpec, piece: Piece, preset: Preset) -> tuple[Mapping[int, float], ...]:
    """Return, for each row of a piece, the gap in mm by the counts next to its own; empty where none is asked for.

    Only counts that close the pattern are looked at, of rows without left-out positions (there the count of repeats is
    not the count of places) and of at most ``MOST_COMPARED`` repeats. A gap below 0 means that the repeats would stand
    in each other. Of a piece that is only looked at for now nothing is told.
    """
    if is_looking_first():
        return tuple({} for _ in spec.rows)
    found: list[Mapping[int, float]] = []
    for row, result in zip(spec.rows, piece.rows, strict=True):
        has_places_out = bool(row.skip or (row.keep_free and row.free == "leave"))
        is_passed_over = has_places_out or row.foot_gap_mm is not None or result.gap_mm is None
        is_passed_over |= row.rest == "filler" or spec.fold is not None or spec.stand is not None
        model = RowModel(replace(spec, size=piece.size), row, preset)
        next_to = (result.count - model.step, result.count + model.step)
        counts = () if is_passed_over or result.count > MOST_COMPARED else next_to
        gaps = {count: model.clearance_mm(piece.size, count, result.scale) for count in counts if count > 1}
        found.append({count: gap for count, gap in gaps.items() if math.isfinite(gap)})
    return tuple(found)
