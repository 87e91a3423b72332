"""Motifs are found beside the package (a checkout) and inside it (a wheel); files are read as bytes."""

from __future__ import annotations

from pathlib import Path

import pytest

from frameforge.errors import FileError
from frameforge.read import motif_folder
from frameforge.read.motif_folder import folder, names_in, read_motif_bytes


def test_this_checkout_has_its_motifs() -> None:
    assert "arch" in names_in(folder())


def test_a_wheel_has_them_inside_the_package(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    package = tmp_path / "frameforge"
    (package / "motifs").mkdir(parents=True)
    monkeypatch.setattr(motif_folder, "_PACKAGE", package)
    with pytest.raises(FileError, match="the motifs that belong to frameforge are missing"):
        folder()
    (tmp_path / "motifs").mkdir()
    (tmp_path / "motifs" / "arch.svg").write_bytes(b"<svg/>")
    assert folder() == tmp_path / "motifs"
    (package / "motifs" / "arch.svg").write_bytes(b"<svg/>")
    assert folder() == package / "motifs"


def test_names_are_those_of_svg_files_only(tmp_path: Path) -> None:
    for name in ("b.svg", "a.SVG", "c.txt"):
        (tmp_path / name).write_bytes(b"")
    (tmp_path / "d.svg").mkdir()
    assert names_in(tmp_path) == ("a", "b")
    assert names_in(tmp_path / "nowhere") == ()


def test_what_cannot_be_read_is_said(tmp_path: Path) -> None:
    with pytest.raises(FileError, match="no such file"):
        read_motif_bytes(tmp_path / "leaf.svg")
    with pytest.raises(FileError, match="this is a folder"):
        read_motif_bytes(tmp_path)


def test_a_huge_file_is_read_no_further_than_it_may_be(tmp_path: Path) -> None:
    path = tmp_path / "huge.svg"
    with path.open("wb") as file:
        file.truncate(200_000_000)
    assert len(read_motif_bytes(path)) == motif_folder.GREATEST_BYTES + 1
