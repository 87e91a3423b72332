"""Slips that are no faults: sizes that are mm and were likely meant as inches."""

from __future__ import annotations

from frameforge.recipe.fields import is_bare_and_small
from frameforge.recipe.recipe import Recipe

__all__ = ["slip_lines"]


def slip_lines(recipe: Recipe) -> tuple[str, ...]:
    """Return a line for every base whose size is a bare number of mm under 15: "4 mm? For inches write 4in."."""
    if recipe.tables.units != "mm":
        return ()
    lines = []
    for index, piece in enumerate(recipe.raw.get("piece", ())):
        size = piece.get("size")
        if is_bare_and_small(size):
            place = recipe.source.label(("piece", index, "size"), size)
            lines.append(f"{place}: {size} mm? For inches write {size}in.")
    return tuple(lines)
