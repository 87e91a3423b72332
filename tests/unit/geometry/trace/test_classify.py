"""Edges found again on their chords."""

from __future__ import annotations

import numpy as np
import pytest

from frameforge.geometry.shapes import circle, rectangle
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.classify import classify, point_keys
from frameforge.geometry.trace.source import Source

CHAINS = Chains.from_segments([rectangle(0, 0, 10, 5).segments, circle(20, 5).segments])
SOURCE = Source.from_chains(CHAINS, 0.01)


def test_chords_are_known_in_both_directions() -> None:
    ring = SOURCE.vertices.point[SOURCE.vertices.first[1] :]
    forth = classify(ring, np.array([0, len(ring)]), SOURCE)
    back = classify(ring[::-1], np.array([0, len(ring)]), SOURCE)
    assert (forth.segment >= 4).all()
    assert (forth.to_t > forth.from_t).all()
    assert (back.to_t < back.from_t).all()


def test_parts_of_chords_are_known_by_one_end_and_by_none() -> None:
    # Along the bottom of the rectangle from a corner to a new point, on to another, and back by unknown ways.
    ring = np.array([0j, 3 + 0j, 7 + 0j, 5 + 3j])
    edges = classify(ring, np.array([0, 4]), SOURCE)
    assert edges.segment.tolist() == [0, 0, -1, -1]
    assert edges.from_t[:2] == pytest.approx([0, 0.3])
    assert edges.to_t[:2] == pytest.approx([0.3, 0.7])


def test_edges_beside_a_chord_are_lost() -> None:
    ring = np.array([0j, 3 + 1e-6j, 5 + 3j])
    assert classify(ring, np.array([0, 3]), SOURCE).segment.tolist() == [-1, -1, -1]


def test_only_segments_that_may_own_are_found() -> None:
    none = Source.from_chains(CHAINS, 0.01, may_own=CHAINS.chain > 0)
    ring = CHAINS.table.start[:4]
    assert classify(ring, np.array([0, 4]), none).segment.tolist() == [-1] * 4


def test_of_coinciding_chords_the_earliest_owns() -> None:
    twice = Source.from_chains(Chains.from_segments([rectangle(0, 0, 10, 5).segments] * 2), 0.01)
    ring = twice.vertices.point[:4]
    assert classify(ring, np.array([0, 4]), twice).segment.tolist() == [0, 1, 2, 3]


def test_keys_tell_points_apart_to_the_bit() -> None:
    points = np.array([1 + 2j, 1 + 2j, np.nextafter(1, 2) + 2j, 2 + 1j, complex(-0.0, 0.0), 0j])
    keys = point_keys(points).tolist()
    assert keys[0] == keys[1]
    assert keys[4] == keys[5]
    assert len(set(keys)) == 4
