"""A run that is told to end, by Ctrl-C, ``kill`` or a terminal that closes: one line, and the exit code of shells.

Imports nothing heavy, so that it works from the first moment of a process on.
"""

from __future__ import annotations

import os
import signal
import sys
import time
from types import FrameType
from typing import Any, Final

__all__ = ["INTERRUPTED", "catch", "end_code", "is_killed", "let_go"]

INTERRUPTED: Final = 128 + signal.SIGINT
"""Exit code of a run that the maker stopped (POSIX shells: 128 and the number of the signal)."""

_SIGNALS: Final = ("SIGINT", "SIGTERM", "SIGHUP")
_ONCE_S: Final = 1.0
"""Within this time a second signal asks for the same: hands press twice, and sessions that end send two."""

_AGAIN_S: Final = 0.02


class _Stopped(KeyboardInterrupt):
    """A signal that ends this run.

    Once KeyboardInterrupt itself has passed through code that was text, as the methods of dataclasses are, Python ends
    the process by SIGINT, whatever its exit code is. It does not take this one for that.
    """


_heard: list[tuple[int, float]] = []
"""The signal that ends this run, and when it came (s)."""


def catch() -> None:
    """End this process in good order at a signal; what was told to pay no heed to one (``nohup``) still pays none."""
    for name in _SIGNALS:
        number = getattr(signal, name, None)
        if number is not None and signal.getsignal(number) not in (signal.SIG_IGN, None):
            signal.signal(number, _stop)
    sys.unraisablehook = _not_lost


def let_go() -> None:
    """Pay no more heed: the run has ended, and its exit code stands."""
    for name in _SIGNALS:
        number = getattr(signal, name, None)
        if number is not None and signal.getsignal(number) == _stop:
            signal.signal(number, signal.SIG_IGN)


def end_code() -> int:
    """Return the exit code that goes with the signal heard: 130 for Ctrl-C, 143 for ``kill``."""
    return 128 + _heard[0][0] if _heard else INTERRUPTED


def is_killed() -> bool:
    """Return whether the run was told to end by another signal than Ctrl-C."""
    return bool(_heard) and end_code() != INTERRUPTED


def _stop(signum: int, frame: FrameType | None) -> None:
    """Interrupt what is at work; heard again later, end at once."""
    now_s = time.monotonic()
    if not _heard:
        _heard.append((signum, now_s))
        raise _Stopped
    if now_s - _heard[0][1] > _ONCE_S:
        os._exit(end_code())


def _not_lost(told: Any) -> None:
    """Send an interruption anew that came where Python lets none through, as while it clears an object away."""
    if _heard and told.exc_type is _Stopped:
        signum, _ = _heard.pop()
        import threading  # here, since most runs have none

        again = threading.Timer(_AGAIN_S, _send, (signum, threading.main_thread().ident))
        again.daemon = True
        again.start()
        return
    sys.__unraisablehook__(told)


def _send(signum: int, main_thread: int) -> None:
    """Send a signal to the thread that can end the run, and wake it where it waits."""
    if hasattr(signal, "pthread_kill"):
        signal.pthread_kill(main_thread, signum)
    else:
        signal.raise_signal(signum)
