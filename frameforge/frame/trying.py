"""Whether only a way out of a refusal is being tried: then what would take long to find counts as not found."""

from __future__ import annotations

import math
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Final

from frameforge.errors import GeometryError

__all__ = ["SPENT", "is_trying", "spend", "trying"]

SPENT: Final = "spent"
"""The code of a refusal to go on with a try."""


class _Purse:
    """What is left to be spent, counted in measured pairs of neighbours."""

    def __init__(self, left: float, *, is_patient: bool) -> None:
        self.left, self.is_patient = left, is_patient


_PURSE: ContextVar[_Purse | None] = ContextVar("purse", default=None)


@contextmanager
def trying(pairs: float = math.inf, *, is_patient: bool = False) -> Iterator[None]:
    """Let all that runs within know that a way out is tried. A maker waits for the answer, and others are at hand.

    ``pairs`` is the number of measured pairs that may be spent on it, within what is left of a try around this one.
    It is counted, not timed, so that the same order always has the same answer. ``is_patient``: all is done for it that
    is done for a piece that is made, so that what differs little from one that was made is found as that was.
    """
    outer = _PURSE.get()
    given = min(pairs, outer.left) if outer else pairs
    purse = _Purse(given, is_patient=is_patient)
    token = _PURSE.set(purse)
    try:
        yield
    finally:
        _PURSE.reset(token)
        if outer and math.isfinite(given):
            outer.left -= given - purse.left


def is_trying() -> bool:
    """Return whether a way out is being tried, and not patiently."""
    purse = _PURSE.get()
    return purse is not None and not purse.is_patient


def spend(pairs: float) -> None:
    """Count work that is about to be done, a number of measured pairs.

    Raises GeometryError where a try has spent its all.
    """
    purse = _PURSE.get()
    if purse is None:
        return
    purse.left -= pairs
    if purse.left < 0:
        raise GeometryError("this takes too long to be tried.", code=SPENT)
