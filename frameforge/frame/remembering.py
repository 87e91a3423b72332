"""Places of a ring kept from one try to the next, while a size or a scale is looked for: they hardly move."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar

__all__ = ["keep_places", "kept_places", "remembering"]

Places = dict[tuple[int, float], tuple[float, ...]]

_PLACES: ContextVar[Places | None] = ContextVar("places", default=None)


@contextmanager
def remembering() -> Iterator[None]:
    """Let rings solved within begin from the places of the one before; what is found at the end is solved afresh."""
    before = _PLACES.set({})
    try:
        yield
    finally:
        _PLACES.reset(before)


def keep_places(taus: tuple[float, ...], turn_rad: float) -> None:
    """Keep the places of a ring, or of the part of it that goes on every ``turn_rad``."""
    places = _PLACES.get()
    if places is not None:
        places[len(taus), turn_rad] = taus


def kept_places(count: int, turn_rad: float) -> tuple[float, ...] | None:
    """Return the places (tau, radians) of the last such ring; None where nothing is kept."""
    places = _PLACES.get()
    return None if places is None else places.get((count, turn_rad))
