"""Ties of loose parts: as wide as asked, short, alike left and right, and through windows."""

from __future__ import annotations

import cmath
import math

import pytest
from fixtures.plain_motifs import plain_rectangle

from frameforge.frame.part_ties import tied_parts
from frameforge.geometry.combine import evaluate, union
from frameforge.geometry.measure import area_mm2
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle
from frameforge.motif.describe import card_of
from frameforge.motif.motif import Motif

WIDTH = 1.5


def _card(motif: Motif) -> float:
    return sum(map(area_mm2, card_of(motif)))


def test_a_small_part_hangs_on_one_tie_straight_below_it() -> None:
    """A bar of 4 mm and a dot of 3 mm, 1.5 mm above it: a strip of 1.5 x 1.5 mm, and what its round end leaves."""
    motif = Motif("i", (*plain_rectangle(4, 10).join, Region(circle(13j, 1.5))), 4.0)
    tied = tied_parts(motif, frozenset({1}), WIDTH)
    (card,) = tied.motif.join
    assert tied.ties == 1
    # Below the dot's lowest point a square; above it what its round leaves of a strip as wide as its radius.
    corners = 1.5 * 1.5 - (0.5 * 0.75 * 1.5 * 3**0.5 / 2 * 2 + 1.5**2 * math.pi / 6)
    assert _card(tied.motif) == pytest.approx(_card(motif) + WIDTH * 1.5 + corners, abs=1e-4)
    assert {round(s.start.real, 6) for s in card.outer.segments if 10 < s.start.imag < 11.6} <= {-0.75, 0.75}


def test_a_wide_part_has_two_ties_alike_left_and_right() -> None:
    """A roof of 20 x 4 mm, 2 mm above a wall as wide."""
    motif = Motif("roof", (*plain_rectangle(20, 6).join, Region(rectangle(-10, 8, 10, 12))), 20.0)
    tied = tied_parts(motif, frozenset({1}), WIDTH)
    (card,) = tied.motif.join
    assert tied.ties == 2
    assert _card(tied.motif) == pytest.approx(_card(motif) + 2 * 2 * WIDTH, abs=1e-6)
    sides = sorted(round(s.start.real, 3) for s in card.outer.segments if s.start.imag == pytest.approx(6.0))
    assert len(card.holes) == 1 or len(sides) == 4


def test_an_island_in_a_window_is_tied_through_it() -> None:
    """A ring of 20 mm across with a disc of 8 mm in its hole of 16 mm: two ties of 4 mm, opposite each other."""
    window = Region(circle(10j, 8.0), (circle(10j, 4.0).reversed(),))
    motif = Motif("target", (Region(circle(10j, 10.0)),), 4.0, (), (window,))
    tied = tied_parts(motif, frozenset({1}), WIDTH)
    assert tied.ties == 2
    assert len(card_of(tied.motif)) == 1
    assert len(tied.motif.window) == 2
    left, right = (area_mm2(one) for one in tied.motif.window)
    assert left == pytest.approx(right, rel=1e-3)


def test_what_hovers_above_the_foot_is_tied_down_to_it() -> None:
    """Two legs of 2 mm stand, the bar between them hangs 1 mm above the line."""
    legs = Region(rectangle(-10, 0, -8, 8)), Region(rectangle(8, 0, 10, 8))
    motif = Motif("gate", (*legs, Region(rectangle(-2, 1, 2, 3))), 20.0)
    tied = tied_parts(motif, frozenset({2}), WIDTH)
    assert tied.ties == 1
    assert min(s.start.imag for region in tied.motif.join for s in region.outer.segments) < 0


def test_parts_that_touch_in_a_point_are_joined_through_it() -> None:
    """Two discs, one on top of the other: the strip runs through both along the line of their middles."""
    motif = Motif("eight", (Region(circle(4j, 4.0)), Region(circle(12j, 4.0))), 4.0)
    tied = tied_parts(motif, frozenset({1}), WIDTH)
    (card,) = tied.motif.join
    ends = [s.start for s in card.outer.segments if abs(s.start - 8j) < 2]
    assert ends
    assert all(abs(abs(cmath.phase(end - 4j)) - cmath.pi / 2) < 0.25 for end in ends)
    assert min(abs(end.real) for end in ends) == pytest.approx(WIDTH / 2, abs=0.1)


def test_parts_hold_each_other_in_a_chain() -> None:
    """Four dots in a row above a bar: the upper ones hang on the lower ones, each on one tie."""
    dots = tuple(Region(circle(complex(0, 6 + 5 * k), 1.5)) for k in range(4))
    motif = Motif("chain", (*plain_rectangle(4, 4).join, *dots), 4.0)
    tied = tied_parts(motif, frozenset({1, 2, 3, 4}), WIDTH)
    assert tied.ties == 4
    assert len(tied.motif.join) == 1
    assert tied_parts(motif, frozenset(), WIDTH).motif == motif


def test_what_still_touches_beside_its_ties_is_joined_there_too() -> None:
    """A bar whose four teeth touch a wall each in a point: two ties hold it, the others get a strip each."""
    teeth = [complex(x, 8 if k % 2 else 6) for k, x in enumerate(range(-9, 10, 3))]
    comb = Region(Outline.from_points([*teeth, 9 + 12j, -9 + 12j]))
    motif = Motif("comb", (*plain_rectangle(20, 6).join, comb), 20.0)
    tied = tied_parts(motif, frozenset({1}), WIDTH)
    combined = evaluate(union(*tied.motif.join))
    assert len(combined.regions) == 1
    assert combined.report.touches == ()
    assert tied.ties == 4
