"""Exact booleans: coincidence, tangency, common points, loops, and what is told when something is not exact."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace

import pytest
from fixtures.outlines import disc, leaf, leaf_frame, ring, scallops, spokes

from frameforge.geometry import combine
from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.combine import (
    Combined,
    Copies,
    Expression,
    Loops,
    difference,
    evaluate,
    intersection,
    union,
)
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.leaves import Leaves
from frameforge.geometry.line import Line
from frameforge.geometry.measure import area_mm2, length_mm
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, ellipse, rectangle
from frameforge.geometry.trace import joints
from frameforge.geometry.trace.source import Source


def exact(expression: Expression) -> Combined:
    combined = evaluate(expression)
    assert combined.report.is_exact
    assert combined.report.repeats == 0
    return combined


def counts(combined: Combined) -> list[list[int]]:
    """Segments of the outlines of every region, outer first."""
    return [[len(outline.segments) for outline in region.outlines] for region in combined.regions]


def area(combined: Combined) -> float:
    return area_mm2(combined.regions)


def square(left: float, bottom: float, right: float, top: float) -> Region:
    return Region(rectangle(left, bottom, right, top))


def band(radius: float, width: float, start: float, sweep: float) -> Region:
    """A piece of ring between two radii: two arcs about the origin, two lines."""
    low = Arc.from_circle(0, radius, start, sweep)
    high = Arc.from_circle(0, radius + width, start + sweep, -sweep)
    return Region(Outline((low, Line(low.end, high.start), high, Line(high.end, low.start))))


def arch(foot: float) -> Region:
    """A half disc on its foot line with a root of .3 mm below."""
    top = Arc.from_circle(0, foot / 2, 0, math.pi)
    left, right = top.end, top.start
    return Region(Outline((top, Line(left, left - 0.3j), Line(left - 0.3j, right - 0.3j), Line(right - 0.3j, right))))


def seats(count: int, radius: float, foot: float) -> tuple[Affine, ...]:
    """Places at which both ends of a foot lie on a circle, outward up; from +y on."""
    apothem = math.sqrt(radius * radius - foot * foot / 4)
    turns = [cmath.rect(1, k * math.tau / count) for k in range(count)]
    return tuple(Affine(turn, 0, turn * 1j * apothem) for turn in turns)


# --- nothing, one, apart -------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "nothing",
    [union(), Copies(disc(3), ()), union(Copies(disc(3), ())), intersection(disc(1), disc(1, 5)), Loops(())],
)
def test_nothing_covered_gives_no_region(nothing: Expression) -> None:
    assert exact(nothing).regions == ()


def test_a_shape_less_itself_is_nothing() -> None:
    assert exact(difference(disc(50), disc(50))).regions == ()
    assert exact(difference(leaf(), leaf())).regions == ()


def test_a_region_alone_comes_back_canonical() -> None:
    (region,) = exact(ring(50, 40)).regions
    assert counts(exact(ring(50, 40))) == [[1, 1]]
    assert region.outer.segments[0].start == 50
    (wrong_way,) = exact(Region(circle(0, 5).reversed(), (circle(0, 3),))).regions
    assert wrong_way == evaluate(ring(5, 3)).regions[0]


def test_copies_are_the_images_of_their_region() -> None:
    places = spokes(5, 30)
    one = exact(Copies(leaf(), places))
    other = exact(union(*(leaf().transformed(place) for place in places)))
    assert counts(one) == counts(other) == [[7]] * 5
    assert area(one) == pytest.approx(5 * area_mm2(leaf()), abs=1e-10)


def test_mirrored_copies_keep_their_directions() -> None:
    (region,) = exact(Copies(leaf(), (Affine.from_mirror(0.3),))).regions
    assert area_mm2(region) == pytest.approx(area_mm2(leaf()))


def test_a_difference_may_leave_several_parts_and_holes() -> None:
    combined = exact(difference(square(0, 0, 10, 5), square(4, -1, 6, 6), disc(0.5, 2 + 2j)))
    assert counts(combined) == [[4, 1], [4]]
    assert area(combined) == pytest.approx(40 - math.pi / 4)


# --- common edges --------------------------------------------------------------------------------------------------


def test_the_same_shape_twice_is_that_shape() -> None:
    assert counts(exact(union(disc(10), disc(10)))) == [[1]]
    assert counts(exact(union(leaf(), leaf()))) == [[7]]
    turned = leaf().transformed(Affine.from_turn(1.1)).transformed(Affine.from_turn(-1.1))
    assert counts(exact(union(leaf(), turned))) == [[7]]


def test_a_cap_on_the_same_circle_has_four_segments() -> None:
    outer = band(50, 10, 0.1, 0.2)
    straight = Region(Outline((
        outer.outer.segments[0], outer.outer.segments[1],
        Line(outer.outer.segments[1].end, outer.outer.segments[3].start), outer.outer.segments[3],
    )))  # fmt: skip
    assert counts(exact(union(disc(50), straight))) == [[4]]


def test_bands_on_the_same_circle_join_without_a_seam() -> None:
    bands = Copies(band(50, 5, 0.05, math.tau / 8 - 0.1), tuple(Affine.from_turn(k * math.tau / 8) for k in range(8)))
    combined = exact(union(disc(50), bands))
    assert counts(combined) == [[32]]
    swept = 8 * (math.tau / 8 - 0.1)
    assert area(combined) == pytest.approx(math.pi * 2500 + swept / 2 * (55**2 - 50**2), abs=1e-9)


def test_two_halves_make_a_whole_circle_of_one_arc() -> None:
    halves = []
    for start in (0.4, 0.4 + math.pi):
        arc = Arc.from_circle(1 + 2j, 7, start, math.pi)
        halves.append(Region(Outline((arc, Line(arc.end, arc.start)))))
    combined = exact(union(*halves))
    assert counts(combined) == [[1]]
    assert area(combined) == pytest.approx(49 * math.pi)


def test_two_halves_make_a_whole_ellipse_of_one_arc() -> None:
    whole = Region(ellipse(1j, 9, 4)).transformed(Affine.from_turn(0.6))
    (turn,) = whole.outer.segments
    halves = [turn.piece(0.1, 0.6), turn.piece(0.6, 1), turn.piece(0, 0.1)]
    lower = Region(Outline((halves[0], Line(halves[0].end, halves[0].start))))
    chain = Outline.from_chain([halves[1], halves[2], Line(halves[2].end, halves[1].start)], joint_mm=1e-9)
    assert counts(exact(union(lower, Region(chain)))) == [[1]]


@pytest.mark.parametrize("turn", [0.0, 0.3, 1.0])
def test_rectangles_that_share_part_of_a_side(turn: float) -> None:
    map_ = Affine.from_turn(turn)
    shapes = [square(0, 0, 10, 5).transformed(map_), square(3, 5, 7, 9).transformed(map_)]
    combined = exact(union(*shapes))
    assert counts(combined) == [[8]]
    assert area(combined) == pytest.approx(66)
    flush = exact(union(square(0, 0, 10, 5).transformed(map_), square(10, 0, 14, 5).transformed(map_)))
    assert counts(flush) == [[4]]


def test_a_part_of_a_cubic_lies_on_the_whole() -> None:
    whole = leaf()
    (rest,) = exact(difference(whole, square(6, -10, 20, 10))).regions
    assert counts(exact(union(whole, rest))) == [[7]]
    assert area(exact(difference(whole, rest))) == pytest.approx(area_mm2(whole) - area_mm2(rest), abs=1e-9)


def test_a_lune_taken_away_leaves_a_straight_edge() -> None:
    arc = Arc.from_circle(0, 50, 0.1, 0.2)
    combined = exact(difference(disc(50), Region(Outline((arc, Line(arc.end, arc.start))))))
    assert counts(combined) == [[2]]
    assert area(combined) == pytest.approx(2500 * math.pi - 1250 * (0.2 - math.sin(0.2)), abs=1e-9)


# --- tangent and near ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("overlap", "parts"), [(0.005, 1), (0.001, 1), (1e-6, 1), (0, 2), (-1e-6, 2), (-0.001, 2)])
@pytest.mark.parametrize("turn", [0.0, 0.37])
def test_two_discs_nearly_tangent(overlap: float, parts: int, turn: float) -> None:
    combined = exact(union(disc(10), disc(10, cmath.rect(20 - overlap, turn))))
    assert len(combined.regions) == parts
    assert len(combined.report.touches) == (overlap == 0)


@pytest.mark.parametrize(("gap", "holes"), [(0.001, 1), (1e-6, 1), (-1e-6, 0), (-0.001, 0)])
def test_a_hole_nearly_at_the_edge(gap: float, holes: int) -> None:
    combined = exact(difference(disc(10), disc(4, 6 - gap)))
    assert [len(region.holes) for region in combined.regions] == [holes]


def test_a_hole_that_touches_the_edge_is_told() -> None:
    combined = exact(difference(disc(10), disc(4, 6)))
    assert counts(combined) == [[1, 1]]
    assert combined.report.touches == (10,)


@pytest.mark.parametrize("gap", [0.002, 1e-5])
def test_a_thin_strip_between_two_circles_of_one_centre_stays(gap: float) -> None:
    strip = exact(ring(50, 50 - gap))
    assert counts(strip) == [[1, 1]]
    combined = exact(union(ring(50, 40), ring(60, 50 + gap)))
    assert len(combined.regions) == 2


@pytest.mark.parametrize("inset", [1e-2, 1e-4, 1e-6])
def test_a_corner_just_inside_an_edge_does_not_poke_through(inset: float) -> None:
    tip = 50 - inset
    spike = Region(Outline.from_points([complex(tip, 0), complex(tip - 5, 2), complex(tip - 5, -2)]))
    assert counts(exact(union(disc(50), spike))) == [[1]]
    assert counts(exact(difference(disc(50), spike))) == [[1, 3]]


def test_corners_that_touch_are_two_parts_and_told() -> None:
    combined = exact(union(square(0, 0, 1, 1), square(1, 1, 2, 2)))
    assert counts(combined) == [[4], [4]]
    assert combined.report.touches == (1 + 1j,)
    on_edge = exact(union(square(0, 0, 4, 4), Region(Outline.from_points([4 + 2j, 8, 8 + 4j]))))
    assert counts(on_edge) == [[4], [3]]
    assert on_edge.report.touches == (4 + 2j,)


def test_a_touch_from_within_is_nothing_to_tell() -> None:
    within = Region(Outline.from_points([4 + 2j, 1 + 1j, 1 + 3j]))
    combined = exact(union(square(0, 0, 4, 4), within))
    assert counts(combined) == [[4]]
    assert combined.report.touches == ()


def test_a_crescent_with_hair_thin_tips_keeps_them() -> None:
    for bulge in (0.45, 0.499, 0.49999):
        outer, inner = Arc.from_bulge(8, -8, 0.5), Arc.from_bulge(-8, 8, -bulge)
        crescent = Region(Outline((outer, inner)))
        combined = exact(union(disc(1, -5j), crescent))
        assert counts(combined) == [[2], [1]]
        assert area(combined) == pytest.approx(math.pi + area_mm2(crescent), abs=1e-9)


# --- common points -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("count", [1, 2, 3, 16, 24, 41])
def test_arches_with_their_feet_on_the_edge(count: int) -> None:
    foot = 0.8 * 100 * math.sin(math.pi / max(count, 3))
    combined = exact(union(disc(50), Copies(arch(foot), seats(count, 50, foot))))
    assert counts(combined) == [[2 * count]]
    half = math.asin(foot / 100)
    lune = 1250 * (2 * half - math.sin(2 * half))
    assert area(combined) == pytest.approx(2500 * math.pi + count * (math.pi * foot**2 / 8 - lune), abs=1e-9)


@pytest.mark.parametrize("count", [6, 7, 24, 60])
def test_arches_foot_to_foot_meet_in_points_of_the_edge(count: int) -> None:
    # Three outlines through each point: two arches and the base.
    foot = 100 * math.sin(math.pi / count)
    combined = exact(union(disc(50), Copies(arch(foot), seats(count, 50, foot))))
    assert counts(combined) == [[count]]
    wanted = count / 2 * 2500 * math.sin(math.tau / count) + count * math.pi * foot**2 / 8
    assert area(combined) == pytest.approx(wanted, abs=1e-9)


@pytest.mark.parametrize("count", [5, 24])
def test_a_straight_edge_between_arches(count: int) -> None:
    foot = 0.7 * 100 * math.sin(math.pi / count)
    half = math.asin(foot / 100)
    lunes = []
    for k in range(count):
        start = math.pi / 2 + k * math.tau / count + half
        arc = Arc.from_circle(0, 50, start, math.tau / count - 2 * half)
        lunes.append(Region(Outline((arc, Line(arc.end, arc.start)))))
    combined = exact(union(difference(disc(50), *lunes), Copies(arch(foot), seats(count, 50, foot))))
    assert counts(combined) == [[2 * count]]


def test_tangent_discs_in_a_ring_touch_in_as_many_points() -> None:
    # Six unit discs about a circle of radius 2: neighbours tangent, all equal (kissing circles).
    combined = exact(union(*(disc(1, 2 * cmath.rect(1, k * math.pi / 3)) for k in range(6))))
    assert counts(combined) == [[1]] * 6
    assert sorted(round(abs(place), 9) for place in combined.report.touches) == [round(math.sqrt(3), 9)] * 6


def test_three_circles_through_one_point_leave_no_speck() -> None:
    common = 0.3 + 0.2j
    discs = [disc(abs(common - center), center) for center in (5 + 1j, -4 + 4j, -1 - 6j)]
    combined = exact(union(*discs))
    assert counts(combined) == [[3]]
    assert exact(intersection(discs[0], intersection(discs[1], discs[2]))).regions == ()


# --- loops ---------------------------------------------------------------------------------------------------------


STAR = Outline.from_points([10 * cmath.rect(1, math.pi / 2 + k * 4 * math.pi / 5) for k in range(5)])


def test_a_five_pointed_star_by_both_fill_rules() -> None:
    # SVG 2, section 13.4.2 shows this very star; areas from its tip angle of 36 degrees (from memory, checked below).
    filled, open_ = exact(Loops((STAR,))), exact(Loops((STAR,), "evenodd"))
    assert counts(filled) == [[10]]
    assert counts(open_) == [[3]] * 5
    middle = 10 * math.sin(math.radians(18)) / math.sin(math.radians(126))
    pentagon = 2.5 * middle**2 * math.sin(math.radians(72))
    assert area(filled) == pytest.approx(10 * 0.5 * 10 * middle * math.sin(math.radians(36)), abs=1e-9)
    assert area(filled) - area(open_) == pytest.approx(pentagon, abs=1e-9)
    assert len(open_.report.touches) == 5


def test_a_cubic_that_crosses_itself_has_its_loop_filled() -> None:
    loop = Outline((Cubic(0, 14 + 10j, -4 + 10j, 10), Line(10, 0)))
    filled, open_ = exact(Loops((loop,))), exact(Loops((loop,), "evenodd"))
    assert counts(filled) == [[3], [1]]
    assert area(filled) == pytest.approx(area(open_), abs=1e-9)


def test_a_loop_smaller_than_the_chords_is_not_overlooked() -> None:
    # P(t) = P(s) at t, s = 1/2 -+ sqrt(u^2 - 4 v)/2 for this symmetric cubic; the handles make the loop 9e-3 mm high.
    loop = Outline((Cubic(0, 10.1 + 10j, -0.1 + 10j, 10), Line(10, 0)))
    assert counts(exact(Loops((loop,)))) == [[3], [1]]


def test_a_region_that_crosses_itself_is_taken_even_odd() -> None:
    bow = Region(Outline.from_points([0, 10 + 10j, 10, 10j]))
    combined = exact(union(bow, disc(1, 20)))
    assert counts(combined) == [[3], [3], [1]]
    assert area(combined) == pytest.approx(50 + math.pi)


# --- size, bytes, failures -----------------------------------------------------------------------------------------


def test_a_region_of_thousands_of_segments() -> None:
    points = [cmath.rect(50 + (k % 2), k * math.tau / 3000) for k in range(3000)]
    region = Region(Outline.from_points(points))
    assert counts(exact(union(region, disc(10)))) == [[3000]]
    assert counts(exact(difference(region, disc(49)))) == [[3000, 1]]


def test_the_same_input_gives_the_same_bytes() -> None:
    assert repr(evaluate(leaf_frame())) == repr(evaluate(leaf_frame()))


def test_nested_expressions_are_worked_out_from_the_inside() -> None:
    combined = exact(
        difference(union(disc(10), difference(disc(5, 12), disc(2, 13))), intersection(disc(3), disc(3, 2)))
    )
    whole = area(exact(union(disc(10), difference(disc(5, 12), disc(2, 13)))))
    assert area(combined) == pytest.approx(whole - area(exact(intersection(disc(3), disc(3, 2)))), abs=1e-9)


def test_joints_that_cannot_be_solved_are_told_and_the_outline_still_closes(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(joints, "_ITERATIONS", 0)
    combined = evaluate(scallops(6))
    report = combined.report
    assert not report.is_exact
    assert len(report.patched) == 12
    assert report.repeats > 0
    assert report.chord_mm < 1e-5
    assert all(abs(abs(place) - 50) < 1e-4 for place in report.patched)
    (region,) = combined.regions
    arcs = [segment for segment in region.outer.segments if isinstance(segment, Arc)]
    assert len(arcs) == 12
    bridges = [segment for segment in region.outer.segments if isinstance(segment, Line)]
    assert all(abs(line.end - line.start) < 1e-4 for line in bridges)
    monkeypatch.undo()
    assert area(combined) == pytest.approx(area(evaluate(scallops(6))), abs=0.01)


def test_what_is_undecided_is_not_repeated_finer_without_end(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(joints, "_ITERATIONS", 0)
    monkeypatch.setattr("frameforge.geometry.combine.MOST_CHORDS", 100)
    report = evaluate(scallops(6)).report
    assert (report.repeats, len(report.patched)) == (0, 12)


def test_edges_of_no_known_curve_stand_as_lines_and_are_told(monkeypatch: pytest.MonkeyPatch) -> None:
    made = Source.from_chains

    def without_the_first(chains, chord_mm, **more):  # type: ignore[no-untyped-def]
        return made(chains, chord_mm, may_own=chains.chain > 0, **more)

    monkeypatch.setattr(Source, "from_chains", without_the_first)
    monkeypatch.setattr("frameforge.geometry.combine.REFINEMENTS", 0)
    combined = evaluate(union(square(0, 0, 10, 5), disc(2, 10)))
    report = combined.report
    assert not report.is_exact
    assert 0 < len(report.lost) <= 6
    assert length_mm(combined.regions) == pytest.approx(30 - 2 - 2 + 3 * math.pi, abs=0.01)


def test_the_same_region_twice_and_copies_of_none_change_nothing() -> None:
    """A disc of R = 5, and a bar that begins 2 mm off its middle."""
    disc_, bar = Region(circle(0, 5)), Region(rectangle(2, -2, 9, 2))
    none = Copies(bar, ())
    for same in (
        union(disc_, disc_),
        intersection(union(disc_, bar), disc_),
        union(disc_, none),
        difference(disc_, none),
    ):
        assert [area_mm2(region) for region in evaluate(same).regions] == pytest.approx([25 * math.pi], abs=1e-9)
    assert evaluate(intersection(disc_, none)).regions == ()


def test_the_attempt_with_the_fewest_places_of_trouble_is_kept_the_finest_of_those(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Places of trouble in five attempts: 2, 1, 1, 3, 2. The third is the finer one of the two best."""
    attempt = combine._attempt
    troubles = iter([(1 + 0j, 2 + 0j), (3 + 0j,), (4 + 0j,), (5 + 0j, 6 + 0j, 7 + 0j), (8 + 0j, 9 + 0j)])

    def troubled(leaves: Leaves, source: Source) -> combine._Attempt:
        made = attempt(leaves, source)
        return replace(made, traced=replace(made.traced, patched=next(troubles)))

    monkeypatch.setattr(combine, "_attempt", troubled)
    report = evaluate(union(square(0, 0, 10, 5), disc(2, 10))).report
    assert (report.repeats, report.patched) == (4, (4 + 0j,))
