"""Edges between repeats: chords and arcs from foot to foot, against chord geometry; and what is refused."""

from __future__ import annotations

import math

import pytest
from fixtures.plain_motifs import arch, disc, plain_rectangle
from fixtures.rows import D100, KNIFE, row_of

from frameforge.errors import FrameforgeError
from frameforge.frame.make import make_piece
from frameforge.frame.piece import Piece
from frameforge.frame.spec import PieceSpec, RowSpec, Size
from frameforge.geometry.arc import Arc
from frameforge.geometry.line import Line
from frameforge.geometry.measure import area_mm2

BAR = plain_rectangle(12.0, 10.0)
CHORD = 100 * math.sin(math.pi / 10 - math.asin(0.12))


def made(row: RowSpec, opening: Size | None = None, size: Size = D100) -> Piece:
    return make_piece(PieceSpec("hoop", size, opening=opening, rows=(row,)), KNIFE)


def polygon_mm2() -> float:
    """Return the area of the polygon of ten feet and ten chords: triangles to the middle."""
    return sum(10 * chord / 2 * math.sqrt(2500 - chord**2 / 4) for chord in (12.0, CHORD))


def test_flat_is_the_polygon_of_the_feet() -> None:
    piece = made(row_of(BAR, count=10, between="flat"))
    assert all(isinstance(segment, Line) for segment in piece.region.outer.segments)
    assert area_mm2(piece.region) == pytest.approx(polygon_mm2() + 10 * 120, abs=1e-7)


@pytest.mark.parametrize("depth", [0.5, 2.0, 6.0])
def test_hollow_is_an_arc_of_the_known_radius(depth: float) -> None:
    """Radius (c^2/4 + d^2)/2d; what goes beyond the chord is the segment of that circle."""
    piece = made(row_of(BAR, count=10, between="hollow", depth_mm=depth))
    radius = (CHORD**2 / 4 + depth**2) / (2 * depth)
    arcs = [segment for segment in piece.region.outer.segments if isinstance(segment, Arc)]
    assert len(arcs) == 10
    assert all(abs(arc.u) == pytest.approx(radius, abs=1e-8) for arc in arcs)
    half = math.acos(1 - depth / radius)
    segment = radius**2 * (half - math.sin(half) * math.cos(half))
    assert area_mm2(piece.region) == pytest.approx(polygon_mm2() + 10 * 120 - 10 * segment, abs=1e-7)


def test_a_chord_of_10_094_hollowed_by_2_has_radius_7_368() -> None:
    """(10.094^2/4 + 2^2)/4 = 7.368 (computed)."""
    foot = 100 * math.sin(math.pi / 10 - math.asin(0.10094))
    piece = made(row_of(plain_rectangle(foot, 10.0), count=10, between="hollow", depth_mm=2.0))
    arcs = [segment for segment in piece.region.outer.segments if isinstance(segment, Arc)]
    assert {round(abs(arc.u), 3) for arc in arcs} == {7.368}


def test_beside_a_missing_motif_the_edge_stays() -> None:
    piece = made(row_of(BAR, count=10, between="flat", skip=("top",)))
    arcs = [segment for segment in piece.region.outer.segments if isinstance(segment, Arc)]
    assert len(arcs) == 1
    assert abs(arcs[0].u) == pytest.approx(50, abs=1e-9)


def test_an_oval_is_cut_from_foot_to_foot_too() -> None:
    piece = made(row_of(BAR, count=10, between="flat"), size=Size(150, 100))
    assert all(isinstance(segment, Line) for segment in piece.region.outer.segments)


@pytest.mark.parametrize(
    ("row", "opening", "part"),
    [(row_of(BAR, count=10, between="hollow"), None, "needs a depth"),
     (row_of(BAR, count=10, between="flat", depth_mm=2.0), None, "has no depth"),
     (row_of(BAR, count=10, between="hollow", depth_mm=12.0), None, "Take 6.9 mm or less"),
     (row_of(BAR, count=10, between="hollow", depth_mm=5.0), Size(90, 90), "Take a depth of 2.5 mm or less"),
     (row_of(BAR, count=10, between="flat"), Size(97, 97), "Make the opening smaller"),
     (row_of(arch(), count=8, place="in", between="flat"), Size(70, 70), "Leave it out"),
     (row_of(disc(2.0), count=8, place="window", between="flat"), None, "Leave it out")],
)  # fmt: skip
def test_what_does_not_go_is_refused(row: RowSpec, opening: Size | None, part: str) -> None:
    with pytest.raises(FrameforgeError, match=part):
        made(row, opening)
