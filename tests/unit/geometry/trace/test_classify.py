"""Edges found again on their chords."""

from __future__ import annotations

import numpy as np
import pytest

from frameforge.geometry.shapes import circle, rectangle
from frameforge.geometry.trace import classify as classify_module
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


TWICE = Source.from_chains(
    Chains.from_segments([rectangle(0, 0, 10, 5).segments, rectangle(4, 0, 10, 9).segments]), 0.01
)
LOOK = classify_module._Chords.from_source(TWICE)


def _ids(*points: complex) -> np.ndarray:
    return LOOK.point_ids(np.array(points, dtype=np.complex128))


def test_points_are_known_to_the_bit() -> None:
    ids = _ids(0j, 10 + 5j, 1 + 1j, complex(np.nextafter(10, 11), 5))
    assert (ids >= 0).tolist() == [True, True, False, False]
    assert TWICE.vertices.point[LOOK.vertex[ids[:2]]].tolist() == [0, 10 + 5j]


def test_a_chord_between_two_points_is_found_from_both_ends_and_by_both_alone() -> None:
    """From 10 to 10 + 5i run sides of both; from there on one of the second alone."""
    a, b = _ids(10 + 0j, 10 + 5j, 10 + 5j, 4 + 9j, 0j, 1 + 1j), _ids(10 + 5j, 10 + 0j, 10 + 9j, 4 + 0j, 10 + 5j, 0j)
    owner = LOOK.between(a, b)
    assert TWICE.vertices.segment[owner[:4]].tolist() == [1, 1, 5, 7]
    assert owner[4:].tolist() == [-1, -1]
    assert LOOK._looked_up(a[:5], b[:5]).tolist() == owner[:5].tolist()
    none = _ids(0j)
    assert LOOK._looked_up(none, _ids(4 + 9j)).tolist() == [-1]


def test_of_chords_at_a_vertex_the_one_through_the_point_is_taken_the_earliest_of_equals() -> None:
    corner, toward = np.repeat(_ids(10 + 0j), 5), np.array([10 + 3j, 7 + 0j, 10 + 7j, 9 + 1j, 10 + 3j + 5e-7])
    owner = LOOK.leaving(corner, toward)
    assert TWICE.vertices.segment[owner[:2]].tolist() == [1, 0]
    assert owner[2:].tolist() == [-1, -1, -1]
    (both,) = LOOK.leaving(_ids(4 + 0j), np.array([8 + 0j])).tolist()
    assert TWICE.vertices.segment[both] == 0


def test_of_chords_under_an_edge_the_earliest_is_taken() -> None:
    start, end = np.array([5 + 0j, 9 + 0j, 1 + 0j, 6 + 9j, 6 + 9j]), np.array([7 + 0j, 6 + 0j, 3 + 0j, 5 + 9j, 6 + 8j])
    owner = LOOK.under(start, end, TWICE)
    assert TWICE.vertices.segment[owner[:4]].tolist() == [0, 0, 0, 6]
    assert owner[4] == -1


def test_under_an_edge_of_a_circle_lies_the_chord_that_holds_both_ends() -> None:
    vertices = SOURCE.vertices
    look = classify_module._Chords.from_source(SOURCE)
    first = int(vertices.first[1])
    k = np.arange(first, len(vertices.point))
    a, b = vertices.point[k], vertices.point[vertices.after[k]]
    assert look.under(a + 0.2 * (b - a), a + 0.6 * (b - a), SOURCE).tolist() == k.tolist()
    assert look.under(b - 0.02 * (b - a), a + 0.01 * (b - a), SOURCE).tolist() == k.tolist()


def test_parameters_run_in_proportion_along_a_chord_and_are_held_to_it() -> None:
    look = classify_module._Chords.from_source(SOURCE)
    chord = np.array([0, 0, 0, 0, 0, 1])
    at = np.array([0j, 2.5 + 0.1j, 11 + 0j, -1 + 0j, 10 + 0j, 10 + 2j])
    ids = look.point_ids(at)
    assert look.parameters(chord, at, ids) == pytest.approx([0, 0.25, 1, 0, 1, 0.4])
    assert look.parameters(chord, at, ids)[[0, 4]].tolist() == [0, 1]
    assert look._distance(chord, at) == pytest.approx([0, 0.1, 1, 1, 0, 0])
