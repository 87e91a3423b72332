"""Names for pieces that were given none."""

from __future__ import annotations

import pytest

from frameforge.frame.piece import Piece, RowResult
from frameforge.frame.spec import Place, Seat, Size
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle
from frameforge.job.naming import default_name, file_stem, file_word, free_name

REGION = Region(circle(0, 50))


def row(motif: str, count: int, place: Place = "out", seat: Seat = "as-drawn") -> RowResult:
    """Return a row of which only motif, count, place and seat matter."""
    return RowResult(motif, count, None, None, None, None, 0, None, 1, seat, place, None)


@pytest.mark.parametrize(
    ("size", "rows", "name"),
    [
        (Size(100, 100), (row("arch", 17),), "arch-17-on-100mm"),
        (Size(150, 100), (row("pea-pod", 12), row("arch", 3)), "pea-pod-12-arch-3-on-150x100mm"),
        (Size(82.55, 82.55), (row("bean-leaf+arch+arch", 12),), "bean-leaf-arch-12-on-82.6mm"),
        (Size(80, 80), (), "plain-80mm"),
        (Size(100, 100), (row("arch", 8, "in"),), "arch-8-inwards-on-100mm"),
        (Size(100, 100), (row("arch", 8, "window"),), "arch-8-windows-on-100mm"),
        (Size(100, 100), (row("arch", 8, "across"),), "arch-8-across-on-100mm"),
        (Size(100, 100), (row("arch", 8, "in", "bent"),), "arch-8-inwards-bent-on-100mm"),
        (Size(90, 90), (row("My Gate", 9), row("scallop", 9, "window")), "My-Gate-9-scallop-9-windows-on-90mm"),
    ],
)
def test_a_name_holds_motif_count_and_size(size: Size, rows: tuple[RowResult, ...], name: str) -> None:
    assert default_name(Piece("x", size, REGION, rows)) == name


@pytest.mark.parametrize(
    ("name", "word"),
    [
        ("Überblüte", "Überblüte"), ("a b\tc\nd", "a-b-c-d"), ("../../etc", "etc"), ("a:b?*", "a-b"), ("..", "motif"),
        ("leaf\udcff", "leaf"), ("x" * 300, "x" * 80),
    ],
)  # fmt: skip
def test_whatever_a_drawing_is_called_files_can_be_called_after_it(name: str, word: str) -> None:
    assert file_word(name) == word


def test_what_is_written_about_a_file_is_called_after_it() -> None:
    assert file_stem("two words é") == "two words é"
    assert file_stem("a\nb\x1b[31m\udcff") == "a-b-[31m-"
    assert file_stem("é" * 125) == "é" * 60
    assert file_stem("€" * 41) == "€" * 40, "a letter is taken whole or not at all"


def test_a_name_that_is_taken_is_numbered() -> None:
    assert free_name("seal", set()) == "seal"
    assert free_name("seal", {"Seal", "seal-2"}) == "seal-3", "file systems may not tell capitals apart"
