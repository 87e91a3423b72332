"""A piece checked: everything found in it, each at a place in the maker's words, nothing told twice."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Final

from frameforge.card.preset import Preset
from frameforge.check.rough_outline import find_rough_outlines
from frameforge.check.whole import check_piece
from frameforge.errors import FrameforgeError
from frameforge.finding import Finding, grouped
from frameforge.frame.piece import Piece
from frameforge.job.findings import FindingsError
from frameforge.job.looking import is_looking_first
from frameforge.job.places import NamedPlace, name_places

__all__ = ["findings_of", "refuse_refused"]

_OF_A_ROW: Final = ("narrow-slot", "thin-web")
"""What a row tells of its gaps; the checks find the same gaps."""
_IN_A_GAP: Final = {"narrow-slot": ("narrow-slot", "near-miss"), "thin-web": ("thin-web",)}
_SAME_MM: Final = 0.01
"""A slit between two rows, measured by them and by a check, is one when the two agree to this."""
_SAME_SPOT_MM: Final = 0.3
"""And one place when they lie this near to each other: a third of the narrowest slot."""


def findings_of(piece: Piece, preset: Preset) -> tuple[Finding, ...]:
    """Return what the rows had to say and what the checks find in the finished piece, under the limits of ``preset``.

    Where a row has spoken of its gaps, that is all there is to say of them: a check measures the widest disc that
    goes in, which rests on the edge and may be a little wider than the gap. A slit between two rows is told once, as
    they tell it. In a piece that is only looked at for now nothing is found.
    """
    if is_looking_first():
        return ()
    seen = (*check_piece((piece.region,), preset), *find_rough_outlines(piece.rough))
    found = list(name_places(piece, seen))
    of_gaps = [told for told in piece.findings if told.code in _OF_A_ROW and not told.where]
    spoken = {(told.code, place.row) for told, place in zip(of_gaps, name_places(piece, of_gaps), strict=True)}
    found = [
        place
        for place in found
        if not any(place.finding.code in _IN_A_GAP[code] and place.row == row is not None for code, row in spoken)
    ]
    kept = []
    for told in piece.findings:
        mine = _same_place(told, found) if told.code in _OF_A_ROW and told.where else []
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


def refuse_refused(name: str, findings: Iterable[Finding]) -> None:
    """Raise FindingsError, a line for each kind, when something was found that a piece cannot be made with."""
    refused = [finding for finding in findings if finding.severity == "refused"]
    faults: list[FrameforgeError] = [
        FindingsError(group.sentence, group.findings, where=name, code=group.first.code) for group in grouped(refused)
    ]
    if faults:
        raise FindingsError.from_many(faults)
