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
        (errno.EIO, "out: this cannot be written (reason 5). Choose another folder with --out."),
    ],
)
def test_a_reason_is_one_line_with_something_to_do(reason: int, said: str) -> None:
    fault = file_fault(Path("out"), OSError(reason, os.strerror(reason)))
    assert str(fault) == said
    assert (fault.exit_code, fault.code) == (4, "cannot-write")


def test_a_fault_without_a_reason_is_said_too() -> None:
    assert "this cannot be written" in str(file_fault(Path("out"), OSError("?")))
