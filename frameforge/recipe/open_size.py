"""A size that is left out where all else is stated is the one to be found."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

__all__ = ["with_open_sizes", "with_size_to_find"]


def with_open_sizes(raw: Mapping[str, Any]) -> Mapping[str, Any]:
    """Return a recipe as written in which every size that is the only thing left out says ``find``."""
    pieces = raw.get("piece")
    if not isinstance(pieces, list) or not all(isinstance(piece, Mapping) for piece in pieces):
        return raw
    changed = [with_size_to_find(piece) for piece in pieces]
    return {**raw, "piece": changed} if changed != pieces else raw


def with_size_to_find(piece: Mapping[str, Any]) -> dict[str, Any]:
    """Return a piece as written, with ``size`` to be found where its first row states count and gap, or where it
    says what it goes in."""
    if any(key in piece for key in ("size", "test_piece", "from_opening")):
        return dict(piece)
    rows = piece.get("row")
    row = rows[0] if isinstance(rows, list) and rows and isinstance(rows[0], Mapping) else {}
    has_count = "count" in row and row["count"] not in ("most", "find")
    has_gap = any(key in row and row[key] != "find" for key in ("gap", "foot_gap"))
    decided = "goes_in" in piece or (has_count and has_gap)
    # In the place where sizes stand, so that what is kept of a recipe reads as if it had been written.
    return {"size": "find", **piece} if decided else dict(piece)
