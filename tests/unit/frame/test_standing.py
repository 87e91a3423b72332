"""Repeats where they stand: their seats, their outlines, and every one with its neighbour."""

from __future__ import annotations

import math

import numpy as np
import pytest
from fixtures.plain_motifs import plain_rectangle

from frameforge.frame.base import Edge
from frameforge.frame.ornament import ready
from frameforge.frame.place import Track
from frameforge.frame.profile import Profile
from frameforge.frame.spec import Ornament
from frameforge.frame.standing import neighbours, stand, standing_at
from frameforge.geometry.shapes import rectangle

BAR = ready(Ornament(plain_rectangle(60, 4)), 1.0, is_flipped=False)
TRACK = Track(Edge(50, 50), 1, "foot", "base")


def test_a_motif_stands_on_its_seat() -> None:
    seats, standing = stand(TRACK, [BAR, BAR], [0.0, math.pi / 2])
    assert [seat.tau for seat in seats] == [0.0, math.pi / 2]
    first = standing[0].points
    assert (first.real.min(), first.real.max()) == pytest.approx((-30, 30))
    assert (first.imag.min(), first.imag.max()) == pytest.approx((40, 44))
    assert standing[1].points.real.max() == pytest.approx(44)


def test_another_outline_may_stand_in_its_place() -> None:
    seat = TRACK.seat(BAR, 0.0)
    other = standing_at(TRACK, BAR, seat, Profile.from_outlines([rectangle(-1, -9, 1, -5)]))
    assert (other.points.imag.min(), other.points.imag.max()) == pytest.approx((31, 35))


def test_a_bent_motif_stands_along_the_edge_and_wants_a_seat_along_it() -> None:
    bent = Track(Edge(50, 50), 1, "foot", "base", is_bent=True)
    _, (standing,) = stand(bent, [BAR], [0.0])
    radii = np.abs(standing.points)
    assert (radii.min(), radii.max()) == pytest.approx((50, 54))
    with pytest.raises(TypeError, match="a bent row is seated by lengths along its edge"):
        standing_at(bent, BAR, TRACK.seat(BAR, 0.0))


def test_the_last_has_the_first_as_its_neighbour() -> None:
    _, standing = stand(TRACK, [BAR] * 3, [0.0, 2.0, 4.0])
    one, two, three = standing
    assert neighbours(standing) == [(one, two), (two, three), (three, one)]
    assert neighbours([one]) == [(one, one)]
