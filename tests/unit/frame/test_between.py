"""Edges between repeats: chords and arcs from foot to foot, against chord geometry; and what is refused."""

from __future__ import annotations

import cmath
import math
import re
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from fixtures.plain_motifs import arch, disc, plain_rectangle, pod
from fixtures.rows import D100, KNIFE, row_of

from frameforge.check.point_touch import find_point_touches
from frameforge.check.survey import to_survey
from frameforge.errors import FrameforgeError, GeometryError
from frameforge.frame.base import Edge
from frameforge.frame.between import edge_between
from frameforge.frame.between_limits import edge_distance_mm
from frameforge.frame.edge_line import EdgeLine
from frameforge.frame.make import make_piece
from frameforge.frame.model import RowModel
from frameforge.frame.piece import Piece
from frameforge.frame.spec import Between, Ornament, PieceSpec, RowSpec, Size
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


def test_beside_a_missing_motif_the_edge_is_finished_as_chosen() -> None:
    """Nine feet, eight chords between neighbours and one over the place left out: its turn is two gaps and a foot."""
    piece = made(row_of(BAR, count=10, between="flat", skip=("top",)))
    assert all(isinstance(segment, Line) for segment in piece.region.outer.segments)
    wide = 100 * math.sin(math.tau / 10 - math.asin(0.12))
    triangles = [(9, 12.0), (8, CHORD), (1, wide)]
    area = sum(n * c / 2 * math.sqrt(2500 - c**2 / 4) for n, c in triangles)
    assert area_mm2(piece.region) == pytest.approx(area + 9 * 120, abs=1e-7)


def test_a_free_zone_is_finished_as_chosen() -> None:
    """What is left is spread over the rest; the bare stretch, longer than the zone, is one arc like the others."""
    piece = made(row_of(BAR, count=10, between="hollow", depth_mm=2.0, keep_free=(60.0, 0.0)))
    repeats = piece.rows[0].repeats
    ends = sorted((r.placement.apply(complex(x, 0)) for r in repeats for x in (-6, 6)), key=lambda z: -z.imag)[:2]
    arcs = [s for s in piece.region.outer.segments if isinstance(s, Arc)]
    assert len(arcs) == len(repeats)
    (bare,) = (arc for arc in arcs if abs(arc.end - arc.start) > 49)
    assert {_near(bare.start), _near(bare.end)} == {_near(end) for end in ends}


def _near(z: complex) -> tuple[float, float]:
    return round(z.real, 8), round(z.imag, 8)


def test_an_oval_is_cut_from_foot_to_foot_too() -> None:
    piece = made(row_of(BAR, count=10, between="flat"), size=Size(150, 100))
    assert all(isinstance(segment, Line) for segment in piece.region.outer.segments)


@pytest.mark.parametrize(
    ("row", "opening", "part"),
    [(row_of(BAR, count=10, between="hollow"), None, "needs a depth"),
     (row_of(BAR, count=10, between="raised"), None, "needs a depth"),
     (row_of(BAR, count=10, between="flat", depth_mm=2.0), None, "has no depth"),
     (row_of(BAR, count=10, depth_mm=2.0), None, "goes with a hollow or a raised edge"),
     (row_of(arch(), count=8, place="in", on="base", between="flat"), Size(70, 70), "Leave it out"),
     (row_of(disc(2.0), count=8, place="window", between="flat"), None, "Leave it out"),
     (row_of(BAR, count=10, between="flat", skip=(1, 2, 3, 4, 5)), None, "Take --between keep, or leave out fewer")],
)  # fmt: skip
def test_what_does_not_go_is_refused(row: RowSpec, opening: Size | None, part: str) -> None:
    with pytest.raises(FrameforgeError, match=part):
        made(row, opening)


@pytest.mark.parametrize(
    ("row", "opening", "size"),
    [(row_of(BAR, count=10, between="hollow", depth_mm=12.0), None, D100),
     (row_of(BAR, count=10, between="hollow", depth_mm=5.0), Size(90, 90), D100),
     (row_of(BAR, count=12, between="hollow", depth_mm=5.0), Size(140, 90), Size(150, 100)),
     (row_of(arch(), count=8, place="in", between="hollow", depth_mm=14.0), Size(80, 80), D100),
     (row_of(plain_rectangle(1.6, 10.0), count=3, between="hollow", depth_mm=9.0), None, Size(20, 20))],
)  # fmt: skip
def test_the_depth_that_is_offered_goes_and_more_does_not(row: RowSpec, opening: Size | None, size: Size) -> None:
    with pytest.raises(GeometryError) as caught:
        made(row, opening, size)
    offer = float(re.search(r"--depth ([\d.]+)mm", str(caught.value))[1])  # type: ignore[index]
    made(replace(row, depth_mm=offer), opening, size)
    with pytest.raises(GeometryError):
        made(replace(row, depth_mm=offer + 0.1), opening, size)


def test_where_no_depth_goes_flat_is_offered() -> None:
    """Two feet opposite each other: the line between them goes straight down beside both."""
    row = row_of(plain_rectangle(4.0, 10.0), count=2, between="hollow", depth_mm=1.0)
    with pytest.raises(GeometryError, match=r"cut in under the feet\. Take --between flat without a depth\."):
        made(row, size=Size(20, 20))
    made(replace(row, between="flat", depth_mm=None), size=Size(20, 20))


@pytest.mark.parametrize("opening", [Size(97, 97), Size(96.5, 90)])
def test_the_opening_that_is_offered_leaves_enough_card(opening: Size) -> None:
    flat = row_of(BAR, count=10, between="flat")
    with pytest.raises(GeometryError, match=r"leaves 0\.\d\d mm of card, this card needs 1\.5 mm") as caught:
        made(flat, opening)
    numbers = re.search(r"--opening ([\d.]+)(?:x([\d.]+))?mm", str(caught.value))
    assert numbers is not None
    offer = Size(float(numbers[1]), float(numbers[2] or numbers[1]))
    made(flat, offer)
    with pytest.raises(GeometryError):
        made(flat, Size(offer.width_mm + 0.1, offer.height_mm + 0.1))


def test_a_rim_that_is_offered_leaves_enough_card() -> None:
    flat = row_of(BAR, count=10, between="flat")
    with pytest.raises(GeometryError) as caught:
        make_piece(PieceSpec("hoop", Size(150, 100), rim_mm=2.0, rows=(flat,)), KNIFE)
    rim = float(re.search(r"--rim ([\d.]+)mm", str(caught.value))[1])  # type: ignore[index]
    make_piece(PieceSpec("hoop", Size(150, 100), rim_mm=rim, rows=(flat,)), KNIFE)


def test_just_the_least_neck_is_enough() -> None:
    """The floor of a hollow lies apothem less depth from the middle, the opening 1.5 below it."""
    apothem = math.sqrt(2500 - CHORD**2 / 4)
    depth = apothem - 43 - KNIFE.least_neck_mm
    made(row_of(BAR, count=10, between="hollow", depth_mm=depth), Size(86, 86))
    with pytest.raises(GeometryError, match=r"leaves 1\.49 mm"):
        made(row_of(BAR, count=10, between="hollow", depth_mm=depth + 1e-4), Size(86, 86))


OVAL = Size(150, 100)


def feet_of(piece: Piece, half: float) -> list[tuple[complex, complex]]:
    """Return the foot ends of all repeats, clockwise, the clockwise end of one and the near end of the next."""
    repeats = sorted(piece.rows[0].repeats, key=lambda r: r.position)
    ends = [(r.placement.apply(complex(-half, 0)), r.placement.apply(complex(half, 0))) for r in repeats]
    ends = [end if _clock(end[1] - end[0], end[0]) else end[::-1] for end in ends]
    return [(a[1], b[0]) for a, b in zip(ends, [*ends[1:], ends[0]], strict=True)]


def _clock(along: complex, at: complex) -> bool:
    """Return whether a step goes clockwise round 0."""
    return (at.conjugate() * along).imag < 0


def lens_mm2(half_axes: tuple[float, float], start: complex, end: complex) -> float:
    """Return the area between an oval and a chord of it, by Gauss-Legendre quadrature of r^2/2 over the direction."""
    a, b = half_axes
    first, last = (math.atan2(z.real, z.imag) for z in (start, end))
    last += math.tau if last < first else 0.0
    nodes, weights = np.polynomial.legendre.leggauss(40)
    phi = (first + last) / 2 + (last - first) / 2 * nodes
    square = 1 / ((np.sin(phi) / a) ** 2 + (np.cos(phi) / b) ** 2)
    sector = float(weights @ square) / 2 * (last - first) / 2
    return sector - abs((start.conjugate() * end).imag) / 2


def cap_mm2(chord: float, rise: float) -> float:
    """Return the area of a circular segment of a chord and a rise."""
    radius = (chord**2 / 4 + rise**2) / (2 * rise)
    half = 2 * math.atan(2 * rise / chord)
    return radius**2 * (half - math.sin(half) * math.cos(half))


@pytest.mark.parametrize("count", [6, 9])
@pytest.mark.parametrize(("between", "depth", "sign"), [("flat", None, 0), ("hollow", 2.5, -1), ("raised", 3.5, 1)])
def test_on_an_oval_the_area_changes_by_lenses_and_arcs(
    between: Between, depth: float | None, sign: int, count: int
) -> None:
    """Base: less the lens over every chord, less or more the circular segment on it."""
    kept = made(row_of(BAR, count=count), size=OVAL)
    piece = made(row_of(BAR, count=count, between=between, depth_mm=depth), size=OVAL)
    pairs = feet_of(kept, 6.0)
    lenses = sum(lens_mm2((75, 50), *pair) for pair in pairs)
    caps = sum(cap_mm2(abs(b - a), depth) for a, b in pairs) if depth else 0.0
    assert area_mm2(piece.region) - area_mm2(kept.region) == pytest.approx(sign * caps - lenses, abs=1e-7)
    assert all("flatter than it was" in finding.say for finding in piece.findings)


@pytest.mark.parametrize(("between", "depth", "sign"), [("flat", None, 0), ("hollow", 4.0, -1), ("raised", 1.0, 1)])
def test_in_an_oval_opening_hollows_go_into_the_card(between: Between, depth: float | None, sign: int) -> None:
    """Opening: more by the lens over every chord, then less or more by the circular segment, on the card's side."""
    bar, hole, oval = plain_rectangle(8.0, 6.0), Size(110, 96), Size(150, 130)
    kept = made(row_of(bar, count=11, place="in"), hole, oval)
    piece = made(row_of(bar, count=11, place="in", between=between, depth_mm=depth), hole, oval)
    pairs = feet_of(kept, 4.0)
    lenses = sum(lens_mm2((55, 48), *pair) for pair in pairs)
    caps = sum(cap_mm2(abs(b - a), depth) for a, b in pairs) if depth else 0.0
    assert area_mm2(piece.region) - area_mm2(kept.region) == pytest.approx(lenses + sign * caps, abs=1e-7)
    assert len(piece.region.holes) == 1


@pytest.mark.parametrize("more", [{"place": "in"}, {"inset_mm": 2.0}])
@pytest.mark.parametrize(("between", "depth"), [("flat", None), ("hollow", 2.0), ("raised", 1.5)])
def test_leaning_and_mirrored_motifs_and_a_rim_are_finished_too(
    between: Between, depth: float | None, more: dict[str, Any]
) -> None:
    """A pattern that leans, every other one turned over, on a rim whose opening is no oval."""
    pattern = (Ornament(pod(), 0.6, lean_deg=12.0), Ornament(BAR, 0.8))
    row = RowSpec(pattern, count=8, is_mirrored_every_other=True, between=between, depth_mm=depth, **more)
    spec = PieceSpec("hoop", Size(170, 120), rim_mm=24.0, rows=(row,))
    piece = make_piece(spec, KNIFE)
    arcs = [s for o in piece.region.outlines for s in o.segments if isinstance(s, Arc) and s.is_circular]
    kept = sum(int(n) for f in piece.findings for n in re.findall(r"took (\d+) of 8 edges between as they", f.say))
    assert len(arcs) + kept == (0 if between == "flat" else 8)
    assert kept <= (2 if between == "raised" else 0)
    assert piece.rough == ()


def test_touching_feet_and_a_single_motif_have_nothing_between_and_it_is_said() -> None:
    touching = made(row_of(arch(), count=12, gap_mm=0.0, scale="find", between="flat"))
    assert "took the edge as it is, since the feet touch." in [f.say for f in touching.findings]
    alone = made(row_of(arch(), count=1, between="hollow", depth_mm=2.0))
    assert "took the edge as it is, since one alone has no edge between." in [f.say for f in alone.findings]


@pytest.mark.parametrize(("between", "depth"), [("flat", None), ("hollow", 3.0), ("raised", 2.0)])
def test_round_an_opening_that_is_no_oval_no_crumbs_stay_at_the_feet(between: Between, depth: float | None) -> None:
    """Its edge is fitted, and passes the foot ends by less than .002 mm: nothing of that shows, nothing hangs by it."""
    row = row_of(arch(), count=9, place="in", between=between, depth_mm=depth)
    piece = make_piece(PieceSpec("hoop", Size(170, 120), rim_mm=22.0, rows=(row,)), KNIFE)
    assert len(piece.region.holes) == 1
    assert min(abs(s.end - s.start) for s in piece.region.holes[0].segments) > 0.5
    assert find_point_touches(to_survey((piece.region,), KNIFE), "refused") == ()


@pytest.mark.parametrize("inset_mm", [0.0, 1.0, 2.0])
@pytest.mark.parametrize(("between", "rise_mm"), [("flat", 0.0), ("raised", 2.0), ("hollow", -2.0)])
def test_feet_sunk_into_the_card_leave_nothing_beside_them(between: Between, rise_mm: float, inset_mm: float) -> None:
    """Eight blocks of 10 on a circle sunk below one of 100: a polygon of feet and lines, its arcs, the blocks."""
    more = {"depth_mm": abs(rise_mm)} if rise_mm else {}
    row = row_of(plain_rectangle(10, 10), count=8, between=between, inset_mm=inset_mm, **more)
    region = make_piece(PieceSpec("x", Size(100, 100), rows=(row,)), KNIFE).region
    height = math.sqrt((50 - inset_mm) ** 2 - 5**2)
    ends = [cmath.rect(1, -math.tau * k / 8) * complex(x, height) for k in range(8) for x in (-5, 5)]
    inner = abs(sum((a.conjugate() * b).imag for a, b in zip(ends, [*ends[1:], ends[0]], strict=True))) / 2
    half = abs(ends[2] - ends[1]) / 2
    radius = (half**2 + rise_mm**2) / (2 * abs(rise_mm)) if rise_mm else math.inf
    angle = 2 * math.asin(half / radius) if rise_mm else 0.0
    arc = radius**2 * (angle - math.sin(angle)) / 2 if rise_mm else 0.0
    assert area_mm2(region) == pytest.approx(inner + 8 * (100 + math.copysign(arc, rise_mm)), abs=1e-6)
    assert len(region.outer.segments) == 8 * 4


@pytest.mark.parametrize(("ends", "least"), [((-20 + 30j, 10 + 40j), 1), ((-10 + 40j, 20 + 30j), 0)])
def test_an_arch_that_is_nearest_at_one_of_its_ends_is_measured_there(
    ends: tuple[complex, complex], least: int
) -> None:
    line = EdgeLine(*ends, 2.0)
    assert edge_distance_mm(line, Edge(60, 60)) == pytest.approx(60 - abs(ends[least]), abs=1e-9)
    assert edge_distance_mm(line, Edge(60, 60)) <= 60 - abs(ends[1 - least])


def test_straight_edges_in_a_round_opening_end_at_the_feet_to_the_bit() -> None:
    """Nothing goes from the card, and the blocks that fill the opening begin and end where the lines do."""
    row = row_of(plain_rectangle(6, 8), count=6, place="in", between="flat")
    model = RowModel(PieceSpec("hoop", D100, opening=Size(70, 70), rows=(row,)), row, KNIFE)
    found = edge_between(model, D100, model.layout(D100, 6, 1.0))
    assert (found.taken, found.raised, found.took, len(found.lines)) == ((), (), (), 6)
    assert found.filled == tuple(line.outside(35.0) for line in found.lines)
