"""What a piece must go into: at its best turn, as far as it reaches, with rooms that would take it."""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest
from fixtures.mending import limits

from frameforge.check import too_big
from frameforge.check.survey import Survey
from frameforge.check.too_big import Allowed, find_too_big
from frameforge.geometry.affine import Affine
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle


def _corners(width: float, height: float, turn: float = 0.0) -> np.ndarray:
    box = np.array([0, width, width + 1j * height, 1j * height])
    return np.asarray((box - box.mean()) * cmath.rect(1, turn), dtype=np.complex128)


@pytest.mark.parametrize("turn", [0.0, 0.4, 1.2, math.pi / 2, 2.5, 3.1])
def test_a_card_is_turned_until_it_goes_in(turn: float) -> None:
    """A card of 90 x 40 in a room of 50 x 100, and in one of 80 x 60, where it is best turned by 31 degrees or so."""
    upright = too_big._least_reach(_corners(90, 40, turn), Allowed(50, 100, "the sheet", "sheet"))
    assert upright[0] - upright[1] == pytest.approx(-10, abs=1e-6)
    room = Allowed(80, 60, "the sheet", "sheet")
    reach, limit = too_big._least_reach(_corners(90, 40, turn), room)
    q = np.linspace(0, math.pi, 100_001)
    excess = np.maximum(90 * abs(np.cos(q)) + 40 * abs(np.sin(q)) - 80, 90 * abs(np.sin(q)) + 40 * abs(np.cos(q)) - 60)
    assert reach - limit == pytest.approx(excess.min(), abs=2e-3)
    assert reach - limit >= excess.min() - 2e-3


def test_a_round_room_takes_what_its_circle_takes() -> None:
    room = Allowed(60, 60, "the lid", "envelope", is_round=True)
    assert too_big._least_reach(_corners(40, 30), room) == (pytest.approx(50), 60)


def test_extents_of_a_turned_outline() -> None:
    width, height = too_big._extents(_corners(4, 3), np.array([0.0, math.pi / 2, math.pi / 6]))
    assert width == pytest.approx([4, 3, 4 * math.cos(math.pi / 6) + 1.5])
    assert height == pytest.approx([3, 4, 2 + 3 * math.cos(math.pi / 6)])


def test_sizes_are_told_finer_where_they_would_read_alike() -> None:
    assert too_big._outer(90.34, 80.0) == "90.3 mm"
    assert too_big._outer(80.001, 80.0) == "80.01 mm"
    assert too_big._outer(80.031, 80.0) == "80.04 mm"
    assert too_big._outer(80.02, 80.0) == "80.02 mm"


def test_rooms_are_told_by_their_shorter_side_for_what_is_about_round() -> None:
    room = Allowed(100, 70, "the sheet", "sheet")
    assert too_big._room_words(room, _corners(50, 50)) == "70 mm"
    assert too_big._room_words(room, _corners(50, 20)) == "100 x 70 mm"
    assert too_big._room_words(room, _corners(20, 50)) == "100 x 70 mm"
    assert too_big._room_words(Allowed(70, 70, "the sheet", "sheet"), _corners(50, 20)) == "70 mm"


def _survey(*regions: Region) -> Survey:
    return Survey(regions, limits(), (), (), (), (), frozenset())


@pytest.mark.parametrize(("radius", "is_found"), [(24.999, False), (25.0, False), (25.001, True)])
def test_what_is_as_large_as_its_room_goes_in(radius: float, is_found: bool) -> None:
    found = find_too_big(_survey(Region(circle(10, radius))), [Allowed(50, 50, "the sheet", "sheet")])
    assert len(found) == is_found


def test_a_larger_room_is_offered_where_one_takes_it() -> None:
    """The least that does; and the piece is turned in each."""
    small = Allowed(70, 40, "the envelope", "envelope", typed="--c6")
    middle, large = (Allowed(w, h, "", "envelope", typed=typed) for w, h, typed in ((75, 75, "--m"), (120, 90, "--l")))
    piece = _survey(Region(rectangle(0, 0, 50, 80).transformed(Affine.from_turn(0.2))))
    allowed = Allowed(70, 40, "the envelope", "envelope", larger=(small, middle, large))
    (found,) = find_too_big(piece, [allowed], "warning")
    assert found.code == "too-big-for-envelope"
    assert found.severity == "warning"
    assert found.limit in (70, 40)
    assert "use --l (takes 120 x 90 mm)" in found.say
    (plain,) = find_too_big(piece, [Allowed(70, 40, "the envelope", "envelope", larger=(small,))])
    assert "take a larger envelope" in plain.say
    assert find_too_big(piece, []) == ()
    assert find_too_big(_survey(), [small]) == ()
