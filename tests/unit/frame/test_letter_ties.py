"""Ties that hold the islands of letters, and bars that hold what would stand loose."""

from __future__ import annotations

import pytest

from frameforge.errors import GeometryError
from frameforge.frame.letter_ties import held_from_below, held_islands, parted
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle


def ring(outer: float, inner: float) -> Region:
    return Region(circle(0, outer), (circle(0, inner).reversed(),))


def test_an_island_is_held_by_two_ties_of_the_width_asked() -> None:
    """A ring of 2 mm, parted above and below by ties 0.8 mm wide: 2 x 2 x 0.8 mm2 stay card, but for the arcs."""
    cut, ties = held_islands((ring(5, 3),), 0.8)
    assert ties == 2
    assert area_mm2((ring(5, 3),)) - area_mm2(cut) == pytest.approx(2 * 2 * 0.8, abs=0.02)
    assert all(not region.holes for region in cut)


def test_a_letter_without_an_island_stays_as_it_is() -> None:
    plain = (Region(circle(0, 5)),)
    assert held_islands(plain, 0.8) == (plain, 0)


def test_a_letter_too_small_for_its_ties_is_refused() -> None:
    with pytest.raises(GeometryError, match=r"^letters are too small for ties 0\.8 mm wide\. Make them larger"):
        held_islands((ring(0.3, 0.15),), 0.8)


def test_what_would_stand_loose_gets_a_bar_down_to_the_baseline() -> None:
    """A dot stands 5 mm up; a hook as high has its middle beside its card, so that its bar goes where card is."""
    dot = Region(circle(6j, 1))
    (held,) = held_from_below((dot,), 0.3, 0.5)
    assert bounds(held).bottom == pytest.approx(0, abs=1e-12)
    hook = Region(Outline.from_points([-3 + 5j, 3 + 5j, 3 + 6j, -2 + 6j, -2 + 9j, 3 + 9j, 3 + 10j, -3 + 10j]))
    (held,) = held_from_below((hook,), 0.3, 1.0)
    assert bounds(held).bottom == pytest.approx(0, abs=1e-12)
    assert area_mm2(hook) + 5 <= area_mm2(held) < area_mm2(hook) + 6
    stem = Region(rectangle(0, 0, 1, 7))
    assert held_from_below((stem,), 0.3, 0.5) == (stem,)


BODY = Region(rectangle(0, 0, 4, 10))


def boxes(parts: tuple[Region, ...]) -> list[tuple[float, float, float, float]]:
    """Left, bottom, right and top of each part, mm."""
    return [
        tuple(round(side, 3) for side in (box.left, box.bottom, box.right, box.top))  # type: ignore[misc]
        for box in map(bounds, parts)
    ]


def test_dots_and_accents_move_to_where_a_web_lies_between() -> None:
    """A dot .5 mm above its stem goes up by 1 mm, the accent over it follows; a cedilla goes down.

    Two chord tolerances, .02 mm, are added to each web: a curve may lie so much beyond its chords.
    """
    dot, accent = Region(rectangle(1, 10.5, 3, 12)), Region(rectangle(0, 12.2, 4, 13))
    below = Region(rectangle(1, -2, 3, -0.3))
    found = boxes(parted((accent, dot, BODY, below), 1.5))
    assert [box[1::2] for box in found] == [
        (0, 10),
        pytest.approx((11.52, 13.02), abs=1e-3),
        pytest.approx((14.54, 15.34), abs=1e-3),
        pytest.approx((-3.22, -1.52), abs=1e-3),
    ]
    assert [box[::2] for box in found] == [(0, 4), (1, 3), (0, 4), (1, 3)]


def test_parts_far_enough_stay_as_they_are_and_so_do_those_beside() -> None:
    far, beside = Region(rectangle(1, 12, 3, 13)), Region(rectangle(4.2, 5, 6, 7))
    assert parted((BODY, far, beside), 1.5) == (BODY, beside, far)
    assert parted((BODY,), 1.5) == (BODY,)
    assert parted((), 1.5) == ()


def test_two_dots_at_one_height_move_together() -> None:
    """The higher of the two moves as far as the lower has to."""
    left, right = Region(rectangle(0, 10.5, 1, 11.5)), Region(rectangle(3, 11, 4, 12))
    found = boxes(parted((BODY, left, right), 1.5))
    assert [box[1] for box in found[1:]] == pytest.approx([11.52, 12.02], abs=1e-3)


def test_what_touches_the_body_at_its_top_lies_above_it() -> None:
    found = boxes(parted((Region(rectangle(0, 10, 4, 11)), BODY), 1.0))
    assert found[0] == (0, 0, 4, 10)
    assert found[1][1] == pytest.approx(11.02, abs=1e-3)


def test_a_bar_is_as_wide_as_asked_about_the_middle_and_only_of_what_stands_loose() -> None:
    """A dash from 5 to 6 mm up with a bar .5 mm wide below it: 4 + 2.5 mm2. At the line itself it is not held."""
    dash = Region(rectangle(-2, 5, 2, 6))
    (held,) = held_from_below((dash,), 0.3, 0.5)
    assert area_mm2(held) == pytest.approx(4 + 2.5, abs=1e-9)
    low = Region(rectangle(0, 0.29, 1, 2))
    assert held_from_below((low,), 0.3, 0.5) == (low,)
    at_line = Region(rectangle(0, 0.3, 1, 2))
    assert bounds(held_from_below((at_line,), 0.3, 0.5)).bottom == pytest.approx(0, abs=1e-12)
