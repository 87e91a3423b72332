"""Thin places and narrow places: closed forms, exact limits, planted and clean shapes."""

from __future__ import annotations

import cmath
import itertools
import math

import numpy as np
import pytest
from fixtures.planted import clean, planted

from frameforge.check.discs import Side
from frameforge.check.thickness import thin_places
from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.combine import Copies, evaluate, union
from frameforge.geometry.line import Line
from frameforge.geometry.nearest import distance
from frameforge.geometry.outline import Outline, Segment
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, ellipse, rectangle
from frameforge.motif.catalogue import load_motif
from frameforge.motif.describe import card_of


def disc_bar(width_mm: float = 1.2) -> Region:
    """Two discs of radius 10, 30 apart, joined by a bar."""
    half = math.asin(width_mm / 2 / 10)
    left = Arc.from_circle(-15, 10, half, math.tau - 2 * half)
    right = Arc.from_circle(15, 10, math.pi + half, math.tau - 2 * half)
    chain: list[Segment] = [left, Line(left.end, right.start), right, Line(right.end, left.start)]
    return Region(Outline.from_chain(chain, joint_mm=1e-9))


def tapered_finger() -> Region:
    """A block with a finger that narrows from 2.3 to 1.62 and ends round."""
    cap = Arc.from_circle(20, 0.81, -math.pi / 2, math.pi)
    chain: list[Segment] = [
        Line(-1.15j, cap.start),
        cap,
        Line(cap.end, 1.15j),
        Line(1.15j, 10j),
        Line(10j, -20 + 10j),
        Line(-20 + 10j, -20 - 10j),
        Line(-20 - 10j, -10j),
        Line(-10j, -1.15j),
    ]
    return Region(Outline.from_chain(chain, joint_mm=1e-9))


def test_a_bar_between_discs_is_one_neck_of_its_width() -> None:
    (place,) = thin_places([disc_bar()], 1.5)
    assert place.kind == "neck"
    assert place.width_mm == pytest.approx(1.2, abs=1e-9)
    assert abs(place.middle.real) <= 5.1


def test_a_finger_narrowing_to_its_round_end_reads_the_end() -> None:
    (place,) = thin_places([tapered_finger()], 1.7)
    assert place.kind == "finger"
    assert place.width_mm == pytest.approx(1.62, abs=1e-6)
    assert thin_places([tapered_finger()], 1.61) == ()


def test_a_sharp_triangle_is_a_tip_of_its_angle() -> None:
    # Closed form: 2 atan(2/16) = 14.250 degrees.
    (place,) = thin_places([Region(Outline.from_points([-2, 2, 16j]))], 1.5)
    assert place.kind == "tip"
    assert place.angle_deg == pytest.approx(math.degrees(2 * math.atan2(2, 16)), abs=0.01)


def lens(radius: float, chord: float) -> Outline:
    """A slit between two arcs; its ends are corners of 4 asin(chord / 2 / radius)."""
    half = math.asin(chord / 2 / radius)
    away = radius * math.cos(half)
    right = Arc.from_circle(-away, radius, -half, 2 * half)
    left = Arc.from_circle(away, radius, math.pi - half, 2 * half)
    return Outline.from_chain([right, left], joint_mm=1e-9)


def test_the_ends_of_a_lens_are_no_slots() -> None:
    # Radius 9.25 over a chord of 5.7: .90 wide in its middle, ends of 71.8 degrees between the arcs' chords' tangents.
    slit = [Region(circle(0, 20), (lens(9.25, 5.7).reversed(),))]
    for limit in (0.2, 0.5, 0.8, 0.89):
        assert thin_places(slit, limit, "slot") == (), limit
    (whole,) = thin_places(slit, 0.95, "slot")
    assert whole.kind == "all"
    assert whole.width_mm == pytest.approx(2 * (9.25 - math.sqrt(9.25**2 - 2.85**2)), abs=1e-6)


def cone(angle_deg: float, round_mm: float) -> Region:
    """A tip of that angle, its end rounded, on a base line 20 below its rounding."""
    half = math.radians(angle_deg / 2)
    side = round_mm * complex(math.cos(half), math.sin(half))
    reach = (20 + side.imag) * math.tan(half)
    end = Arc.from_circle(0, round_mm, half, math.pi - 2 * half)
    right, left = complex(side.real + reach, -20), complex(-side.real - reach, -20)
    return Region(
        Outline.from_chain([Line(right, end.start), end, Line(end.end, left), Line(left, right)], joint_mm=1e-9)
    )


@pytest.mark.parametrize("round_mm", [0.1, 0.3, 0.6])
def test_a_rounded_tip_counts_by_the_angle_of_its_sides(round_mm: float) -> None:
    for blunt in (20.5, 24.0, 29.0):
        assert [p.kind for p in thin_places([cone(blunt, round_mm)], 1.5) if p.kind != "tip"] == [], blunt
    (sharp,) = thin_places([cone(12.0, round_mm)], 1.5)
    assert sharp.angle_deg == pytest.approx(12.0, abs=0.1)
    if sharp.kind == "finger":
        assert sharp.width_mm == pytest.approx(2 * round_mm, abs=1e-6)


def notched(*edge: complex) -> list[Region]:
    """A block whose upper edge, from right to left along y = 20, runs through further points."""
    return [Region(Outline.from_points([-30 - 30j, 30 - 30j, 30 + 20j, *edge, -30 + 20j]))]


@pytest.mark.parametrize("k", range(20))
def test_a_slot_with_a_narrow_flat_bottom_is_a_notch_of_its_walls(k: int) -> None:
    """The corners of the bottom are not where the walls meet: 2 atan((mouth - bottom) / 2 / depth)."""
    bottom, mouth, depth = 0.02 + 0.003 * k, 0.6 + 0.02 * k, 4 + 0.3 * k
    slot = notched(mouth / 2 + 20j, bottom / 2 + (20 - depth) * 1j, -bottom / 2 + (20 - depth) * 1j, -mouth / 2 + 20j)
    (place,) = thin_places([region.transformed(Affine(cmath.rect(1, k), 0, 1j * k)) for region in slot], 1.0, "slot")
    opens = math.degrees(2 * math.atan((mouth - bottom) / 2 / depth))
    assert place.kind == "tip"
    assert place.angle_deg == pytest.approx(opens, abs=1e-6)
    assert abs(place.middle - cmath.rect(1, k) * (20 - depth) * 1j - 1j * k) < 0.05


@pytest.mark.parametrize("k", range(20))
def test_a_tip_counts_by_its_long_walls_not_by_the_bit_at_its_end(k: int) -> None:
    """The last bit opens by 25 degrees or more, up to a width of .1 to .3; from there walls open by 8 to 17."""
    end, walls, bit = math.radians(25 + 0.2 * k) / 2, math.radians(8 + 0.45 * k) / 2, 0.1 + 0.01 * k
    near = bit / 2 / math.tan(end)
    far = (2 - bit) / 2 / math.tan(walls)
    edge = (-1 + 1j * (near + far), -bit / 2 + 1j * near, 0, bit / 2 + 1j * near, 1 + 1j * (near + far))
    slot = notched(*(z + 20j - 1j * (near + far) for z in reversed(edge)))
    (place,) = thin_places(slot, 1.0, "slot")
    assert place.angle_deg == pytest.approx(2 * math.degrees(walls), abs=1e-6)
    assert abs(place.middle - (20 - near - far) * 1j) < 1e-9


@pytest.mark.parametrize("k", range(20))
def test_a_slot_sharpened_like_a_pencil_is_as_wide_as_its_even_part(k: int) -> None:
    wide, point, turn = 0.25 + 0.03 * k, math.radians(10 + k) / 2, cmath.rect(1, 2 * k)
    length = wide / 2 / math.tan(point)
    slot = [wide / 2 + 20j, wide / 2 + (10 + length) * 1j, 10j, -wide / 2 + (10 + length) * 1j, -wide / 2 + 20j]
    (region,) = notched(*slot)
    (place,) = thin_places([region.transformed(Affine(turn, 0, 1j * k))], 1.0, "slot")
    assert place.kind == "finger"
    assert place.width_mm == pytest.approx(wide, abs=1e-9)


@pytest.mark.parametrize("k", range(20))
def test_a_tip_that_runs_out_of_a_web_is_told_beside_it(k: int) -> None:
    """Two slits that meet at 4 to 12 degrees leave a prong of card, rooted in a strip beside the edge."""
    half, web = math.radians(4 + 0.4 * k) / 2, 0.3 + 0.05 * k
    reach, wide, turn = 0.6 * web / 2 / math.tan(half), 3.0, cmath.rect(1, k)
    # Card below y = -web is a hole but for the prong, which stands on the strip and points down.
    foot = reach * math.tan(half)
    ring = [-wide - 1j * web, -foot - 1j * web, -1j * (web + reach), foot - 1j * web, wide - 1j * web]
    hole = [*ring, wide - 20j, -wide - 20j]
    block = [-20 + 0j, -20 - 40j, 20 - 40j, 20 + 0j]
    region = Region(Outline.from_points([z * turn for z in block]), (Outline.from_points([z * turn for z in hole]),))
    found = sorted(thin_places([region], 1.5), key=lambda place: place.kind)
    assert [place.kind for place in found] == ["tip", "web"]
    assert found[0].angle_deg == pytest.approx(2 * math.degrees(half), abs=0.05)
    assert abs(found[0].middle + turn * 1j * (web + reach)) < 1e-9
    assert found[1].width_mm == pytest.approx(web, abs=1e-9)


def test_twenty_four_stalks_are_twenty_four_necks_of_one_width() -> None:
    half = math.asin(0.6 / 4)
    knob = Arc.from_circle(10j, 4, half - math.pi / 2, math.tau - 2 * half)
    chain: list[Segment] = [knob, Line(knob.end, -0.6 - 1j), Line(-0.6 - 1j, 0.6 - 1j), Line(0.6 - 1j, knob.start)]
    stalk = Region(Outline.from_chain(chain, joint_mm=1e-9))
    placed = tuple(Affine(turn, 0, 50j * turn) for turn in (cmath.rect(1, math.tau * k / 24) for k in range(24)))
    ring = Region(circle(0, 50), (circle(0, 30).reversed(),))
    (frame,) = evaluate(union(ring, Copies(stalk, placed))).regions
    found = thin_places([frame], 1.5)
    assert [place.kind for place in found] == ["neck"] * 24
    widths = [place.width_mm for place in found]
    assert max(widths) - min(widths) < 1e-9
    assert widths[0] == pytest.approx(1.2, abs=1e-9)


def test_a_plum_blossom_keeps_a_web_of_1_65_between_its_middle_and_each_dot() -> None:
    """Dots of 1.5 on radius 3.5 round a hole of 2.2: 3.5 - .75 - 1.1 = 1.65."""
    dots = tuple(circle(cmath.rect(3.5, math.radians(90 + 72 * k)), 0.75).reversed() for k in range(5))
    blossom = Region(circle(0, 7), (circle(0, 1.1).reversed(), *dots))
    for region, slack in ((blossom, 1e-9), (card_of(load_motif("plum-blossom"))[0], 2e-5)):
        webs = [place for place in thin_places([region], 1.7) if place.kind == "web"]
        assert [place.width_mm for place in webs] == pytest.approx([1.65] * 5, abs=slack)
        assert not [place for place in thin_places([region], 1.65) if place.width_mm < 1.65 - slack]


def test_exactly_the_limit_is_enough_and_a_thousandth_more_is_not() -> None:
    ring = [Region(circle(0, 10), (circle(0, 8.5).reversed(),))]
    pierced = [Region(circle(0, 20), (circle(2, 0.75).reversed(),))]
    slit = [Region(circle(0, 20), (rectangle(-5, -0.4, 5, 0.4).reversed(),))]
    apart = [Region(circle(0, 5)), Region(circle(10.7, 5))]
    cases: tuple[tuple[list[Region], float, Side], ...] = (
        (ring, 1.5, "card"),
        (pierced, 1.5, "slot"),
        (slit, 0.8, "slot"),
        (apart, 0.7, "slot"),
    )
    for regions, width, side in cases:
        assert thin_places(regions, width, side) == ()
        assert len(thin_places(regions, width + 0.001, side)) == 1


def test_plain_square_corners_are_not_thin() -> None:
    assert thin_places([Region(rectangle(-10, -10, 10, 10))], 1.5) == ()


@pytest.mark.parametrize("angle", [0.3, 1.1, 2.9])
def test_turning_moving_and_another_start_change_no_width(angle: float) -> None:
    moved = disc_bar().transformed(Affine(complex(math.cos(angle), math.sin(angle)), 0, 7 - 3j))
    segments = moved.outer.segments
    moved = Region(Outline(segments[2:] + segments[:2]))
    (place,) = thin_places([moved], 1.5)
    assert place.width_mm == pytest.approx(1.2, abs=1e-9)


@pytest.mark.parametrize("block", range(10))
def test_every_planted_place_is_found_where_it_is_and_only_there(block: int) -> None:
    for seed in range(20 * block, 20 * block + 20):
        case = planted(seed)
        found = [p for p in thin_places(case.regions, case.width_mm + 0.02, case.side) if p.kind != "tip"]
        near = [p for p in found if abs(p.middle - case.at) <= case.slack_mm]
        assert near, (seed, case.family)
        if case.family == "taper":
            continue
        # Polygons of circles are inscribed: 1.1e-4 is their error, not the measure's.
        assert min(abs(p.width_mm - case.width_mm) for p in near) < 2e-4, (seed, case.family)
        above = [p for p in thin_places(case.regions, case.width_mm - 0.02, case.side) if p.kind != "tip"]
        assert above == [], (seed, case.family)


@pytest.mark.parametrize("block", range(5))
def test_clean_shapes_raise_no_alarm(block: int) -> None:
    for seed in range(10 * block, 10 * block + 10):
        shape = clean(seed)
        for limit in (0.5, 1.5, 3.0):
            assert thin_places([shape], limit, "card") == (), seed
            assert thin_places([shape], limit, "slot") == (), seed


@pytest.mark.parametrize("width_mm", [0.5, 0.8, 1.3])
def test_a_lens_slit_is_as_wide_as_its_largest_disc(width_mm: float) -> None:
    """Two arcs over a chord of 9 mm, each with half the width as its rise: the disc touches both at their middles."""
    bulge = width_mm / 9
    lens = Outline((Arc.from_bulge(-4.5, 4.5, bulge), Arc.from_bulge(4.5, -4.5, bulge)))
    plate = Region(rectangle(-20, -20, 20, 20), (lens.transformed(Affine.from_turn(0.3)).reversed(),))
    assert thin_places([plate], width_mm, "slot") == (), "nothing at the limit itself"
    (place,) = [place for place in thin_places([plate], width_mm + 0.001, "slot") if place.kind == "all"]
    assert place.width_mm == pytest.approx(width_mm, abs=1e-9)


def test_a_three_sided_slit_is_as_wide_as_the_disc_that_touches_all_sides() -> None:
    """Inscribed circle of a right-angled triangle: r = (a + b - c) / 2."""
    side = Outline.from_points([0, 3, 1j])
    plate = Region(rectangle(-20, -20, 20, 20), (side.reversed(),))
    (place,) = [place for place in thin_places([plate], 1.5, "slot") if place.kind == "all"]
    assert place.width_mm <= 3 + 1 - math.hypot(3, 1) + 1e-9
    assert place.width_mm == pytest.approx(3 + 1 - math.hypot(3, 1), abs=0.05)


def test_a_slit_whose_largest_disc_stands_on_a_corner_is_measured_at_it() -> None:
    """No disc that touches a wall at its corner, along the wall's own normal, meets the wall across."""
    lower = [-8.28 - 10.79j, -7.99 - 10.41j, -7.68 - 10.5j, -7.92 - 10.32j, -7.61 - 9.92j]
    hole = Outline.from_points([*lower, -7.29 - 10.15j, -7.29 - 10.36j, -7.61 - 10.65j, -7.96 - 10.79j])
    plate = Region(rectangle(-12, -14, -4, -6), (hole,))
    (place,) = thin_places([plate], 1.0, "slot")
    assert place.kind == "all"
    assert place.a == pytest.approx(-7.68 - 10.5j, abs=1e-9), "held by the corner that reaches in"
    assert place.width_mm == pytest.approx(0.1745, abs=5e-4)


def test_a_web_beside_an_oval_a_little_wider_than_its_limit_does_not_alarm() -> None:
    """Along walls all but parallel the closest pair of the curves lies far from that of their chords."""
    begin, end = 42.80042653745339 - 20.600199746691608j, 40.895332107071965 - 21.99817628691203j
    beside = Arc.from_bulge(begin, end, -math.tan(0.0528115974841773 / 4))
    around = Arc.from_bulge(end, begin, -math.tan(5.596320689335947 / 4))
    piece = Region(ellipse(0, 56.034176197681575, 34.83951964315281), (Outline((beside, around)),))
    width = distance([piece.outer], [piece.holes[0]]).gap_mm
    assert width == pytest.approx(1.5049, abs=1e-4)
    assert thin_places([piece], 1.5) == ()
    (place,) = thin_places([piece], 1.51)
    assert place.width_mm == pytest.approx(width, abs=2e-4)


@pytest.mark.parametrize("seed", [1, 2, 5, 6, 9, 11])
def test_a_round_end_of_two_arcs_as_a_file_rounds_them_is_no_point(seed: int) -> None:
    """A finger 1.51 wide, turned at random, its corners to four decimals: the two arcs meet at an angle of rounding."""
    rng, half = np.random.default_rng(seed), 0.755
    turn, at = cmath.rect(1, rng.uniform(0, math.tau)), complex(*rng.uniform(0, 100, 2))
    points = [
        3 - 1.02j * half,
        8 - 1j * half,
        8 + half,
        8 + 1j * half,
        3 + 1.02j * half,
        10j,
        -20 + 10j,
        -20 - 10j,
        -10j,
    ]
    z = [complex(round(p.real, 4), round(p.imag, 4)) for p in (at + turn * point for point in points)]
    bends = [math.tan(math.asin(min(1.0, abs(b - a) / 2 / half)) / 2) for a, b in itertools.pairwise(z[1:4])]
    ends = [Arc.from_bulge(a, b, bend) for (a, b), bend in zip(itertools.pairwise(z[1:4]), bends, strict=True)]
    rest = [Line(a, b) for a, b in itertools.pairwise([*z[3:], z[0]])]
    piece = Region(Outline((Line(z[0], z[1]), *ends, *rest)))
    assert [place for place in thin_places([piece], 1.5, tip_deg=20) if place.kind == "tip"] == []
