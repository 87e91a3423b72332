"""Where ties of a window are looked for, on frames of straight bars: lengths and ends known by hand."""

from __future__ import annotations

import cmath
import math

import pytest

from frameforge.frame import ties
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle
from frameforge.motif.motif import Motif
from frameforge.tolerances import EVEN_MM, ROOT_MM


def frame(outer: float, inner: float, middle: complex = 0j) -> Region:
    """Return a square frame, half as wide outside and inside as told, with its hole's middle where told."""
    hole = rectangle(middle.real - inner, middle.imag - inner, middle.real + inner, middle.imag + inner)
    return Region(rectangle(-outer, -outer, outer, outer), (hole.reversed(),))


def walls(*cut: Region) -> ties._Walls:
    return ties._Walls.of(cut)


def test_a_ray_meets_the_walls_ahead_of_it_in_order() -> None:
    found = walls(frame(8, 5))
    assert found.met(0j, 1) == pytest.approx([5, 8])
    assert found.met(0j, -1j) == pytest.approx([5, 8])
    assert found.met(-20 + 1j, 1) == pytest.approx([12, 15, 25, 28])
    assert found.met(6 + 1j, 1) == pytest.approx([2])
    assert found.met(20 + 0j, 1) == []
    assert found.met(1 + 0j, (1 + 1j) / math.sqrt(2)) == pytest.approx([4 * math.sqrt(2), 7 * math.sqrt(2)])


def test_a_bar_reaches_over_the_window_into_the_card_and_costs_what_it_bridges() -> None:
    assert ties._reach(walls(frame(8, 5)), 0j, 1, 1.5) == pytest.approx((8 + ROOT_MM, 3.0))
    assert ties._reach(walls(frame(8, 5)), 2 + 0j, 1, 1.5) == pytest.approx((6 + ROOT_MM, 3.0))
    assert ties._reach(walls(frame(8, 5)), 6 + 0j, 1, 1.5) == pytest.approx((2 + ROOT_MM, 2.0)), "begun in the window"


def test_a_bar_counts_all_across_its_width() -> None:
    """Under 45 degrees one side of a bar 2 mm wide is 1 mm further on at each wall."""
    length, cost = ties._reach(walls(frame(8, 5)), 3 + 0j, (1 + 1j) / math.sqrt(2), 2.0)
    assert length == pytest.approx(5 * math.sqrt(2) + 1 + ROOT_MM)
    assert cost == pytest.approx(3 * math.sqrt(2))


def test_a_bar_that_ends_in_another_window_costs_a_thousand_more() -> None:
    around = frame(12, 8.1)
    assert ties._reach(walls(frame(8, 5), around), 0j, 1, 1.5) == pytest.approx((8 + ROOT_MM, 1003.0))
    far = frame(12, 8.5)
    assert ties._reach(walls(frame(8, 5), far), 0j, 1, 1.5) == pytest.approx((8 + ROOT_MM, 3.0))


def ends(bars: list[Outline]) -> list[tuple[float, float, float, float]]:
    boxes = [bounds(bar) for bar in bars]
    return sorted((round(b.left, 6), round(b.bottom, 6), round(b.right, 6), round(b.top, 6)) for b in boxes)


def test_the_shortest_direction_of_those_tried_is_taken() -> None:
    """A frame 3 mm wide left and right, 5 mm above and below."""
    hole = rectangle(-5, -5, 5, 5).reversed()
    cut = walls(Region(rectangle(-8, -10, 8, 10), (hole,)))
    bars = ties._best(cut, 0j, (0.0, math.pi / 2), 1.5)
    assert ends(bars) == [(-8 - ROOT_MM, -0.75, 0.0, 0.75), (0.0, -0.75, 8 + ROOT_MM, 0.75)]
    upright = ties._best(cut, 0j, (math.pi / 2,), 1.5)
    assert ends(upright) == [(-0.75, -10 - ROOT_MM, 0.75, 0.0), (-0.75, 0.0, 0.75, 10 + ROOT_MM)]


@pytest.mark.parametrize(("right", "count"), [(2.0, 2), (7.4, 2), (7.6, 1), (20.0, 1)])
def test_a_bar_much_longer_than_its_fellow_is_left_out(right: float, count: int) -> None:
    """2 mm on the left: up to three times that and the width, 1.5 mm, goes on the right."""
    cut = walls(Region(rectangle(-7, -60, 5 + right, 60), (rectangle(-5, -5, 5, 5).reversed(),)))
    assert len(ties._best(cut, 0j, (0.0,), 1.5)) == count


def test_a_bar_is_a_strip_from_the_middle_on() -> None:
    (box,) = ends([ties._bar(1 + 2j, 1j, 7.0, 3.0)])
    assert box == (-0.5, 2.0, 2.5, 9.0)
    (mirrored,) = ends([ties._mirrored(ties._bar(1 + 2j, 1j, 7.0, 3.0))])
    assert mirrored == (-2.5, 2.0, 0.5, 9.0)


def test_a_drawing_is_even_when_its_mirror_image_lies_on_it() -> None:
    assert ties._is_even([frame(8, 5)])
    assert ties._is_even([frame(8, 5, 1j)])
    assert not ties._is_even([frame(8, 5, 1 + 0j)])
    assert ties._is_even([frame(8, 5, complex(EVEN_MM * 0.4, 0))])
    assert not ties._is_even([frame(8, 5, complex(EVEN_MM * 0.6, 0))])
    assert ties._is_even([Region(circle(4j, 3)), Region(circle(9j, 1))])


def test_the_middle_of_an_island_is_its_centre_or_lies_in_its_thickest_part() -> None:
    assert ties._middle(rectangle(1, 2, 5, 10).reversed()) == pytest.approx(3 + 6j)
    # A square bracket of bars 2 mm wide, the lower one 4 mm.
    bracket = Outline.from_points([0, 20, 20 + 4j, 2 + 4j, 2 + 18j, 20 + 18j, 20 + 20j, 20j])
    middle = ties._middle(bracket.reversed())
    assert middle.imag == pytest.approx(2.0, abs=0.3)
    assert 1.7 < middle.real < 18.3


def test_the_middle_on_the_axis_is_that_of_the_longest_stretch() -> None:
    """Two bars across the axis, 2 mm and 6 mm high, joined at the side."""
    island = Outline.from_points([
        complex(x, y)
        for x, y in [(-5, 0), (5, 0), (5, 14), (-5, 14), (-5, 8), (3, 8), (3, 2), (-5, 2)]
    ])  # fmt: skip
    assert ties._middle_on_axis(island.reversed()) == pytest.approx(11j)
    assert ties._middle_on_axis(rectangle(-3, 4, 3, 10).reversed()) == pytest.approx(7j)


def test_islands_of_an_even_drawing_are_tied_alike_on_both_sides() -> None:
    """Three holes in a plate: on the axis, right and left of it. Those on the axis are tied up and down or across."""
    holes = [rectangle(x - 1, 4, x + 1, 6) for x in (-8.0, 0.0, 8.0)]
    cut = [Region(rectangle(-12, 0, 12, 12), tuple(hole.reversed() for hole in holes))]
    bars = ties._bars([hole.reversed() for hole in holes], cut, 1.0, (0.0, math.pi / 2), is_even=True)
    boxes = ends(bars)
    assert sorted((-right, bottom, -left, top) for left, bottom, right, top in boxes) == boxes
    assert (-0.5, -ROOT_MM, 0.5, 5.0) in boxes
    assert (8.0, 4.5, 12 + ROOT_MM, 5.5) in boxes
    single = ties._bars([holes[2].reversed()], cut, 1.0, (math.pi / 2,), is_even=False)
    assert ends(single) == [(7.5, -ROOT_MM, 8.5, 5.0), (7.5, 5.0, 8.5, 12 + ROOT_MM)]


def test_what_counts_nothing_unless_it_is_said() -> None:
    assert (ties.Tied(()).islands, ties.Tied(()).ties) == (0, 0)


RING = Motif("ring", (frame(8, 5),), 4.0)


def test_ties_of_a_motif_are_worked_out_once() -> None:
    assert ties.tied(RING, 1.5) is ties.tied(RING, 1.5)


def test_upright_ties_run_up_and_down_whatever_is_shortest() -> None:
    """A frame 3 mm wide left and right, 5 mm above and below."""
    hole = rectangle(-5, -5, 5, 5).reversed()
    tall = Motif("tall", (Region(rectangle(-8, -10, 8, 10), (hole,)),), 4.0)
    for is_upright, wide, high in ((True, 7.25, 20.0), (False, 16.0, 9.25)):
        made = ties.tied(tall, 1.5, is_upright=is_upright)
        assert made is not None
        assert (made.islands, made.ties) == (1, 2)
        boxes = [bounds(region.outer) for region in made.cut]
        assert [(box.width_mm, box.height_mm) for box in boxes] == [pytest.approx((wide, high))] * 2


def test_where_ties_leave_nothing_to_cut_there_are_none() -> None:
    assert ties.tied(RING, 40.0) is None


def test_a_bar_reaches_into_the_point_of_a_window_that_lies_in_its_middle() -> None:
    """The window ends in a point 10 mm out; half the bar's width beside it, 8.5 mm out."""
    pointed = Outline.from_points([-8 - 8j, 8 - 8j, 8.5 - 0.75j, 10 + 0j, 8.5 + 0.75j, 8 + 8j, -8 + 8j])
    cut = Region(pointed, (rectangle(-5, -5, 5, 5).reversed(),))
    assert ties._reach(walls(cut), 0j, 1, 1.5) == pytest.approx((10 + ROOT_MM, 5.0))


@pytest.mark.parametrize("deg", [15, 30, 75])
def test_ties_go_the_shortest_way_in_steps_of_fifteen_degrees(deg: int) -> None:
    """A frame 3 mm wide, turned: square to its bars two ties of 1.5 mm take 9 mm2 of the window."""
    turn = cmath.rect(1, math.radians(deg))
    outer, inner = (
        Outline.from_points([complex(x, y) * half * turn for x, y in [(-1, -1), (1, -1), (1, 1), (-1, 1)]])
        for half in (8, 5)
    )
    made = ties.tied(Motif("turned", (Region(outer, (inner.reversed(),)),), 4.0), 1.5)
    assert made is not None
    assert made.ties == 2
    assert sum(area_mm2(region) for region in made.cut) == pytest.approx(16**2 - 10**2 - 2 * 3 * 1.5)
