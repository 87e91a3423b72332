"""Gaps that one repeat less and one more would leave."""

from __future__ import annotations

import math

import pytest

from frameforge.card.preset import load_preset
from frameforge.frame.make import make_piece
from frameforge.frame.spec import Ornament, PieceSpec, RowSpec, Size
from frameforge.job.edge_words import edge_words
from frameforge.job.neighbours import neighbour_gaps
from frameforge.motif.catalogue import load_motif

PRESET = load_preset("card-240-knife")


def closed_form(count: int) -> float:
    """Return g = D sin(pi/n - asin(w/D)) for arches of foot 16 on D 100: there the outlines are nearest at the feet
    (derivation: chord between the ends of neighbouring feet on a circle)."""
    return 100 * math.sin(math.pi / count - math.asin(0.16))


def test_neighbours_of_a_row_of_arches() -> None:
    spec = PieceSpec("x", Size(100, 100), rows=(RowSpec((Ornament(load_motif("arch")),), count=16),))
    (gaps,) = neighbour_gaps(spec, make_piece(spec, PRESET), PRESET)
    assert gaps == {15: pytest.approx(closed_form(15), abs=1e-6), 17: pytest.approx(closed_form(17), abs=1e-6)}


def test_counts_that_do_not_close_the_pattern_are_passed_over() -> None:
    arch = Ornament(load_motif("arch"))
    spec = PieceSpec("x", Size(100, 100), rows=(RowSpec((arch,), count=12, is_mirrored_every_other=True),))
    (gaps,) = neighbour_gaps(spec, make_piece(spec, PRESET), PRESET)
    assert set(gaps) == {10, 14}


def test_rows_with_left_out_positions_have_no_neighbours() -> None:
    arch = Ornament(load_motif("arch"))
    rows = (RowSpec((arch,), count=12, skip=(1,)), RowSpec((arch,), count=1, scale=0.5, place="in"))
    spec = PieceSpec("x", Size(100, 100), opening=Size(60, 60), rows=rows)
    piece = make_piece(spec, PRESET)
    assert neighbour_gaps(spec, piece, PRESET) == ({}, {})
    assert [edge_words(spec, row, piece) for row in rows] == [
        "round 100 mm (3.94 in)",
        "in an opening of 60 mm (2.36 in)",
    ]


def test_a_rim_gives_its_opening() -> None:
    row = RowSpec((Ornament(load_motif("arch")),), count=4, place="in")
    spec = PieceSpec("x", Size(100, 100), rim_mm=20, rows=(row,))
    assert edge_words(spec, row, make_piece(spec, PRESET)) == "in an opening of 60 mm (2.36 in)"
