"""Drawings stood on their foot: stated feet, found feet, sunk feet."""

from __future__ import annotations

import math

import pytest
from fixtures.outlines import disc

from frameforge.errors import InputError
from frameforge.finding import Finding
from frameforge.geometry.affine import Affine
from frameforge.geometry.combine import evaluate, union
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, ellipse, rectangle
from frameforge.motif.foot import footed, to_motif
from frameforge.motif.motif import Motif
from frameforge.read.drawing import Drawing
from frameforge.tolerances import FOOT_BAND_MM

NECK_MM = 1.5


def _polygon(*points: complex) -> Region:
    return Region(Outline.from_points(points))


def _motif(*join: Region, **rest: object) -> Motif:
    drawing = Drawing(None, None, join, **rest)  # type: ignore[arg-type]
    return to_motif(drawing, "daisy", least_neck_mm=NECK_MM)


HOUSE = _polygon(10 + 5j, 18 + 5j, 18 + 9j, 14 + 12j, 10 + 9j)


def _heart() -> Region:
    """A heart on its point, right half y(x) by one cubic a side, 10 mm tall."""
    right = Cubic(0j, 4 + 3j, 6 + 9j, 3 + 10j), Line(3 + 10j, 8j)
    left = Line(8j, -3 + 10j), Cubic(-3 + 10j, -6 + 9j, -4 + 3j, 0j)
    return Region(Outline((*right, *left)))


def test_a_stated_foot_is_taken() -> None:
    motif = _motif(HOUSE, foot=(10 + 5j, 18 + 5j), axis=(14 + 5j, 14 + 12j))
    assert motif.foot_mm == 8
    assert motif.is_foot_stated
    assert motif.notes == ()
    box = bounds(motif.join)
    assert (box.left, box.bottom, box.right, box.top) == (-4, 0, 4, 7)


@pytest.mark.parametrize("degrees", [17, -40, 90, 180, 233])
def test_a_tilted_foot_is_levelled(degrees: float) -> None:
    turn = Affine.from_turn(math.radians(degrees), 3 - 2j)
    foot = turn.apply(10 + 5j), turn.apply(18 + 5j)
    axis = turn.apply(14 + 5j), turn.apply(14 + 12j)
    motif = _motif(HOUSE.transformed(turn), foot=foot, axis=axis)
    box = bounds(motif.join)
    assert (box.left, box.right, box.top) == pytest.approx((-4, 4, 7), abs=1e-12)
    joints = {segment.start for segment in motif.join[0].outer.segments}
    assert {complex(-motif.foot_mm / 2), complex(motif.foot_mm / 2)} <= joints, "foot ends are joints to the bit"
    assert not any(note for note in motif.notes)


def test_a_foot_drawn_from_right_to_left_is_turned_by_the_axis() -> None:
    motif = _motif(HOUSE, foot=(18 + 5j, 10 + 5j), axis=(14 + 5j, 14 + 9j))
    assert bounds(motif.join).top == 7


def test_without_an_axis_outward_is_where_the_drawing_lies() -> None:
    assert bounds(_motif(HOUSE, foot=(18 + 5j, 10 + 5j)).join).top == 7


def test_a_corner_motif_stands_below_its_foot() -> None:
    tip = _polygon(0j, -3 - 5j, 3 - 5j)
    pocket = Region(rectangle(-4, -5, 4, 0.3))
    motif = _motif(tip, cut_away=(pocket,), foot=(-4 + 0j, 4 + 0j), axis=(0j, 3j))
    assert bounds(motif.join).top == 0
    assert bounds(motif.cut_away).top == pytest.approx(0.3)
    assert motif.foot_mm == 8


@pytest.mark.parametrize("foot", [None, (-5 + 0j, 5 + 0j), (5 + 0j, -5 + 0j)])
def test_a_corner_drawing_without_an_axis_keeps_its_tip_outward(foot: tuple[complex, complex] | None) -> None:
    """Without any mark its foot is the mouth of what is cut away, on a level with its tip."""
    tip = _polygon(0j, -3 - 5j, -0.8 - 5j, -0.8 - 8j, 0.8 - 8j, 0.8 - 5j, 3 - 5j)
    motif = _motif(tip, cut_away=(Region(rectangle(-5, -7, 5, 0)),), foot=foot)
    assert bounds(motif.join).top == pytest.approx(0)
    assert bounds(motif.join).bottom == pytest.approx(-8)
    assert (motif.foot_mm, bounds(motif.cut_away).left) == (10, -5)
    if foot is None:
        assert motif.notes == ("no foot is marked; took the mouth of what is cut away, 10.00 mm, its tip at the edge.",)


def test_a_drawing_that_rises_over_its_cut_away_stands_on_its_lowest_line() -> None:
    motif = _motif(_polygon(-3 - 4j, 3 - 4j, 3 + 9j, -3 + 9j), cut_away=(Region(rectangle(-5, -3, 5, 0)),))
    assert motif.foot_mm == 6


def test_a_leaning_axis_is_told() -> None:
    motif = _motif(HOUSE, foot=(10 + 5j, 18 + 5j), axis=(14 + 5j, 16 + 8j))
    assert motif.notes == ("the axis is drawn 34 degrees off the upright of the foot line; took the foot.",)


def test_a_foot_without_length_is_refused() -> None:
    with pytest.raises(InputError, match="no length"):
        _motif(HOUSE, foot=(10 + 5j, 10 + 5j))


def test_a_flat_foot_is_found() -> None:
    motif = _motif(HOUSE)
    assert motif.foot_mm == 8
    assert not motif.is_foot_stated
    assert motif.sink_mm == 0
    assert bounds(motif.join).left == -4
    assert motif.notes == ("no foot is marked; took the 8.00 mm on which it stands.",)


def test_walls_that_flare_do_not_widen_a_flat_foot() -> None:
    motif = _motif(_polygon(0j, 6 + 0j, 9 + 5j, -3 + 5j))
    assert motif.foot_mm == pytest.approx(6, abs=0.003)
    assert motif.sink_mm == pytest.approx(0, abs=0.0011)


def test_a_round_bottom_stands_on_what_comes_within_a_tenth() -> None:
    """Chord of a circle r 10 at .1 mm: 2 sqrt(20 x .1 - .01)."""
    motif = _motif(disc(10, 3 + 4j))
    assert motif.foot_mm == pytest.approx(2 * math.sqrt(1.99), abs=1e-9)
    assert motif.sink_mm == pytest.approx(0.1)
    assert bounds(motif.join).bottom == pytest.approx(-0.1)


def test_a_short_leg_within_a_tenth_still_stands() -> None:
    table = _polygon(0j, 2 + 0j, 2 + 4j, 8 + 4j, 8 + 0.06j, 10 + 0.06j, 10 + 6j, 6j)
    motif = _motif(table)
    assert motif.foot_mm == 10
    assert motif.sink_mm == pytest.approx(0.06)


def test_a_heart_on_its_point_is_sunk_to_the_least_neck() -> None:
    """Width at a level, by bisection on the cubic itself: x(t) at y(t) = level."""
    motif = _motif(_heart())
    assert motif.foot_mm == pytest.approx(NECK_MM, abs=1e-8)
    curve = Cubic(0j, 4 + 3j, 6 + 9j, 3 + 10j)
    low, high = 0.0, 1.0
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if curve.point(middle).real < NECK_MM / 2 else (low, middle)
    assert motif.sink_mm == pytest.approx(curve.point(low).imag, abs=1e-8)
    assert bounds(motif.join).bottom == pytest.approx(-motif.sink_mm)
    assert motif.notes == (
        f"it stands on 0.26 mm, this card needs 1.50 mm; sunk {motif.sink_mm:.2f} mm into the edge so that it holds.",
    )


def test_a_flower_on_a_thin_stem_keeps_its_stem() -> None:
    stem = _polygon(-0.4 + 0j, 0.4 + 0j, 0.4 + 12j, 4 + 12j, 4 + 16j, -4 + 16j, -4 + 12j, -0.4 + 12j)
    motif = _motif(stem)
    assert motif.foot_mm == pytest.approx(0.8)
    assert motif.sink_mm == 0
    assert "0.80 mm, this card needs 1.50 mm" in motif.notes[0]


def test_a_stated_axis_alone_turns_the_drawing() -> None:
    lying = HOUSE.transformed(Affine.from_turn(-math.pi / 2))
    motif = _motif(lying, axis=(0j, 5 + 0j))
    assert motif.foot_mm == pytest.approx(8)
    assert bounds(motif.join).top == pytest.approx(7)


def test_counters_become_windows() -> None:
    window = rectangle(12, 6, 14, 8)
    motif = _motif(Region(HOUSE.outer, (window.reversed(),)))
    assert motif.join[0].holes == ()
    assert area_mm2(motif.window) == pytest.approx(4)


def test_notes_and_findings_of_the_drawing_are_kept() -> None:
    finding = Finding("white-box", "note", "a box")
    motif = _motif(HOUSE, notes=("took the page as 100 mm.",), findings=(finding,))
    assert motif.notes[0] == "took the page as 100 mm."
    assert motif.findings == (finding,)


def test_parts_that_do_not_touch_are_told() -> None:
    motif = _motif(HOUSE, disc(1, 30 + 20j))
    assert motif.notes[-1] == "it is 2 parts that do not touch; a part that does not reach the edge falls off."


def test_a_motif_of_windows_only_stands_on_them() -> None:
    motif = to_motif(Drawing(None, None, (), window=(HOUSE,)), "pane", least_neck_mm=NECK_MM)
    assert motif.foot_mm == 8
    assert motif.join == ()


@pytest.mark.parametrize("neck_mm", [1.5, 2.3])
def test_a_found_foot_has_joints_at_its_ends_to_the_bit(neck_mm: float) -> None:
    """A root carried down from the foot then meets the outline in one point, and leaves no lines of a nanometre."""
    for drawing in (Drawing(9, 9, (Region(circle(4 + 5j, 3.1)),)), Drawing(9, 9, (Region(ellipse(4 + 4j, 1.7, 3.9)),))):
        motif = to_motif(drawing, "round", least_neck_mm=neck_mm)
        joints = {segment.start for region in motif.join for segment in region.outer.segments}
        assert {complex(-motif.foot_mm / 2, 0), complex(motif.foot_mm / 2, 0)} <= joints
        below = Region(rectangle(-motif.foot_mm / 2, -0.3, motif.foot_mm / 2, 0))
        (rooted,) = evaluate(union(*motif.join, below)).regions
        assert min(abs(segment.end - segment.start) for segment in rooted.outer.segments) > 0.1


@pytest.mark.parametrize("scale", [0.32, 0.5, 1.0, 2.5, 8.0])
def test_a_found_foot_is_as_wide_as_it_must_be_where_it_is_cut(scale: float) -> None:
    """The heart's sides leave its point at 3 in 4 and grow steeper: it is sunk by 3/8 of its foot or a little more."""
    drawn = _motif(_heart())
    cut = footed(drawn, scale, NECK_MM).scaled(scale)
    assert NECK_MM <= cut.foot_mm <= max(NECK_MM, 8 / 3 * FOOT_BAND_MM * scale) + 0.01
    assert 3 / 8 * cut.foot_mm <= cut.sink_mm <= 0.52 * cut.foot_mm
    assert area_mm2(cut.join) == pytest.approx(area_mm2(drawn.join) * scale**2)
    assert f"sunk {cut.sink_mm:.2f} mm" in cut.foot_note or "took the 2.09 mm" in cut.foot_note
    assert cut.notes == (cut.foot_note,)


def test_no_sinking_beyond_a_third_of_what_is_drawn() -> None:
    drawn = _motif(_heart())
    cut = footed(drawn, 0.05, NECK_MM)
    assert "no sinking mends it" in cut.foot_note
    assert cut.foot_mm < drawn.foot_mm


def test_a_stated_foot_and_a_wide_one_stay_as_they_are() -> None:
    stated = _motif(_heart(), foot=(-0.5 + 0j, 0.5 + 0j))
    assert footed(stated, 0.3, NECK_MM) is stated
    house = _motif(HOUSE)
    smaller = footed(house, 0.5, NECK_MM)
    assert (smaller.join, smaller.foot_mm) == (house.join, house.foot_mm)
    assert smaller.notes == ("no foot is marked; took the 4.00 mm on which it stands.",)


def test_what_is_snapped_to_nothing_is_left_out() -> None:
    """A round end that meets the foot a rounding error away from a line of its own, as icons have them."""
    tail = 1e-9
    outline = Outline.from_points([-2 + 0j, 2 + 0j, complex(2, tail), 2 + 4j, -2 + 4j])
    motif = _motif(Region(outline))
    assert all(segment.start != segment.end for segment in motif.join[0].outer.segments)
    assert len(motif.join[0].outer.segments) == 4
