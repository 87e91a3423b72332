"""Faults between the values of folds, lids and stands: what stands twice, and what does not go together."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from frameforge.recipe.faults import Fault
from frameforge.recipe.model import FoldTable, LidTable, PieceTable

__all__ = ["fold_faults"]

_ONCE: Final = {"fold": "is folded once", "lid": "has one lid", "stand": "has one stand"}
_APART: Final = (
    ("lid", "fold", "A lid is not folded as a tent card is."),
    ("stand", "fold", "A tent card stands by itself."),
    ("stand", "lid", "A lid lies and does not stand."),
)
_OF_WALL: Final = {"strip": ("lap", "parts"), "flange": ("teeth", "crease", "dash", "dash_space", "stop")}


def fold_faults(index: int, piece: PieceTable) -> Iterator[Fault]:
    """Yield the faults of one piece's fold, lid and stand."""
    for key, said in _ONCE.items():
        if len(getattr(piece, key)) > 1:
            yield Fault(("piece", index, key, 1), f"a piece {said}. Leave this one out.")
    for one, other, why in _APART:
        if getattr(piece, one) and getattr(piece, other):
            yield Fault(("piece", index, one, 0), f"{why} Leave out {one} or {other}.")
    for place, fold in enumerate(piece.fold):
        yield from _crease_faults(("piece", index, "fold", place), fold)
    for place, lid in enumerate(piece.lid):
        path = ("piece", index, "lid", place)
        other = "flange" if lid.wall == "strip" else "strip"
        found = [key for key in _OF_WALL[other] if getattr(lid, key) != LidTable.__dataclass_fields__[key].default]
        for key in found:
            yield Fault(
                (*path, key), f'"{key}" is of a {other}, and the wall of this lid is a {lid.wall}. Leave it out.'
            )
        if not found:
            yield from _crease_faults(path, lid)
        if lid.wall == "flange":
            yield from _edge_faults(index, piece)


def _edge_faults(index: int, piece: PieceTable) -> Iterator[Fault]:
    """Yield the faults of rows that stand on an edge that a flange takes."""
    for place, row in enumerate(piece.row):
        on_opening = row.on == "opening" or (row.place == "in" and row.on is None)
        if row.place != "window" and not on_opening:
            say = 'the teeth of the flange take this edge. Write place = "window", or wall = "strip" in the lid.'
            yield Fault(("piece", index, "row", place, "place"), say, row.place, True)


def _crease_faults(path: tuple[str | int, ...], table: FoldTable | LidTable) -> Iterator[Fault]:
    """Yield the fault of dashes told of a crease that has none."""
    for key in ("dash", "dash_space"):
        if getattr(table, key) is not None and table.crease == "full":
            yield Fault((*path, key), f'"{key}" goes with a dashed crease. Write crease = "dashed", or leave it out.')
