"""Faults between the values of rings and layers: edges that are not there, names and colours that are none."""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Mapping

from frameforge.frame.spec import Size
from frameforge.recipe.faults import Fault
from frameforge.recipe.lines import Path
from frameforge.recipe.model import CardTable, PieceTable, RecipeTable, RingRowTable, RingsTable
from frameforge.recipe.ring_fields import typed_size

__all__ = ["card_faults", "edge_of", "layer_faults", "ring_faults"]


def edge_of(rings: RingsTable, row: RingRowTable) -> int | None:
    """Return the number (from 0 for the smallest) of the edge that a row stands on; None where there is none of it."""
    if row.on is None:
        return len(rings.sizes) - 1
    near = (k for k, size in enumerate(rings.sizes) if _is_same(size, row.on))
    return next(near, None)


def ring_faults(tables: RecipeTable) -> list[Fault]:
    """Return the faults of all rings, those of their names too."""
    found: list[Fault] = []
    seen = {piece.name.casefold() for piece in tables.piece if piece.name is not None}
    for index, rings in enumerate(tables.rings):
        path: Path = ("rings", index)
        if rings.name is not None and rings.name.casefold() in seen:
            found.append(Fault((*path, "name"), "a piece is called so too. Take another name.", rings.name, True))
        seen |= {rings.name.casefold()} if rings.name is not None else set()
        found += card_faults(tables.card, rings.card, (*path, "card"))
        found += _clearance_faults(path, rings)
        for place, row in enumerate(rings.row):
            found += _row_faults((*path, "row", place), rings, row)
    return found


def layer_faults(index: int, piece: PieceTable, cards: Mapping[str, CardTable]) -> list[Fault]:
    """Return the faults of one piece's layers: colours that the recipe does not tell of, and what goes without them."""
    found: list[Fault] = []
    for place, layer in enumerate(piece.layer):
        found += card_faults(cards, layer.card, ("piece", index, "layer", place, "card"))
    if piece.match is not None and not piece.layer:
        say = "holes and notches match cards that lie one on another, and there are no layers. Write [[piece.layer]]."
        found.append(Fault(("piece", index, "match"), say, piece.match, True))
    if piece.inside is not None and piece.opening is None and piece.rim is None:
        say = "there is no opening to take a piece out of. Write opening or rim too."
        found.append(Fault(("piece", index, "inside"), say))
    if piece.clearance is not None and piece.inside is None and piece.from_opening is None:
        say = 'a clearance goes with the piece out of the opening. Write inside = "keep" too.'
        found.append(Fault(("piece", index, "clearance"), say))
    found += _alone_faults(index, piece)
    return found


def _alone_faults(index: int, piece: PieceTable) -> Iterator[Fault]:
    """Yield the fault of layers, or of what is kept inside, of a piece that is folded or stands."""
    for key, asked in (("layer", bool(piece.layer)), ("inside", piece.inside is not None)):
        for other in ("test_piece", "fold", "lid", "stand"):
            if asked and getattr(piece, other):
                has = other.replace("_", " ")
                say = f'"{key}" goes with a flat piece, and this one has {has}. Leave one of them out.'
                yield Fault(("piece", index, key), say)
    if piece.inside is not None and piece.mend:
        yield Fault(("piece", index, "inside"), "a piece that is mended is not parted. Leave mend or inside out.")


def card_faults(cards: Mapping[str, CardTable], name: str | None, path: Path) -> Iterator[Fault]:
    """Yield the fault of a colour that is none of those that the recipe tells of, where it tells of any."""
    if cards and name is not None and name not in cards:
        near = difflib.get_close_matches(name, cards, n=1, cutoff=0.0)[0]
        yield Fault(path, f"there is no [card.{name}]; the nearest is {near}.", name, True)


def _row_faults(path: Path, rings: RingsTable, row: RingRowTable) -> Iterator[Fault]:
    """Yield the faults of one row of rings."""
    edge = edge_of(rings, row)
    if edge is None:
        listed = ", ".join(typed_size(size) for size in rings.sizes[:8])
        say = f"none of the rings has this size. Take one of {listed}{' ...' if len(rings.sizes) > 8 else ''}."
        yield Fault((*path, "on"), say, typed_size(row.on) if row.on else "", True)
    elif row.row.place == "in" and edge == len(rings.sizes) - 1:
        inner = typed_size(rings.sizes[-2])
        say = f"motifs that face in need a ring outside the edge to hold them. Take --on {inner} or another inner edge."
        yield Fault((*path, "place"), say, "in", True)
    if row.row.rest == "size":
        say = 'the sizes of rings are stated. Take "spread" or "filler".'
        yield Fault((*path, "rest"), say, "size", True)


def _clearance_faults(path: Path, rings: RingsTable) -> Iterator[Fault]:
    """Yield the fault of rings that shall sit loosely in each other: with one line between two they cannot."""
    if rings.clearance is None or rings.clearance == 0:
        return
    inner, outer = rings.sizes[:2]
    loose = Size(*(max(side - 2 * rings.clearance, 0.1) for side in (inner.width_mm, inner.height_mm)))
    say = (
        f"rings share the lines between them, so none sits loosely in the next. Leave clearance out, or write each "
        f"ring as a piece of its own: size {typed_size(loose)} goes into opening {typed_size(inner)} of size "
        f"{typed_size(outer)}."
    )
    yield Fault((*path, "clearance"), say)


def _is_same(one: Size, other: Size) -> bool:
    return abs(one.width_mm - other.width_mm) < 1e-6 and abs(one.height_mm - other.height_mm) < 1e-6
