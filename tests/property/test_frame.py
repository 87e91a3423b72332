"""Pieces of any sensible size and count: one part, known area, the same when turned or mirrored, written as they are.

Expected areas are chord geometry; sameness is symmetry; both need no table.
"""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest
import shapely
from fixtures.plain_motifs import arch, drop, husk, leaf, plain_rectangle, pod, scallop
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from frameforge.card.preset import load_preset
from frameforge.frame.make import make_piece
from frameforge.frame.piece import Piece
from frameforge.frame.spec import Ornament, PieceSpec, RowSpec, Size
from frameforge.geometry.affine import Affine
from frameforge.geometry.flatten import flatten_outline, to_polygon
from frameforge.geometry.measure import area_mm2, bounds, length_mm
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.read.path_grammar import scan_path
from frameforge.read.svg_curves import to_subpaths
from frameforge.tolerances import SVG_MM
from frameforge.write.page import PAGE_EDGE_MM, CutPage, CutPiece
from frameforge.write.svg import to_svg

KNIFE = load_preset("card-240-knife")
MOTIFS = [arch(), drop(), husk(), leaf(), pod(), scallop(), plain_rectangle(6.0, 9.0)]
FEW = settings(max_examples=8, phases=(Phase.explicit, Phase.generate))


@st.composite
def orders(draw: st.DrawFn, *, is_circle: bool | None = None) -> PieceSpec:
    """Return an order whose motifs stand clear of each other, with or without an opening."""
    motif = draw(st.sampled_from(MOTIFS))
    width = draw(st.integers(70, 160))
    height = width if is_circle or (is_circle is None and draw(st.booleans())) else draw(st.integers(60, width - 1))
    wide = max(bounds(motif.join).width_mm, motif.foot_mm)
    most = int(math.pi * min(width, height) / (wide + 3))
    count, start = draw(st.integers(2, max(2, min(most, 16)))), draw(st.integers(0, 359))
    row = RowSpec((Ornament(motif),), count=count, start_deg=start)
    rim = draw(st.sampled_from([None, 9.0, 14.0]))
    opening = Size(width - 2 * rim, height - 2 * rim) if rim else None
    return PieceSpec("hoop", Size(width, height), opening=opening, rows=(row,))


def _segment_mm2(size: Size, foot_mm: float, placement: Affine) -> float:
    """Return the area between edge and foot: a b (h - sin h cos h), sin h = w / 2L with L the speed where the edge runs
    along the foot."""
    a, b = size.width_mm / 2, size.height_mm / 2
    tangent = placement.a
    tau = math.atan2(-tangent.imag / b, tangent.real / a)
    half = math.asin(foot_mm / 2 / math.hypot(a * math.cos(tau), b * math.sin(tau)))
    return a * b * (half - math.sin(half) * math.cos(half))


@FEW
@given(orders())
def test_a_piece_is_one_part_and_its_areas_add_up(order: PieceSpec) -> None:
    """One outline outside, one hole for an opening; area = base + what stands above the edge - opening."""
    piece = make_piece(order, KNIFE)
    assert len(piece.region.holes) == (1 if order.opening else 0)
    assert shapely.get_num_geometries(to_polygon(piece.region)) == 1
    size, motif = piece.size, order.rows[0].pattern[0].motif
    wanted = math.pi / 4 * size.width_mm * size.height_mm
    if order.opening:
        wanted -= math.pi / 4 * order.opening.width_mm * order.opening.height_mm
    for repeat in piece.rows[0].repeats:
        wanted += sum(map(area_mm2, motif.join)) - _segment_mm2(size, motif.foot_mm, repeat.placement)
    assert area_mm2(piece.region) == pytest.approx(wanted, abs=1e-7)


def _joints(outline: Outline) -> shapely.MultiPoint:
    return shapely.MultiPoint([(segment.start.real, segment.start.imag) for segment in outline.segments])


def _same(one: Region, other: Region, tolerance_mm: float) -> bool:
    """Whether two regions have the same outer joints (a hole that is a circle starts anywhere), lengths and areas."""
    if [len(o.segments) for o in one.outlines] != [len(o.segments) for o in other.outlines]:
        return False
    return bool(
        shapely.hausdorff_distance(_joints(one.outer), _joints(other.outer)) < tolerance_mm
        and abs(length_mm(one) - length_mm(other)) < 100 * tolerance_mm
        and abs(area_mm2(one) - area_mm2(other)) < 1000 * tolerance_mm
    )


@FEW
@given(orders(is_circle=True), st.integers(1, 30))
def test_a_circle_turned_by_whole_pitches_is_the_same(order: PieceSpec, pitches: int) -> None:
    row = order.rows[0]
    assert isinstance(row.count, int)
    turned = replace(row, start_deg=row.start_deg + pitches * 360 / row.count)
    assert _same(make_piece(order, KNIFE).region, make_piece(replace(order, rows=(turned,)), KNIFE).region, 1e-8)
    between = replace(row, start_deg=row.start_deg + 120 / row.count)
    assert not _same(make_piece(order, KNIFE).region, make_piece(replace(order, rows=(between,)), KNIFE).region, 1e-3)


@FEW
@given(orders())
def test_the_mirrored_order_is_the_mirrored_piece(order: PieceSpec) -> None:
    row = order.rows[0]
    mirrored = replace(row, pattern=(replace(row.pattern[0], is_mirrored=True),), start_deg=-row.start_deg)
    flip = Affine(0, -1, 0)
    wanted = make_piece(order, KNIFE).region.transformed(flip)
    assert _same(make_piece(replace(order, rows=(mirrored,)), KNIFE).region, wanted, 1e-7)


def _written(piece: Piece) -> list[Outline]:
    """Return the outlines as the SVG text has them, brought back to the piece's place; holes come first."""
    svg = to_svg(CutPage("hoop", (CutPiece("hoop", piece.region),)))
    box = bounds(piece.region)
    back = Affine(0, 1, complex(box.left - PAGE_EDGE_MM, box.top + PAGE_EDGE_MM))
    paths = [path for data in re.findall(r' d="([^"]+)"', svg) for path in to_subpaths(scan_path(data).commands)]
    outlines = [path.to_outline(back, SVG_MM) for path in paths]
    return [outline for outline in outlines if outline is not None]


@FEW
@given(orders())
def test_what_is_written_reads_as_the_piece_and_never_crosses_itself(order: PieceSpec) -> None:
    piece = make_piece(order, KNIFE)
    written = _written(piece)
    wanted = [*piece.region.holes, piece.region.outer]
    assert len(written) == len(wanted)
    for outline, exact in zip(written, wanted, strict=True):
        points = flatten_outline(outline, 2e-3).points
        assert shapely.LinearRing([(z.real, z.imag) for z in points.tolist()]).is_simple
        # Long arcs are written in parts: joints come in, none goes.
        ends = _joints(outline)
        assert all(ends.distance(joint) < SVG_MM for joint in _joints(exact).geoms)
        assert abs(area_mm2(outline)) == pytest.approx(abs(area_mm2(exact)), abs=SVG_MM * length_mm(exact))
