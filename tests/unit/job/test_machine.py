"""Allowances on frames of our own motifs, on a circle and on an oval, against chords and booleans of shapely."""

from __future__ import annotations

import itertools
from pathlib import Path

import numpy as np
import pytest
import shapely

from frameforge.card.preset import load_preset
from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import bounds, length_mm
from frameforge.geometry.outline import Segment
from frameforge.geometry.parallel import parallel
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import ellipse
from frameforge.job.machine import machine_plan
from frameforge.job.make import built
from frameforge.job.motif_source import MotifSource
from frameforge.job.recipe_file import recipe_of
from frameforge.machine.allowances import Allowances, Bridges
from frameforge.machine.kerf import with_kerf
from frameforge.motif.catalogue import names
from frameforge.tolerances import FIT_MM

LASER = load_preset("card-240-laser")
QUICK = {("trellis", "120x80mm")}
"""What the default run looks at; the slow one takes every motif on both."""

FRAMES = [
    pytest.param(motif, size, id=f"{motif}-{size}", marks=[] if (motif, size) in QUICK else [pytest.mark.slow])
    for motif in names()
    for size in ("100mm", "120x80mm")
]


def _frame(folder: Path, motif: str, size: str) -> Region:
    opening = "60x30mm" if "x" in size else "50mm"
    path = folder / "frame.toml"
    path.write_text(
        f'[[piece]]\nname = "a"\nsize = "{size}"\nopening = "{opening}"\n[[piece.row]]\nmotif = "{motif}"\n'
    )
    (made,) = built(recipe_of(path, {}), MotifSource(folder, None, False), lambda done, of, name: None)
    return made.piece.region


def _is_curve(segment: Segment) -> bool:
    """Return whether the parallel of a segment is drawn as cubics: it is one, or an arc of an oval, however long."""
    if isinstance(segment, Arc):
        long_mm, short_mm, _ = segment.principal_axes
        return long_mm - short_mm >= 1e-9
    return isinstance(segment, Cubic)


def _farthest_mm(a: shapely.Polygon, b: shapely.Polygon) -> float:
    """Return how far a vertex of one edge lies from the other edge, at most."""
    points = shapely.points(shapely.get_coordinates(a.boundary))
    lines = np.asarray(
        shapely.linestrings([pair for ring in (b.exterior, *b.interiors) for pair in itertools.pairwise(ring.coords)])
    )
    _, away = shapely.STRtree(lines).query_nearest(points, return_distance=True, all_matches=False)
    return float(away.max())


@pytest.mark.parametrize(("motif", "size"), FRAMES)
def test_kerf_and_its_way_back_restore_a_frame(tmp_path: Path, motif: str, size: str) -> None:
    """The size grows by the kerf, with at most 2 cubics for each curve that is no circle; then half the kerf back.

    Concave corners come back rounded, as shapely's own way out and back has them (the chords of both: .001 mm).
    """
    frame = _frame(tmp_path, motif, size)
    for kerf in (0.1, 0.2):
        grown = with_kerf(frame, kerf)
        before, after = bounds(frame), bounds(grown)
        assert after.width_mm - before.width_mm == pytest.approx(kerf, abs=FIT_MM)
        assert after.height_mm - before.height_mm == pytest.approx(kerf, abs=FIT_MM)
        cubics = sum(isinstance(s, Cubic) for o in grown.outlines for s in o.segments)
        assert cubics <= 2 * sum(_is_curve(s) for o in frame.outlines for s in o.segments)
        (back,) = parallel(grown, -kerf / 2)
        wanted = to_polygon(frame, 0.0005).buffer(kerf / 2, quad_segs=16).buffer(-kerf / 2, quad_segs=16)
        found = to_polygon(back, 0.0005)
        assert max(_farthest_mm(wanted, found), _farthest_mm(found, wanted)) <= 2 * FIT_MM + 0.001


@pytest.mark.parametrize("kerf", [0.1, 0.15, 0.2, 0.3])
@pytest.mark.parametrize(
    ("width", "height", "most"), [(80, 76, 8), (120, 80, 8), (150, 100, 8), (220, 120, 8), (60, 30, 8), (100, 20, 16)]
)
def test_the_kerf_of_an_oval_takes_two_cubics_a_quarter(width: float, height: float, most: int, kerf: float) -> None:
    """Drawn as cubics an oval has four: two for each. One five times as long as wide takes up to four."""
    grown = with_kerf(Region(ellipse(0, width / 2, height / 2)), kerf)
    assert all(isinstance(segment, Cubic) for segment in grown.outer.segments)
    assert len(grown.outer.segments) <= most
    away = _farthest_mm(
        to_polygon(grown, 0.0005), to_polygon(Region(ellipse(0, width / 2, height / 2)), 0.0005).buffer(kerf / 2, 64)
    )
    assert away <= FIT_MM + 0.001


@pytest.mark.parametrize(("motif", "size"), FRAMES)
def test_lead_ins_and_bridges_keep_off_the_card(tmp_path: Path, motif: str, size: str) -> None:
    """Every lead-in begins and stays in the waste; the line is cut but for its bridges; holes before the outside."""
    frame = _frame(tmp_path, motif, size)
    allowed = Allowances(kerf_mm=0.15, lead_in_mm=1.0, bridges=Bridges(0.5, count=6))
    plan = machine_plan(frame, allowed, LASER, "a")
    assert plan is not None
    assert plan == machine_plan(frame, allowed, LASER, "a")
    card = to_polygon(plan.region, 0.0005)
    kinds = [line.is_hole for line in plan.lines]
    assert kinds == sorted(kinds, reverse=True)
    lead_mm, leads = 0.0, 0
    for run in plan.runs:
        assert all(a.end == b.start for a, b in itertools.pairwise(run))
        start, end = run[0].start, run[0].end
        if card.boundary.distance(shapely.Point(start.real, start.imag)) > 0.01:
            way = [(z.real, z.imag) for z in (start, end + 0.02 * (start - end))]
            assert not shapely.LineString(way).intersects(card)
            leads, lead_mm = leads + 1, lead_mm + abs(end - start)
    assert leads == len(plan.runs) - sum(line.without_lead_in for line in plan.lines)
    whole = sum(length_mm(outline.segments) for outline in plan.region.outlines)
    assert sum(length_mm(run) for run in plan.runs) - lead_mm == pytest.approx(whole - 6 * 0.5, abs=1e-3)


@pytest.mark.parametrize(("motif", "size"), FRAMES)
def test_the_outside_is_begun_on_the_base_and_last(tmp_path: Path, motif: str, size: str) -> None:
    """F51: on the edge between two repeats, or in it, never out on a motif; every hole before it."""
    frame = _frame(tmp_path, motif, size)
    plan = machine_plan(frame, Allowances(overcut_mm=0.5, lead_in_mm=1.5), LASER, "a")
    assert plan is not None
    assert [line.is_hole for line in plan.lines] == [True] * len(frame.holes) + [False]
    half_width, half_height = (50, 50) if "x" not in size else (60, 40)
    begun = plan.runs[-1][1].start
    assert abs(complex(begun.real / half_width, begun.imag / half_height)) <= 1 + 1e-6
