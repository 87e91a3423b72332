"""What the machine says when a file cannot be read, in the maker's words."""

from __future__ import annotations

import errno
from typing import Final

from frameforge.errors import FileError

__all__ = ["read_fault"]

_SAYS: Final[dict[int, str]] = {
    errno.ENOENT: "no such file. Look at its name and folder.",
    errno.ENOTDIR: "no such file. Look at its name and folder.",
    errno.EACCES: "you may not read this file. Ask whose it is, or take a copy of your own.",
    errno.EPERM: "you may not read this file. Ask whose it is, or take a copy of your own.",
    errno.ENAMETOOLONG: "longer than the name of a file can be. Look at the name.",
    errno.ELOOP: "this name leads back to itself. Look at what it links to.",
    errno.EISDIR: "this is a folder. Name the file in it.",
    errno.EIO: "the disk does not give it back. Take a copy from elsewhere.",
    errno.ENXIO: "this is no file. Look at the name.",
}


def read_fault(where: str, fault: OSError | ValueError) -> FileError:
    """Return the FileError to raise for what was reported when the file called ``where`` was read.

    A name with a sign that no file can have is a ValueError.
    """
    number = getattr(fault, "errno", None)
    if number is None:
        say = "no file can be called so. Look at the name."
    else:
        say = _SAYS.get(number, f"this cannot be read (reason {number}). Look at the name and the folder.")
    return FileError(say, where=where, code="cannot-read" if number not in (errno.ENOENT, errno.ENOTDIR) else "no-file")
