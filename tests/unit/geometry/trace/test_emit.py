"""Runs cut into pieces, neighbours on one support made one."""

from __future__ import annotations

import math

import numpy as np
import pytest
from fixtures.outlines import leaf

from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.outline import Segment
from frameforge.geometry.segment_table import Floats, Ints, SegmentTable
from frameforge.geometry.shapes import circle, ellipse, rectangle
from frameforge.geometry.trace import emit
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.emit import Pieces, cut_pieces, merged, to_table
from frameforge.geometry.trace.joints import Places
from frameforge.geometry.trace.supports import support_labels


def run(chains: Chains, start: tuple[int, float], stop: tuple[int, float], way: int, length: float) -> Pieces:
    ends = [Places(np.array([k]), np.array([t])) for k, t in (start, stop)]
    points = ends[0].point(chains), ends[1].point(chains)
    return cut_pieces(chains, np.array([0]), np.array([way]), (ends[0], ends[1]), np.array([length]), points)


def rows(pieces: Pieces) -> list[tuple[int, float, float]]:
    columns: list[Ints | Floats] = [pieces.row, pieces.from_t, pieces.to_t]
    return list(zip(*(column.tolist() for column in columns), strict=True))


BOX = Chains.from_segments([rectangle(0, 0, 10, 5).segments])


def test_a_run_within_one_segment_is_one_piece() -> None:
    assert rows(run(BOX, (1, 0.25), (1, 0.75), 1, 0.5)) == [(1, 0.25, 0.75)]
    assert rows(run(BOX, (1, 0.75), (1, 0.25), -1, 0.5)) == [(1, 0.75, 0.25)]


def test_a_run_past_the_seam_goes_round() -> None:
    assert rows(run(BOX, (3, 0.5), (0, 0.5), 1, 1)) == [(3, 0.5, 1), (0, 0, 0.5)]
    assert rows(run(BOX, (0, 0.5), (3, 0.5), -1, 1)) == [(0, 0.5, 0), (3, 1, 0.5)]


def test_joints_at_either_side_make_no_empty_piece() -> None:
    whole = [(1, 0, 1), (2, 0, 1)]
    for start in ((1, 0.0), (0, 1.0)):
        for stop in ((2, 1.0), (3, 0.0)):
            assert rows(run(BOX, start, stop, 1, 2)) == whole
    assert rows(run(BOX, (3, 0.0), (1, 0.0), -1, 2)) == [(2, 1, 0), (1, 1, 0)]


def test_nearly_a_whole_turn_is_told_from_nearly_nothing() -> None:
    assert len(rows(run(BOX, (1, 0.5), (1, 0.4), 1, 3.9))) == 5
    assert len(rows(run(BOX, (1, 0.4), (1, 0.5), 1, 0.1))) == 1


def made(chains: Chains, pieces: Pieces) -> list[Segment]:
    joined, turn = merged(pieces, chains.table, support_labels(chains.table))
    return to_table(joined, turn, chains.table)[0].to_segments()


@pytest.mark.parametrize("way", [1, -1])
def test_the_quarters_of_a_circle_are_one_arc_again(way: int) -> None:
    chains = Chains.from_segments([circle(1 + 1j, 5).segments])
    start, stop = ((0, 0.0), (3, 1.0)) if way > 0 else ((3, 1.0), (0, 0.0))
    (arc,) = made(chains, run(chains, start, stop, way, 4))
    assert isinstance(arc, Arc)
    assert arc.sweep_rad == way * math.tau
    assert arc.start == arc.end == 6 + 1j
    assert arc.point(0.25) == pytest.approx(1 + (1 + 5 * way) * 1j)


def test_a_whole_ellipse_starts_on_its_long_axis() -> None:
    chains = Chains.from_segments([ellipse(0, 4, 9).segments])
    (arc,) = made(chains, run(chains, (1, 0.0), (0, 1.0), 1, 4))
    assert arc.start == pytest.approx(9j)
    assert arc.point(0.25) == pytest.approx(-4)


def test_a_part_of_a_circle_is_one_arc_across_its_quarters() -> None:
    chains = Chains.from_segments([circle(0, 5).segments, rectangle(-9, -9, 9, 9).segments])
    arcs = run(chains, (0, 0.5), (2, 0.5), 1, 2)
    back = Pieces(np.array([0]), np.array([-1]), np.zeros(1), np.zeros(1), arcs.end[-1:], arcs.start[:1])
    segments = made(chains, Pieces.joined([arcs, back]))
    assert [type(s).__name__ for s in segments] == ["Line", "Arc"]
    assert segments[1].point(0.5) == pytest.approx(5 * np.exp(0.75j * math.pi))


def test_parts_of_a_cubic_are_cut_by_blossoming_and_whole_ones_keep_their_bits() -> None:
    chains = Chains.from_segments([leaf().outer.segments])
    segments = made(chains, run(chains, (2, 0.4), (2, 0.3), 1, 6.9))
    whole = leaf().outer.segments
    assert sum(segment in segments for segment in whole) == 6
    cut = [segment for segment in segments if segment not in whole]
    assert len(cut) == 2
    middles = sorted((segment.point(0.5) for segment in cut), key=abs)
    assert middles == pytest.approx(sorted((whole[2].point(0.15), whole[2].point(0.7)), key=abs))


@pytest.mark.parametrize(
    ("t0", "t1"), [(0.0, 1.0), (1.0, 0.0), (0.2, 0.7), (0.7, 0.2), (0.0, 0.4), (0.6, 1.0), (0.0, 0.0)]
)
def test_handles_of_a_piece_are_those_of_the_cubic_over_it(t0: float, t1: float) -> None:
    """Whole cubics keep theirs to the bit, either way round."""
    cubic = Cubic(0.1 + 0j, 3 + 2.3j, 6.7 + 2j, 9 - 1j)
    table = SegmentTable.from_segments([cubic])
    near, far = emit._handles(table, np.array([0]), np.array([t0]), np.array([t1]))
    way = t1 - t0
    assert near[0] == pytest.approx(cubic.point(t0) + cubic.velocity(t0) * way / 3)
    assert far[0] == pytest.approx(cubic.point(t1) - cubic.velocity(t1) * way / 3)
    if abs(way) == 1:
        assert [near[0], far[0]] == ([cubic.c1, cubic.c2] if way > 0 else [cubic.c2, cubic.c1])


def test_rings_start_at_their_smallest_joint() -> None:
    """Least x, then least y, to 1e-8 mm; each ring for itself."""
    start = np.array([2, 1 + 1j, 1 + 1e-9 - 1j, 3, 5j, -1 + 2j, 4])
    assert emit.from_smallest_joint(start, np.array([0, 4, 7])).tolist() == [2, 3, 0, 1, 5, 6, 4]
