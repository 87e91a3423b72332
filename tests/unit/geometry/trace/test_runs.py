"""Stretches of rings that follow one chain."""

from __future__ import annotations

import numpy as np
import pytest

from frameforge.geometry.segment_table import Complexes
from frameforge.geometry.shapes import rectangle
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.classify import classify
from frameforge.geometry.trace.runs import Rings, Runs, find_runs
from frameforge.geometry.trace.source import Source

SOURCE = Source.from_chains(
    Chains.from_segments([rectangle(0, 0, 10, 5).segments, rectangle(4, 3, 6, 8).segments]), 0.01
)


def runs_of(*rings: list[complex]) -> Runs:
    point: Complexes = np.array([z for ring in rings for z in ring])
    first = np.cumsum([0, *map(len, rings)])
    return find_runs(Rings(point, first), classify(point, first, SOURCE), SOURCE.chains)


def test_a_whole_outline_is_one_run_from_wherever_its_ring_starts() -> None:
    corners = [0j, 10 + 0j, 10 + 5j, 5j]
    for ring in (corners, corners[2:] + corners[:2], corners[::-1]):
        runs = runs_of(ring)
        assert runs.is_whole.tolist() == [True]
        assert runs.length.tolist() == [4]
    assert runs_of(corners[::-1]).way.tolist() == [-1]


def test_a_union_has_a_run_each_and_they_start_where_they_break() -> None:
    ring = [0j, 10 + 0j, 10 + 5j, 6 + 5j, 6 + 8j, 4 + 8j, 4 + 5j, 5j]
    runs = runs_of(ring)
    assert runs.chain.tolist() == [1, 0]
    assert runs.begin.tolist() == [6 + 5j, 4 + 5j]
    assert runs.finish.tolist() == [4 + 5j, 6 + 5j]
    assert runs.length == pytest.approx([0.6 + 1 + 0.6, 0.4 + 1 + 1 + 1 + 0.4])


def test_lost_edges_are_runs_of_their_own() -> None:
    runs = runs_of([0j, 10 + 0j, 7 + 3j, 5j])
    assert runs.chain.tolist() == [-1, -1, 0]


def test_rings_do_not_run_into_each_other() -> None:
    runs = runs_of([0j, 10 + 0j, 10 + 5j, 5j], [4 + 3j, 6 + 3j, 6 + 8j, 4 + 8j])
    assert runs.ring.tolist() == [0, 1]
    assert runs.chain.tolist() == [0, 1]
