"""Ctrl-C while a layout is searched for: the search ends, and what was found so far is kept."""

from __future__ import annotations

import signal
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType

__all__ = ["stoppable"]


@contextmanager
def stoppable() -> Iterator[Callable[[], bool]]:
    """Yield the function that says whether Ctrl-C was pressed; pressed again, the run ends at once.

    Outside the search Ctrl-C ends the run as ever. Where no signal can be caught (another thread), nothing changes.
    """
    presses = 0

    def pressed(signum: int, frame: FrameType | None) -> None:
        nonlocal presses
        presses += 1
        if presses > 1:
            raise KeyboardInterrupt

    try:
        before = signal.signal(signal.SIGINT, pressed)
    except ValueError:
        yield lambda: False
        return
    try:
        yield lambda: presses > 0
    finally:
        signal.signal(signal.SIGINT, before)
