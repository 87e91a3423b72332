"""Pieces that edges touch in one point: no way out of another refusal, unless what touches is joined."""

from __future__ import annotations

from typing import Final

from frameforge.card.preset import Preset
from frameforge.check.touches import find_touches
from frameforge.errors import GeometryError
from frameforge.frame.besides import besides
from frameforge.frame.going_with import going_with
from frameforge.frame.piece import Piece
from frameforge.frame.spec import PieceSpec
from frameforge.job.mending import Mending

__all__ = ["made_whole"]

_TOUCH: Final = "point-touch"
_MOST_JOINED: Final = 2
"""Pieces that are mended to see what comes of it: each takes long, and one way is enough."""


def made_whole(mending: Mending, spec: PieceSpec) -> Piece:
    """Return the piece of an order, mended as ``mending`` says.

    Raises what refuses it. Of the ways out of a refusal none meets edges that touch in one point; where those are all
    that keeps ways from holding, they are told with what joins them.
    """
    if _TOUCH in mending.codes:
        return mending.made(spec)
    met: list[Piece] = []

    def is_apart(_: PieceSpec, piece: Piece) -> bool:
        if not find_touches((piece.region,)):
            return True
        met.append(piece)
        return False

    try:
        with going_with(is_apart, is_more=True):
            return mending.made(spec)
    except GeometryError as fault:
        if "--" in fault.say or not met:
            raise
        joined = _joined(mending, spec)
        if joined is None:
            raise
        raise joined from fault


def _joined(mending: Mending, spec: PieceSpec) -> GeometryError | None:
    """Return the refusal of an order with the first way out by which what touches is joined; None where none is."""
    codes = (*mending.codes, _TOUCH)

    tried: list[bool] = []

    def is_joined(_: PieceSpec, piece: Piece) -> bool:
        if any(tried) or len(tried) == _MOST_JOINED:
            return False
        tried.append(_can_be_joined(piece, mending.preset, codes))
        return tried[-1]

    try:
        with going_with(is_joined, is_more=True), besides(f"--mend {','.join(codes)}"):
            Mending(mending.preset, mending.codes).made(spec)
    except GeometryError as fault:
        return fault if "--" in fault.say else None
    return None


def _can_be_joined(piece: Piece, preset: Preset, codes: tuple[str, ...]) -> bool:
    """Whether a piece is in one part, and touches itself nowhere, when it is mended."""
    if not find_touches((piece.region,)):
        return True
    from frameforge.mend.whole import mend_piece  # here, since a run that mends nothing shall not load it

    mended = mend_piece((piece.region,), preset, codes, is_trial=True).regions
    return len(mended) == 1 and not find_touches(mended)
