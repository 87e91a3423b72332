"""What a made piece must come to by closed forms of plane geometry, with motifs whose outlines are formulas.

Where no source is named the form is derived beside the check from circles, chords and right angles.
"""

from __future__ import annotations

import math

import pytest
import shapely
from fixtures.plain_motifs import arch, disc, plain_rectangle, pod, scallop
from shapely.affinity import rotate, translate
from shapely.geometry.base import BaseGeometry

from frameforge.card.preset import load_preset
from frameforge.errors import GeometryError
from frameforge.frame.fit import fit_row
from frameforge.frame.make import make_piece
from frameforge.frame.model import RowModel
from frameforge.frame.piece import Piece
from frameforge.frame.spec import Ornament, PieceSpec, RowSpec, Size
from frameforge.geometry.arc import Arc
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.line import Line
from frameforge.geometry.measure import area_mm2, bounds, length_mm
from frameforge.geometry.region import Region
from frameforge.motif.motif import Motif

KNIFE = load_preset("card-240-knife")


def made(motif: Motif, size: Size, count: int, **row: object) -> Piece:
    opening = row.pop("opening", None)
    order = RowSpec((Ornament(motif),), count=count, **row)  # type: ignore[arg-type]
    return make_piece(PieceSpec("plain", size, opening=opening, rows=(order,)), KNIFE)  # type: ignore[arg-type]


def model(motif: Motif | tuple[Motif, ...], size: Size | None = None, **row: object) -> RowModel:
    motifs = motif if isinstance(motif, tuple) else (motif,)
    order = RowSpec(tuple(Ornament(m) for m in motifs), **row)  # type: ignore[arg-type]
    return RowModel(PieceSpec("plain", size or "find", rows=(order,)), order, KNIFE)


def circle(diameter: float) -> Size:
    return Size(diameter, diameter)


def test_eight_plain_rectangles_on_a_circle() -> None:
    """R 50, w 20, h 10: area pi R^2 + 8 (w h - R^2/2 (q - sin q)), q = 2 asin(w/2R); every rectangle shows w + 2h of
    edge in place of the arc q R; the topmost reaches a + h."""
    region = made(plain_rectangle(), circle(100), 8).region
    box = bounds(region)
    assert len(region.holes) == 0
    assert area_mm2(region) == pytest.approx(9346.007, abs=5e-4)
    assert length_mm(region) == pytest.approx(473.073, abs=5e-4)
    assert box.width_mm == pytest.approx(117.980, abs=5e-4)
    assert box.height_mm == pytest.approx(box.width_mm, abs=1e-9)


@pytest.mark.parametrize(
    ("diameter", "foot", "height", "count"), [(57.15, 12.0, 8.0, 9), (131.0, 31.0, 6.5, 11), (80.0, 5.0, 22.0, 30)]
)
def test_rectangles_by_closed_form_and_by_shapely(diameter: float, foot: float, height: float, count: int) -> None:
    region = made(plain_rectangle(foot, height), circle(diameter), count).region
    radius = diameter / 2
    turn = 2 * math.asin(foot / diameter)
    segment = radius * radius / 2 * (turn - math.sin(turn))
    assert area_mm2(region) == pytest.approx(math.pi * radius**2 + count * (foot * height - segment), abs=1e-9)
    assert length_mm(region) == pytest.approx(math.tau * radius + count * (2 * height + foot - radius * turn), abs=1e-9)
    # Second road: shapely's own shapes, turned by shapely, joined as polygons of 4000 sides.
    apothem = math.sqrt(radius**2 - foot**2 / 4)
    one = shapely.box(-foot / 2, apothem - 0.3, foot / 2, apothem + height)
    parts = [rotate(one, -360 * k / count, origin=(0, 0)) for k in range(count)]
    whole = shapely.union_all([shapely.Point(0, 0).buffer(radius, quad_segs=1000), *parts])
    assert area_mm2(region) == pytest.approx(whole.area, rel=2e-6)
    assert (bounds(region).left, bounds(region).top) == pytest.approx((whole.bounds[0], whole.bounds[3]), abs=1e-4)


def test_how_many_fit_and_the_gap_after_spreading() -> None:
    """Chord geometry: 17 of w 16 go round D 100 with at least 2 mm; the foot gap is then 2.411."""
    piece = make_piece(
        PieceSpec("plain", circle(100), rows=(RowSpec((Ornament(plain_rectangle(16)),), count="most", gap_mm=2.0),)),
        KNIFE,
    )
    assert piece.rows[0].count == 17
    assert piece.rows[0].foot_gap_mm == pytest.approx(2.411, abs=5e-4)


@pytest.mark.parametrize(
    ("inches", "count"),
    [(2.25, 8), (3, 11), (3.5, 13), (4, 15), (4.5, 17), (5, 19), (5.5, 21), (6, 23), (6.5, 25)],
)
def test_feet_of_20_that_touch_on_inch_sizes(inches: float, count: int) -> None:
    fit = fit_row(model(plain_rectangle(20), circle(inches * 25.4), count="most", gap_mm=0.0), circle(inches * 25.4))
    assert fit.count == count


def test_a_ring_that_just_closes_keeps_its_last_repeat() -> None:
    """asin(50/100) is pi/6 exactly, so six feet of 50 close on D 100; floating point says 5.99..."""
    assert fit_row(model(plain_rectangle(50), circle(100), count="most", gap_mm=0.0), circle(100)).count == 6


@pytest.mark.parametrize(("gap", "diameter"), [(4.0, 62.048), (0.0, 52.263)])
def test_size_for_eight_feet_of_20(gap: float, diameter: float) -> None:
    """D = sqrt(w^2 + g^2 + 2wg cos(pi/n)) / sin(pi/n)."""
    found = fit_row(model(plain_rectangle(20), count=8, gap_mm=gap), None)
    assert found.size.width_mm == pytest.approx(diameter, abs=5e-4)
    exact = math.sqrt(400 + gap * gap + 40 * gap * math.cos(math.pi / 8)) / math.sin(math.pi / 8)
    assert found.size.width_mm == pytest.approx(exact, abs=1e-9)


def test_scale_at_which_feet_touch() -> None:
    """w' = D sin(pi/n): D 57.15, n 14, w 12 gives foot 12.717, x 1.0598."""
    size = circle(57.15)
    fit = fit_row(model(plain_rectangle(12), size, count=14, gap_mm=0.0, scale="find"), size)
    assert fit.scale == pytest.approx(1.0598, abs=5e-5)
    assert 12 * fit.scale == pytest.approx(57.15 * math.sin(math.pi / 14), abs=1e-9)


def test_two_feet_in_turn() -> None:
    """asin(a/D) + asin(b/D) + 2 asin(g/D) = pi/m; a 20, b 10, g 2, m 8 gives D 87.096."""
    found = fit_row(model((plain_rectangle(20), plain_rectangle(10)), count=16, gap_mm=2.0), None)
    diameter = found.size.width_mm
    assert diameter == pytest.approx(87.096, abs=5e-4)
    total = math.asin(20 / diameter) + math.asin(10 / diameter) + 2 * math.asin(2 / diameter)
    assert total == pytest.approx(math.pi / 8, abs=1e-10)


@pytest.mark.parametrize(("foot", "gap"), [(18, 1.861), (19, 0.846)])
def test_inward_rows_are_held_apart_at_their_tops(foot: float, gap: float) -> None:
    """Twelve rectangles 12 high in an opening of 100: half width x at axial radius r needs x <= r tan(pi/n) -
    g/(2 cos(pi/n)), so g = 2 (r sin(pi/n) - x cos(pi/n))."""
    piece = made(plain_rectangle(foot, 12), circle(120), 12, place="in", opening=circle(100))
    assert piece.rows[0].gap_mm == pytest.approx(gap, abs=5e-4)
    reach = math.sqrt(2500 - foot * foot / 4) - 12
    exact = 2 * (reach * math.sin(math.pi / 12) - foot / 2 * math.cos(math.pi / 12))
    assert piece.rows[0].gap_mm == pytest.approx(exact, abs=1e-9)
    assert len(piece.region.holes) == 1


def test_the_strip_under_a_foot_in_an_opening_is_filled() -> None:
    """Card: ring, plus 12 (w h + segment); no slit is left between foot and edge."""
    piece = made(plain_rectangle(18, 12), circle(120), 12, place="in", opening=circle(100))
    turn = 2 * math.asin(0.18)
    segment = 1250 * (turn - math.sin(turn))
    wanted = math.pi * (3600 - 2500) + 12 * (18 * 12 + segment)
    assert area_mm2(piece.region) == pytest.approx(wanted, abs=1e-9)


def test_the_strip_is_filled_in_a_narrow_rim_too() -> None:
    """Rim 2 mm, sagitta .827: a straight root would leave less than the least neck, so its floor follows the edge."""
    piece = made(plain_rectangle(18, 12), circle(104), 12, place="in", opening=circle(100))
    turn = 2 * math.asin(0.18)
    wanted = math.pi * (52**2 - 2500) + 12 * (18 * 12 + 1250 * (turn - math.sin(turn)))
    assert area_mm2(piece.region) == pytest.approx(wanted, abs=1e-9)
    assert bounds(piece.region).width_mm == pytest.approx(104, abs=1e-12)


@pytest.mark.parametrize(("count", "web"), [(26, 1.643), (27, 1.287)])
def test_webs_between_round_windows(count: int, web: float) -> None:
    """Windows of 8 mm on a circle of 80: web 80 sin(pi/n) - 8."""
    piece = made(disc(4), circle(100), count, place="window", inset_mm=10.0)
    assert piece.rows[0].gap_mm == pytest.approx(web, abs=5e-4)
    assert len(piece.region.holes) == count
    assert area_mm2(piece.region) == pytest.approx(math.pi * (2500 - count * 16), abs=1e-9)
    assert any(f.code == "thin-web" for f in piece.findings) == (web < KNIFE.least_web_mm)


def test_discs_half_and_half_show_a_lens_less() -> None:
    """Disc r 6 about a point of the circle R 40: the lens inside is taken off, 58.350 mm2 of each shows."""
    piece = made(disc(6), circle(80), 10, place="across")
    half = math.acos(6 / 80)
    lens = 36 * half + 1600 * math.acos(1 - 18 / 1600) - 3 * math.sqrt(6400 - 36)
    assert math.pi * 36 - lens == pytest.approx(58.350, abs=5e-4)
    assert area_mm2(piece.region) == pytest.approx(math.pi * 1600 + 10 * (math.pi * 36 - lens), abs=1e-9)


def test_every_other_mirroring_needs_an_even_count() -> None:
    """n 9 refused, 8 and 10 offered; with 10 the piece equals itself turned by 72 degrees and not by 36."""
    with pytest.raises(GeometryError, match=r"with 9, .* Take 8 \(gap .*\) or 10 \(gap"):
        made(pod(), circle(100), 9, is_mirrored_every_other=True)
    region = made(pod(), circle(100), 10, is_mirrored_every_other=True).region
    assert turned_mm2(region, 72) < 1e-3
    assert turned_mm2(region, 36) > 100


def turned_mm2(region: Region, turn_deg: float) -> float:
    """Return by how much card a region turned about 0 differs from itself, both at the same places of segments."""
    points = [s.point(k / 24) for s in region.outer.segments for k in range(24)]
    shape = shapely.Polygon([(z.real, z.imag) for z in points])
    return float(shape.symmetric_difference(rotate(shape, turn_deg, origin=(0, 0))).area)


@pytest.mark.parametrize("start", [0.0, 17.0, 200.0])
def test_start_is_the_direction_of_the_first_axis_or_gap(start: float) -> None:
    first = made(arch(), circle(100), 12, start_deg=start).rows[0].repeats
    assert min(abs((r.direction_deg - start + 180) % 360 - 180) for r in first) < 1e-9
    halves = made(arch(), circle(100), 12, start_deg=start, starts_with_gap=True).rows[0].repeats
    assert {round((r.direction_deg - start) % 30, 6) for r in halves} == {15.0}


def test_a_skipped_position_leaves_its_stretch_bare() -> None:
    """D 100, n 12, w 16: bare 60 - 2 asin(w/D) degrees = 41.586, an arc of 36.291 mm."""
    row = made(arch(), circle(100), 12, skip=(1,)).rows[0]
    assert row.count == 11
    assert [r.position for r in row.repeats] == list(range(2, 13))
    beside = [r for r in row.repeats if r.position in (2, 12)]
    ends = [r.placement.apply(complex(x, 0)) for r, x in zip(beside, (-8, 8), strict=True)]
    bare = 2 * math.asin(abs(ends[1] - ends[0]) / 100)
    assert math.degrees(bare) == pytest.approx(41.586, abs=5e-4)
    assert 50 * bare == pytest.approx(36.291, abs=5e-4)


def test_arcs_kept_between_feet() -> None:
    """n 8, w 20, D 100: eight segments of the circle over chords of 19.018, together 92.722 mm2."""
    turn = 2 * math.pi / 8 - 2 * math.asin(0.2)
    assert 100 * math.sin(turn / 2) == pytest.approx(19.018, abs=5e-4)
    kept = 8 * 1250 * (turn - math.sin(turn))
    assert kept == pytest.approx(92.722, abs=5e-4)
    corners = [p for k in range(8) for p in _foot_ends(50, 20, math.tau * k / 8)]
    polygon = shapely.Polygon([(p.real, p.imag) for p in corners])
    region = made(plain_rectangle(), circle(100), 8).region
    assert area_mm2(region) == pytest.approx(polygon.area + kept + 8 * 200, abs=1e-6)


def _foot_ends(radius: float, foot: float, tau: float) -> tuple[complex, complex]:
    half = math.asin(foot / 2 / radius)
    return tuple(radius * complex(math.sin(t), math.cos(t)) for t in (tau - half, tau + half))  # type: ignore[return-value]


def test_a_narrow_slit_is_named_with_ways_out_that_hold() -> None:
    """n 14, w 12 on 57.15: gap .734 against 1.0; each offer is tried."""
    piece = made(scallop(), circle(57.15), 14)
    found = [f for f in piece.findings if f.code == "narrow-slot"]
    assert len(found) == 14
    assert {round(f.measured or 0.0, 3) for f in found} == {0.734}
    assert len({f.say for f in found}) == 1
    assert found[0].say == (
        "14 slits of 0.73 mm between the scallops, this card needs 1.0 mm. "
        "Take --gap 0 --scale find (they touch), --count 13 (1.72 mm) or --size 58.4mm."
    )
    touching = made(scallop(), circle(57.15), 14, gap_mm=0.0, scale="find")
    assert not touching.findings
    assert made(scallop(), circle(57.15), 13).rows[0].gap_mm == pytest.approx(1.72, abs=0.01)
    assert not made(scallop(), circle(58.4), 14).findings


def test_touching_scallops_meet_in_one_point_and_stay_one_part() -> None:
    """Two arcs a motif and nothing between: every edge of the piece is a scallop."""
    region = made(scallop(), circle(57.15), 14, gap_mm=0.0, scale="find").region
    assert len(region.holes) == 0
    assert region.segment_count in (14, 28)
    foot = 57.15 * math.sin(math.pi / 14)
    scale = foot / 12
    half = math.asin(6 / 6.5)
    cap = (6.5 * scale) ** 2 / 2 * (2 * half - math.sin(2 * half))
    polygon = 14 / 2 * (57.15 / 2) ** 2 * math.sin(math.tau / 14)
    assert area_mm2(region) == pytest.approx(polygon + 14 * cap, abs=1e-5)


def test_second_row_at_half_pitch() -> None:
    rows = tuple(
        RowSpec((Ornament(disc(2)),), count=12, place="window", inset_mm=inset, starts_with_gap=gap)
        for inset, gap in ((8.0, False), (16.0, True))
    )
    piece = make_piece(PieceSpec("two", circle(100), rows=rows), KNIFE)
    phase = piece.rows[1].repeats[0].direction_deg - piece.rows[0].repeats[0].direction_deg
    assert phase % 30 == pytest.approx(180 / 12, abs=1e-9)
    middles = [{round(abs(r.placement.apply(2j)), 9) for r in row.repeats} for row in piece.rows]
    assert middles == [{42.0}, {34.0}], "each row on a radius of its own"
    assert area_mm2(piece.region) == pytest.approx(math.pi * (2500 - 24 * 4), abs=1e-9)


def test_second_row_outside_at_half_pitch_stands_deeper_by_its_inset() -> None:
    """Between 12 blocks on D 100 stand 12 lower ones, their foot ends on the circle of radius 50 - 4."""
    rows = (
        RowSpec((Ornament(plain_rectangle(10, 12)),), count=12),
        RowSpec((Ornament(plain_rectangle(6, 9)),), count=12, inset_mm=4.0, starts_with_gap=True),
    )
    piece = make_piece(PieceSpec("two", circle(100), rows=rows), KNIFE)
    outer, inner = (row.repeats for row in piece.rows)
    assert {round((b.direction_deg - a.direction_deg) % 30, 9) for a, b in zip(outer, inner, strict=True)} == {15.0}
    assert {round(abs(r.placement.apply(x)), 9) for r in inner for x in (-3, 3)} == {46.0}
    blocks = ((10, 12, 50), (6, 9, 46))
    chords = [math.sqrt(radius**2 - foot**2 / 4) for foot, _, radius in blocks]
    disc_shape = shapely.Point(0, 0).buffer(50, quad_segs=4000)
    beyond = [
        shapely.box(-foot / 2, chord, foot / 2, chord + height).difference(disc_shape).area
        for (foot, height, _), chord in zip(blocks, chords, strict=True)
    ]
    assert area_mm2(piece.region) == pytest.approx(math.pi * 2500 + 12 * sum(beyond), abs=2e-3)


def test_oval_of_arches_is_one_part_by_two_roads() -> None:
    piece = made(arch(), Size(150, 100), 16, opening=Size(110, 60))
    assert len(piece.region.holes) == 1
    shapes: list[BaseGeometry] = [shapely.Point(0, 0).buffer(1, quad_segs=2000)]
    base = shapely.affinity.scale(shapes[0], 75, 50)
    opening = shapely.affinity.scale(shapes[0], 55, 30)
    half_disc = shapely.Point(0, 0).buffer(8, quad_segs=500).intersection(shapely.box(-9, 0, 9, 9))
    foot = shapely.box(-8, -0.3, 8, 0.001)
    for repeat in piece.rows[0].repeats:
        a, c = repeat.placement.a, repeat.placement.c
        turned = rotate(half_disc.union(foot), math.atan2(a.imag, a.real), origin=(0, 0), use_radians=True)
        shapes.append(translate(turned, c.real, c.imag))
    whole = shapely.union_all([base, *shapes[1:]]).difference(opening)
    assert whole.geom_type == "Polygon"
    assert area_mm2(piece.region) == pytest.approx(whole.area, rel=5e-6)


def test_outward_feet_are_filled_down_to_the_edge() -> None:
    """Both foot ends on the circle, the strip of the sagitta filled: one part, no hole, and nothing else of card."""
    region = made(plain_rectangle(), circle(100), 8).region
    ends = sorted(abs(s.start) for s in region.outer.segments if isinstance(s, Line))
    assert len(region.holes) == 0
    assert [round(abs(p), 9) for p in _foot_ends(50, 20, 0.0)] == [50.0, 50.0]
    assert sum(abs(end - 50) < 1e-9 for end in ends) == 8, "each right side starts on the circle"
    assert shapely.get_num_geometries(to_polygon(region)) == 1


@pytest.mark.parametrize("lean", [-30.0, 18.0, 40.0])
def test_a_leaning_bar_stands_with_both_foot_ends_on_the_edge(lean: float) -> None:
    """Bar 8 wide leaning by q: its level cut is 8 / cos q wide, the ends of which lie on the circle."""
    order = RowSpec((Ornament(plain_rectangle(8, 14), lean_deg=lean),), count=9)
    piece = make_piece(PieceSpec("plain", circle(100), rows=(order,)), KNIFE)
    wide = 8 / math.cos(math.radians(lean))
    for repeat in piece.rows[0].repeats:
        ends = [repeat.placement.apply(complex(x * wide / 2, 0)) for x in (-1, 1)]
        assert [abs(end) for end in ends] == pytest.approx([50.0, 50.0], abs=1e-9)
    assert len(piece.region.holes) == 0


@pytest.mark.parametrize(("inset", "beyond"), [(3.0, 11.629), (1.5, 25.238)])
def test_what_is_pushed_beyond_the_edge_is_listed(inset: float, beyond: float) -> None:
    """Windows r 5 whose middles lie inset from the edge of D 100: pi r^2 less the lens with the base reaches out."""
    reach = 50 - inset
    first, second = math.acos((reach**2 + 25 - 2500) / (10 * reach)), math.acos((reach**2 + 2500 - 25) / (100 * reach))
    lens = 25 * (first - math.sin(first) * math.cos(first)) + 2500 * (second - math.sin(second) * math.cos(second))
    assert math.pi * 25 - lens == pytest.approx(beyond, abs=5e-4)
    chopped = [f for f in made(disc(5), circle(100), 6, place="window", inset_mm=inset).findings if f.code == "chopped"]
    assert [f.measured for f in chopped] == pytest.approx([beyond] * 6, abs=5e-4)
    assert not [f for f in made(disc(5), circle(100), 6, place="window", inset_mm=7.0).findings if f.code == "chopped"]


def test_a_raised_edge_of_2_over_a_chord_of_10_094() -> None:
    """(c^2/4 + r^2)/2r = 7.368, as for a hollow: ten arches of that radius, and no slit under the card's limit."""
    foot = 100 * math.sin(math.pi / 10 - math.asin(0.10094))
    piece = made(plain_rectangle(foot, 10), circle(100), 10, between="raised", depth_mm=2.0)
    arches = [s for s in piece.region.outer.segments if isinstance(s, Arc) and abs(s.center) > 1]
    assert [abs(s.u) for s in arches] == pytest.approx([7.368] * 10, abs=5e-4)
    assert not [f for f in piece.findings if f.code in ("took", "narrow-slot")]
