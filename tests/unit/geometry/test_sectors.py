"""Which expressions come round again and again, and which copies a few of their sectors need."""

from __future__ import annotations

import cmath
import math

import pytest
from fixtures.outlines import disc, leaf, leaf_frame, ring, spokes, teardrop

from frameforge.geometry.affine import Affine
from frameforge.geometry.combine import Copies, Expression, Loops, difference, intersection, union
from frameforge.geometry.expression import leaves_of
from frameforge.geometry.region import Region
from frameforge.geometry.sectors import sectors_of
from frameforge.geometry.shapes import circle, ellipse


def _kept(expression: Expression) -> list[int]:
    sectors = sectors_of(expression)
    assert sectors is not None
    return [len(leaf.placements) for leaf in leaves_of(sectors.part) if isinstance(leaf, Copies)]


@pytest.mark.parametrize("count", [24, 48, 200])
def test_as_many_copies_are_kept_whatever_their_count(count: int) -> None:
    sectors = sectors_of(leaf_frame(count, 50 * count / 24))
    assert sectors is not None
    assert sectors.count == count
    assert _kept(leaf_frame(count, 50 * count / 24)) == [6, 5]


def test_rows_of_unlike_counts_come_round_in_what_both_share() -> None:
    leaves, drops = Copies(leaf(), spokes(96, 200)), Copies(teardrop(), spokes(72, 190))
    sectors = sectors_of(difference(union(disc(200), leaves), drops))
    assert sectors is not None
    assert sectors.count == 24


def test_wide_motifs_need_more_of_their_neighbours() -> None:
    long = Copies(leaf().transformed(Affine(0.2, 2.5)), spokes(96, 100))
    assert _kept(union(disc(100), long))[0] > _kept(union(disc(100), Copies(leaf(), spokes(96, 100))))[0]


def test_places_and_turns_go_counter_clockwise_in_sectors() -> None:
    sectors = sectors_of(union(disc(100), Copies(leaf(), tuple(reversed(spokes(36, 100))))))
    assert sectors is not None
    from_middle = cmath.rect(80, sectors.middle_rad)
    assert sectors.place(from_middle * sectors.turn(7)) == pytest.approx(7)
    assert sectors.turn(1) == pytest.approx(cmath.rect(1, math.tau / 36))


def _unevenly(count: int) -> tuple[Affine, ...]:
    first, *rest = spokes(count, 100)
    return (first, *(Affine.from_turn(1e-9).after(place) for place in rest[:1]), *rest[1:])


@pytest.mark.parametrize(
    "expression",
    [
        disc(50),
        union(),
        union(disc(100), Copies(leaf(), spokes(8, 100))),  # too few to be worth it
        union(disc(100), Copies(leaf(), spokes(48, 100)[1:])),  # one is left out
        union(disc(100), Copies(leaf(), _unevenly(48))),
        union(disc(100), Copies(leaf(), spokes(48, 100)), Copies(leaf(), ())),
        union(disc(100), Copies(leaf(), spokes(48, 100)), Copies(leaf(), spokes(47, 100))),
        union(disc(100, 1e-9), Copies(leaf(), spokes(48, 100))),
        difference(union(disc(100), Copies(leaf(), spokes(48, 100))), disc(3, 80j)),
        union(Region(ellipse(0, 100, 99)), Copies(leaf(), spokes(48, 100))),
        union(Loops((circle(0, 100),)), Copies(leaf(), spokes(48, 100))),
        intersection(disc(100), Copies(disc(40), spokes(48, 45))),  # each takes up a third of the turn
        union(disc(10), Copies(leaf(), spokes(48, 1.5))),  # they come near to 0
        union(disc(10), Copies(Region(ellipse(0, 19.5, 0.05)), spokes(48, 20))),  # and so does one end of these
    ],
)
def test_what_does_not_come_round_has_no_sectors(expression: Expression) -> None:
    assert sectors_of(expression) is None


def test_a_ring_of_two_circles_is_round_too() -> None:
    assert sectors_of(union(ring(100, 80), Copies(leaf(), spokes(48, 100)))) is not None
