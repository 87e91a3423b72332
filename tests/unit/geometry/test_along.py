"""Places and parts along an outline. Expected values by hand on a rectangle and a circle."""

from __future__ import annotations

import cmath
import itertools
import math

import pytest
from fixtures.outlines import leaf

from frameforge.geometry.along import Along
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.measure import length_mm
from frameforge.geometry.outline import Outline
from frameforge.geometry.shapes import circle, ellipse, rectangle


def test_places_on_a_rectangle() -> None:
    along = Along.from_outline(rectangle(0, 0, 40, 20))
    assert along.length_mm == 120
    assert along.point(10) == 10
    assert along.direction(10) == 1
    assert along.point(45) == pytest.approx(40 + 5j)
    assert along.direction(40) == 1j
    assert along.point(130) == along.point(10)


def test_a_circle_turns_by_length_over_radius() -> None:
    along = Along.from_outline(circle(0, 30))
    assert along.point(31.4) == pytest.approx(cmath.rect(30, 31.4 / 30), abs=1e-12)
    assert along.direction(31.4) == pytest.approx(1j * cmath.rect(1, 31.4 / 30), abs=1e-12)


@pytest.mark.parametrize("outline", [circle(0, 30), ellipse(1, 60, 20), leaf().outer, rectangle(0, 0, 4, 2)])
@pytest.mark.parametrize("begin", [0.0, 0.3, 5.0, 11.9])
@pytest.mark.parametrize("share", [0.013, 0.4, 1.0, 1.07, 2.0])
def test_a_part_has_the_length_asked_and_shares_its_joints(outline, begin, share) -> None:  # type: ignore[no-untyped-def]
    along = Along.from_outline(outline)
    part = along.part(begin, begin + share * along.length_mm)
    assert length_mm(part) == pytest.approx(share * along.length_mm, abs=1e-8)
    assert all(a.end == b.start for a, b in itertools.pairwise(part))
    assert part[0].start == pytest.approx(along.point(begin), abs=1e-8)
    assert (part[0].start == part[-1].end) == (share in (1.0, 2.0))


def test_a_part_that_begins_at_a_joint_keeps_the_segments() -> None:
    outline = rectangle(0, 0, 40, 20)
    assert Along.from_outline(outline).part(40, 160) == (*outline.segments[1:], outline.segments[0])


def test_no_part_is_refused() -> None:
    with pytest.raises(ValueError, match="no part"):
        Along.from_outline(circle(0, 1)).part(2, 2)


def test_lengths_of_an_oval_agree_with_the_circle_of_equal_axes() -> None:
    assert Along.from_outline(ellipse(0, 30, 30 + 1e-7)).length_mm == pytest.approx(60 * math.pi, rel=1e-8)


def test_a_handle_of_no_length_has_the_direction_of_the_curve_that_begins_there() -> None:
    """A cubic with its first handle on its start sets out towards its second."""
    bow = Outline((Cubic(0j, 0j, 10 + 10j, 20 + 0j), Line(20 + 0j, 0j)))
    assert Along.from_outline(bow).direction(0.0) == pytest.approx(cmath.rect(1, math.pi / 4), abs=1e-12)
