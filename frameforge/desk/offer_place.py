"""Which piece and which row of a recipe a message is about, so that what it offers goes there."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Final

from frameforge.finding import Finding
from frameforge.frame.wording import plural
from frameforge.job.made import MadePiece
from frameforge.job.places import row_near
from frameforge.recipe.from_options import ROW_OPTIONS

__all__ = ["OfferPlace", "offer_at", "offer_of"]

_OF_RECIPE: Final = ("sheet", "margin", "apart", "turn", "seed", "tries", "price", "stack", "units")


@dataclass(frozen=True, slots=True)
class OfferPlace:
    """A piece as the page names it ("piece.1"), and the number of a row of it from 0."""

    table: str
    row: int

    def addressed(self, options: Mapping[str, Any]) -> dict[str, Any]:
        """Return the options of an offer by the addresses at which they stand."""
        return {self._address(key): value for key, value in options.items()}

    def _address(self, key: str) -> str:
        if key in ROW_OPTIONS:
            return f"{self.table}.row.{self.row}.{key}"
        return key if key in _OF_RECIPE else f"{self.table}.{key}"


def offer_at(line: str, raw: Mapping[str, Any]) -> OfferPlace | None:
    """Return the piece and row that a refusal tells of; None where the recipe has but one piece with one row.

    A message begins with the name of its piece, and tells how many of which motif it is about.
    """
    tables = [(f"{kind}.{k}", table) for kind in ("piece", "rings") for k, table in enumerate(raw.get(kind) or [])]
    if len(tables) == 1 and len(tables[0][1].get("row", [])) < 2:
        return None
    name, _, said = line.partition(": ")
    named = [(at, table) for at, table in tables if str(table.get("name", "")).casefold() == name.casefold()]
    unnamed = [(at, table) for at, table in tables if "name" not in table]
    at, table = (named or unnamed or tables)[0]
    rows = table.get("row", [])
    told = re.search(r"\bin row (\d+)\b", said)
    if told and 0 < int(told[1]) <= len(rows):
        return OfferPlace(at, int(told[1]) - 1)
    scores = [_likeness(row, said) for row in rows]
    return OfferPlace(at, scores.index(max(scores)) if scores else 0)


def offer_of(made: MadePiece, finding: Finding) -> OfferPlace:
    """Return the piece and row that a finding in a made piece is about."""
    kind, number = made.origin
    rows = made.piece.rows
    row = 0
    if len(rows) > 1 and finding.place is not None:
        row = row_near(made.piece, finding.place) or 0
    elif len(rows) > 1:
        scores = [_told(row.motif_name.split("+"), finding.say) for row in rows]
        row = scores.index(max(scores))
    return OfferPlace(f"{kind}.{number}", row)


def _told(names: Iterable[str], said: str) -> bool:
    """Whether a sentence speaks of one of these motifs."""
    return any(re.search(rf"\b{re.escape(plural(name, n))}\b", said) for name in names for n in (1, 2))


def _likeness(row: Mapping[str, Any], said: str) -> int:
    """Return how much in a sentence speaks of a row: its motif, its count, its place."""
    motif = row.get("motif")
    names = [motif] if isinstance(motif, str) else ["motif"]
    told = _told(names, said)
    counted = isinstance(row.get("count"), int) and re.search(rf"\b{row['count']}\b", said)
    opened = (row.get("place") == "in") == ("opening" in said)
    return 4 * told + 2 * bool(counted) + bool(opened)
