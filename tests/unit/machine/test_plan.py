"""What the machine runs along. Lengths by hand; F50, F52, F54, F55 are closed forms, common practice, no source."""

from __future__ import annotations

import cmath
import itertools
import math

import pytest
from fixtures.outlines import disc, leaf_frame, ring
from shapely import LineString, Point

from frameforge.card.preset import load_preset
from frameforge.errors import GeometryError
from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.combine import difference, evaluate, union
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import bounds, length_mm
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, ellipse, rectangle
from frameforge.machine.allowances import Allowances, Bridges
from frameforge.machine.plan import Plan, planned

KNIFE = load_preset("card-240-knife")


def _plan(region: Region, **allowed: object) -> Plan:
    return planned(region, Allowances(**allowed), KNIFE, where="hoop")  # type: ignore[arg-type]


def _cut_mm(plan: Plan) -> float:
    return sum(length_mm(run) for run in plan.runs)


@pytest.fixture(scope="module")
def frame() -> Region:
    (region,) = evaluate(leaf_frame()).regions
    return region


def test_an_overcut_runs_on_beyond_the_start() -> None:
    """F50: 60 pi + .5."""
    plan = _plan(disc(30), overcut_mm=0.5)
    (run,) = plan.runs
    assert _cut_mm(plan) == pytest.approx(188.996, abs=5e-4)
    assert abs(run[-1].end - run[0].start) == pytest.approx(60 * math.sin(0.5 / 60), abs=1e-9)


def test_kerf_makes_the_outside_wider_and_holes_narrower() -> None:
    """F52: a disc of 100 runs at 100.2, a hole of 4 at 3.8, both still one circle."""
    outer, hole = _plan(ring(50, 2), kerf_mm=0.2).region.outlines
    assert bounds(outer).width_mm == pytest.approx(100.2, abs=1e-9)
    assert bounds(hole).width_mm == pytest.approx(3.8, abs=1e-9)
    assert all(isinstance(outline.segments[0], Arc) and len(outline.segments) == 1 for outline in (outer, hole))


def test_kerf_wider_than_a_hole_is_refused() -> None:
    with pytest.raises(GeometryError, match=r"hoop: 1 hole or slot is narrower \(0\.18 mm\) than the 0\.2 mm"):
        _plan(ring(50, 0.09), kerf_mm=0.2)


def test_kerf_wider_than_a_slot_is_refused() -> None:
    slot = Region(rectangle(-0.05, -60, 0.05, -20))
    (notched,) = evaluate(difference(disc(50), slot)).regions
    with pytest.raises(GeometryError, match=r"1 hole or slot is narrower \(0\.1 mm\) than the"):
        _plan(notched, kerf_mm=0.2)


def test_kerf_rounds_the_end_of_a_notch() -> None:
    notch = Region(type(disc(1).outer).from_points((-20j, -1 - 60j, 1 - 60j)))
    (notched,) = evaluate(difference(disc(50), notch)).regions
    assert bounds(_plan(notched, kerf_mm=0.2).region).width_mm == pytest.approx(100.2, abs=1e-6)


def test_a_lead_in_ends_to_the_bit_where_the_line_begins() -> None:
    """The line of an oval hole 60 x 30 begins within rounding of a joint, and there a start is moved to the joint."""
    oval = Region(ellipse(0, 60, 40), (ellipse(0, 30, 15).reversed(),))
    plan = _plan(oval, kerf_mm=0.15, lead_in_mm=1.0)
    assert all(a.end == b.start for run in plan.runs for a, b in itertools.pairwise(run))


def test_bridges_leave_open_runs_between_them() -> None:
    """F55: 100 pi - 4 x .6 in 4 runs."""
    plan = _plan(disc(50), bridges=Bridges(0.6, count=4))
    assert len(plan.runs) == 4
    assert _cut_mm(plan) == pytest.approx(311.759, abs=5e-4)
    ends = [(run[-1].end, after[0].start) for run, after in zip(plan.runs, (*plan.runs[1:], plan.runs[0]), strict=True)]
    assert [abs(a - b) for a, b in ends] == pytest.approx([100 * math.sin(0.006)] * 4, abs=1e-9)


def test_bridges_by_distance_are_at_least_two() -> None:
    assert Bridges(0.6, every_mm=100).number_on(100 * math.pi) == 4
    assert Bridges(0.6, every_mm=1000).number_on(100 * math.pi) == 2


def test_too_many_bridges_are_refused_with_what_would_do() -> None:
    with pytest.raises(GeometryError, match=r"300 bridges of 0\.6 mm .* Take 261 or fewer") as refused:
        _plan(disc(50), bridges=Bridges(0.6, count=300))
    _plan(disc(50), bridges=Bridges(0.6, count=int(refused.value.numbers["most"])))


def test_bridges_stand_off_corners_and_thin_card(frame: Region) -> None:
    plan = _plan(frame, bridges=Bridges(0.6, count=7))
    joined = itertools.pairwise((*frame.outer.segments, frame.outer.segments[0]))
    turns = [(a.end, abs(cmath.phase(b.velocity(0) / a.velocity(1)))) for a, b in joined]
    joints = [point for point, turn in turns if turn > 0.2]
    middles = [(a[-1].end + b[0].start) / 2 for a, b in itertools.pairwise(line for line in plan.lines[-1].runs)]
    assert len(middles) == 6
    assert min(abs(middle - corner) for middle in middles for corner in joints) > 0.3 + 0.45


def test_lead_ins_lie_in_the_waste_and_end_on_the_line(frame: Region) -> None:
    """F54, with shapely's polygons as the other road."""
    plan = _plan(frame, lead_in_mm=1.5)
    assert len(plan.runs) == 26
    card = to_polygon(frame, 1e-4)
    for run in plan.runs:
        lead, first = run[0], run[1]
        assert card.distance(Point(lead.start.real, lead.start.imag)) > 0.3 * abs(lead.end - lead.start)
        assert lead.end == first.start
        assert card.exterior.union(card.boundary).distance(Point(lead.end.real, lead.end.imag)) < 2e-4
    assert plan.notes == ()


def test_lead_ins_are_as_long_as_the_waste_has_room_for_and_their_lengths_are_told() -> None:
    """In a round hole of radius r a way that comes to the edge at 45 degrees is at most r sqrt 2 long."""
    plan = _plan(ring(50, 4), lead_in_mm=10.0)
    hole, outside = plan.lines
    lead = hole.runs[0][0]
    assert 0.5 * 4 * math.sqrt(2) < abs(lead.end - lead.start) < 4 * math.sqrt(2)
    assert hole.short_mm == (abs(lead.end - lead.start),)
    assert abs(outside.runs[0][0].end - outside.runs[0][0].start) == pytest.approx(10)
    assert plan.notes == ("1 lead-in is shorter, 4.9 mm long: the waste there has no room for more.",)


@pytest.mark.parametrize("length", [0.5, *(pytest.param(mm, marks=pytest.mark.slow) for mm in (3.0, 9.0, 20.0))])
def test_no_lead_in_crosses_card_however_long_it_is(frame: Region, length: float) -> None:
    """The whole way but for the last .05 mm, with shapely's polygons as the other road."""
    card = to_polygon(frame, 1e-4)
    for run in _plan(frame, lead_in_mm=length).runs:
        start, end = run[0].start, run[0].end
        near = end + 0.05 * (start - end) / abs(start - end)
        assert not card.intersects(LineString([(start.real, start.imag), (near.real, near.imag)]))


def test_a_lead_in_over_half_the_sheet_is_refused() -> None:
    with pytest.raises(GeometryError, match=r"hoop: a lead-in of 500 mm reaches far over the sheet; .* Take 20 mm or"):
        _plan(disc(50), lead_in_mm=500.0)


def test_a_hole_without_room_for_a_lead_in_is_told() -> None:
    plan = _plan(ring(50, 0.15), lead_in_mm=2)
    assert plan.notes == ("1 cut begins on the line: the waste there is too narrow for a lead-in.",)


def test_the_outside_starts_on_the_base_and_not_on_a_tip(frame: Region) -> None:
    """F51: tips reach to 64, the base is at 50."""
    plan = _plan(frame, overcut_mm=0.5)
    assert abs(plan.lines[-1].start) < 50.1
    assert not plan.lines[-1].is_hole


def test_holes_come_before_the_outside_and_those_by_thin_card_last() -> None:
    pierced = difference(disc(50), Region(circle(-46j, 3)), Region(circle(20, 3)), Region(circle(-20, 3)))
    (region,) = evaluate(pierced).regions
    lines = _plan(region, overcut_mm=0.5).lines
    assert [line.is_hole for line in lines] == [True, True, True, False]
    assert [line.is_flimsy for line in lines[:3]] == [False, False, True]
    assert lines[2].start.imag < -40


def test_holes_in_tongues_of_card_are_cut_before_the_opening_round_them() -> None:
    """Eight tongues reach into an opening, each with a hole; a hole in the ring beside them lies in no tongue."""
    tongues = [rectangle(22, -4, 36, 4) for _ in range(8)]
    turns = [Affine.from_turn(k * math.pi / 4) for k in range(8)]
    inwards = union(ring(50, 35), *(Region(t).transformed(turn) for t, turn in zip(tongues, turns, strict=True)))
    (card,) = evaluate(inwards).regions
    drops = [Region(circle(27, 1.5)).transformed(turn) for turn in turns]
    (region,) = evaluate(difference(card, *drops, Region(circle(42j, 3)))).regions
    lines = _plan(region).lines
    lengths = [length_mm(run) for line in lines for run in line.runs]
    assert [line.is_hole for line in lines] == [True] * 10 + [False]
    assert lengths[9] == max(lengths[:10]) > 100, "the opening is the last hole"


def test_the_way_between_holes_is_short(frame: Region) -> None:
    """24 like holes round a circle: from one to the next, not across."""
    holes = _plan(frame).lines[:-1]
    steps = sorted(abs(b.start - a.start) for a, b in itertools.pairwise(holes))
    assert steps[-4] < 14


def test_a_plan_does_not_depend_on_where_an_outline_begins() -> None:
    (square,) = evaluate(union(Region(rectangle(-20, -20, 20, 20)), disc(15, 20))).regions
    segments = square.outer.segments
    for shift in range(len(segments)):
        turned = Region(type(square.outer)((*segments[shift:], *segments[:shift])))
        assert abs(_plan(turned, overcut_mm=0.5).lines[0].start - _plan(square, overcut_mm=0.5).lines[0].start) < 0.6


def test_nothing_asked_keeps_the_outlines_closed(frame: Region) -> None:
    plan = _plan(frame)
    assert all(run[0].start == run[-1].end for run in plan.runs)
    assert _cut_mm(plan) == pytest.approx(length_mm(frame), abs=1e-8)


@pytest.mark.parametrize(
    ("faulty", "say"),
    [({"width_mm": 0.0, "count": 4}, "holds nothing"), ({"width_mm": 0.6}, "not both"),
     ({"width_mm": 0.6, "count": 0}, "hold nothing"), ({"width_mm": 0.6, "every_mm": 0.0}, "cannot be")],
)  # fmt: skip
def test_senseless_bridges_are_refused(faulty, say) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(ValueError, match=say):
        Bridges(**faulty)


def test_allowances_below_zero_are_refused() -> None:
    with pytest.raises(ValueError, match="kerf_mm is -1"):
        Allowances(kerf_mm=-1)


def test_a_long_lead_in_crosses_no_thin_card() -> None:
    """Thin fins stand .8 mm beside a straight edge; a way of 20 mm would pass them between any few points of it."""
    fins = [rectangle(-40 + 6 * k, -40, -39.4 + 6 * k, -22) for k in range(14)]
    beam = rectangle(-45, -21.2, 45, -20.6)
    comb = union(Region(rectangle(-50, -20, 50, 20)), Region(rectangle(-50, -21.5, -45, -19)), Region(beam))
    (region,) = evaluate(union(comb, *(Region(fin) for fin in fins), Region(rectangle(-41, -22.5, 41, -21)))).regions
    plan = _plan(region, lead_in_mm=20.0, bridges=Bridges(0.5, count=40))
    card = to_polygon(region)
    crossed = 0
    for run in plan.runs:
        start, end = run[0].start, run[0].end
        if card.boundary.distance(Point(start.real, start.imag)) > 0.01:
            near = end + 0.05 * (start - end)
            crossed += card.intersects(LineString([(start.real, start.imag), (near.real, near.imag)]))
    assert crossed == 0


def test_windows_of_one_form_have_lead_ins_of_one_length() -> None:
    """Narrow windows that lie all ways: where a cut begins in one has more room than where it begins in another."""
    window = Outline.from_points([-4 - 2j, 5 - 1j, 4 + 1.6j, 1 + 2.4j, -3 + 1j])
    holes = [window.transformed(Affine(cmath.rect(1, 0.37 * k), 0, cmath.rect(30, 0.37 * k))) for k in range(16)]
    region = Region(disc(50).outer, tuple(hole.reversed() for hole in holes))
    for length in (1.5, 2.0, 3.0, 4.0):
        plan = _plan(region, lead_in_mm=length)
        leads = [run[0] for line in plan.lines[:-1] for run in line.runs]
        assert sum(line.without_lead_in for line in plan.lines) == 0
        assert len({round(abs(lead.end - lead.start), 6) for lead in leads}) == 1
