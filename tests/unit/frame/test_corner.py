"""Corner motifs replace the edge: their tip stands on it, no scrap comes loose, teeth between them hold."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
import shapely
from fixtures.rows import D100, KNIFE

from frameforge.errors import FrameforgeError, GeometryError
from frameforge.frame.base import Edge
from frameforge.frame.make import make_piece
from frameforge.frame.model import RowModel
from frameforge.frame.ornament import ready
from frameforge.frame.piece import Piece
from frameforge.frame.spec import Ornament, PieceSpec, RowSpec, Size
from frameforge.frame.teeth import floor_mm
from frameforge.frame.tooth import tooth_widths_mm
from frameforge.geometry.arc import Arc
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.line import Line
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.motif.catalogue import load_motif
from frameforge.motif.motif import Motif

CORNERS = ("cobweb-corner", "picket-corner", "sprout-corner", "strawberry-corner", "trowel-corner")


def row_of(motif: Motif | str, **more: object) -> RowSpec:
    made = load_motif(motif) if isinstance(motif, str) else motif
    return RowSpec((Ornament(made),), **more)  # type: ignore[arg-type]


def made(row: RowSpec, size: Size = D100, opening: Size | None = None) -> Piece:
    return make_piece(PieceSpec("corner", size, opening=opening, rows=(row,)), KNIFE)


def spear(top: float = 0.3) -> Motif:
    """Return a spear 4 wide at its shoulders, its point at 0, in a square gap 12 wide and 8 deep."""
    points = (0j, -2 - 3j, -0.8 - 3j, -0.8 - 9j, 0.8 - 9j, 0.8 - 3j, 2 - 3j)
    cut = Region(rectangle(-6, -8, 6, top))
    return Motif("spear", (Region(Outline.from_points(points)),), 12.0, cut_away=(cut,))


@pytest.mark.parametrize("name", CORNERS)
@pytest.mark.parametrize(("size", "count"), [(Size(150, 150), 12), (Size(150, 110), 8), (Size(90, 90), 4)])
def test_one_part_that_keeps_the_size_of_the_base(name: str, size: Size, count: int) -> None:
    piece = made(row_of(name, count=count), size)
    box = bounds(piece.region)
    # A tip at the top, right, bottom and left stands on the base; a blunt one up to .2 mm inside or proud of it.
    assert box.width_mm == pytest.approx(size.width_mm, abs=0.4)
    assert box.height_mm == pytest.approx(size.height_mm, abs=0.4)
    assert piece.rows[0].count == count


@pytest.mark.parametrize("name", CORNERS)
def test_as_many_as_fit_leave_teeth_of_the_least_gap(name: str) -> None:
    (row,) = made(row_of(name, count="most", gap_mm=2.0), Size(150, 150)).rows
    assert row.gap_mm is not None
    assert row.gap_mm >= max(2.0, KNIFE.least_neck_mm) - 1e-9


@pytest.mark.parametrize(("count", "diameter"), [(8, 100), (13, 130), (20, 200)])
def test_a_tooth_is_its_foot_gap_less_what_its_walls_draw_in(count: int, diameter: float) -> None:
    """Mouth corners stand on the tangents at the tips; at full depth d the tooth is narrower by 2 d sin(phi/2)."""
    half_turn, radius, depth = math.pi / count, diameter / 2, 8.0
    foot_gap = 2 * (radius * math.sin(half_turn) - 6 * math.cos(half_turn))
    size = Size(diameter, diameter)
    order = row_of(spear(), count=count)
    model = RowModel(PieceSpec("x", size, rows=(order,)), order, KNIFE)
    layout = model.layout(size, count, 1.0)
    assert layout.foot_gap_mm == pytest.approx(foot_gap, abs=1e-9)
    widths = tooth_widths_mm(layout, Edge.from_size(size))
    assert widths == pytest.approx([foot_gap - 2 * depth * math.sin(half_turn)] * count, abs=1e-9)


@pytest.mark.parametrize("depth", [0.0, 2.0])
def test_a_tooth_in_an_opening_is_narrowest_at_its_edge(depth: float) -> None:
    """The walls draw apart into the card; they come out of it where the opening has risen over the tip's tangent."""
    half_turn, radius, count = math.pi / 12, 50.0, 12
    rise = radius - math.sqrt(radius**2 - 36)
    tips = radius + depth
    ends = 2 * ((tips - depth - rise) * math.sin(half_turn) - 6 * math.cos(half_turn))
    order = row_of(spear(), count=count, place="in", depth_mm=depth or None)
    size, opening = Size(150, 150), Size(100, 100)
    model = RowModel(PieceSpec("x", size, opening=opening, rows=(order,)), order, KNIFE)
    widths = tooth_widths_mm(model.layout(size, count, 1.0), Edge.from_size(opening))
    assert widths == pytest.approx([ends] * count, abs=1e-9)


REFUSED = [
    (row_of("picket-corner", count=13), D100, None),
    (row_of("picket-corner", gap_mm=1.0), D100, None),
    pytest.param(row_of("sprout-corner", count=22), Size(150, 100), None, marks=pytest.mark.slow),
    (row_of("sprout-corner", count=17, place="in"), Size(150, 150), Size(90, 90)),
    (row_of(spear(), count=11, foot_gap_mm=5.9), None, None),
]


@pytest.mark.parametrize(("row", "size", "opening"), REFUSED)
def test_teeth_that_would_not_hold_are_refused_with_ways_out_that_do(
    row: RowSpec, size: Size | None, opening: Size | None
) -> None:
    spec = PieceSpec("corner", size or "find", opening=opening, rows=(row,))
    with pytest.raises(GeometryError) as caught:
        make_piece(spec, KNIFE)
    say = str(caught.value)
    assert caught.value.code == "thin-tooth"
    assert "teeth of" in say
    assert "this card needs 1.5 mm" in say
    tried = 0
    for key, value in re.findall(r"--(count|size|opening|gap|foot-gap) ([\d.x]+)", say):
        sides = [float(side) for side in value.split("x")]
        better = {
            "count": lambda v=sides: replace(spec, rows=(replace(row, count=int(v[0])),)),
            "gap": lambda v=sides: replace(spec, rows=(replace(row, gap_mm=v[0]),)),
            "foot-gap": lambda v=sides: replace(spec, rows=(replace(row, foot_gap_mm=v[0]),)),
            "size": lambda v=sides: replace(spec, size=Size(v[0], v[-1])),
            "opening": lambda v=sides: replace(spec, opening=Size(v[0], v[-1])),
        }[key]()
        make_piece(better, KNIFE)
        tried += 1
    assert tried >= 1


def test_a_rim_that_is_too_narrow_for_the_cut_away_is_refused_with_ways_out_that_hold() -> None:
    row = row_of("picket-corner", count=6)
    with pytest.raises(GeometryError, match=r"leave 0\.9 mm of card, this card needs 1\.5 mm") as caught:
        made(row, opening=Size(77, 77))
    say = str(caught.value)
    opening = float(re.search(r"--opening ([\d.]+)mm", say)[1])  # type: ignore[index]
    scale = float(re.search(r"--scale ([\d.]+)", say)[1].rstrip("."))  # type: ignore[index]
    assert opening == pytest.approx(75.8)
    made(row, opening=Size(opening, opening))
    made(replace(row, scale=scale), opening=Size(77, 77))
    with pytest.raises(GeometryError):
        made(row, opening=Size(opening + 0.1, opening + 0.1))


def test_the_floor_is_measured_where_it_is_nearest() -> None:
    order = row_of("picket-corner", count=6)
    model = RowModel(PieceSpec("x", Size(150, 100), rows=(order,)), order, KNIFE)
    layout = model.layout(Size(150, 100), 6, 1.0)
    corners = (-9 + 0.3j, -9 - 10.6j, 9 - 10.6j, 9 + 0.3j)
    cuts = [shapely.LinearRing([(p.real, p.imag) for p in (layout.track.placement(r, s).apply(c) for c in corners)])
            for r, s in zip(layout.readies, layout.seats, strict=True)]  # fmt: skip
    ring = shapely.LinearRing([(50 * math.sin(t), 25 * math.cos(t)) for t in np.linspace(0, math.tau, 4001)[:-1]])
    nearest = min(float(shapely.distance(cut, ring)) for cut in cuts)
    assert floor_mm(layout, Edge.from_size(Size(100, 50))) == pytest.approx(nearest, abs=1e-4)
    assert floor_mm(layout, Edge.from_size(Size(140, 90))) == 0


@pytest.mark.parametrize("depth", [None, 2.5])
def test_flat_trims_the_bits_between_from_tip_to_tip(depth: float | None) -> None:
    """(base - cut-away) within the polygon of the tips, then the motifs joined; by shapely on fine chords."""
    row = row_of(spear(), count=9, between="flat", depth_mm=depth)
    region = made(row).region
    tips = [(50 - (depth or 0)) * complex(math.sin(t), math.cos(t)) for t in (math.tau * k / 9 for k in range(9))]
    card = shapely.Polygon([(p.real, p.imag) for p in tips])
    cut, joined = to_polygon(Region(rectangle(-6, -8, 6, 9))), to_polygon(spear().join[0])
    placed = [[shapely.affinity.rotate(shapely.affinity.translate(shape, 0, abs(tips[0])), -40 * k, origin=(0, 0))
               for k in range(9)] for shape in (cut, joined)]  # fmt: skip
    whole = shapely.union_all([shapely.difference(card, shapely.union_all(placed[0])), *placed[1]])
    assert area_mm2(region) == pytest.approx(whole.area, abs=1e-6)
    assert not [s for s in region.outer.segments if isinstance(s, Arc)]


def test_level_cuts_each_bit_straight_across() -> None:
    """Every bit loses the circular segment over the chord between the mouths on both sides of it."""
    kept, level = (made(row_of(spear(), count=9, between=between)).region for between in ("keep", "level"))
    turn = math.tau / 9 - 2 * math.asin(6 / 50)
    assert area_mm2(kept) - area_mm2(level) == pytest.approx(9 * 1250 * (turn - math.sin(turn)), abs=1e-7)
    assert all(isinstance(segment, Line) for segment in level.outer.segments)


def test_a_depth_sinks_the_tips() -> None:
    """The tip lies 3 mm inside, the gap is cut 3 mm deeper, and no scrap stays above it."""
    piece = made(row_of(spear(), count=8, depth_mm=3.0))
    tips = [repeat.placement.apply(0j) for repeat in piece.rows[0].repeats]
    assert [abs(tip) for tip in tips] == pytest.approx([47.0] * 8, abs=1e-12)
    assert bounds(piece.region).top < 50
    bridge = shapely.Point(5, 49.2)
    assert not to_polygon(piece.region).contains(bridge)


@pytest.mark.parametrize("top", [0.0, -0.05, 0.3])
@pytest.mark.parametrize(("place", "size"), [("out", Size(60, 60)), ("in", Size(100, 100)), ("in", Size(60, 44))])
def test_no_scrap_stays_beside_a_mouth_however_high_it_is_drawn(top: float, place: str, size: Size) -> None:
    base, opening = (size, None) if place == "out" else (Size(140, 140), size)
    piece = made(row_of(spear(top), count=5, place=place), base, opening)
    assert len(piece.region.holes) == (0 if place == "out" else 1)


def test_what_stands_out_and_takes_its_edge_away_is_seated_by_its_foot() -> None:
    """A bump on a foot of 12 with the edge cut out below it: foot ends on the edge, its walls up past the bulge."""
    bump = Outline((*Outline.from_points((-2 - 5j, 2 - 5j, 2 + 4j, -2 + 4j)).segments,))
    motif = Motif("bump", (Region(bump),), 12.0, cut_away=(Region(rectangle(-6, -4, 6, 0)),))
    assert not ready(Ornament(motif), 1.0, is_flipped=False).is_corner
    piece = made(row_of(motif, count=6), Size(60, 60))
    assert abs(piece.rows[0].repeats[0].placement.apply(6 + 0j)) == pytest.approx(30, abs=1e-12)
    assert len(piece.region.holes) == 0


@pytest.mark.parametrize(
    ("row", "part"),
    [(row_of("picket-corner", count=6, between="hollow", depth_mm=1.0), "Take --between flat or --between level"),
     (row_of("picket-corner", count=6, between="raised", depth_mm=1.0), "Take --between flat or --between level"),
     (row_of("arch", count=6, between="level"), "Take --between flat"),
     (row_of("picket-corner", count=6, place="window", between="level"), "Leave it out")],
)  # fmt: skip
def test_edges_that_do_not_go_with_the_motif_are_refused(row: RowSpec, part: str) -> None:
    with pytest.raises(FrameforgeError, match=part):
        made(row)


@pytest.mark.parametrize(
    ("row", "way"),
    [
        (row_of("picket-corner", count=6, between="hollow", depth_mm=1.0), {"between": "flat"}),
        (row_of("arch", count=6, between="level", depth_mm=2.0), {"between": "flat", "depth_mm": None}),
        (row_of("picket-corner", count=16, between="raised"), {"between": "flat", "count": "most"}),
    ],
)
def test_the_first_edge_offered_can_be_made(row: RowSpec, way: dict[str, Any]) -> None:
    with pytest.raises(FrameforgeError) as caught:
        made(row)
    words = f"--between {way['between']}{' without a depth' if 'depth_mm' in way else ''}"
    words += f" --count {way['count']}" if "count" in way else ""
    assert f"Take {words} or " in str(caught.value)
    assert made(replace(row, **way)).rows[0].count > 0


def test_in_an_opening_the_width_of_the_teeth_is_told_and_called_so() -> None:
    """Measured on the finished card: the straight way between the ends of two walls on the edge of the opening."""
    piece = made(row_of("picket-corner", count=6, place="in"), Size(120, 120), Size(80, 80))
    (result,) = piece.rows
    assert result.is_of_teeth
    opening = max(piece.region.holes, key=lambda hole: abs(area_mm2(Region(hole.reversed()))))
    arcs = [s for s in opening.segments if abs(abs(s.start) - 40) < 1e-9 and abs(abs(s.end) - 40) < 1e-9]
    assert [abs(arc.end - arc.start) for arc in arcs] == pytest.approx([result.gap_mm] * 6, abs=1e-6)
    assert not made(row_of("picket-corner", count=6)).rows[0].is_of_teeth
