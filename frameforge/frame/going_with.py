"""What else must be had of a piece that is tried as a way out of a refusal: the cards of its stack with their marks."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar

from frameforge.frame.piece import Piece
from frameforge.frame.spec import PieceSpec

__all__ = ["Also", "goes_with", "going_with"]

Also = Callable[[PieceSpec, Piece], bool]
"""Whether all that goes with a piece can be made for it, by its order and its card."""

_ALSO: ContextVar[Also | None] = ContextVar("also", default=None)


@contextmanager
def going_with(also: Also, *, is_more: bool = False) -> Iterator[None]:
    """Let every way out that is tried within hold only where ``also`` does; ``is_more``: and what had to before."""
    before = _ALSO.get() if is_more else None

    def both(spec: PieceSpec, piece: Piece) -> bool:
        return (before is None or before(spec, piece)) and also(spec, piece)

    token = _ALSO.set(both)
    try:
        yield
    finally:
        _ALSO.reset(token)


def goes_with(spec: PieceSpec, piece: Callable[[], Piece]) -> bool:
    """Return whether what goes with a piece can be made for it; it is put together only where anything does."""
    also = _ALSO.get()
    return also is None or also(spec, piece())
