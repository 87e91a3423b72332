"""One file written whole or not at all, in a folder that is made where it is missing."""

from __future__ import annotations

import errno
import os
import secrets
from pathlib import Path

from frameforge.write.file_fault import file_fault

__all__ = ["make_folder", "write_file"]


def make_folder(path: Path) -> None:
    """Make a folder that may be there, and those above it. Raises OSError, also for a path of a thousand folders."""
    try:
        path.mkdir(parents=True, exist_ok=True)
    except RecursionError as fault:  # a call for each folder above; nothing is made on the way up
        raise OSError(errno.ENAMETOOLONG, os.strerror(errno.ENAMETOOLONG), str(path)) from fault


def write_file(path: Path, data: bytes, *, option: str) -> None:
    """Put ``data`` at ``path`` by one rename; ``option`` names the folder on the command line.

    Raises FileError when the disk refuses; nothing is changed then.
    """
    part = path.with_name(f".frameforge-{os.getpid()}-{secrets.token_hex(4)}")
    try:
        make_folder(path.parent)
        try:
            part.write_bytes(data)
            os.replace(part, path)
        finally:
            part.unlink(missing_ok=True)
    except OSError as fault:
        raise file_fault(path, fault, option=option) from fault
