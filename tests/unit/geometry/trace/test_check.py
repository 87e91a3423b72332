"""The last look at a result."""

from __future__ import annotations

from fixtures.outlines import leaf

from frameforge.geometry.outline import Outline
from frameforge.geometry.shapes import circle, rectangle
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.check import Checked, checked


def look(*outlines: Outline, candidates: tuple[complex, ...] = ()) -> Checked:
    return checked(Chains.from_segments([outline.segments for outline in outlines]), candidates, 0.01)


def test_sound_outlines_show_nothing() -> None:
    assert look(leaf().outer, circle(0, 30), rectangle(-3, 6, -1, 7)) == Checked()


def test_crossing_outlines_show_where() -> None:
    crossed = look(circle(0, 10), circle(15, 10)).crossed
    assert len(crossed) == 2
    assert all(abs(place.real - 7.5) < 0.02 for place in crossed)


def test_an_outline_that_crosses_itself_shows_where() -> None:
    bow = Outline.from_points([0, 10 + 10j, 10, 10j])
    assert look(bow).crossed == (5 + 5j,)


def test_curves_much_closer_than_the_chords_do_not_cross() -> None:
    assert look(circle(0, 10), circle(0, 9.9999), circle(20.0001, 10)).crossed == ()


def test_only_true_touches_are_kept_in_order() -> None:
    touching = look(circle(0, 10), circle(20, 10), circle(-20, 10), candidates=(10, 3 + 3j, -10, 10j))
    assert touching.crossed == ()
    assert touching.touches == (-10, 10)


def test_a_corner_on_a_side_is_a_touch_and_a_plain_joint_is_not() -> None:
    spike = Outline.from_points([4 + 2j, 8, 8 + 4j])
    found = look(rectangle(0, 0, 4, 4), spike, candidates=(4 + 2j, 4, 8))
    assert found.touches == (4 + 2j,)
