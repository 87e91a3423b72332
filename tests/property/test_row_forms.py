"""Closed forms of places and edges on random sets, each by a second road: shapely's areas and distances of fine chords,
or the outline of the piece itself."""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable
from itertools import pairwise

import pytest
import shapely
from fixtures.plain_motifs import disc, drop, husk, leaf, plain_rectangle, pod
from fixtures.rows import KNIFE, row_of
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity

from frameforge.errors import GeometryError
from frameforge.frame.make import make_piece
from frameforge.frame.piece import Piece, PlacedMotif
from frameforge.frame.spec import Ornament, PieceSpec, RowSpec, Size
from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import area_mm2, centroid, length_mm
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.motif.motif import Motif
from frameforge.tolerances import CHORD_MM

SETS = settings(max_examples=3, derandomize=True, deadline=None)
FEET = st.floats(6.0, 20.0)
COUNTS = st.integers(5, 16)
SPARE = st.floats(1.3, 1.9)
"""How much larger the circle is than the one on which the feet touch."""
MOTIFS = st.sampled_from([husk, leaf, drop])


def _made(size: Size, *rows: RowSpec, opening: Size | None = None) -> Piece:
    return make_piece(PieceSpec("hoop", size, opening=opening, rows=rows), KNIFE)


def _round(diameter: float) -> Size:
    return Size(diameter, diameter)


def _disc(diameter: float) -> shapely.Polygon:
    return shapely.Point(0, 0).buffer(diameter / 2, quad_segs=4000)


def _shape(repeat: PlacedMotif) -> shapely.Polygon:
    return to_polygon(repeat.motif.join[0].transformed(repeat.placement), 1e-5)


def _clock(z: complex) -> float:
    return math.degrees(math.atan2(z.real, z.imag)) % 360


def _lens(one: float, other: float, apart: float) -> float:
    """Area common to two discs: r^2 acos(..) + R^2 acos(..) less the kite."""
    first = math.acos((apart**2 + one**2 - other**2) / (2 * apart * one))
    second = math.acos((apart**2 + other**2 - one**2) / (2 * apart * other))
    return one**2 * (first - math.sin(first) * math.cos(first)) + other**2 * (
        second - math.sin(second) * math.cos(second)
    )


@SETS
@given(MOTIFS, st.integers(5, 12), st.floats(90, 140), st.floats(0.6, 1.0), st.floats(0, 360))
def test_outward_rows_stand_with_both_foot_ends_on_the_edge_and_leave_no_hole(
    motif: Callable[[], Motif], count: int, width: float, flat: float, start: float
) -> None:
    """F15: one outline without holes; its area is that of shapely's union of base, motifs and feet sunk in."""
    size, drawn = Size(width, width * flat), motif()
    piece = _made(size, row_of(drawn, count=count, start_deg=start))
    assert piece.region.holes == ()
    base = affinity.scale(_disc(2.0), size.width_mm / 2, size.height_mm / 2)
    shapes = [base]
    for repeat in piece.rows[0].repeats:
        ends = [repeat.placement.apply(complex(x * drawn.foot_mm / 2, 0)) for x in (-1, 1)]
        for end in ends:
            on = math.hypot(2 * end.real / size.width_mm, 2 * end.imag / size.height_mm)
            assert on == pytest.approx(1, abs=1e-11)
        low = [repeat.placement.apply(complex(x * drawn.foot_mm / 2, -0.3)) for x in (1, -1)]
        shapes += [_shape(repeat), shapely.Polygon([(z.real, z.imag) for z in (*ends, *low)]).buffer(1e-6)]
    whole = shapely.union_all(shapes)
    assert isinstance(whole, shapely.Polygon)
    assert len(whole.interiors) == 0
    assert area_mm2(piece.region) == pytest.approx(whole.area, rel=2e-6)


@SETS
@given(st.floats(3.0, 6.0), st.integers(8, 20), st.floats(1.2, 1.6), st.floats(2.0, 5.0))
def test_round_windows_leave_a_web_between_them_and_one_to_the_rim(
    radius: float, count: int, spare: float, web: float
) -> None:
    """F17: on a circle of radius p, 2 p sin(pi/n) - 2 r between neighbours; the inset less r to the rim."""
    path = spare * radius / math.sin(math.pi / count)
    size = 2 * (path + radius + web)
    piece = _made(_round(size), row_of(disc(radius), count=count, place="window", inset_mm=radius + web))
    between = 2 * path * math.sin(math.pi / count) - 2 * radius
    assert piece.rows[0].gap_mm == pytest.approx(between, abs=1e-9)
    holes = [to_polygon(Region(hole.reversed()), 1e-4) for hole in piece.region.holes]
    assert len(holes) == count
    gaps = [shapely.distance(holes[0], other) for other in holes[1:]]
    assert min(gaps) == pytest.approx(between, abs=3e-4)
    assert shapely.distance(holes[0], _disc(size).exterior) == pytest.approx(web, abs=3e-4)
    assert area_mm2(piece.region) == pytest.approx(math.pi * (size**2 / 4 - count * radius**2), abs=1e-7)


@SETS
@given(st.floats(3.0, 8.0), COUNTS, SPARE)
def test_discs_across_the_edge_show_all_but_a_lens(radius: float, count: int, spare: float) -> None:
    """F18: pi r^2 less the lens inside the base, for discs about points of the edge."""
    size = 2 * spare * radius / math.sin(math.pi / count)
    piece = _made(_round(size), row_of(disc(radius), count=count, place="across"))
    shown = math.pi * radius**2 - _lens(radius, size / 2, size / 2)
    assert area_mm2(piece.region) == pytest.approx(math.pi * size**2 / 4 + count * shown, abs=1e-8)
    one = shapely.Point(0, size / 2).buffer(radius, quad_segs=2000)
    assert shapely.difference(one, _disc(size)).area == pytest.approx(shown, abs=1e-3)


@SETS
@given(FEET, st.floats(3.0, 12.0), COUNTS, SPARE)
def test_a_bent_rectangle_is_a_part_of_a_ring(foot: float, height: float, count: int, spare: float) -> None:
    """F19: w h (1 + h/2R), its top w (1 + h/R) long; by shapely's ring between two radii."""
    size = spare * foot / math.sin(math.pi / count)
    piece = _made(_round(size), row_of(plain_rectangle(foot, height), count=count, seat="bent"))
    each = (area_mm2(piece.region) - math.pi * size**2 / 4) / count
    assert each == pytest.approx(foot * height * (1 + height / size), abs=1e-9)
    ring = _disc(size + 2 * height).difference(_disc(size))
    assert each == pytest.approx(ring.area * foot / (math.pi * size), rel=1e-6)
    tops = [s for s in piece.region.outer.segments if isinstance(s, Arc) and abs(abs(s.u) - size / 2 - height) < 1e-9]
    assert length_mm(tops) / count == pytest.approx(foot * (1 + 2 * height / size), abs=1e-9)


@SETS
@given(st.sampled_from([4, 6, 8]), st.floats(100, 140))
def test_mirrored_by_turns_a_ring_comes_round_after_two(count: int, size: float) -> None:
    """F21: every segment of the ring turned by two pitches lies on one of the ring; turned by one, it does not."""
    row = row_of(pod(), count=count, is_mirrored_every_other=True)
    region = _made(_round(size), row).region
    assert _differs_mm2(region, 2 * math.tau / count) < 1e-3
    assert _differs_mm2(region, math.tau / count) > 10
    with pytest.raises(GeometryError, match=rf"with {count + 1}, .* Take {count} .* or {count + 2} "):
        _made(_round(size), row_of(pod(), count=count + 1, is_mirrored_every_other=True))


def _differs_mm2(region: Region, turn_rad: float) -> float:
    """At most how much card a turned piece has that it has not unturned, or the other way round.

    Both are taken at the same places of their segments, so that only what differs is counted.
    """
    turned = region.transformed(Affine.from_turn(turn_rad))
    shapes = []
    for one in (region, turned):
        points = [s.point(k / 24) for s in one.outer.segments for k in range(24)]
        shapes.append(shapely.Polygon([(z.real, z.imag) for z in points]))
    before, after = shapes
    return float(shapely.symmetric_difference(before, after).area)


@SETS
@given(MOTIFS, COUNTS, st.floats(100, 160), st.floats(0.7, 1.0), st.floats(0, 360))
def test_the_start_is_where_an_axis_or_the_middle_of_a_gap_points(
    motif: Callable[[], Motif], count: int, width: float, flat: float, start: float
) -> None:
    """F22: there lies the middle of a foot, on a circle also of a motif's card; or foot ends as far on both sides."""
    size = Size(width, width * flat) if flat < 0.95 else _round(width)
    first = _made(size, row_of(motif(), count=count, start_deg=start)).rows[0].repeats
    heads = [_clock(repeat.seat.middle) for repeat in first]
    assert min(abs((head - start + 180) % 360 - 180) for head in heads) < 1e-3
    if size.is_circle:
        middles = [_clock(repeat.placement.apply(centroid(repeat.motif.join[0]))) for repeat in first]
        assert min(abs((middle - start + 180) % 360 - 180) for middle in middles) < 1e-3
    halves = _made(size, row_of(motif(), count=count, start_deg=start, starts_with_gap=True)).rows[0].repeats
    ends = (
        sorted((_clock(r.seat.left) - start) % 360 for r in halves),
        sorted((_clock(r.seat.right) - start) % 360 for r in halves),
    )
    # The first foot begins as far after the start as the last one ends before it.
    assert ends[0][0] == pytest.approx(360 - ends[1][-1], abs=1e-3)


@SETS
@given(MOTIFS, st.integers(8, 14), st.floats(110, 150), st.floats(0.75, 1.0), st.floats(20, 90), st.floats(0, 360),
       st.sampled_from(["spread", "leave"]))  # fmt: skip
def test_nothing_stands_in_a_zone_kept_free(
    motif: Callable[[], Motif], count: int, width: float, flat: float, wide: float, middle: float, free: str
) -> None:
    """F24: no point of a motif as built is seen from the middle within the zone, but for the .01 mm of its chords."""
    row = row_of(motif(), count=count, keep_free=(wide, middle), free=free)
    piece = _made(Size(width, width * flat), row)
    assert piece.rows[0].repeats
    slack = math.degrees(CHORD_MM / (width * flat / 2))
    for repeat in piece.rows[0].repeats:
        seen = [_clock(complex(*point)) for point in _shape(repeat).exterior.coords]
        assert all(abs((angle - middle + 180) % 360 - 180) >= wide / 2 - slack for angle in seen)


@SETS
@given(MOTIFS, st.integers(4, 9), st.floats(100, 150), st.floats(0.65, 1.0), st.floats(-40, 40))
def test_a_leaning_motif_keeps_both_foot_ends_on_the_edge(
    motif: Callable[[], Motif], count: int, width: float, flat: float, lean: float
) -> None:
    """F25: where the leaning card as built meets y = 0 of its foot, it lies on the outline of the base."""
    size = Size(width, width * flat)
    row = RowSpec((Ornament(motif(), lean_deg=lean),), count=count)
    piece = _made(size, row)
    ring = affinity.scale(_disc(2.0), size.width_mm / 2, size.height_mm / 2).exterior
    for repeat in piece.rows[0].repeats:
        card = to_polygon(repeat.motif.join[0], 1e-4)
        left, _, right, _ = shapely.intersection(card, shapely.LineString([(-90, 1e-7), (90, 1e-7)])).bounds
        for x in (left, right):
            end = repeat.placement.apply(complex(x, 0))
            assert shapely.distance(ring, shapely.Point(end.real, end.imag)) < 0.01
    assert piece.region.holes == ()


@SETS
@given(st.floats(3.0, 6.0), st.integers(4, 9), st.floats(80, 120), st.floats(0.1, 0.9))
def test_what_of_a_window_lies_beyond_the_edge_is_listed_with_its_area(
    radius: float, count: int, size: float, part: float
) -> None:
    """F26: discs of radius r about a circle inset by less than r reach out by pi r^2 less the lens within the base."""
    inset = part * radius
    row = row_of(disc(radius), count=count, place="window", inset_mm=inset)
    found = [one for one in _made(_round(size), row).findings if one.code == "chopped"]
    assert len(found) == count
    beyond = math.pi * radius**2 - _lens(radius, size / 2, size / 2 - inset)
    assert [one.measured for one in found] == pytest.approx([beyond] * count, abs=1e-6)
    one = shapely.Point(0, size / 2 - inset).buffer(radius, quad_segs=2000).difference(_disc(size))
    assert one.area == pytest.approx(beyond, abs=1e-3)
    places = sorted(cmath.phase(complex(f.x_mm or 0, f.y_mm or 0)) for f in found)
    assert [b - a for a, b in pairwise(places)] == pytest.approx([math.tau / count] * (count - 1), abs=1e-6)
    inside = row_of(disc(radius), count=count, place="window", inset_mm=radius + 2)
    assert not [one for one in _made(_round(size), inside).findings if one.code == "chopped"]


@SETS
@given(st.integers(4, 30), st.floats(90, 150), st.floats(0, 360))
def test_a_second_row_at_half_a_pitch_stands_between(count: int, size: float, start: float) -> None:
    """F27: 180/n degrees apart, each row on a radius of its own; seen in the holes of the card."""
    insets = (5.0, 12.0)
    rows = tuple(
        row_of(disc(1.5), count=count, place="window", inset_mm=inset, start_deg=start, starts_with_gap=gap)
        for inset, gap in zip(insets, (False, True), strict=True)
    )
    holes = [centroid(Region(hole.reversed())) for hole in _made(_round(size), *rows).region.holes]
    outer, inner = ([z for z in holes if abs(abs(z) - (size / 2 - inset)) < 1e-6] for inset in insets)
    assert len(outer) == len(inner) == count
    for one in inner:
        nearest = min(abs((_clock(one) - _clock(other) + 180) % 360 - 180) for other in outer)
        assert nearest == pytest.approx(180 / count, abs=1e-6)


@SETS
@given(st.floats(8.0, 16.0), st.integers(6, 12), st.floats(2.0, 2.6), st.floats(0.14, 0.24))
def test_a_raised_edge_is_an_arc_from_foot_to_foot_without_a_slit(
    foot: float, count: int, spare: float, part: float
) -> None:
    """F31: over the chord c an arc of radius (c^2/4 + r^2)/2r takes the place of the edge; by the area of the piece."""
    size = spare * foot / math.sin(math.pi / count)
    chord = size * math.sin(math.pi / count - math.asin(foot / size))
    rise = part * chord
    kept, raised = (
        _made(_round(size), row_of(_bump(foot), count=count, between=between, depth_mm=depth))
        for between, depth in (("keep", None), ("raised", rise))
    )
    radius = (chord * chord / 4 + rise * rise) / (2 * rise)
    half, edge = math.asin(chord / (2 * radius)), math.asin(chord / size)
    arch, own = (r**2 * (h - math.sin(h) * math.cos(h)) for r, h in ((radius, half), (size / 2, edge)))
    assert not [one for one in raised.findings if one.code in ("took", "narrow-slot")]
    assert area_mm2(raised.region) - area_mm2(kept.region) == pytest.approx(count * (arch - own), abs=1e-6)
    # No slit: closing all that is narrower than the card's slot fills next to nothing beside arch and motif.
    card = to_polygon(raised.region, 1e-3)
    slot = KNIFE.least_slot_mm
    closed = card.buffer(slot / 2).buffer(-slot / 2)
    assert closed.difference(card).area / count < slot * slot


def _bump(foot: float) -> Motif:
    """Return a low triangle: its sides lean away from the edge, so that an arch opens wide beside it."""
    return Motif("bump", (Region(Outline.from_points((complex(-foot / 2, 0), complex(foot / 2, 0), 4j))),), foot)


@SETS
@given(st.floats(8.0, 20.0), st.integers(8, 16), st.floats(0.3, 1.7))
def test_gaps_narrower_than_the_slot_are_told_and_wider_ones_are_not(foot: float, count: int, gap: float) -> None:
    """F32: on sqrt(w^2 + g^2 + 2wg cos(pi/n))/sin(pi/n) the gap is g, and it is told where g is under the limit."""
    half = math.pi / count
    size = math.sqrt(foot**2 + gap**2 + 2 * foot * gap * math.cos(half)) / math.sin(half)
    piece = _made(_round(size), row_of(plain_rectangle(foot, 6.0), count=count))
    told = [one for one in piece.findings if one.code == "narrow-slot"]
    assert bool(told) == (gap < KNIFE.least_slot_mm)
    first, second = (_shape(repeat) for repeat in piece.rows[0].repeats[:2])
    assert shapely.distance(first, second) == pytest.approx(gap, abs=1e-6)
    assert all(one.measured == pytest.approx(gap, abs=1e-6) and one.limit == KNIFE.least_slot_mm for one in told)
