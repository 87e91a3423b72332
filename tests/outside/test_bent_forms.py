"""Bent rows by closed forms: areas by the first moment, gaps by the length of the edge. No source needed."""

from __future__ import annotations

import math

import pytest
from fixtures.bent_checks import quartered_count
from fixtures.plain_motifs import arch, drop, husk, leaf, plain_rectangle, pod
from fixtures.rows import D100, KNIFE, model_of, row_of

from frameforge.frame.fit import Fit, fit_row
from frameforge.frame.make import make_piece
from frameforge.frame.model import RowModel
from frameforge.frame.seat_compare import both_seats
from frameforge.frame.spec import PieceSpec, Size
from frameforge.geometry.measure import area_mm2, centroid, length_mm
from frameforge.motif.catalogue import load_motif, names


def test_fifteen_feet_of_20_leave_808_as_drawn_and_944_bent() -> None:
    """D sin(pi/n - asin(w/D)) and pi D/n - w."""
    drawn, bent = both_seats(model_of(plain_rectangle(20, 10)), Fit(D100, 15, 1.0), counts_too=True)
    assert (drawn.seat, bent.seat) == ("as-drawn", "bent")
    assert drawn.foot_gap_mm == pytest.approx(0.808, abs=5e-4)
    assert bent.foot_gap_mm == pytest.approx(0.944, abs=5e-4)
    assert (drawn.most, bent.most) == (14, 14)
    assert (drawn.top_mm, bent.top_mm) == pytest.approx((20.0, 24.0), abs=1e-9)
    assert (drawn.area_mm2, bent.area_mm2) == pytest.approx((200.0, 220.0), abs=1e-9)
    assert bent.height_mm == pytest.approx(10.0, abs=1e-9)
    assert drawn.height_mm == pytest.approx(math.hypot(math.sqrt(2500 - 100) + 10, 10) - 50, abs=1e-9)


@pytest.mark.parametrize("make", [arch, drop, husk, leaf, pod, plain_rectangle])
@pytest.mark.parametrize(("diameter", "count"), [(93.0, 6), (131.7, 9), (212.4, 5)])
def test_a_bent_motif_gains_its_moment_over_the_radius(make, diameter: float, count: int) -> None:  # type: ignore[no-untyped-def]
    """The area of the image is the integral of 1 + y/R: A (1 + yc/R), yc the height of the centroid."""
    motif = make()
    piece = make_piece(PieceSpec("x", Size(diameter, diameter), rows=(row_of(motif, count=count, seat="bent"),)), KNIFE)
    (drawn,) = motif.join
    grown = area_mm2(drawn) * (1 + 2 * centroid(drawn).imag / diameter)
    wanted = math.pi / 4 * diameter**2 + count * grown
    slack = 1e-7 if make is plain_rectangle else 2e-3 * count * length_mm(drawn)
    assert area_mm2(piece.region) == pytest.approx(wanted, abs=slack)


@pytest.mark.parametrize(("foot", "gap", "count"), [(20.0, 4.0, 8), (13.3, 0.7, 21), (31.0, 2.5, 5)])
def test_sizes_for_a_foot_gap_go_by_the_length_of_the_edge(foot: float, gap: float, count: int) -> None:
    """n (w + g) = pi D."""
    row = row_of(plain_rectangle(foot, 6.0), count=count, foot_gap_mm=gap, seat="bent")
    fit = fit_row(RowModel(PieceSpec("x", "find", rows=(row,)), row, KNIFE), None)
    assert fit.size.width_mm == pytest.approx(count * (foot + gap) / math.pi, abs=1e-9)


@pytest.mark.parametrize(
    ("place", "size"),
    [("out", Size(96, 96)), ("in", Size(150, 100)), pytest.param("in", Size(96, 96), marks=pytest.mark.slow),
     pytest.param("out", Size(150, 100), marks=pytest.mark.slow)],
    ids=["out of a circle", "into an oval", "into a circle", "out of an oval"],
)  # fmt: skip
@pytest.mark.parametrize("name", names())
def test_every_motif_of_ours_bends_into_one_part(name: str, place: str, size: Size) -> None:
    hole = Size(size.width_mm - 36, size.height_mm - 36) if place == "in" else None
    motif = load_motif(name)
    row = row_of(motif, count=6, scale=0.5, place=place, seat="bent")
    piece = make_piece(PieceSpec("x", size, opening=hole, rows=(row,)), KNIFE)
    assert len(piece.rows[0].repeats) == 6
    least, most = piece.rows[0].gap_mm, piece.rows[0].gap_max_mm
    assert least is not None
    assert most is not None
    assert most - least <= 1e-9
    assert piece.rough == ()
    for repeat in piece.rows[0].repeats:
        made = (*repeat.motif.join, *repeat.motif.cut_away, *repeat.motif.window)
        drawn = (*motif.join, *motif.cut_away, *motif.window)
        assert sum(region.segment_count for region in made) <= 2 * quartered_count(drawn)


def test_the_same_order_gives_the_same_piece() -> None:
    order = PieceSpec("x", Size(150, 100), rows=(row_of(leaf(), count=14, seat="bent"),))
    assert make_piece(order, KNIFE).region == make_piece(order, KNIFE).region
