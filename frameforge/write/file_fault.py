"""What the machine says when a file cannot be written, in the maker's words."""

from __future__ import annotations

import errno
from pathlib import Path
from typing import Final

from frameforge.errors import FileError

__all__ = ["file_fault"]

_ELSEWHERE: Final = "Choose another folder with --out."
_IN_USE: Final = "another program has this file open. Close it there."
_OPEN_ELSEWHERE: Final = (32, 33)
"""Windows: ERROR_SHARING_VIOLATION, ERROR_LOCK_VIOLATION (System Error Codes), which Python gives as EACCES."""

_SAYS: Final[dict[int, str]] = {
    errno.ENOSPC: "the disk is full. Make room on it, or choose another folder with --out.",
    errno.EDQUOT: "the disk is full. Make room on it, or choose another folder with --out.",
    errno.EACCES: f"you may not write here. {_ELSEWHERE}",
    errno.EPERM: f"you may not write here. {_ELSEWHERE}",
    errno.EROFS: f"this disk can only be read. {_ELSEWHERE}",
    errno.EEXIST: f"a file stands where the folder should be. {_ELSEWHERE}",
    errno.ENOTDIR: f"a file stands where the folder should be. {_ELSEWHERE}",
    errno.EISDIR: f"a folder stands where the file should be. {_ELSEWHERE}",
    errno.ENOENT: f"the folder has gone while it was being written to. {_ELSEWHERE}",
    errno.EFBIG: f"the file would be larger than may be written here. {_ELSEWHERE}",
    errno.EIO: f"the disk does not take it in. {_ELSEWHERE}",
    errno.EBUSY: f"{_IN_USE} {_ELSEWHERE}",
    errno.EILSEQ: "this disk has no such letters for a name. Choose another one with --name.",
    errno.EMFILE: "too many files are open. Close other programs, or use fewer --workers.",
    errno.ENFILE: "too many files are open. Close other programs, or use fewer --workers.",
    errno.ENAMETOOLONG: "the name is too long for this disk. Choose a shorter one with --name or --out.",
}


def file_fault(where: Path, fault: OSError, *, option: str = "--out") -> FileError:
    """Return the FileError to raise for what the operating system reported about ``where``.

    ``option`` is the one that names another folder.
    """
    if getattr(fault, "winerror", None) in _OPEN_ELSEWHERE:
        fault = OSError(errno.EBUSY, _IN_USE)
    say = _SAYS.get(fault.errno or 0, f"this cannot be written (reason {fault.errno}). {_ELSEWHERE}")
    return FileError(say.replace("--out", option), where=where.as_posix(), code="cannot-write")
