"""The search tree of strips."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from fixtures.outlines import leaf, spokes

from frameforge.geometry.shapes import circle
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.strips import Strips
from frameforge.geometry.trace.supports import support_labels
from frameforge.geometry.trace.vertices import flatten_chains

ONE = Chains.from_segments([leaf().outer.segments])
CHAINS = Chains.joined([Chains.from_segments([circle(0, 30).segments]), ONE.moved(spokes(7, 30.5))])
VERTICES = flatten_chains(CHAINS, support_labels(CHAINS.table), 0.001)
STRIPS = Strips.from_vertices(CHAINS, VERTICES)


def test_strips_hold_all_chords_once() -> None:
    length = sum(line.length for line in STRIPS.lines)
    chord = abs(VERTICES.point[VERTICES.after] - VERTICES.point)
    assert length == pytest.approx(chord.sum())
    assert CHAINS.table.point(np.repeat(STRIPS.segment, 17), STRIPS.t.ravel()) == pytest.approx(
        STRIPS.points.ravel(), abs=1e-12
    )


def test_near_pairs_are_those_of_shapely() -> None:
    one, two = STRIPS.candidates(0.6)
    is_near = STRIPS.are_near(one, two, 0.6)
    one, two = one[is_near], two[is_near]
    found = set(zip(one.tolist(), two.tolist(), strict=True))
    for i in range(len(STRIPS.lines)):
        near = np.flatnonzero(shapely.dwithin(STRIPS.lines[i], STRIPS.lines, 0.6))
        assert {(i, int(j)) for j in near if j > i} == {pair for pair in found if pair[0] == i}


def test_points_find_their_segment_and_place() -> None:
    at = np.array([0.3, 0.77])
    rows = np.array([1, 9])
    number, strip = STRIPS.near_points(CHAINS.table.point(rows, at), 0.002)
    for k in (0, 1):
        mine = strip[(number == k) & (STRIPS.segment[strip] == rows[k])]
        assert STRIPS.nearest_t(mine, CHAINS.table.point(rows[k : k + 1], at[k : k + 1]))[0] == pytest.approx(
            at[k], abs=1e-4
        )


def test_distances_are_those_of_shapely() -> None:
    points = np.array([[1 + 1j, 30 + 2j], [35 + 0j, -3j]])
    strip = np.array([0, 12])
    wanted = [
        [STRIPS.lines[s].distance(shapely.Point(p.real, p.imag)) for p in row]
        for s, row in zip(strip, points, strict=True)
    ]
    assert STRIPS.distances(strip, points) == pytest.approx(np.array(wanted))
