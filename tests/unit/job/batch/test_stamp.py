"""The stamp: it changes with every file of the maker's own that a recipe names, and with no other."""

from __future__ import annotations

from pathlib import Path

import pytest

from frameforge.job.batch.stamp import stamp_of

RAW = {"piece": [{"row": [{"motif": "daisy.svg"}], "text": [{"words": "A", "font": "Mine.ttf"}]}]}


@pytest.mark.parametrize("name", ["daisy.svg", "Mine.ttf", "presets.toml"])
def test_it_changes_with_the_files_a_recipe_names(name: str, tmp_path: Path) -> None:
    before = stamp_of(RAW, tmp_path, None)
    (tmp_path / name).write_bytes(b"one")
    one = stamp_of(RAW, tmp_path, None)
    (tmp_path / name).write_bytes(b"two")
    assert len({before, one, stamp_of(RAW, tmp_path, None)}) == 3


def test_it_does_not_change_with_others(tmp_path: Path) -> None:
    before = stamp_of(RAW, tmp_path, None)
    (tmp_path / "other.svg").write_bytes(b"one")
    assert stamp_of(RAW, tmp_path, None) == before


def test_motifs_of_a_folder_count_by_their_names(tmp_path: Path) -> None:
    raw = {"piece": [{"row": [{"motif": "daisy"}]}]}
    before = stamp_of(raw, Path("nowhere"), tmp_path)
    (tmp_path / "daisy.svg").write_bytes(b"one")
    assert stamp_of(raw, Path("nowhere"), tmp_path) != before
