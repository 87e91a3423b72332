"""A piece checked: everything found in it, each at a place in the maker's words, nothing told twice."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Final

from frameforge.card.preset import Preset
from frameforge.check.whole import check_piece
from frameforge.errors import FrameforgeError
from frameforge.finding import Finding, grouped
from frameforge.frame.piece import Piece
from frameforge.job.findings import FindingsError
from frameforge.job.places import NamedPlace, name_places

__all__ = ["findings_of", "refuse_refused"]

_OF_A_ROW: Final = ("narrow-slot", "thin-web")
"""What a row tells of all its gaps at once; the checks find the same gaps one by one."""
_IN_A_GAP: Final = {"narrow-slot": ("narrow-slot", "near-miss"), "thin-web": ("thin-web",)}
_SAME_MM: Final = 0.01
"""A gap measured by its row and by a check is one gap when the two agree to this."""
_SAME_SPOT_MM: Final = 0.3
"""And one place when they lie this near to each other: a third of the narrowest slot."""


def findings_of(piece: Piece, preset: Preset) -> tuple[Finding, ...]:
    """Return what the rows had to say and what the checks find in the finished piece, under the limits of ``preset``.

    Where a row has spoken of its gaps, the checks' findings in those gaps stay single, each at its own place, and
    take over its sentence, since it knows what would help. A slit between two rows is told once, in those words.
    """
    found = list(name_places(piece, check_piece((piece.region,), preset)))
    kept = []
    for told in piece.findings:
        mine = []
        if told.code in _OF_A_ROW:
            mine = _same_place(told, found) if told.where else _same_gaps(told, found)
        for k in mine:
            found[k] = replace(found[k], finding=replace(found[k].finding, say=told.say))
        if not mine:
            kept.append(told if told.where or told.code in _OF_A_ROW else name_places(piece, (told,))[0].finding)
    return tuple(kept) + tuple(place.finding for place in found)


def _same_place(told: Finding, found: Sequence[NamedPlace]) -> list[int]:
    """Return the numbers of the findings of the same kind, place and measure: what stands between two rows."""
    return [
        k
        for k, place in enumerate(found)
        if (at := place.finding.place) is not None
        and told.place is not None
        and place.finding.code == told.code
        and abs(at - told.place) <= _SAME_SPOT_MM
        and abs((place.finding.measured or 0.0) - (told.measured or 0.0)) <= _SAME_MM
    ]


def _same_gaps(told: Finding, found: Sequence[NamedPlace]) -> list[int]:
    """Return the numbers of the findings that lie in the gaps a row told of; none where its own gap is not among them.

    The row tells its narrowest gap: the check that measured as much tells which row it is.
    """
    codes = _IN_A_GAP[told.code]
    between = [k for k, place in enumerate(found) if place.row is not None and place.finding.code in codes]
    least = told.measured if told.measured is not None else 0.0
    same = {found[k].row for k in between if abs((found[k].finding.measured or 0.0) - least) <= _SAME_MM}
    if not same:
        return []
    row = min(same, key=lambda row: row or 0)
    return [k for k in between if found[k].row == row]


def refuse_refused(name: str, findings: Iterable[Finding]) -> None:
    """Raise FindingsError, a line for each kind, when something was found that a piece cannot be made with."""
    refused = [finding for finding in findings if finding.severity == "refused"]
    faults: list[FrameforgeError] = [
        FindingsError(group.sentence, group.findings, where=name, code=group.first.code) for group in grouped(refused)
    ]
    if faults:
        raise FindingsError.from_many(faults)
