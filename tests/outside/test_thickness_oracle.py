"""Thin places of messy shapes against another road to them: the medial axis out of a dense Voronoi diagram.

The ridges of the Voronoi diagram of points on the edge, of those inside the card, lie on its medial axis (Amenta, Bern,
Eppstein, 1998, "The crust and the beta-skeleton", Graphical Models and Image Processing 60, 125-135, from memory).
Diagram by scipy (Qhull).
"""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt
import pytest
import shapely
from fixtures.messy import messy
from fixtures.planted import to_region
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components
from scipy.spatial import Voronoi

from frameforge.check.thickness import thin_places
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.region import Region

LIMIT_MM = 1.5
STEP_MM = 0.06
OPPOSITE_RAD = math.radians(30)
MARGIN_MM = 0.05
"""Clusters whose width is this near to the limit may fall on either side of it."""


def _clusters(region: Region) -> list[tuple[float, float, complex, npt.NDArray[np.complex128]]]:
    """Return least width, extent, middle and points of every stretch of the axis where walls face each other."""
    polygon = to_polygon(region, 0.002)
    rings = [polygon.exterior, *polygon.interiors]
    points = np.concatenate([shapely.get_coordinates(ring.segmentize(STEP_MM))[:-1] for ring in rings])
    diagram = Voronoi(points)
    pairs = np.asarray(diagram.ridge_points)
    ends = np.asarray(diagram.ridge_vertices)
    whole = (ends >= 0).all(axis=1)
    pairs, ends = pairs[whole], ends[whole]
    a, b = (points[pairs[:, i]] @ np.array([1, 1j]) for i in (0, 1))
    corners = diagram.vertices[ends] @ np.array([1, 1j])
    middle = corners.mean(axis=1)
    radius = np.abs(corners - a[:, None]).max(axis=1)
    wedge = math.pi - 2 * np.arcsin(np.clip(np.abs(a - b) / (2 * radius), 0, 1))
    inside = shapely.contains_xy(polygon, np.stack([corners.real, corners.imag], axis=-1).reshape(-1, 2)).reshape(-1, 2)
    thin = inside.all(axis=1) & (2 * radius < LIMIT_MM - MARGIN_MM) & (wedge <= OPPOSITE_RAD - 0.1)
    ends, middle, width = ends[thin], middle[thin], 2 * radius[thin]
    count = len(diagram.vertices)
    graph = coo_matrix((np.ones(len(ends)), (ends[:, 0], ends[:, 1])), shape=(count, count))
    label = connected_components(graph, directed=False)[1][ends[:, 0]] if len(ends) else np.array([], dtype=int)
    found = []
    for group in np.unique(label):
        mine = middle[label == group]
        extent = float(math.hypot(np.ptp(mine.real), np.ptp(mine.imag)))
        found.append((float(width[label == group].min()), extent, complex(mine.mean()), mine))
    return found


def _missed(seed: int) -> list[tuple[int, float, float, complex]]:
    region = messy(seed)
    # Every tip counts, whatever its angle: what the two roads are compared in is where walls face each other.
    places = thin_places([region], LIMIT_MM, tip_deg=180.0)
    known = np.array([disc.centre for place in places for disc in place.track])
    return [
        (seed, width, extent, middle)
        for width, extent, middle, points in _clusters(region)
        if extent >= 0.5 * LIMIT_MM and (not len(known) or np.abs(points[:, None] - known).min() > 0.5 * LIMIT_MM)
    ]


@pytest.mark.parametrize("seed", range(4))
def test_no_long_stretch_of_the_axis_is_missed(seed: int) -> None:
    assert _missed(seed) == []


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(4, 30))
def test_nor_in_many_more_shapes(seed: int) -> None:
    assert _missed(seed) == []


def test_the_axis_knows_a_planted_neck() -> None:
    """The comparison would see a place left out: a bar of 1 mm between two squares."""
    bar = shapely.union_all([shapely.box(-20, -8, -6, 8), shapely.box(6, -8, 20, 8), shapely.box(-7, -0.5, 7, 0.5)])
    (neck,) = [c for c in _clusters(to_region(bar)) if c[1] > 5]
    assert neck[0] == pytest.approx(1.0, abs=0.01)
