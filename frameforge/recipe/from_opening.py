"""A piece that is made to go into the opening of another one: its size follows from that opening."""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from frameforge.frame.spec import Size
from frameforge.recipe.faults import Fault
from frameforge.recipe.model import PieceTable, RecipeTable

__all__ = ["opening_faults", "opening_size", "with_inner_sizes"]


def opening_faults(tables: RecipeTable) -> list[Fault]:
    """Return the faults of pieces that shall go into openings: those of no piece, or of none that tells its size."""
    found = []
    for index, piece in enumerate(tables.piece):
        if piece.from_opening is None:
            continue
        say = _fault(tables, index, piece, piece.from_opening)
        if say:
            found.append(Fault(("piece", index, "from_opening"), say, piece.from_opening, True))
    return found


def _fault(tables: RecipeTable, index: int, piece: PieceTable, name: str) -> str | None:
    """Return what is wrong with one piece that shall go into the opening of another one."""
    if piece.size != "find" or piece.inside is not None:
        key = "size" if piece.size != "find" else "inside"
        return f"the opening it goes into tells how large it is. Leave {key} out."
    names = [other.name for other in tables.piece if other.name and other is not piece]
    source = _source(tables, index)
    if source is None:
        near = difflib.get_close_matches(name, names, n=1)
        offer = f"the nearest is {near[0]}." if near else "give the piece with the opening a name, and write that."
        return f"no other piece of that name; {offer}"
    if opening_size(tables, source) is None:
        return f"{name} does not tell how large its opening is. Write opening there."
    if any(row.place == "in" for row in tables.piece[source].row):
        return f"motifs stand in the opening of {name}. Write a size that goes between them."
    if any(row.place in ("out", "across") and row.on != "opening" for row in piece.row):
        return 'motifs that stand out of its edge do not go into an opening. Take place "window", or write a size.'
    if _inner_size(tables, index) is None:
        return f"with its clearance nothing is left in the opening of {name}. Take a smaller clearance."
    return None


def opening_size(tables: RecipeTable, index: int, depth: int = 0) -> Size | None:
    """Return how large the opening of a piece (by its number from 0) is; None where that is not told.

    A rim leaves a circle of a circle; what it leaves of an oval is no oval.
    """
    piece = tables.piece[index]
    if piece.opening is not None or piece.rim is None:
        return piece.opening
    size = _inner_size(tables, index, depth) if piece.from_opening is not None else piece.size
    if not isinstance(size, Size) or not size.is_circle or size.width_mm <= 2 * piece.rim:
        return None
    return Size(size.width_mm - 2 * piece.rim, size.width_mm - 2 * piece.rim)


def with_inner_sizes(tables: RecipeTable, raw: Mapping[str, Any]) -> tuple[RecipeTable, Mapping[str, Any]]:
    """Return the recipe with the size of every piece that goes into an opening, in its values and as it is kept."""
    if all(piece.from_opening is None for piece in tables.piece):
        return tables, raw
    pieces, written = list(tables.piece), list(raw["piece"])
    for index, piece in enumerate(tables.piece):
        size = _inner_size(tables, index) if piece.from_opening is not None else None
        if size is not None:
            pieces[index] = replace(piece, size=size)
            rest = {key: value for key, value in written[index].items() if key not in ("from_opening", "clearance")}
            written[index] = {"size": f"{size.width_mm!r}x{size.height_mm!r}mm", **rest}
            if size.is_circle:
                written[index]["size"] = f"{size.width_mm!r}mm"
    return replace(tables, piece=tuple(pieces)), {**raw, "piece": written}


def _source(tables: RecipeTable, index: int) -> int | None:
    """Return the number of the piece whose opening another one goes into."""
    name = (tables.piece[index].from_opening or "").casefold()
    found = (k for k, other in enumerate(tables.piece) if k != index and (other.name or "").casefold() == name)
    return next(found, None)


def _inner_size(tables: RecipeTable, index: int, depth: int = 0) -> Size | None:
    """Return the size of a piece that goes into an opening: less by the clearance all round."""
    source = _source(tables, index)
    if source is None or depth > len(tables.piece):
        return None
    opening = opening_size(tables, source, depth + 1)
    play = 2 * (tables.piece[index].clearance or 0.0)
    if opening is None or min(opening.width_mm, opening.height_mm) <= play:
        return None
    # Rounded to a millionth, so that 60 less 0.6 is 59.4 in the file too.
    return Size(round(opening.width_mm - play, 6), round(opening.height_mm - play, 6))
