"""One piece of everything: edges, motifs and windows put together in the order that makes rows independent."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from frameforge.geometry.combine import Combined, Expression, difference, evaluate, union
from frameforge.geometry.region import Region

__all__ = ["RowParts", "card_before_windows", "unite"]


@dataclass(frozen=True, slots=True)
class RowParts:
    """What one row does to the card: ``raised`` and ``hollow`` change its edge and ``filled`` that of the opening, then
    ``clears`` are taken away, then ``adds`` joined on, then ``pierces`` cut out. All in the piece's place."""

    raised: tuple[Expression, ...] = ()
    hollow: tuple[Expression, ...] = ()
    filled: tuple[Expression, ...] = ()
    clears: tuple[Expression, ...] = ()
    adds: tuple[Expression, ...] = ()
    pierces: tuple[Expression, ...] = ()


def unite(base: Region, opening: Region | None, rows: Sequence[RowParts], holes: Sequence[Region]) -> Combined:
    """Return ((base +- edge - (opening - filled)) - all clears) + all adds - all pierces - holes, as true curves.

    Rows are not worked in turn: what any row takes away first comes before what any row adds, so their order does not
    matter. More than one region means that the piece falls apart.
    """
    whole = card_before_windows(base, opening, rows)
    pierced = [part for row in rows for part in row.pierces]
    return evaluate(difference(whole, *pierced, *holes) if pierced or holes else whole)


def card_before_windows(base: Region, opening: Region | None, rows: Sequence[RowParts]) -> Expression:
    """Return the card of a piece before windows and holes are cut."""
    raised = [part for row in rows for part in row.raised]
    taken = [part for row in rows for part in (*row.hollow, *row.clears)]
    added = [part for row in rows for part in row.adds]
    whole: Expression = union(base, *raised) if raised else base
    if opening is not None:
        filled = [part for row in rows for part in row.filled]
        taken = [difference(opening, *filled) if filled else opening, *taken]
    if taken:
        whole = difference(whole, *taken)
    return union(whole, *added) if added else whole
