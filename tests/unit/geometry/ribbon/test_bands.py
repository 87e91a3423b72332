"""Ribbons, covers and blocks along parallels: where each of their corners stands."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely

from frameforge.geometry.arc import Arc
from frameforge.geometry.line import Line
from frameforge.geometry.ribbon import bands
from frameforge.geometry.ribbon.bands import Band, corner_polygons, ribbon_polygons
from frameforge.geometry.ribbon.chains import Link, ParallelChain
from frameforge.geometry.ribbon.corners import Corner
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.supports import support_labels
from frameforge.geometry.trace.vertices import Vertices, flatten_chains

SQUARE = (Line(0j, 8 + 0j), Line(8 + 0j, 8 + 8j), Line(8 + 8j, 8j), Line(8j, 0j))


def _flat(*chains: tuple[Line | Arc, ...]) -> tuple[Chains, Vertices]:
    found = Chains.from_segments(chains)
    return found, flatten_chains(found, support_labels(found.table), 0.01)


def _boxes(polygons: np.ndarray) -> list[tuple[float, ...]]:
    return [tuple(np.round(polygon.bounds, 9).tolist()) for polygon in polygons.tolist()]


@pytest.mark.parametrize(("distance", "inside"), [(4.0, 1), (-4.0, -1)])
def test_ribbons_reach_back_two_margins_and_covers_lie_over_their_spokes(distance: float, inside: int) -> None:
    """An eighth of the distance is a margin: 1 mm back, to the left of parallels on the right."""
    band = Band(distance)
    assert (band.margin_mm, band.sign) == (0.5, inside)
    found = ribbon_polygons(*_flat(SQUARE), [False, True, False, False], band)
    low = (0, 0, 8, 1) if inside > 0 else (0, -1, 8, 0)
    top = (0, 7, 8, 8) if inside > 0 else (0, 8, 8, 9)
    left = (0, 0, 1, 8) if inside > 0 else (-1, 0, 0, 8)
    assert _boxes(found[:3]) == [low, top, left]
    assert len(found) == 3 + 2
    assert all(polygon.area == pytest.approx(8) for polygon in found[:3].tolist())
    covers = found[3:].tolist()
    assert covers[0].covers(shapely.Point(0, 8))
    assert covers[1].covers(shapely.Point(0, 0))


def test_ribbons_of_arcs_have_the_vertices_of_their_chords_twice() -> None:
    ring = tuple(Arc.from_circle(0, 10, k * math.pi / 2, math.pi / 2) for k in range(4))
    chains, vertices = _flat(ring)
    strips = bands._Strips.from_vertices(chains, vertices, Band(4.0))
    assert np.abs(strips.outside) == pytest.approx(np.full(len(strips.outside), 10.0))
    assert np.abs(strips.inside) == pytest.approx(np.full(len(strips.inside), 9.0))
    point, first = strips.rings(np.array([1, 3]))
    many = np.diff(strips.first)
    assert first.tolist() == [0, 2 * many[1], 2 * many[1] + 2 * many[3]]
    ring_of_one = point[: first[1]]
    assert ring_of_one[: many[1]].tolist() == strips.outside[strips.first[1] : strips.first[2]].tolist()
    assert ring_of_one[many[1] :].tolist() == strips.inside[strips.first[1] : strips.first[2]][::-1].tolist()
    assert strips.outside[strips.first[2] - 1] == pytest.approx(-10)


def test_a_corner_has_a_kite_down_to_the_source_with_a_bit_of_each_neighbour() -> None:
    """A mitre round the corner 0 at 2 mm: up to its neighbours' next vertices, here their far ends."""
    corner = Corner(0j, 1 + 0j, 1j, "mitre")
    lines = Line(-9 - 2j, -2j), Line(-2j, 2 - 2j), Line(2 - 2j, 2 + 0j), Line(2 + 0j, 2 + 7j), Line(2 + 7j, -9 - 2j)
    chains, vertices = _flat(lines)
    links = [Link(line, False, corner if k in (1, 2) else None) for k, line in enumerate(lines)]
    (kite,) = corner_polygons(chains, vertices, [ParallelChain(tuple(links), False)], Band(2.0))
    points = shapely.get_coordinates(kite)[:-1] @ np.array([1, 1j])
    assert points.tolist() == [-9 - 2j, -2j, 2 - 2j, 2, 2 + 7j, 0]


@pytest.mark.parametrize("distance", [2.0, -2.0])
def test_the_end_of_a_line_has_a_block_a_margin_short_of_the_parallels(distance: float) -> None:
    corner = Corner(0j, 1 + 0j, -1 + 0j, "butt")
    across = Line(-1j * distance, 1j * distance)
    chains, vertices = _flat((Line(-9 - 1j * distance, across.start), across, Line(across.end, -9 + 1j * distance)))
    links = [Link(across, False, corner if k == 1 else None) for k in range(3)]
    (block,) = corner_polygons(chains, vertices, [ParallelChain(tuple(links), False)], Band(distance))
    points = shapely.get_coordinates(block)[:-1] @ np.array([1, 1j])
    back = math.copysign(1.75, distance)
    assert points.tolist() == [across.start, across.end, -0.5 + 1j * back, -0.5 - 1j * back]


def test_without_corners_there_is_nothing_round_them() -> None:
    chains, vertices = _flat(SQUARE)
    links = tuple(Link(line) for line in SQUARE)
    assert len(corner_polygons(chains, vertices, [ParallelChain(links, False)], Band(2.0))) == 0


def test_a_corner_at_the_end_of_a_closed_chain_goes_on_at_its_beginning() -> None:
    """The mitre round 0 again, its two lines the last of the chain."""
    corner = Corner(0j, 1 + 0j, 1j, "mitre")
    lines = Line(2 + 0j, 2 + 7j), Line(2 + 7j, -9 - 2j), Line(-9 - 2j, -2j), Line(-2j, 2 - 2j), Line(2 - 2j, 2 + 0j)
    chains, vertices = _flat(lines)
    links = [Link(line, False, corner if k in (3, 4) else None) for k, line in enumerate(lines)]
    (kite,) = corner_polygons(chains, vertices, [ParallelChain(tuple(links), False)], Band(2.0))
    points = shapely.get_coordinates(kite)[:-1] @ np.array([1, 1j])
    assert points.tolist() == [-9 - 2j, -2j, 2 - 2j, 2, 2 + 7j, 0]
