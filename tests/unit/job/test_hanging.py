"""What is said of hanging a piece by its hole: nothing when it is plain, how it was moved, how far it hangs askew."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from fixtures.plain_motifs import plain_rectangle
from fixtures.rows import D100, KNIFE, row_of

from frameforge.frame.make import make_piece
from frameforge.frame.piece import HolePlace, Piece
from frameforge.frame.spec import HoleSpec, PieceSpec
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle
from frameforge.job.hanging import hanging_words, holes_json, off_plumb_mm

DISC = Region(circle(0j, 50))


def hung(middle: complex, deg: float = 0.0) -> Piece:
    return Piece("disc", D100, DISC, holes=(HolePlace(middle, 4.0, deg),))


def test_an_even_piece_needs_no_word() -> None:
    assert hanging_words(hung(46j)) == ()
    assert hanging_words(Piece("disc", D100, DISC)) == ()


def test_a_hole_that_was_moved_is_told() -> None:
    row = row_of(plain_rectangle(6.0, 12.0), count=12, skip=(1, 7, 8, 9, 10, 11, 12))
    piece = make_piece(PieceSpec("hoop", D100, rows=(row,), holes=(HoleSpec(4.0),)), KNIFE)
    [said] = hanging_words(piece)
    assert said.startswith("the hole lies ")
    assert "right of the middle, right above the weight, so that it hangs straight" in said
    assert abs(off_plumb_mm(piece, piece.holes[0])) < 0.05


@pytest.mark.parametrize(("middle", "side", "off"), [(10 + 46j, "right", -10.0), (-10 + 46j, "left", 10.0)])
def test_a_hole_beside_the_plumb_line_swings_the_foot(middle: complex, side: str, off: float) -> None:
    """Hung right of its weight the disc turns until the weight is below: its foot goes to the right."""
    piece = hung(middle)
    turn = math.degrees(math.atan2(10, 46))
    assert off_plumb_mm(piece, piece.holes[0]) == pytest.approx(off)
    assert hanging_words(piece) == (f"hangs askew by its hole: its foot swings {turn:.1f} degrees to the {side}.",)


def test_directions_are_those_in_which_it_hangs() -> None:
    assert hanging_words(hung(46 + 0j, 90.0)) == ()
    assert "to the left" in hanging_words(hung(46 + 10j, 90.0))[0]


def test_a_hole_below_the_weight_turns_the_piece_over() -> None:
    assert "turns over" in hanging_words(hung(-10j))[0]


def test_several_holes_are_not_told() -> None:
    piece = hung(10 + 46j)
    assert hanging_words(replace(piece, holes=piece.holes * 2)) == ()


def test_holes_as_plain_values() -> None:
    [values] = holes_json(hung(10 + 46j))
    assert values == {"size_mm": 4.0, "at_deg": 0.0, "x_mm": 10.0, "y_mm": 46.0, "off_plumb_mm": pytest.approx(-10.0)}
