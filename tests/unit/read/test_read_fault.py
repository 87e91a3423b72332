"""Reasons of the operating system in the maker's words. Names of reasons: POSIX errno."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from frameforge.read.read_fault import read_fault

UNKNOWN = f"this cannot be read (reason {errno.ENOLINK}). Look at the name and the folder."


@pytest.mark.parametrize(
    ("reason", "code", "said"),
    [
        (errno.ENOENT, "no-file", "no such file. Look at its name and folder."),
        (errno.ENOTDIR, "no-file", "no such file. Look at its name and folder."),
        (errno.EACCES, "cannot-read", "you may not read this file. Ask whose it is, or take a copy of your own."),
        (errno.ELOOP, "cannot-read", "this name leads back to itself. Look at what it links to."),
        (errno.EIO, "cannot-read", "the disk does not give it back. Take a copy from elsewhere."),
        (errno.ENOLINK, "cannot-read", UNKNOWN),
    ],
)  # fmt: skip
def test_a_reason_is_one_line_with_something_to_do(reason: int, code: str, said: str) -> None:
    fault = read_fault("leaf.svg", OSError(reason, os.strerror(reason)))
    assert (str(fault), fault.exit_code, fault.code) == (f"leaf.svg: {said}", 4, code)


def test_a_name_that_no_file_can_have_is_said() -> None:
    """Python's own refusal of a name with a null in it."""
    with pytest.raises(ValueError) as found:
        Path("a\0b").read_bytes()
    assert str(read_fault("a?b", found.value)) == "a?b: no file can be called so. Look at the name."
