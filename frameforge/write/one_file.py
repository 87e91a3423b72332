"""One file written whole or not at all, in a folder that is made where it is missing."""

from __future__ import annotations

import os
import secrets
from pathlib import Path

from frameforge.write.file_fault import file_fault

__all__ = ["write_file"]


def write_file(path: Path, data: bytes, *, option: str) -> None:
    """Put ``data`` at ``path`` by one rename; ``option`` names the folder on the command line.

    Raises FileError when the disk refuses; nothing is changed then.
    """
    part = path.with_name(f".frameforge-{os.getpid()}-{secrets.token_hex(4)}")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        try:
            part.write_bytes(data)
            os.replace(part, path)
        finally:
            part.unlink(missing_ok=True)
    except OSError as fault:
        raise file_fault(path, fault, option=option) from fault
