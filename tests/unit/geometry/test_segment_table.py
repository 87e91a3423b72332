"""Tables of segments against the segments themselves."""

from __future__ import annotations

import math

import numpy as np
import pytest

from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.geometry.segment_table import ARC, SegmentTable

SEGMENTS: tuple[Segment, ...] = (
    Line(1 + 1j, 4 - 2j),
    Arc.from_circle(1 + 2j, 5, 0.3, 1.2),
    Arc.from_circle(1 + 2j, 5, 0.3, -1.2).transformed(Affine.from_turn(2)),
    Arc.from_ellipse(1 - 1j, 4 + 1j, -0.5 + 2j, -0.4, 2.2),
    Arc.from_ellipse(1 - 1j, 4 + 1j, -0.5 + 2j, -0.4, 2.2).transformed(Affine.from_mirror(0.3)),
    Cubic(0, 1 + 3j, 4 - 2j, 6 + 1j),
)
MAPS = (Affine.from_turn(0.4, 1j), Affine.from_mirror(1.1), Affine.from_matrix(1.2, 0.3, -0.4, 0.9, 5, -6))


@pytest.mark.parametrize("t", [0.0, 0.3, 1.0])
def test_points_and_derivatives_are_those_of_the_segments(t: float) -> None:
    table = SegmentTable.from_segments(SEGMENTS)
    rows, parameters = np.arange(len(table)), np.full(len(table), t)
    for name in ("point", "velocity", "acceleration"):
        wanted = [getattr(segment, name)(t) for segment in SEGMENTS]
        assert getattr(table, name)(rows, parameters) == pytest.approx(np.array(wanted), abs=1e-12)


def test_segments_come_back_with_their_ends_to_the_bit() -> None:
    for before, after in zip(SEGMENTS, SegmentTable.from_segments(SEGMENTS).to_segments(), strict=True):
        assert type(after) is type(before)
        assert (after.start, after.end) == (before.start, before.end)
        assert after.point(0.3) == pytest.approx(before.point(0.3))


def test_arcs_stand_in_their_principal_frame() -> None:
    table = SegmentTable.from_segments(SEGMENTS)
    arcs = table.taken(np.flatnonzero(table.kind == ARC))
    long, short = abs(arcs.k2), abs(arcs.k3)
    assert (long >= short - 1e-12).all()
    assert arcs.k3 == pytest.approx(1j * arcs.k2 * short / long, abs=1e-12)
    assert arcs.k2[:2] == pytest.approx(5)
    assert (np.abs(arcs.q0) <= math.pi).all()


def test_arcs_of_one_ellipse_have_one_frame_however_they_are_given() -> None:
    ellipse = Arc.from_ellipse(1 - 1j, 4 + 1j, -0.5 + 2j, 0, math.tau)
    turned = Arc.from_ellipse(1 - 1j, -0.5 + 2j, -4 - 1j, 0.2, 1)  # the same conjugate pair, a quarter turn on
    table = SegmentTable.from_segments([ellipse, turned, ellipse.piece(0.3, 0.1)])
    for column in (table.k1, table.k2, table.k3):
        assert column == pytest.approx(column[0], abs=1e-12)


def test_moved_rows_are_images_of_the_segments_map_after_map() -> None:
    moved = SegmentTable.from_segments(SEGMENTS).moved(MAPS)
    images = [segment.transformed(map_) for map_ in MAPS for segment in SEGMENTS]
    t = np.full(len(images), 0.3)
    assert moved.point(np.arange(len(images)), t) == pytest.approx(np.array([s.point(0.3) for s in images]), abs=1e-12)
    assert moved.start == pytest.approx(np.array([s.start for s in images]), abs=1e-12)


def test_joined_and_taken_rows_keep_their_order() -> None:
    table = SegmentTable.from_segments(SEGMENTS)
    both = SegmentTable.joined([table, table])
    assert len(both) == 2 * len(table)
    assert both.taken(np.array([7, 0])).start.tolist() == [SEGMENTS[1].start, SEGMENTS[0].start]


def test_chords_may_be_asked_finer_row_by_row() -> None:
    table = SegmentTable.from_segments(SEGMENTS)
    fine = table.chord_counts(np.where(np.arange(len(table)) == 1, 0.0001, 0.01))
    assert fine[1] > 9 * table.chord_counts(0.01)[1]
    assert (np.delete(fine, 1) == np.delete(table.chord_counts(0.01), 1)).all()
    assert fine[0] == 1


def test_curves_taken_out_move_as_the_table_does_to_the_bit() -> None:
    table = SegmentTable.from_segments(SEGMENTS)
    rng = np.random.default_rng(3)
    rows, t = rng.integers(0, len(table), 60), rng.uniform(0, 1, 60)
    curves = table.curves(rows)
    for at in (t, 1 - t):
        wanted = (table.point(rows, at), table.velocity(rows, at), table.acceleration(rows, at))
        for ours, theirs in zip(curves.motion(at), wanted, strict=True):
            assert np.array_equal(ours, theirs)


def test_rows_are_turned_about_0_each_by_its_own_factor() -> None:
    table = SegmentTable.from_segments(SEGMENTS)
    turns = np.exp(1j * np.arange(len(table)))
    turned = table.turned(turns)
    every = np.arange(len(table))
    for t in (0.0, 0.3, 1.0):
        at = np.full(len(table), t)
        assert turned.point(every, at) == pytest.approx(turns * table.point(every, at), abs=1e-12)
    assert turned.start == pytest.approx(turns * table.start, abs=1e-12)


def test_one_frame_and_one_start_for_every_way_to_give_an_ellipse() -> None:
    """Long axes point into (-90, 90] degrees and start angles lie in (-180, 180], right at the limits too."""
    for k in range(-12, 13):
        exact: dict[int, complex] = {-12: -1, -6: -1j, 0: 1, 6: 1j, 12: -1}
        way = exact.get(k, complex(np.exp(1j * np.pi * k / 12)))
        wanted = way if -6 < k <= 6 else -way
        for long, short in ((3 * way, 2j * way), (3 * way, -2j * way), (2j * way, 3 * way)):
            given = Arc.from_ellipse(1 + 1j, complex(long), complex(short), 0.4, -1.1)
            table = SegmentTable.from_segments([given])
            assert table.k2[0] == pytest.approx(3 * wanted)
            assert table.k3[0] == pytest.approx(2j * wanted)
            assert table.point(np.array([0]), np.array([0.7]))[0] == pytest.approx(given.point(0.7))
            assert -np.pi < table.q0[0] <= np.pi
    for start, first in ((-math.pi, math.pi), (math.pi, math.pi), (3 * math.pi, math.pi), (-3, -3), (4, 4 - math.tau)):
        assert SegmentTable.from_segments([Arc.from_circle(0, 2, start, 1)]).q0[0] == pytest.approx(first)


def test_nearly_round_ellipses_are_circles_up_to_a_millionth_of_a_millionth() -> None:
    """The part m that turns against is half the difference of the half-axes; a circle's frame stands upright."""
    for more, is_circle in ((1.9e-12, True), (1e-11, False)):
        turn = np.exp(0.5j)
        table = SegmentTable.from_segments(
            [Arc.from_ellipse(0, complex(turn * (1 + more)), complex(1j * turn), 0.2, 1)]
        )
        assert (table.k2[0].imag == 0) == is_circle
        assert table.q0[0] == pytest.approx(0.7 if is_circle else 0.2, abs=1e-3)


def test_counts_of_chords_in_closed_form() -> None:
    """r (1 - cos(q / 2)) <= c for an arc; h^2 max|P''| / 8 <= c for a cubic; one for a line."""
    cubic = Cubic(0, 0, 0, 8 / 6 * 0.16 + 0j)  # P'' = 6 t end, at most 1.28
    table = SegmentTable.from_segments(
        [
            Line(0j, 90 + 70j),
            cubic,
            Arc.from_circle(0, 5, 0, -3),
            Arc.from_ellipse(0, 2j, 7 + 0j, 0, 2),
            Cubic(0, 1, 2, 3),
        ]
    )
    step = [2 * math.acos(1 - 0.01 / r) for r in (5, 7)]
    assert table.arc_steps(0.01) == pytest.approx([math.pi, math.pi, *step, math.pi])
    assert table.chord_counts(0.01).tolist() == [1, 4, math.ceil(3 / step[0]), math.ceil(2 / step[1]), 1]
    assert table.chord_counts(np.array([1, 0.0099, 9, 7, 1])).tolist() == [1, 5, 1, 1, 1]
    assert SegmentTable.from_segments([cubic.reversed()]).chord_counts(0.01).tolist() == [4]


def test_lines_have_their_handles_at_their_thirds() -> None:
    table = SegmentTable.from_segments([Line(1 + 1j, 4 - 2j)])
    assert (table.k1[0], table.k2[0]) == (2, 3 - 1j)
    assert len(table) == 1
