"""Motifs are found beside the package (a checkout) and inside it (a wheel); files are read as bytes."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from frameforge.errors import FileError
from frameforge.read import motif_folder
from frameforge.read.motif_folder import files_in, folder, names_in, own_folder, read_motif_bytes


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
    assert files_in(tmp_path) == {"a": tmp_path / "a.SVG", "b": tmp_path / "b.svg"}
    assert names_in(tmp_path / "nowhere") == ()
    assert names_in(tmp_path / "c.txt") == ()


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


@pytest.mark.parametrize("stated", ["", "relative/share"])
def test_the_makers_own_folder_is_that_of_the_desktop_standard(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, stated: str
) -> None:
    """XDG Base Directory Specification 0.8: $XDG_DATA_HOME where it is absolute, else ~/.local/share."""
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("XDG_DATA_HOME", stated)
    assert own_folder() == tmp_path / ".local" / "share" / "frameforge" / "motifs"
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "kept"))
    assert own_folder() == tmp_path / "kept" / "frameforge" / "motifs"


def test_on_windows_it_lies_among_the_application_data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "name", "nt")
    monkeypatch.setattr(motif_folder, "Path", type(tmp_path))
    monkeypatch.setenv("APPDATA", str(tmp_path / "Roaming"))
    assert own_folder() == tmp_path / "Roaming" / "frameforge" / "motifs"
    monkeypatch.delenv("APPDATA")
    monkeypatch.setenv("HOME", str(tmp_path))
    assert own_folder() == tmp_path / "AppData" / "Roaming" / "frameforge" / "motifs"


def test_nobody_at_home_has_no_folder(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", "")
    monkeypatch.setattr(os.path, "expanduser", lambda path: path)
    assert own_folder() is None
