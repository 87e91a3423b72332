"""One table where several may stand: ``hole = { size = 4 }`` reads as ``[[piece.hole]]`` does."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

__all__ = ["with_lists"]

_INNER: Final = ("hole", "fold", "lid", "stand")


def with_lists(raw: Mapping[str, Any]) -> Mapping[str, Any]:
    """Return a recipe as written, every single table of a piece that may stand several times in a list of its own."""
    pieces = raw.get("piece")
    if not isinstance(pieces, list) or not all(isinstance(piece, Mapping) for piece in pieces):
        return raw
    listed = [{key: _listed(key, value) for key, value in piece.items()} for piece in pieces]
    return {**raw, "piece": listed} if listed != pieces else raw


def _listed(key: str, value: Any) -> Any:
    return [value] if key in _INNER and isinstance(value, Mapping) else value
