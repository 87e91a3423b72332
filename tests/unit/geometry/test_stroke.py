"""Widened lines: caps, joins, dashes and dots, by closed forms and against shapely's offset of the line."""

from __future__ import annotations

import cmath
import math
import random
from dataclasses import replace
from typing import Literal

import numpy as np
import pytest
import shapely
from fixtures.parallel_checks import gap, is_clean

from frameforge.geometry import stroke
from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.flatten import sample, to_polygon
from frameforge.geometry.line import Line
from frameforge.geometry.measure import area_mm2, bounds, length_mm
from frameforge.geometry.outline import Outline, Segment
from frameforge.geometry.shapes import circle, ellipse, rectangle
from frameforge.geometry.stroke import Pen, dot_region, stroke_region, stroke_with_report

Cap = Literal["butt", "round", "square"]
Join = Literal["round", "mitre", "bevel"]
CAPS: tuple[Cap, ...] = ("butt", "round", "square")

LINES: dict[str, list[Segment]] = {
    "wave": [Cubic(0j, 5 + 8j, 10 - 8j, 15 + 0j)],
    "loop": [Cubic(0j, 30 + 20j, -15 + 20j, 15 + 0j)],
    "arc": [Arc.from_circle(0j, 5, 0, 4.0)],
    "s": [Line(0j, 3 + 0j), Arc.from_bulge(3 + 0j, 6 + 0j, 1.0), Cubic(6 + 0j, 9 + 0j, 9 + 6j, 3 + 6j)],
    "zigzag": [Line(0j, 5 + 1j), Line(5 + 1j, 0.5 + 2j), Line(0.5 + 2j, 5 + 3j)],
    "crossing": [Line(0j, 10 + 0j), Line(10 + 0j, 5 + 8j), Line(5 + 8j, 5 - 5j)],
    "oval arc": [Arc.from_ellipse(0j, 9 + 1j, -1 + 4j, 0.4, 4.5)],
}


def offset(line: list[Segment] | Outline, pen: Pen) -> shapely.Polygon:
    """The same by shapely, on 300 chords a segment."""
    segments = line.segments if isinstance(line, Outline) else line
    points = np.concatenate([sample(s, np.linspace(0, 1, 301))[:-1] for s in segments])
    if not isinstance(line, Outline):
        points = np.append(points, segments[-1].end)
    kind = shapely.LinearRing if isinstance(line, Outline) else shapely.LineString
    cap = "flat" if pen.cap == "butt" else pen.cap
    path = kind(np.column_stack((points.real, points.imag)))
    return shapely.buffer(path, pen.width_mm / 2, quad_segs=64, cap_style=cap, join_style=pen.join)


def rings(polygons: shapely.Geometry) -> int:
    """The number of rings with an area of more than .003 mm2: smaller holes hang on the fit of 2 micrometres."""
    all_rings = shapely.get_rings(shapely.get_parts(polygons))
    return int((shapely.area(shapely.polygons(all_rings)) > 3e-3).sum())


def assert_agrees(line: list[Segment] | Outline, pen: Pen) -> None:
    combined = stroke_with_report(line, pen)
    assert is_clean(combined)
    assert gap(combined.regions) < 1e-9
    wanted = offset(line, pen)
    ours = shapely.union_all([to_polygon(region, 1e-3) for region in combined.regions])
    assert rings(ours) == rings(wanted)
    assert shapely.symmetric_difference(ours, wanted).area <= 3e-3 * ours.length


@pytest.mark.parametrize("join", ["round", "bevel"])
@pytest.mark.parametrize("cap", CAPS)
@pytest.mark.parametrize("name", LINES)
def test_lines_agree_with_shapely(name: str, cap: Cap, join: Join) -> None:
    for width in (0.3, 1.2):
        assert_agrees(LINES[name], Pen(width, cap, join))


@pytest.mark.parametrize("join", ["round", "bevel", "mitre"])
@pytest.mark.parametrize("shape", [rectangle(0, 0, 10, 6), circle(0j, 5), ellipse(0j, 8, 3)])
def test_closed_outlines_agree_with_shapely(shape: Outline, join: Join) -> None:
    assert_agrees(shape, Pen(1.6, "butt", join))


def hook(radius_mm: float, turn_rad: float) -> list[Segment]:
    """A line that ends in a bend."""
    bend = Arc.from_circle(1j * radius_mm, radius_mm, -math.pi / 2, turn_rad)
    return [Line(-6 + 0j, bend.start), bend]


@pytest.mark.parametrize("cap", CAPS)
@pytest.mark.parametrize(("radius_mm", "turn_rad"), [(1.0, math.pi / 2), (1.0, 2.2), (1.0, math.pi), (1.1, 2.5)])
def test_a_line_may_end_in_a_bend_as_tight_as_the_pen_is_wide(radius_mm: float, turn_rad: float, cap: Cap) -> None:
    """As icons are drawn. A bar of 6 by 2, a sector between radius - 1 and radius + 1, and the two caps."""
    combined = stroke_with_report(hook(radius_mm, turn_rad), Pen(2.0, cap, "round"))
    assert is_clean(combined)
    caps = {"butt": 0.0, "round": math.pi, "square": 4.0}[cap]
    assert sum(map(area_mm2, combined.regions)) == pytest.approx(12 + 2 * radius_mm * turn_rad + caps, abs=1e-6)


@pytest.mark.parametrize("cap", ["round", "square"])
def test_a_line_may_end_in_a_bend_tighter_than_the_pen_is_wide(cap: Cap) -> None:
    """Against shapely's round offset, which covers no less; a square end adds two corners to a half disc."""
    combined = stroke_with_report(hook(0.8, 1.0), Pen(2.0, cap, "round"))
    assert is_clean(combined)
    round_one = offset(hook(0.8, 1.0), Pen(2.0, "round", "round")).area
    more = 0.0 if cap == "round" else 2 * (2 - math.pi / 2)
    assert sum(map(area_mm2, combined.regions)) == pytest.approx(round_one + more, abs=0.01)


def test_two_pens_that_share_the_place_of_their_round_ends() -> None:
    """A rounded tab whose line ends on its own corner: the discs of cap and join are one and the same."""
    tab: list[Segment] = [Line(0j, 3 + 0j), Arc.from_circle(3 + 1j, 1, -math.pi / 2, math.pi / 2), Line(4 + 1j, 4 + 3j),
           Arc.from_circle(3 + 3j, 1, 0, math.pi / 2), Line(3 + 4j, 3 + 0j)]  # fmt: skip
    assert_agrees(tab, Pen(2.0, "round", "round"))


@pytest.mark.parametrize("cap", CAPS)
def test_a_line_much_shorter_than_the_pen_is_wide(cap: Cap) -> None:
    """A bar of .01 by 2, with half discs or half squares at its ends."""
    combined = stroke_with_report([Line(1 + 1j, 1.006 + 1.008j)], Pen(2.0, cap, "mitre"))
    assert is_clean(combined)
    ends = {"butt": 0.0, "round": math.pi, "square": 4.0}[cap]
    assert sum(map(area_mm2, combined.regions)) == pytest.approx(0.02 + ends, abs=1e-12)


def test_a_speck_is_a_disc() -> None:
    """A square of 2 micrometres under a round pen."""
    speck = rectangle(0, 0, 0.002, 0.002)
    (region,) = stroke_region(speck, Pen(0.2, "butt", "round"))
    assert area_mm2(region) == pytest.approx(math.pi * 0.01, abs=2 * math.pi * 0.1 * 0.002)
    assert len(region.holes) == 0


def test_a_straight_line_is_a_rectangle_or_a_bar() -> None:
    line = [Line(1 + 1j, 11 + 1j)]
    areas = {"butt": 20.0, "round": 20 + math.pi, "square": 24.0}
    for cap in CAPS:
        (region,) = stroke_region(line, Pen(2, cap))
        assert region.segment_count == 4
        assert area_mm2(region) == pytest.approx(areas[cap], rel=1e-14)
    box = bounds(stroke_region(line, Pen(2, "square")))
    assert (box.left, box.bottom, box.right, box.top) == pytest.approx((0, 0, 12, 2), abs=1e-12)


def test_a_circle_becomes_a_ring_of_two_arcs() -> None:
    (region,) = stroke_region(circle(3 + 4j, 5), Pen(2))
    assert region.segment_count == 2
    assert area_mm2(region) == pytest.approx(math.pi * (36 - 16), rel=1e-13)


def test_joins_of_a_square_corner() -> None:
    """A corner of 90 degrees of a pen 2 wide: mitred it has 1 mm2 more than none, round pi/4, cut 1/2."""
    line = [Line(-10 + 0j, 0j), Line(0j, 10j)]
    base = 20 + 20 - 1
    for join, more in (("mitre", 1.0), ("round", math.pi / 4), ("bevel", 0.5)):
        (region,) = stroke_region(line, Pen(2, "butt", join))  # type: ignore[arg-type]
        assert area_mm2(region) == pytest.approx(base + more, abs=1e-12)


def test_the_mitre_limit_cuts_sharp_corners() -> None:
    """SVG 2, section 13.5.5: the ratio is 1 / sin(angle/2); 60 degrees give 2, which is not above a limit of 2."""
    line = [Line(-10 + 0j, 0j), Line(0j, 10 * cmath.rect(1, math.radians(120)))]
    mitred = area_mm2(stroke_region(line, Pen(2, mitre_limit=2.001)))
    cut = area_mm2(stroke_region(line, Pen(2, mitre_limit=1.999)))
    assert mitred - cut == pytest.approx(math.tan(math.radians(60)) - math.sin(math.radians(120)) / 2, abs=1e-10)


def test_what_is_covered_twice_counts_once() -> None:
    cross = [Line(-5 + 0j, 5 + 0j), Line(5 + 0j, 5 + 5j), Line(5 + 5j, 0 + 5j), Line(0 + 5j, 0 - 5j)]
    (region,) = stroke_region(cross, Pen(1))
    assert len(region.holes) == 1
    assert area_mm2(region.holes[0]) == pytest.approx(-16, abs=1e-12)


def test_dashes_on_a_line_and_round_a_circle() -> None:
    """A pattern of 2 and 1.5 from .5 on: dashes of 1.5, 2 and 2 on 10 mm."""
    pen = Pen(1, dashes_mm=(2, 1.5), dash_offset_mm=0.5)
    parts = stroke_region([Line(0j, 10 + 0j)], pen)
    assert sorted(round(area_mm2(part), 9) for part in parts) == [1.5, 2, 2]
    whole = 10 * math.pi
    ring = stroke_region(circle(0j, 5), Pen(1, dashes_mm=(whole / 12, whole / 12)))
    assert len(ring) == 6
    assert area_mm2(ring) == pytest.approx(whole / 2, rel=1e-9)


def test_a_dash_runs_on_over_the_start_of_a_closed_line() -> None:
    """Half of each of eight dashes lies before the start: eight parts, not nine, none cut in two."""
    whole = 10 * math.pi
    parts = stroke_region(circle(0j, 5), Pen(1, dashes_mm=(whole / 16, whole / 16), dash_offset_mm=whole / 32))
    assert len(parts) == 8
    assert [area_mm2(part) for part in parts] == pytest.approx([whole / 16] * 8, rel=1e-6)


def test_dots() -> None:
    """Dashes of no length show as dots under round and square caps (SVG 2, section 13.5.3), and so do lines."""
    line = [Line(0j, 9 + 0j)]
    assert area_mm2(stroke_region(line, Pen(1, "round", dashes_mm=(0, 2)))) == pytest.approx(5 * math.pi / 4)
    assert len(stroke_region(line, Pen(1, "square", dashes_mm=(0, 2)))) == 5
    assert stroke_region(line, Pen(1, "butt", dashes_mm=(0, 2))) == ()
    assert area_mm2(stroke_region([Line(1j, 1j)], Pen(2, "round"))) == pytest.approx(math.pi)
    assert area_mm2(dot_region(0j, Pen(2, "square"), 1 + 1j)) == pytest.approx(4)
    assert bounds(dot_region(0j, Pen(2, "square"), 1 + 1j)).width_mm == pytest.approx(2 * math.sqrt(2))
    assert stroke_region([], Pen(1)) == ()


def random_line(rng: random.Random) -> list[Segment]:
    """Lines, arcs and cubics end to end, at random, smooth or cornered; bends no tighter than about a millimetre."""
    place, way, is_smooth = 0j, cmath.rect(1, rng.uniform(0, math.tau)), rng.random() < 0.4
    segments: list[Segment] = []
    for _ in range(rng.randint(1, 5)):
        size = rng.uniform(3, 12)
        way = way if is_smooth else cmath.rect(1, rng.uniform(0, math.tau))
        end = place + size * way * cmath.rect(1, rng.uniform(-0.8, 0.8))
        kind = rng.choice("lacc")
        if kind == "l":
            segments.append(Line(place, place + size * way))
        elif kind == "a":
            segments.append(Arc.from_bulge(place, end, math.tan(cmath.phase((end - place) / way) / 2) or 0.1))
        else:
            turned = cmath.rect(size * rng.uniform(0.2, 0.6), rng.uniform(-1, 1) + cmath.phase(end - place))
            segments.append(Cubic(place, place + way * size * rng.uniform(0.2, 0.6), end - turned, end))
        place, velocity = segments[-1].end, segments[-1].velocity(1)
        way = velocity / abs(velocity)
    return segments


@pytest.mark.parametrize("seed", range(40))
def test_random_lines(seed: int) -> None:
    """Thin pens on wild lines, caps and joins at random; closed by a line now and then."""
    rng = random.Random(seed)
    line = random_line(rng)
    pen = Pen(rng.choice([0.1, 0.5, 1.0]), rng.choice(CAPS), rng.choice(["round", "bevel"]))
    closing = Line(line[-1].end, line[0].start)
    is_closed = rng.random() < 0.25 and length_mm(closing) > 0.5
    assert_agrees(Outline((*line, closing)) if is_closed else line, pen)


def test_pens_that_are_refused() -> None:
    with pytest.raises(ValueError, match="width must be above 0"):
        Pen(0)
    with pytest.raises(ValueError, match="mitre limit"):
        Pen(1, mitre_limit=0.9)


BUTT = Pen(1.0, "butt", "mitre")


@pytest.mark.parametrize(
    ("apart", "area"), [(1e-10, 20.0), (4.0, 24.0)], ids=["rounding between two lines", "a gap of 4 mm"]
)
def test_lines_of_a_stroke_that_do_not_meet_are_bridged(apart: float, area: float) -> None:
    """10 mm, what is between, and 10 mm more, 1 mm wide."""
    line: list[Segment] = [Line(0j, 10 + 0j), Line(10 + apart + 0j, 20 + apart + 0j)]
    assert area_mm2(stroke_region(line, BUTT)) == pytest.approx(area, abs=1e-8)


def test_a_dash_as_long_as_a_closed_line_leaves_it_closed() -> None:
    """A square of 10 mm, 1 mm wide: 11^2 - 9^2; in dashes of 40 mm too, for they come round to where they began."""
    square = rectangle(0, 0, 10, 10)
    (whole,) = stroke_region(square, BUTT)
    (dashed,) = stroke_region(square, replace(BUTT, dashes_mm=(40.0, 5.0)))
    assert len(dashed.holes) == 1
    assert area_mm2(dashed) == pytest.approx(area_mm2(whole), abs=1e-9)
    assert area_mm2(dashed) == pytest.approx(11**2 - 9**2, abs=1e-9)


@pytest.mark.parametrize("way", [1, 1j, cmath.rect(1, 2.5)])
def test_a_stub_is_covered_in_closed_form(way: complex) -> None:
    """A line shorter than half the pen's width: a rectangle, a longer one with square caps, or a stadium."""
    stub = [Line(3 + 2j, 3 + 2j + 1.5 * way)]
    for cap, area, long in (("butt", 6, 1.5), ("square", 22, 5.5), ("round", 6 + 4 * math.pi, 5.5)):
        (region,) = stroke_region(stub, Pen(4, cap))  # type: ignore[arg-type]
        assert area_mm2(region) == pytest.approx(area)
        upright = region.outer.transformed(Affine(1 / way, 0, 0))
        box = bounds(upright)
        assert (box.width_mm, box.height_mm) == pytest.approx((long, 4))
        assert box.center == pytest.approx((3 + 2j + 0.75 * way) / way)
    assert len(stroke_region([Line(0j, 2 + 0j)], Pen(4))) == 1


def test_dots_are_discs_or_squares_along_the_line_or_nothing() -> None:
    dot = [Line(3 + 2j, 3 + 2j)]
    assert stroke_region(dot, Pen(4, "butt")) == ()
    (disc,) = stroke_region(dot, Pen(4, "round"))
    assert area_mm2(disc) == pytest.approx(4 * math.pi)
    (square,) = dot_region(3 + 2j, Pen(4, "square"), 3j)
    assert bounds(square) == bounds(rectangle(1, 0, 5, 4))
    (leaning,) = dot_region(3 + 2j, Pen(4, "square"), 1 + 1j)
    assert bounds(leaning).width_mm == pytest.approx(4 * math.sqrt(2))
    assert area_mm2(leaning) == pytest.approx(16)


def test_segments_that_do_not_meet_are_joined_by_a_line() -> None:
    """A gap gets a line of its own; one within a point is closed by moving the later one's start."""
    first, last = Line(0j, 5 + 0j), Line(5 + 1j, 5 + 6j)
    assert stroke._joined([first, last]) == (first, Line(5 + 0j, 5 + 1j), last)
    third = Line(9j, 8j)
    assert stroke._joined([first, last, third])[3:] == (Line(5 + 6j, 9j), third)
    near = Line(5 + 1e-10j, 5 + 6j)
    assert stroke._joined([first, near]) == (first, Line(5 + 0j, 5 + 6j))
    assert stroke._joined([first]) == (first,)


@pytest.mark.parametrize(("width", "limit"), [(0, 4), (-1, 4), (math.inf, 4), (math.nan, 4), (1, 0.99), (1, math.nan)])
def test_pens_without_a_width_or_with_a_limit_below_one_are_refused(width: float, limit: float) -> None:
    with pytest.raises(ValueError, match=r"pen of|mitre limit"):
        Pen(width, mitre_limit=limit)
    assert Pen(1, mitre_limit=1).reach_mm == 0.5
