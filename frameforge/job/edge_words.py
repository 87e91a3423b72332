"""Which edge a row runs along, in words: "round 100 mm (3.94 in)", "in an opening of 60 mm (2.36 in)"."""

from __future__ import annotations

from frameforge.frame.piece import Piece
from frameforge.frame.spec import PieceSpec, RowSpec
from frameforge.units import format_size

__all__ = ["edge_words"]


def edge_words(spec: PieceSpec, row: RowSpec, piece: Piece) -> str:
    """Return the words for one row of a piece that was made; a tent card has it twice."""
    each = " on each half" if piece.tent else ""
    return _edge(spec, row, piece) + each


def _edge(spec: PieceSpec, row: RowSpec, piece: Piece) -> str:
    has_opening = spec.opening is not None or spec.rim_mm is not None
    on = row.on or ("opening" if row.place == "in" and has_opening else "base")
    if on == "base":
        return f"round {format_size(piece.size.width_mm, piece.size.height_mm)}"
    if spec.opening is not None:
        return f"in an opening of {format_size(spec.opening.width_mm, spec.opening.height_mm)}"
    rim = spec.rim_mm or 0.0
    return f"in an opening of {format_size(piece.size.width_mm - 2 * rim, piece.size.height_mm - 2 * rim)}"
