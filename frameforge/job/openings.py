"""What is said of pieces that go into the openings of others."""

from __future__ import annotations

from dataclasses import replace

from frameforge.frame.spec import Size
from frameforge.job.made import MadePiece
from frameforge.recipe.from_opening import opening_size
from frameforge.recipe.recipe import Recipe
from frameforge.units import format_floor, format_size

__all__ = ["with_openings"]


def with_openings(recipe: Recipe, index: int, made: MadePiece) -> MadePiece:
    """Return a piece with words on what it goes into, and on what goes into it."""
    table = recipe.pieces[index]
    notes = []
    if table.from_opening is not None:
        notes.append(f"goes into the opening of {table.from_opening} with {_play(table.clearance)}.")
    opening = opening_size(recipe.tables, index)
    for other in recipe.pieces:
        is_mine = table.name is not None and (other.from_opening or "").casefold() == table.name.casefold()
        if is_mine and opening is not None and isinstance(other.size, Size):
            sizes = (format_size(size.width_mm, size.height_mm) for size in (opening, other.size))
            own, inner = sizes
            notes.append(
                f"its opening of {own} takes {other.name or 'a piece'} of {inner} with {_play(other.clearance)}."
            )
    return replace(made, piece=replace(made.piece, notes=(*made.piece.notes, *notes))) if notes else made


def _play(clearance_mm: float | None) -> str:
    """Return how much play there is."""
    return f"{format_floor(clearance_mm)} of play all round" if clearance_mm else "no play, so that it sits tight"
