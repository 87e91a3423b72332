"""Which repeats are there: skipped by number and by side, and none that reaches into a zone kept free."""

from __future__ import annotations

import cmath

import pytest
from fixtures.plain_motifs import arch, leaf
from fixtures.rows import D100, model_of

from frameforge.errors import InputError
from frameforge.frame.model import RowModel
from frameforge.frame.presence import present
from frameforge.units import to_clock_deg


def there(model: RowModel, count: int) -> list[int]:
    """Return the positions that are there, of a row that starts at the top."""
    layout = model.layout(D100, count, 1.0)
    directions = [to_clock_deg(cmath.phase(seat.middle)) for seat in layout.seats]
    positions = list(range(1, count + 1))
    return [p for p, is_there in zip(positions, present(model, layout, directions, positions), strict=True) if is_there]


def test_all_are_there_unless_something_is_said() -> None:
    assert there(model_of(arch()), 12) == list(range(1, 13))


def test_numbers_and_sides_are_left_out() -> None:
    assert there(model_of(arch(), skip=(2, "bottom", 12)), 12) == [1, 3, 4, 5, 6, 8, 9, 10, 11]


def test_of_two_that_are_as_near_to_a_side_the_first_goes() -> None:
    assert there(model_of(arch(), skip=("bottom",)), 5) == [1, 2, 4, 5]


@pytest.mark.parametrize(
    ("start_deg", "side", "gone"),
    [(0.3, "left", 5), (-0.3, "left", 6), (0.3, "right", 2), (30.3, "bottom", 3), (29.7, "top", 1), (30.3, "top", 6)],
)
def test_the_nearest_to_a_side_goes_also_where_others_are_nearly_as_near(
    start_deg: float, side: str, gone: int
) -> None:
    """Six repeats a sixth of a turn apart: the nearest lies 29.7 degrees from the side, the next one 30.3."""
    left = there(model_of(arch(), skip=(side,), start_deg=start_deg), 6)
    assert left == [position for position in range(1, 7) if position != gone]


@pytest.mark.parametrize("position", [0, -1, 13])
def test_positions_the_row_does_not_have_are_refused(position: int) -> None:
    with pytest.raises(InputError, match="1 to 12"):
        there(model_of(arch(), skip=(position,)), 12)


def test_a_zone_takes_all_that_reach_into_it() -> None:
    """Leaves of 13 mm at 22.5 degree steps on 100 mm reach 7.16 degrees to each side."""
    assert there(model_of(leaf(), keep_free=(30.0, 90.0), free="leave"), 16) == [1, 2, 3, 4, 6, 7, *range(8, 17)]
    assert there(model_of(leaf(), keep_free=(31.4, 90.0), free="leave"), 16) == [1, 2, 3, *range(7, 17)]


def test_a_zone_across_the_top_wraps_round() -> None:
    assert there(model_of(leaf(), keep_free=(80.0, 0.0), free="leave"), 16) == list(range(4, 15))


def test_a_position_that_is_not_there_is_told_with_those_that_are() -> None:
    with pytest.raises(InputError) as caught:
        there(model_of(arch(), skip=(13,)), 12)
    assert str(caught.value) == (
        "hoop: there is no position 13 to skip. Write one from 1 to 12, counted from the top clockwise."
    )
    assert caught.value.numbers == {"position": 13, "count": 12}


def test_a_row_of_which_nothing_is_left_is_refused() -> None:
    assert there(model_of(arch(), skip=(1, 2)), 3) == [3]
    with pytest.raises(InputError) as caught:
        there(model_of(arch(), skip=(1, 2, 3)), 3)
    assert str(caught.value) == (
        "hoop: all 3 positions of the row are left out. Keep one, or make the piece without a motif."
    )
    assert caught.value.numbers == {"count": 3}


def test_what_is_out_already_stays_out() -> None:
    layout = model_of(arch()).layout(D100, 4, 1.0)
    model = model_of(arch(), skip=(3,))
    directions = [0.0, 90.0, 180.0, 270.0]
    assert present(model, layout, directions, [1, 2, 3, 4], (True, False, False, False)) == (False, True, False, True)
    assert present(model, layout, directions, [4, 1, 2, 3], (True, False, False, False)) == (False, True, True, False)
