"""As drawn against bent: one row with both seats, as a table for terminal, report and JSON."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, Final

from frameforge.card.preset import Preset
from frameforge.frame.fit import Fit
from frameforge.frame.model import RowModel
from frameforge.frame.offers import things
from frameforge.frame.piece import Piece
from frameforge.frame.spec import PieceSpec
from frameforge.frame.wording import round_words
from frameforge.units import format_floor

if TYPE_CHECKING:
    from frameforge.frame.seat_compare import SeatMeasures

__all__ = ["SeatsTold", "seats_of", "seats_told"]

_NOTHING: Final = "-"

Column = tuple[str, Callable[["SeatMeasures"], str]]


def _mm(value: float | None) -> str:
    return _NOTHING if value is None else format_floor(value, in_column=True).removesuffix(" mm")


_COUNTS: Final[tuple[Column, ...]] = (
    ("go round", lambda seat: _NOTHING if seat.most is None else str(seat.most)),
    ("gap mm", lambda seat: _mm(seat.gap_mm)),
    ("foot gap", lambda seat: _mm(seat.foot_gap_mm)),
)
_SHAPES: Final[tuple[Column, ...]] = (
    ("top mm", lambda seat: "tip" if seat.top_mm == 0 else _mm(seat.top_mm)),
    ("across", lambda seat: _mm(seat.across_mm)),
    ("high", lambda seat: _mm(seat.height_mm)),
    ("area mm2", lambda seat: _NOTHING if seat.area_mm2 is None else f"{seat.area_mm2:.1f}"),
)


@dataclass(frozen=True, slots=True)
class SeatsTold:
    """A row with both seats. ``title`` says which; of a bare foot there is nothing to tell but its gaps."""

    title: str
    seats: tuple[SeatMeasures, ...]
    is_bare: bool = False

    def rows(self) -> list[tuple[str, ...]]:
        """Return the table: headings, then a row a seat. Columns of which nothing is known are left out."""
        columns = (*_COUNTS, *(() if self.is_bare else _SHAPES))
        told = [(name, [cell(seat) for seat in self.seats]) for name, cell in columns]
        kept = [(name, cells) for name, cells in told if set(cells) != {_NOTHING}]
        body = zip((seat.seat for seat in self.seats), *(cells for _, cells in kept), strict=True)
        return [("seat", *(name for name, _ in kept)), *body]

    @property
    def notes(self) -> tuple[str, ...]:
        """Why a seat has no measures, where one has none."""
        return tuple(f"{seat.seat}: {seat.refusal}" for seat in self.seats if seat.refusal)

    def lines(self) -> list[str]:
        """Return the table for the terminal, below its title."""
        rows = self.rows()
        widths = [max(len(row[k]) for row in rows) for k in range(len(rows[0]))]
        lines = [
            "  ".join([row[0].ljust(widths[0]), *(c.rjust(w) for c, w in zip(row[1:], widths[1:], strict=True))])
            for row in rows
        ]
        return [f"{self.title}:", "", *(f"  {line}" for line in (*lines, *self.notes))]

    def as_json(self) -> list[dict[str, Any]]:
        """Return a table of plain values for each seat."""
        return [
            {
                "seat": seat.seat,
                "count": seat.count,
                "most": seat.most,
                "gap_mm": seat.gap_mm,
                "foot_gap_mm": seat.foot_gap_mm,
                "top_mm": None if self.is_bare else seat.top_mm,
                "width_mm": None if self.is_bare else seat.across_mm,
                "height_mm": None if self.is_bare else seat.height_mm,
                "area_mm2": None if self.is_bare else seat.area_mm2,
                "note": seat.refusal,
            }
            for seat in self.seats
        ]


def seats_told(model: RowModel, fit: Fit, *, is_bare: bool = False) -> SeatsTold:
    """Return a settled row with both seats, and how many would go round with each."""
    what = "feet" if is_bare else things(model, fit.count)
    title = f"As drawn and bent, {fit.count} {what} round {round_words(fit.size)}"
    from frameforge.frame.seat_compare import both_seats  # here, since few rows are compared

    return SeatsTold(title, both_seats(model, fit, counts_too=True), is_bare)


def seats_of(spec: PieceSpec, piece: Piece, preset: Preset) -> tuple[SeatsTold, ...]:
    """Return every bent row of a piece with both seats, by its own count.

    Rows of which a part was left free or filled are passed over: their places follow from more than the count.
    """
    found = []
    for row, result in zip(spec.rows, piece.rows, strict=True):
        count = row.count if isinstance(row.count, int) else result.count
        is_whole = row.keep_free is None and row.rest in (None, "spread") and (count == result.count or row.skip)
        if row.seat != "bent" or not is_whole or (row.skip and not isinstance(row.count, int)):
            continue
        from frameforge.frame.seat_compare import both_seats  # here, as above

        model = RowModel(replace(spec, size=piece.size), row, preset)
        seats = both_seats(model, Fit(piece.size, count, result.scale), counts_too=False)
        found.append(SeatsTold(f"As drawn and bent, {count} {things(model, count)}", seats))
    return tuple(found)
