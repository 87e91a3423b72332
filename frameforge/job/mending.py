"""A piece mended while it is made: what was asked, and what it came to in the maker's words."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any, Final

from frameforge.card.preset import Preset
from frameforge.finding import Finding
from frameforge.frame.make import make_piece
from frameforge.frame.piece import Piece
from frameforge.frame.spec import PieceSpec
from frameforge.geometry.region import Region
from frameforge.job.looking import remembered
from frameforge.job.places import name_places
from frameforge.mend.codes import ALL_CODES
from frameforge.tolerances import CLOSE_UP_MM
from frameforge.units import format_floor

if TYPE_CHECKING:
    from frameforge.mend.patch import Change

__all__ = ["MendedPlace", "Mending", "can_be_mended", "mended_json", "mended_lines", "mended_rows"]


@dataclass(frozen=True, slots=True)
class MendedPlace:
    """One change: the finding it answers, where it is, the card put on and taken off in mm2, how many ties were put
    on for it, and the place itself (mm, y up)."""

    code: str
    where: str
    added_mm2: float
    removed_mm2: float
    ties: int = 0
    at: complex = 0


@dataclass(slots=True)
class Mending:
    """What is to be mended in one piece under the limits of ``preset``, and what was changed when it was done.

    ``before`` are the regions as they were handed in to be mended (mm, y up).
    """

    preset: Preset
    codes: tuple[str, ...]
    changes: tuple[Change, ...] = field(default=(), init=False)
    before: tuple[Region, ...] = field(default=(), init=False)

    def made(self, spec: PieceSpec) -> Piece:
        """Return the piece of an order, mended; what its rows found before that is left to the checks to find again."""
        made_of = spec, self.preset, self.codes
        piece, self.changes, self.before = remembered(made_of, lambda: self._made(spec))
        return replace(piece, findings=tuple(one for one in piece.findings if one.code not in self.codes))

    def _made(self, spec: PieceSpec) -> tuple[Piece, tuple[Change, ...], tuple[Region, ...]]:
        """Return the piece, what was changed in it, and what it was before."""
        piece = make_piece(spec, self.preset, self.finish if self.codes else None)
        return piece, self.changes, self.before

    def finish(self, regions: tuple[Region, ...]) -> tuple[Region, ...]:
        """Return the regions of a piece (mm, y up) mended, and keep what was changed."""
        from frameforge.mend.whole import mend_piece  # here, since a run that mends nothing shall not load it

        mended = mend_piece(regions, self.preset, self.codes)
        self.changes, self.before = mended.changes, regions
        return mended.regions

    def places(self, piece: Piece) -> tuple[MendedPlace, ...]:
        """Return the changes with their places in words, in the order of the work."""
        spots = [Finding(change.code, "note", "", x_mm=change.at.real, y_mm=change.at.imag) for change in self.changes]
        named = name_places(piece, spots)
        return tuple(
            MendedPlace(change.code, place.finding.where, change.added_mm2, change.removed_mm2, change.ties, change.at)
            for change, place in zip(self.changes, named, strict=True)
        )


def can_be_mended(findings: Iterable[Finding], mended: Collection[str]) -> bool:
    """Return whether there is a finding, no mere note, that could be mended and was not asked to be."""
    return any(
        finding.severity != "note"
        and finding.code in ALL_CODES
        and finding.code not in mended
        and not (finding.code == "open-line" and (finding.measured or 0.0) > CLOSE_UP_MM)
        for finding in findings
    )


def mended_lines(changes: Sequence[Change | MendedPlace]) -> list[str]:
    """Return what was mended, a line for each kind with how much card was added and taken off."""
    lines = []
    for code in dict.fromkeys(change.code for change in changes):
        same = [change for change in changes if change.code == code]
        ties = sum(change.ties for change in same)
        told = f"{_ties(ties)}, {_amounts(same)}" if ties else _OF_LINES.get(code) or _amounts(same)
        lines.append(f"mended {len(same)} x {code}: {told}.")
    return lines


def mended_rows(places: Sequence[MendedPlace]) -> tuple[tuple[str, ...], ...]:
    """Return the table of what was mended, its headings first."""
    rows = [
        (f"{p.code}, {_ties(p.ties)}" if p.ties else p.code, p.where, f"{p.added_mm2:.2f}", f"{p.removed_mm2:.2f}")
        for p in places
    ]
    return (("finding", "where", "card added, mm2", "taken off, mm2"), *rows)


def mended_json(place: MendedPlace) -> dict[str, Any]:
    """Return a change as a table of plain values."""
    return {
        "code": place.code,
        "where": place.where,
        "added_mm2": place.added_mm2,
        "removed_mm2": place.removed_mm2,
    }


def _ties(count: int) -> str:
    return "1 tie" if count == 1 else f"{count} ties"


def _amounts(changes: Sequence[Change | MendedPlace]) -> str:
    """Return "3.11 mm2 of card added, 0.20 mm2 taken off", whichever of the two there is."""
    added, removed = sum(c.added_mm2 for c in changes), sum(c.removed_mm2 for c in changes)
    words = [f"{added:.2f} mm2 of card added"] if added >= _LEAST_TOLD_MM2 or removed < _LEAST_TOLD_MM2 else []
    words += [f"{removed:.2f} mm2 of card taken off"] if removed >= _LEAST_TOLD_MM2 else []
    return ", ".join(words)


_OF_LINES: Final = {
    "double-line": "the second of two lines taken out",
    "open-line": f"ends up to {format_floor(CLOSE_UP_MM)} apart joined",
}
"""What is done about lines; no card is put on or taken off by it."""

_LEAST_TOLD_MM2 = 0.005
"""Less than this reads 0.00."""
