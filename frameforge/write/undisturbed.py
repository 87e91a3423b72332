"""A few moments in which nothing ends a run, so that a file and what is kept of it beside stay one."""

from __future__ import annotations

import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

__all__ = ["undisturbed"]

_ENDING = ("SIGINT", "SIGTERM", "SIGHUP")


@contextmanager
def undisturbed() -> Iterator[None]:
    """Hold back the signals by which a run is told to end; the first that came is heard when the block is left.

    Signals are heard in the main thread alone, so elsewhere there is nothing to hold back. What is heard by nobody
    here, as what the system itself ends a process by, is left as it is.
    """
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    held: list[int] = []

    def hold(number: int, frame: FrameType | None) -> None:
        held.append(number)

    numbers = [getattr(signal, name) for name in _ENDING if hasattr(signal, name)]
    before = {number: signal.getsignal(number) for number in numbers}
    heard = {number: handler for number, handler in before.items() if callable(handler)}
    try:
        for number in heard:
            signal.signal(number, hold)
        yield
    finally:
        for number, handler in heard.items():
            signal.signal(number, handler)
        if held:
            signal.raise_signal(held[0])
