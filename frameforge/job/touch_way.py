"""What to do about edges that touch in one point: each way is tried before it is told."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Final

from frameforge.card.preset import Preset
from frameforge.errors import FrameforgeError
from frameforge.finding import Finding
from frameforge.frame.piece import Piece
from frameforge.frame.spec import PieceSpec, RowSpec
from frameforge.frame.ways import sentence_of
from frameforge.job.checked import findings_of
from frameforge.job.mending import Mending

__all__ = ["with_touch_ways"]

_TOUCH: Final = "point-touch"
_MOST_JOINED: Final = 16


def with_touch_ways(
    findings: Iterable[Finding], spec: PieceSpec, piece: Piece, preset: Preset, mends: tuple[str, ...]
) -> tuple[Finding, ...]:
    """Return the findings of a piece made as ordered, those of touches that refuse it with what would do; others as
    they are.

    The touches can be mended, or rows that touch can be given the least gap that the card takes. ``mends`` is what is
    mended already.
    """
    found = tuple(findings)
    if not any(one.code == _TOUCH and one.severity == "refused" for one in found) or _TOUCH in mends:
        return found
    apart = replace(spec, rows=tuple(_apart(row, preset) for row in spec.rows))
    wider = [f"--gap {preset.least_slot_mm:g}mm"] if apart != spec and _holds(apart, preset, mends) else []
    touches = sum(one.code == _TOUCH for one in found)
    words = f"--mend {','.join((*mends, _TOUCH))} (they are joined)"
    # Joining takes long to be tried where there is much to join, and another way is at hand.
    is_tried = not wider or touches <= _MOST_JOINED
    joined = [words] if is_tried and _can_be_joined(spec, piece, preset, mends) else []
    ways = sentence_of([*joined, *wider])
    if not ways:
        return found
    return tuple(replace(one, say=one.say.split(". ")[0] + "." + ways) if one.code == _TOUCH else one for one in found)


def _can_be_joined(spec: PieceSpec, piece: Piece, preset: Preset, mends: tuple[str, ...]) -> bool:
    """Whether the touches of a piece can be mended too, and nothing in it is refused then."""
    if mends:
        # What is mended at once with other things is not what would be mended after them.
        return _holds(spec, preset, (*mends, _TOUCH))
    from frameforge.mend.whole import mend_piece  # here, since a run that mends nothing shall not load it

    mended = mend_piece((piece.region,), preset, (_TOUCH,), is_trial=True).regions
    return len(mended) == 1 and _is_sound(replace(piece, region=mended[0], findings=()), preset)


def _apart(row: RowSpec, preset: Preset) -> RowSpec:
    """Return a row with the least gap that the card takes, where it is stated to touch."""
    return replace(row, gap_mm=preset.least_slot_mm) if row.gap_mm == 0 else row


def _holds(spec: PieceSpec, preset: Preset, mends: tuple[str, ...]) -> bool:
    """Whether a piece can be made so, and nothing in it is refused."""
    try:
        piece = Mending(preset, mends).made(spec)
    except FrameforgeError:
        return False
    return _is_sound(piece, preset)


def _is_sound(piece: Piece, preset: Preset) -> bool:
    """Whether nothing in a piece is refused."""
    return not any(one.severity == "refused" for one in findings_of(piece, preset))
