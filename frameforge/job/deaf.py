"""Signals kept from where they would do harm: from processes of ours, and from work that must not end half done.

A terminal sends Ctrl-C to all processes of a run. The one who started them ends them; one that heard it while it was
being started would say so in a wall of text.
"""

from __future__ import annotations

import os
import signal
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Final

__all__ = ["started_deaf", "undisturbed"]

_UNSAID: Final = "ignore::UserWarning:multiprocessing.resource_tracker"

_ENDING = ("SIGINT", "SIGTERM", "SIGHUP")


@contextmanager
def started_deaf() -> Iterator[None]:
    """Have all processes that this thread starts meanwhile keep Ctrl-C blocked: they take its mask over (POSIX).

    Pressed meanwhile, it comes afterwards. Where there is no such mask nothing changes.
    """
    with _held("SIGINT"):
        yield


@contextmanager
def undisturbed() -> Iterator[None]:
    """Do something short that must not be left half done; whatever would end the run comes afterwards."""
    with _held(*_ENDING):
        yield


@contextmanager
def _held(*names: str) -> Iterator[None]:
    """Hold signals back in this thread."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    # Python starts this process of its own with the first of ours, and some versions then lift the mask.
    _start_tracker()
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {getattr(signal, name) for name in names})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _start_tracker() -> None:
    """Start the process that clears away what ours shared, should they be killed, unless it is there.

    It would warn of what it finds, on the terminal of a run long gone; it is told to say nothing by its environment.
    """
    from multiprocessing import resource_tracker  # here, since Windows has none

    before = os.environ.get("PYTHONWARNINGS")
    os.environ["PYTHONWARNINGS"] = f"{before},{_UNSAID}" if before else _UNSAID
    try:
        resource_tracker.ensure_running()
    finally:
        if before is None:
            del os.environ["PYTHONWARNINGS"]
        else:
            os.environ["PYTHONWARNINGS"] = before
