"""One file appears whole, in a folder made for it, or not at all."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from frameforge.errors import FileError
from frameforge.write.one_file import write_file


def test_a_file_is_written_and_replaced(tmp_path: Path) -> None:
    place = tmp_path / "new" / "folder" / "a.svg"
    write_file(place, b"one", option="--motifs")
    write_file(place, b"two", option="--motifs")
    assert place.read_bytes() == b"two"
    assert [path.name for path in place.parent.iterdir()] == ["a.svg"]


def test_what_the_disk_refuses_is_told_and_leaves_what_was_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    place = tmp_path / "a.svg"
    place.write_bytes(b"one")

    def refuse(*_: object) -> None:
        raise PermissionError(13, "no")

    monkeypatch.setattr(os, "replace", refuse)
    with pytest.raises(FileError, match=r"you may not write here\. Choose another folder with --motifs\."):
        write_file(place, b"two", option="--motifs")
    assert [path.read_bytes() for path in tmp_path.iterdir()] == [b"one"]
