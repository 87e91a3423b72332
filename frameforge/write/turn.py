"""Runs that write into one folder take turns: each puts a piece in place, or reads what is there, by itself.

The turn is a lock that the system keeps on the folder (``flock``) and takes back however its holder ends. Where there
is no such lock, as on Windows or on some network disks, runs go on without; each file is still whole.
"""

from __future__ import annotations

import os
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Final

from frameforge.errors import FileError

__all__ = ["turn"]

_LOCKS: Any
try:
    import fcntl

    _LOCKS = fcntl
except ImportError:  # Windows
    _LOCKS = None

_WAIT_S: Final = 20.0
"""How long a turn is waited for: to put the largest piece in place takes a second."""

_LOOK_S: Final = 0.02


@contextmanager
def turn(folder: Path) -> Iterator[bool]:
    """Have this run alone write into a folder that is there; yields whether the system can promise that.

    Raises FileError when another run does not let go, OSError when the folder cannot be looked at.
    """
    if _LOCKS is None:
        yield False
        return
    place = os.open(folder, os.O_RDONLY)
    try:
        yield _taken(place, folder)
    finally:
        os.close(place)


def _taken(place: int, folder: Path) -> bool:
    """Wait for the lock of an open folder; return whether there is such a thing."""
    end = time.monotonic() + _WAIT_S
    while True:
        try:
            _LOCKS.flock(place, _LOCKS.LOCK_EX | _LOCKS.LOCK_NB)
        except BlockingIOError as fault:
            if time.monotonic() > end:
                say = "another run of frameforge is at work here. End it, or choose another folder with --out."
                raise FileError(say, where=folder.as_posix(), code="cannot-write") from fault
            time.sleep(_LOOK_S)
        except OSError:
            return False
        else:
            return True
