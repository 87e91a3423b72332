"""New edges made few and clean; old ones stay to the bit."""

from __future__ import annotations

import cmath
import math
from itertools import pairwise

import pytest

from frameforge.check.many_points import TINY_MM
from frameforge.geometry.arc import Arc
from frameforge.geometry.combine import evaluate, union
from frameforge.geometry.line import Line
from frameforge.geometry.measure import area_mm2, lengths_mm
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle
from frameforge.mend.tidy import is_sound, tidied
from frameforge.tolerances import SLIVER_MM


def test_what_is_a_sliver_here_is_told_by_the_check_of_files() -> None:
    assert SLIVER_MM == TINY_MM


def test_outlines_that_were_there_come_back_as_they_are() -> None:
    plate = Region(rectangle(-20, -20, 20, 20), (circle(0, 5).reversed(),))
    assert tidied([plate], [plate]).regions[0].outlines == plate.outlines


def test_bits_of_one_arc_are_joined_and_old_edges_keep_their_bits() -> None:
    """A disc put on a plate in five bits, each on a circle of its own by a micron."""
    plate = Region(rectangle(-20, -20, 20, 20))
    corners = [20 + cmath.rect(3, math.tau * k / 5) for k in range(5)]
    bulge = math.tan(math.tau / 20)
    bits = [Arc.from_bulge(a, b, bulge + 1e-6 * k) for k, (a, b) in enumerate(pairwise([*corners, corners[0]]))]
    (after,) = evaluate(union(plate, Region(Outline(tuple(bits))))).regions
    assert sum(isinstance(s, Arc) for s in after.outer.segments) == 4
    clean = tidied([plate], [after])
    (arc,) = (s for s in clean.regions[0].outer.segments if isinstance(s, Arc))
    assert abs(arc.center - 20) < 1e-5
    assert [s for s in clean.regions[0].outer.segments if isinstance(s, Line)] == [
        s for s in after.outer.segments if isinstance(s, Line)
    ]
    gained = area_mm2(clean.regions) - area_mm2(after)
    assert sum(mm2 for _, mm2 in clean.grown) == pytest.approx(gained, abs=1e-9)


def test_a_sliver_between_old_and_new_goes() -> None:
    """A strip put on .01 mm beside a corner leaves .01 mm of the old edge."""
    plate = Region(rectangle(0, 0, 20, 10))
    (after,) = evaluate(union(plate, Region(rectangle(5, 5, 19.99, 14)))).regions
    assert lengths_mm(after.outer.segments).min() == pytest.approx(0.01)
    (clean,) = tidied([plate], [after]).regions
    assert lengths_mm(clean.outer.segments).min() >= SLIVER_MM
    assert area_mm2(clean) == pytest.approx(area_mm2(after), abs=0.1)
    assert is_sound([clean])


def test_slivers_of_the_drawing_itself_are_none_of_our_business() -> None:
    nicked = Outline.from_points([0, 20, 20 + 10j, 10 + 10j, 10 + 9.99j, 9.99 + 9.99j, 9.99 + 10j, 10j])
    (after,) = evaluate(union(Region(nicked), Region(rectangle(-3, 2, 5, 6)))).regions
    (clean,) = tidied([Region(nicked)], [after]).regions
    assert {s for s in nicked.segments if abs(s.end - s.start) < SLIVER_MM} <= set(clean.outer.segments)


def test_the_round_end_of_a_strip_stays_one_arc() -> None:
    """Its sides are drawn in bits of slightly different bend, its end is not touched."""
    plate = Region(rectangle(-30, -10, 0, 10))
    end = Arc.from_circle(8, 1, -math.pi / 2, math.pi)
    side = [Line(-1 - 1j, 3 - 1.0005j), Line(3 - 1.0005j, 8 - 1j)]
    back = [Line(8 + 1j, 3 + 1.0005j), Line(3 + 1.0005j, -1 + 1j), Line(-1 + 1j, -1 - 1j)]
    finger = Region(Outline.from_chain([*side, end, *back], joint_mm=1e-9))
    (after,) = evaluate(union(plate, finger)).regions
    (clean,) = tidied([plate], [after]).regions
    assert end in clean.outer.segments
    assert len(clean.outer.segments) == len(after.outer.segments) - 2
