"""Rows on a tent card: what would cross is left out, the rest keeps its distance and is spread from end to end."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from fixtures.plain_motifs import disc, plain_rectangle
from fixtures.rows import D100, KNIFE, row_of

from frameforge.errors import GeometryError, InputError
from frameforge.frame.behind import behind_lines
from frameforge.frame.fit import fit_row
from frameforge.frame.make import make_piece
from frameforge.frame.model import RowModel
from frameforge.frame.piece import Piece
from frameforge.frame.spec import FoldSpec, PieceSpec, RowSpec, Size
from frameforge.geometry.flatten import flatten_outline

FOLD = FoldSpec(10, flat_mm=8)
SLIP = plain_rectangle(4.0, 8.0)


def order(row: RowSpec, fold: FoldSpec | None = FOLD, size: Size = D100, **more: object) -> PieceSpec:
    return PieceSpec("table", size, rows=(row,), fold=fold, **more)  # type: ignore[arg-type]


def made(row: RowSpec, fold: FoldSpec = FOLD, size: Size = D100, **more: object) -> Piece:
    return make_piece(order(row, fold, size, **more), KNIFE)


def reach_mm(piece: Piece, towards: complex, part: str = "join") -> float:
    """How far any placed motif reaches in a direction."""
    far = -math.inf
    for repeat in piece.rows[0].repeats:
        for region in getattr(repeat.motif, part):
            points = repeat.placement.apply(flatten_outline(region.outer, 1e-3).points)
            far = max(far, float((np.asarray(points) * towards.conjugate()).real.max()))
    return far


def turns_deg(piece: Piece) -> list[float]:
    return [repeat.direction_deg for repeat in piece.rows[0].repeats]


def test_without_a_fold_a_row_stays_as_it_is() -> None:
    model = RowModel(order(row_of(SLIP, count=12), None), row_of(SLIP, count=12), KNIFE)
    layout = model.layout(D100, 12, 1.0)
    behind = behind_lines(model, D100, layout)
    assert behind.layout is layout
    assert not any(behind.is_out)


def test_nothing_crosses_and_the_outermost_keep_half_a_gap_to_the_fold() -> None:
    """The stated gap is 3: each half keeps 1.5 to the fold, so that image and motif stand 3 apart; the foot is met."""
    piece = made(row_of(SLIP, gap_mm=3.0, count="most"))
    assert reach_mm(piece, 1j) == pytest.approx(40 - 1.5, abs=0.02)
    assert reach_mm(piece, -1j) == pytest.approx(42, abs=0.02)
    assert reach_mm(piece, 1j) <= 40 - 1.5
    assert reach_mm(piece, -1j) <= 42


def test_each_side_is_spread_evenly_and_alike() -> None:
    piece = made(row_of(SLIP, count=20))
    turns = turns_deg(piece)
    right, left = [t for t in turns if t < 180], [t for t in turns if t > 180]
    steps = np.diff(right)
    assert len(right) == len(left) > 3
    assert steps == pytest.approx([steps[0]] * len(steps), abs=1e-6)
    assert [360 - t for t in reversed(left)] == pytest.approx(right, abs=1e-6)
    assert piece.rows[0].gap_mm is not None
    assert piece.rows[0].count == len(turns)


def test_on_an_oval_gaps_of_each_side_are_equal() -> None:
    piece = made(row_of(SLIP, count=24), FoldSpec(9, 90, 7), Size(150, 100))
    row = piece.rows[0]
    assert row.gap_mm is not None
    assert row.gap_max_mm is not None
    assert row.gap_max_mm - row.gap_mm < 1e-6


def test_what_is_left_out_is_said() -> None:
    piece = made(row_of(SLIP, count=20))
    kept = piece.rows[0].count
    told = [one.say for one in piece.findings if "left out" in one.say]
    assert told == [
        f"left out {20 - kept} of 20 rectangles, which would cross the fold or the foot; the other {kept} are "
        "spread over the edge left free."
    ]


def test_without_a_foot_the_row_runs_on_all_round() -> None:
    piece = made(row_of(SLIP, count=20), FoldSpec(10))
    turns = turns_deg(piece)
    assert turns == sorted(turns)
    steps = np.diff(turns)
    assert steps == pytest.approx([steps[0]] * len(steps), abs=1e-6)
    assert turns[0] == pytest.approx(360 - turns[-1], abs=1e-6)


def test_free_leave_keeps_the_places_of_the_whole_ring() -> None:
    piece = made(row_of(SLIP, count=20, free="leave"))
    assert all(turn % 18 == pytest.approx(0, abs=1e-9) for turn in turns_deg(piece))


def test_one_that_is_left_alone_goes_to_the_middle() -> None:
    piece = made(row_of(plain_rectangle(20.0, 20.0), count=4, start_deg=20.0))
    high = 40 - 1.0 - 0.01
    assert len(turns_deg(piece)) == 2
    assert turns_deg(piece)[0] == pytest.approx(180 - (turns_deg(piece)[1] - 180), abs=1e-6)
    assert reach_mm(piece, 1j) < high


def test_windows_keep_a_web_to_both_lines() -> None:
    piece = made(row_of(disc(4.0), count=16, place="window"))
    assert reach_mm(piece, 1j) <= 40 - KNIFE.least_web_mm
    assert reach_mm(piece, -1j) <= 42 - KNIFE.least_web_mm


def test_a_skipped_place_stays_empty() -> None:
    whole, without = made(row_of(SLIP, count=20)), made(row_of(SLIP, count=20, skip=("right",)))
    assert without.rows[0].count == whole.rows[0].count - 1


def test_no_repeat_left_is_refused() -> None:
    tall = row_of(plain_rectangle(20.0, 60.0), count=4, start_deg=80.0)
    with pytest.raises(GeometryError, match="no rectangle is left between the fold and the foot") as caught:
        made(tall, FoldSpec(30, flat_mm=30))
    scale = float(re.search(r"--scale ([\d.]+)", str(caught.value))[1])  # type: ignore[index]
    assert made(replace(tall, scale=scale), FoldSpec(30, flat_mm=30)).rows[0].count


def test_places_that_all_cross_are_turned_to_the_side() -> None:
    row = row_of(SLIP, count=3)
    with pytest.raises(GeometryError, match="Take --start 90deg, or leave the row out"):
        made(row, FoldSpec(40, flat_mm=40))
    assert made(replace(row, start_deg=90.0), FoldSpec(40, flat_mm=40)).rows[0].count == 1


def test_a_row_with_a_filler_is_refused() -> None:
    with pytest.raises(InputError, match="a fold leaves it open"):
        made(row_of(SLIP, gap_mm=5.0, rest="filler", filler=plain_rectangle(2.0, 4.0)))


def test_a_finished_edge_ends_where_the_card_is_cut() -> None:
    """Hollows lie between neighbours only: over fold and foot the arc of the base stays, and with it the hinge."""
    spec = order(row_of(SLIP, count=20, between="hollow", depth_mm=1.0))
    row = spec.rows[0]
    assert fit_row(RowModel(spec, row, KNIFE), D100).count == 20
    piece, kept = make_piece(spec, KNIFE), make_piece(replace(spec, rows=(row_of(SLIP, count=20),)), KNIFE)
    hinges = [
        max(s.start.real for s in p.region.outer.segments if abs(s.start.imag - 40) < 1e-6) for p in (piece, kept)
    ]
    assert hinges == pytest.approx([30, 30], abs=1e-9)


def test_a_row_that_keeps_clear_of_the_fold_stays_as_it_is() -> None:
    """Three bars at 12, 4 and 8 o'clock; a shallow fold at 2 o'clock lies between them."""
    order_ = order(row_of(SLIP, count=3), FoldSpec(3, at_deg=60.0))
    model = RowModel(order_, order_.rows[0], KNIFE)
    layout = model.layout(D100, 3, 1.0)
    found = behind_lines(model, D100, layout)
    assert found.layout is layout
    assert found.is_out == (False, False, False)


def test_on_an_oval_what_is_left_is_spread_by_equal_steps_where_the_row_says_so() -> None:
    size = Size(120, 80)
    order_ = order(row_of(SLIP, count=16, spread="equal-chord"), FoldSpec(10), size)
    model = RowModel(order_, order_.rows[0], KNIFE)
    found = behind_lines(model, size, model.layout(size, 16, 1.0))
    edge = found.layout.track.edge
    places = [edge.point(s.tau) for s, out in zip(found.layout.seats, found.is_out, strict=True) if not out]
    assert len(places) == 16 - sum(found.is_out) == 11
    steps = [abs(b - a) for a, b in pairwise(places)]
    assert steps == pytest.approx([steps[0]] * 10, abs=1e-9)
