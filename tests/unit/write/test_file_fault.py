"""Reasons of the operating system in the maker's words. Names of reasons: POSIX errno."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from frameforge.write.file_fault import file_fault


@pytest.mark.parametrize(
    ("reason", "said"),
    [
        (errno.ENOSPC, "out: the disk is full. Make room on it, or choose another folder with --out."),
        (errno.EACCES, "out: you may not write here. Choose another folder with --out."),
        (errno.EROFS, "out: this disk can only be read. Choose another folder with --out."),
        (errno.ENOTDIR, "out: a file stands where the folder should be. Choose another folder with --out."),
        (errno.EFBIG, "out: the file would be larger than may be written here. Choose another folder with --out."),
        (errno.EIO, "out: the disk does not take it in. Choose another folder with --out."),
        (errno.ENOLINK, f"out: this cannot be written (reason {errno.ENOLINK}). Choose another folder with --out."),
    ],
)
def test_a_reason_is_one_line_with_something_to_do(reason: int, said: str) -> None:
    fault = file_fault(Path("out"), OSError(reason, os.strerror(reason)))
    assert str(fault) == said
    assert (fault.exit_code, fault.code) == (4, "cannot-write")


def test_a_fault_without_a_reason_is_said_too() -> None:
    assert "this cannot be written" in str(file_fault(Path("out"), OSError("?")))


def test_a_file_that_another_program_holds_open_is_said_on_windows() -> None:
    """Windows error 32 comes as EACCES ("System Error Codes", ERROR_SHARING_VIOLATION); here it is played."""
    held = PermissionError(errno.EACCES, "held")
    held.winerror = 32  # type: ignore[attr-defined]  # only Windows has it
    assert str(file_fault(Path("out"), held)) == (
        "out: another program has this file open. Close it there. Choose another folder with --out."
    )
