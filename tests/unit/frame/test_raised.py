"""Arches between motifs: as high as asked, with no slit beside the motifs, and what is taken is said."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import replace

import pytest
from fixtures.plain_motifs import arch, husk, leaf, plain_rectangle, pod, scallop
from fixtures.rows import D100, KNIFE, row_of

from frameforge.check.narrow_slot import find_narrow_slots
from frameforge.check.survey import to_survey
from frameforge.errors import GeometryError
from frameforge.frame.make import make_piece
from frameforge.frame.piece import Piece
from frameforge.frame.spec import PieceSpec, RowSpec, Size
from frameforge.geometry.arc import Arc
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.motif.motif import Motif

BAR = plain_rectangle(12.0, 14.0)


def made(row: RowSpec, size: Size = D100, opening: Size | None = None) -> Piece:
    return make_piece(PieceSpec("hoop", size, opening=opening, rows=(row,)), KNIFE)


def took(piece: Piece) -> list[str]:
    return [finding.say for finding in piece.findings if finding.code == "took"]


def arches(piece: Piece) -> list[Arc]:
    """Return the arcs of a piece that are neither edges round its middle nor parts of a round motif."""
    arcs = [s for o in piece.region.outlines for s in o.segments if isinstance(s, Arc) and s.is_circular]
    return [arc for arc in arcs if abs(arc.center) > 1e-6 and round(abs(arc.u), 6) not in (8.0, 6.5)]


def rise_mm(arc: Arc) -> float:
    """Return how far an arc stands off its chord."""
    middle = (arc.start + arc.end) / 2
    return abs(arc.point(0.5) - middle)


@pytest.mark.parametrize(("count", "rise"), [(8, 2.0), (8, 3.5), (12, 2.0), (6, 5.0)])
def test_an_arch_runs_from_foot_to_foot_with_the_known_radius(count: int, rise: float) -> None:
    """Radius (c^2/4 + r^2)/2r over the foot gap c, as for a hollow of that depth."""
    piece = made(row_of(BAR, count=count, between="raised", depth_mm=rise))
    chord = 100 * math.sin(math.pi / count - math.asin(0.12))
    found = arches(piece)
    assert len(found) == count
    assert {round(abs(arc.u), 8) for arc in found} == {round((chord**2 / 4 + rise**2) / (2 * rise), 8)}
    assert [rise_mm(arc) for arc in found] == pytest.approx([rise] * count, abs=1e-8)
    assert not took(piece)


def test_where_the_corner_would_close_the_arch_begins_beside_the_foot() -> None:
    """A slit's width of edge or more stays straight on both sides of it, the rise is as asked."""
    piece = made(row_of(BAR, count=8, between="raised", depth_mm=9.0))
    found = arches(piece)
    (say,) = took(piece)
    aside = float(re.search(r"begin ([\d.]+) mm or more beside the feet", say)[1])  # type: ignore[index]
    assert aside >= KNIFE.least_slot_mm
    chord = 100 * math.sin(math.pi / 8 - math.asin(0.12))
    assert [abs(arc.end - arc.start) for arc in found] == pytest.approx([chord - 2 * aside] * 8, abs=0.02)
    assert [rise_mm(arc) for arc in found] == pytest.approx([9.0] * 8, abs=1e-8)


def test_a_rise_that_does_not_go_is_capped_and_it_is_said() -> None:
    """No arch is higher than half its width: the half circle between two slits is the highest."""
    piece = made(row_of(BAR, count=12, between="raised", depth_mm=9.0))
    chord = 100 * math.sin(math.pi / 12 - math.asin(0.12))
    rises = {round(rise_mm(arc), 6) for arc in arches(piece)}
    assert len(rises) == 1
    (rise,) = rises
    assert chord / 2 - KNIFE.least_slot_mm - 0.1 < rise <= chord / 2 - KNIFE.least_slot_mm
    assert took(piece)[0].startswith(f"took a rise of {rise:.2f} mm in place of 9 mm, so that no slit under 1 mm stays")


def test_feet_too_near_each_other_keep_the_edge_and_it_is_said() -> None:
    piece = made(row_of(arch(), count=19, between="raised", depth_mm=2.0))
    assert not arches(piece)
    assert took(piece) == [
        "took all edges between as they are, since an arch there would leave slits under 1 mm beside the motifs."
    ]


def test_an_arch_lower_than_the_edge_says_that_it_is_flatter() -> None:
    piece = made(row_of(BAR, count=6, between="raised", depth_mm=1.0))
    sagitta = 50 * (1 - math.cos(math.pi / 6 - math.asin(0.12)))
    assert took(piece) == [
        "took the edge flatter than it was: kept as it is it rises up to "
        f"{math.floor(sagitta * 100) / 100:.2f} mm over the feet."
    ]


MOTIFS: list[Callable[[], Motif]] = [husk, leaf, arch, pod, scallop, lambda: BAR]


@pytest.mark.parametrize("motif", MOTIFS, ids=["husk", "leaf", "arch", "pod", "scallop", "bar"])
@pytest.mark.parametrize(
    ("size", "opening", "count", "rise"),
    [
        (Size(120, 120), None, 9, 4.0),
        (Size(150, 150), Size(105, 105), 7, 3.0),
        pytest.param(Size(150, 95), None, 8, 7.0, marks=pytest.mark.slow),
        pytest.param(Size(170, 150), Size(120, 95), 7, 3.0, marks=pytest.mark.slow),
    ],
)
def test_no_slit_stays_beside_any_motif(
    motif: Callable[[], Motif], size: Size, opening: Size | None, count: int, rise: float
) -> None:
    """Looked for by tangent discs on the finished card; what a motif's own belly leaves over the edge stays."""
    row = row_of(motif(), count=count, place="in" if opening else "out")
    kept, piece = made(row, size, opening), made(replace(row, between="raised", depth_mm=rise), size, opening)
    before, after = (find_narrow_slots(to_survey((p.region,), KNIFE)) for p in (kept, piece))
    missing = [int(n) for say in took(piece) for n in re.findall(r"took (\d+) of \d+ edges between as they", say)]
    assert len(arches(piece)) + sum(missing) == count or "took all edges between" in str(took(piece))
    assert opening or not missing
    if before:
        narrowest, was = (min(slot.measured or 0.0 for slot in slots) for slots in (after, before))
        assert narrowest >= was - 0.01
    else:
        assert not after


def test_both_halves_of_a_piece_get_the_same_arches() -> None:
    piece = made(row_of(leaf(), count=10, between="raised", depth_mm=6.0), Size(150, 100))
    ends = {(round(z.real, 6), round(z.imag, 6)) for arc in arches(piece) for z in (arc.start, arc.end)}
    assert {(-x, y) for x, y in ends} == ends


def test_arches_that_would_meet_across_an_opening_are_refused_with_a_depth_that_goes() -> None:
    spike = Motif("spike", (Region(Outline.from_points((-3 + 0j, 3 + 0j, 3j))),), 6.0)
    row = row_of(spike, count=3, place="in", between="raised", depth_mm=16.0)
    with pytest.raises(GeometryError, match="come nearer than 1 mm to each other or to motifs across") as caught:
        made(row, D100, Size(50, 50))
    depth = float(re.search(r"--depth ([\d.]+)mm", str(caught.value))[1])  # type: ignore[index]
    assert len(made(replace(row, depth_mm=depth), D100, Size(50, 50)).region.holes) == 1
