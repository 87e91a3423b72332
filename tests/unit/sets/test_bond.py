"""Cards that share lines: every line one curve, once; and what is told when that does not hold."""

from __future__ import annotations

import dataclasses
import math

import pytest

from frameforge.geometry.affine import Affine
from frameforge.geometry.measure import area_mm2, length_mm
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle
from frameforge.sets.bond import Bond, SharedLine, holds

DISCS = [circle(0, radius) for radius in (10.0, 20.0, 30.0)]
HOLE = circle(25, 2.0).reversed()


def bond() -> Bond:
    """A disc and two rings, the outer one with a hole of its own."""
    return Bond.nested(DISCS, [[], [], [HOLE]])


def test_each_line_stands_once_the_innermost_first() -> None:
    made = bond()
    assert [length_mm(line) for line in made.lines] == pytest.approx([math.tau * r for r in (10, 20, 2, 30)])
    assert made.length_mm == pytest.approx(math.tau * 62)
    assert made.saved_mm == pytest.approx(math.tau * 30)
    assert made.shared == (SharedLine(0, 0, 1), SharedLine(1, 1, 2))
    assert made.faults() == ()


def test_the_parts_are_the_card_between_the_lines() -> None:
    made = bond()
    areas = [area_mm2(part) for part in made.parts]
    assert areas == pytest.approx([100 * math.pi, 300 * math.pi, 496 * math.pi])
    assert area_mm2(made.whole) == pytest.approx(sum(areas))
    assert made.whole.holes == (HOLE,)
    assert made.parts[1].outer is DISCS[1]
    assert made.parts[2].holes[0] == DISCS[1].reversed()


def test_lines_run_round_in_turns() -> None:
    """The outermost counter-clockwise: then filling by either rule gives the same."""
    signs = [math.copysign(1, area_mm2(line)) for line in bond().lines]
    assert signs == [1, -1, -1, 1]


@pytest.mark.parametrize("affine", [Affine(1j, 0, 3 + 4j), Affine(0, 1, 5), Affine(0.6 + 0.8j, 0, -2)])
def test_it_moves_as_one(affine: Affine) -> None:
    moved = bond().transformed(affine)
    assert moved.faults() == ()
    assert moved.length_mm == pytest.approx(bond().length_mm)
    assert moved.whole.outer.segments[0].start == pytest.approx(affine.apply(30))
    assert area_mm2(moved.parts[0]) > 0


def test_a_copy_that_is_off_by_a_hair_is_told() -> None:
    """Two transforms 1e-13 apart would cut every shared line twice."""
    made = bond()
    off = made.parts[1].transformed(Affine.from_move(1e-13 + 0j))
    planted = dataclasses.replace(made, parts=(made.parts[0], off, made.parts[2]))
    assert any("line 0 is no opening of part 1" in fault for fault in planted.faults())
    assert any("is not the outside of part 1" in fault for fault in planted.faults())


def test_overlaps_and_lines_that_stand_twice_are_told() -> None:
    made = bond()
    wide = Region(circle(0, 10.5))
    assert any("share" in fault for fault in dataclasses.replace(made, parts=(wide, *made.parts[1:])).faults())
    assert any(
        "unlike" in fault for fault in dataclasses.replace(made, lines=(*made.lines, made.lines[0].reversed())).faults()
    )


def test_holes_for_another_number_of_outlines_are_refused() -> None:
    with pytest.raises(ValueError, match="3 outlines"):
        Bond.nested(DISCS, [[], []])
    with pytest.raises(ValueError, match="0 outlines"):
        Bond.nested([], [])


def test_what_an_outline_holds() -> None:
    square = rectangle(-1, -1, 1, 1)
    assert holds(square, 0.9 + 0.9j)
    assert holds(square.reversed(), 0j)
    assert not holds(square, 1.1 + 0j)
