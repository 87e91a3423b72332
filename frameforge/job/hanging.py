"""How a piece hangs by its one hole: straight, or by how much askew. Measured on the finished card."""

from __future__ import annotations

import math
from typing import Any, Final

from frameforge.frame.piece import HolePlace, Piece
from frameforge.geometry.measure import centroid
from frameforge.units import format_floor

__all__ = ["hanging_words", "holes_json", "off_plumb_mm"]

_STRAIGHT_MM: Final = 0.05
"""A centre of gravity this near to the plumb line of its hole: no eye sees the piece hang askew."""


def off_plumb_mm(piece: Piece, hole: HolePlace) -> float:
    """Return how far right of the hole's plumb line the piece's centre of gravity lies, mm, its direction up."""
    return _below(piece, hole).imag


def hanging_words(piece: Piece) -> tuple[str, ...]:
    """Return what is to be known of hanging a piece up; nothing for one without a hole, or with several, or folded."""
    if len(piece.holes) != 1 or piece.tent is not None:
        return ()
    hole = piece.holes[0]
    aside = (hole.middle * _up(hole).conjugate()).imag
    off, depth = off_plumb_mm(piece, hole), _below(piece, hole).real
    if depth <= 0:
        return ("turns over when it hangs by its hole, which lies below the weight. Put the hole further out.",)
    if abs(off) >= _STRAIGHT_MM:
        turn = math.degrees(math.atan2(abs(off), abs(depth)))
        side = "left" if off > 0 else "right"
        return (f"hangs askew by its hole: its foot swings {turn:.1f} degrees to the {side}.",)
    if abs(aside) < _STRAIGHT_MM:
        return ()
    side = "left" if aside > 0 else "right"
    said = f"the hole lies {format_floor(abs(aside))} {side} of the middle, right above the weight"
    return (f"{said}, so that it hangs straight.",)


def holes_json(piece: Piece) -> list[dict[str, Any]]:
    """Return the round holes of a piece as tables of plain values."""
    return [
        {
            "size_mm": hole.diameter_mm,
            "at_deg": hole.at_deg,
            "x_mm": hole.middle.real,
            "y_mm": hole.middle.imag,
            "off_plumb_mm": off_plumb_mm(piece, hole),
        }
        for hole in piece.holes
    ]


def _up(hole: HolePlace) -> complex:
    """Return the unit direction that points up when the piece hangs by a hole as asked."""
    angle = math.radians(hole.at_deg)
    return complex(math.sin(angle), math.cos(angle))


def _below(piece: Piece, hole: HolePlace) -> complex:
    """Return how far the centre of gravity lies below the hole (real) and right of its plumb line (imaginary)."""
    return (hole.middle - centroid(piece.region)) * _up(hole).conjugate()
