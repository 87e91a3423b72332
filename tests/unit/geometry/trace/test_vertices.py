"""Chains as chords: memory, and the very same vertices on common stretches."""

from __future__ import annotations

import math

import numpy as np
import pytest
from fixtures.outlines import leaf

from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.geometry.segment_table import Complexes
from frameforge.geometry.shapes import circle, ellipse, rectangle
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.supports import support_labels
from frameforge.geometry.trace.vertices import Vertices, flatten_chains


def flat(*chains: tuple[Segment, ...], chord_mm: float = 0.01) -> tuple[Chains, Vertices]:
    made = Chains.from_segments(chains).welded()
    return made, flatten_chains(made, support_labels(made.table), chord_mm)


def points(vertices: Vertices, chain: int) -> Complexes:
    return vertices.point[vertices.first[chain] : vertices.first[chain + 1]]


def test_every_vertex_is_the_point_of_its_segment() -> None:
    chains, vertices = flat(leaf().outer.segments, circle(0, 9).segments)
    assert chains.table.point(vertices.segment, vertices.t) == pytest.approx(vertices.point, abs=1e-12)
    assert (vertices.point[vertices.t == 0] == chains.table.start).all()
    order = vertices.segment + vertices.t
    assert (np.diff(order) > 0).all()


def test_chords_wrap_on_closed_chains() -> None:
    _, vertices = flat(rectangle(0, 0, 1, 1).segments)
    assert vertices.after.tolist() == [1, 2, 3, 0]
    assert vertices.chord_end_t.tolist() == [1, 1, 1, 1]


def test_an_open_chain_ends_in_a_vertex_of_its_own() -> None:
    chains = Chains.from_segments([[Line(0, 4), Line(4, 4 + 3j)]], [True])
    vertices = flatten_chains(chains, support_labels(chains.table), 0.01)
    assert vertices.point.tolist() == [0, 4, 4 + 3j]
    assert vertices.t.tolist() == [0, 0, 1]
    assert vertices.after.tolist() == [1, 2, -1]


def test_closed_chains_are_at_least_triangles() -> None:
    _, vertices = flat((Arc.from_bulge(0, 1, 0.1), Line(1, 0)), circle(9, 1).segments, chord_mm=100)
    assert (np.diff(vertices.first) >= 3).all()


@pytest.mark.parametrize("turn", [0.0, 1.0])
def test_arcs_on_one_circle_have_common_chords_where_they_overlap(turn: float) -> None:
    map_ = Affine.from_turn(turn).after(Affine.from_turn(-turn))
    arc = Arc.from_circle(0, 50, 3.0, 0.5).transformed(map_)
    _, vertices = flat(circle(0, 50).segments, (arc, Line(arc.end, arc.start)))
    on_base = points(vertices, 0)
    angle = np.angle(on_base) % math.tau
    wanted = set(on_base[(angle >= 3.0 - 1e-9) & (angle <= 3.5 + 1e-9)].tolist())
    assert set(points(vertices, 1).tolist()) == wanted
    assert len(wanted) > 10


def test_ellipses_given_differently_have_common_chords() -> None:
    whole = ellipse(0, 4, 9).transformed(Affine.from_turn(0.3))
    piece = whole.segments[0].transformed(Affine.from_turn(math.pi)).piece(0.1, 0.3)
    _, vertices = flat(whole.segments, (piece, Line(piece.end, piece.start)))
    assert set(points(vertices, 1).tolist()) <= set(points(vertices, 0).tolist())


def test_lines_on_one_line_have_all_ends() -> None:
    map_ = Affine.from_turn(0.3)
    big, small = (rectangle(*box).transformed(map_) for box in ((0, 0, 10, 5), (3, 5, 7, 9)))
    _, vertices = flat(big.segments, small.segments)
    assert len(points(vertices, 0)) == 6
    assert len(points(vertices, 1)) == 4
    assert len(set(vertices.point.tolist())) == 8


def test_equal_cubics_have_equal_vertices_also_backwards() -> None:
    there = leaf().outer.transformed(Affine.from_turn(2.0)).transformed(Affine.from_turn(-2.0))
    _, vertices = flat(leaf().outer.segments, there.reversed().segments)
    assert set(points(vertices, 0).tolist()) == set(points(vertices, 1).tolist())
