"""What is said of cards that belong together: which there are and what they measure, in a table, in lines, in JSON."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from frameforge.write.report import ReportTable

__all__ = ["SetKey", "SetTold"]

SetKey = Literal["rings", "layers", "inside"]
"""What cards belong together as; the key of the JSON."""


@dataclass(frozen=True, slots=True)
class SetTold:
    """A set of cards: a table with its headings first, what to know of it, and the same as plain values.

    ``lead`` is the line before the table on the terminal, ``short`` the table there where it is another one.
    """

    key: SetKey
    title: str
    lead: str
    rows: tuple[tuple[str, ...], ...]
    notes: tuple[str, ...]
    values: Sequence[Mapping[str, Any]]
    short: tuple[tuple[str, ...], ...] = ()

    def table(self) -> ReportTable:
        """Return the table for the report."""
        return ReportTable(self.title, self.rows, self.notes)

    def lines(self) -> list[str]:
        """Return the lines for the terminal: the lead, the table without its headings' rule, the notes."""
        rows = self.short or self.rows
        widths = [max(len(row[k]) for row in rows) for k in range(len(rows[0]))]
        told = ["  ".join(cell.ljust(w) for cell, w in zip(row, widths, strict=True)).rstrip() for row in rows]
        return [self.lead, *(f"  {line}" for line in told), *self.notes]
