"""What a process reads and says through: closed, full or gone, it is no reason to fall over."""

from __future__ import annotations

import contextlib
import errno
import io
import os
import sys
from typing import Final, TextIO

from frameforge.cli.console import say_fault
from frameforge.errors import FileError

__all__ = ["close_streams", "hush", "open_streams"]

_FULL: Final = frozenset((errno.ENOSPC, errno.EDQUOT, errno.EFBIG, errno.EIO, errno.EBADF))
_GONE: Final = frozenset((errno.EPIPE, errno.ESHUTDOWN, errno.ECONNRESET))


def open_streams() -> None:
    """Put something in the place of streams that are closed, and a question mark for letters that one cannot show.

    A file opened later must not get the number of a closed stream, or what is said would be written into it.
    """
    for number in range(3):
        try:
            os.fstat(number)
        except OSError:
            os.open(os.devnull, os.O_RDWR)  # the least number that is free, so this one
    if sys.stdout is None:
        sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115  open as long as the process
    if sys.stderr is None:
        sys.stderr = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115  as above
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")


def close_streams(code: int) -> int:
    """Say what still waits to be said and return the exit code: 4 where it can be written nowhere and all else went."""
    with contextlib.suppress(ValueError):  # closed by whoever runs us
        try:
            sys.stdout.flush()
        except OSError as fault:
            code = hush(fault, code)
        try:
            sys.stderr.flush()
        except OSError:
            _turn_away(sys.stderr)
    return code


def hush(fault: OSError, code: int = 0) -> int:
    """Say nothing more on stdout, since it refused with this fault, and return the exit code for a run with ``code``.

    Whoever read it may have gone, and nothing is wrong. Raises the fault again where it is none of a stream.
    """
    if fault.errno not in _GONE and (fault.filename is not None or fault.errno not in _FULL):
        raise fault
    _turn_away(sys.stdout)
    if fault.errno in _GONE:
        return code
    what = "the disk is full" if fault.errno != errno.EIO else "nothing takes it in"
    say_fault([f"frameforge: what there is to say cannot be written: {what}. Files that were finished are complete."])
    return code or FileError.exit_code


def _turn_away(stream: TextIO) -> None:
    """Let what is still said on a stream go nowhere."""
    with contextlib.suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
