"""The one place that asks shapely for booleans, repair and offsets, and settles what comes back.

All work is in floating precision: no grid, no simplifying, so that every vertex given comes back to the last bit.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt
import shapely
from shapely.geometry.base import BaseGeometry

from frameforge.geometry.ragged import counted, following
from frameforge.geometry.segment_table import Complexes, Floats, Ints

__all__ = [
    "Rule",
    "Shells",
    "buffered",
    "difference",
    "filled",
    "intersection",
    "is_sound",
    "polygons",
    "repaired",
    "shared_points",
    "shells",
    "union",
]

Rule = Literal["nonzero", "evenodd"]

RAYS_AT_ONCE = 256
"""So many points are looked at together: enough that arrays pay, few enough that their rays fit into memory."""

Polygons = npt.NDArray[np.object_]


@dataclass(frozen=True, slots=True, eq=False)
class Shells:
    """The rings of a polygonal geometry: ring k is the vertices first[k] .. first[k + 1] - 1 (the first not repeated),
    outer rings counter-clockwise, holes clockwise; ``polygon`` tells the polygon of each ring, its outer ring first."""

    point: Complexes
    first: Ints
    polygon: Ints


def polygons(point: Complexes, first: Ints, polygon: Ints) -> Polygons:
    """Return polygons made of rings; ring k is point[first[k] : first[k + 1]], the first ring of a polygon its outer.

    ``polygon`` tells for every ring to which polygon (0, 1, ...) it belongs, ascending.
    """
    rings = _rings(point, first)
    return np.asarray(shapely.polygons(rings, indices=polygon), dtype=object)


def shared_points(one: Polygons, two: Polygons) -> tuple[Complexes, Ints]:
    """Return the points that each pair of lines has in common (of a shared stretch its ends), and the pair of each."""
    xy, pair = shapely.get_coordinates(shapely.intersection(one, two), return_index=True)
    return xy.view(np.complex128).ravel(), pair


def is_sound(parts: Polygons) -> bool:
    """Return whether all polygons are free of crossings with themselves."""
    return bool(np.all(shapely.is_valid(parts)))


def repaired(parts: Polygons) -> Polygons:
    """Return the polygons with those that cross or touch themselves split into sound ones; vertices keep their bits."""
    bad = ~shapely.is_valid(parts)
    if bad.any():
        parts = parts.copy()
        parts[bad] = shapely.make_valid(parts[bad])
    return parts


def union(geometries: Sequence[BaseGeometry] | Polygons) -> BaseGeometry:
    """Return what any of the geometries covers."""
    parts = np.asarray(geometries, dtype=object)
    try:
        return shapely.union_all(parts)
    except shapely.errors.GEOSException:
        return shapely.union_all(repaired(parts))


def difference(a: BaseGeometry, b: BaseGeometry) -> BaseGeometry:
    """Return what a covers and b does not."""
    try:
        return shapely.difference(a, b)
    except shapely.errors.GEOSException:
        return shapely.difference(*repaired(np.array([a, b], dtype=object)))


def intersection(a: BaseGeometry, b: BaseGeometry) -> BaseGeometry:
    """Return what both cover."""
    try:
        return shapely.intersection(a, b)
    except shapely.errors.GEOSException:
        return shapely.intersection(*repaired(np.array([a, b], dtype=object)))


def buffered(
    geometry: BaseGeometry,
    distance_mm: float,
    *,
    quad_segs: int = 12,
    cap: Literal["round", "flat"] = "round",
    join: Literal["round", "bevel"] = "round",
) -> BaseGeometry:
    """Return the polygonal offset, with ``quad_segs`` chords a quarter turn where it is round; its vertices are new."""
    return shapely.buffer(geometry, distance_mm, quad_segs=quad_segs, cap_style=cap, join_style=join)


def filled(point: Complexes, first: Ints, rule: Rule) -> BaseGeometry:
    """Return the area inside closed loops that may cross themselves and each other, by the fill rule.

    The loops are noded and polygonized; a face counts when the winding number of the loops about a point of it is
    not 0 (nonzero) or odd (evenodd). Vertices keep their bits; only crossings are new.
    """
    faces = shapely.get_parts(shapely.polygonize([shapely.union_all(_rings(point, first))]))
    if not len(faces):
        return shapely.Polygon()
    with np.errstate(over="ignore", invalid="ignore"):
        # GEOS divides by heights, which may be next to nothing.
        inside = shapely.get_coordinates(shapely.point_on_surface(faces)).view(np.complex128).ravel()
    turns = _winding(point, first, inside)
    return union(faces[turns % 2 == 1 if rule == "evenodd" else turns != 0])


def shells(geometry: BaseGeometry) -> Shells:
    """Return the rings of the polygons in any geometry; points and lines are left out."""
    parts = shapely.get_parts(geometry)
    parts = parts[(shapely.get_type_id(parts) == shapely.GeometryType.POLYGON) & ~shapely.is_empty(parts)]
    rings, polygon = shapely.get_rings(parts, return_index=True)
    coordinates, ring = shapely.get_coordinates(rings, return_index=True)
    point = coordinates.view(np.complex128).ravel()
    is_last = np.ones(len(ring), dtype=bool)
    is_last[:-1] = np.diff(ring) != 0
    point, ring = point[~is_last], ring[~is_last]
    first = np.searchsorted(ring, np.arange(len(rings) + 1)).astype(np.intp)
    is_outer = np.ones(len(rings), dtype=bool)
    is_outer[1:] = np.diff(polygon) != 0
    return Shells(_directed(point, first, is_outer), first, polygon.astype(np.intp))


def _rings(point: Complexes, first: Ints) -> Polygons:
    """Return one linear ring a row of vertices."""
    rings = shapely.linearrings(_xy(point), indices=counted(np.diff(first))[0])
    return np.asarray(rings, dtype=object)


def _directed(point: Complexes, first: Ints, is_outer: npt.NDArray[np.bool_]) -> Complexes:
    """Return the vertices with outer rings counter-clockwise and the others clockwise."""
    if not len(point):
        return point
    sizes = np.diff(first)
    local = point - np.repeat(point[first[:-1]], sizes)
    area = np.add.reduceat((local.conj() * local[following(first)]).imag, first[:-1])
    is_wrong = np.repeat((area > 0) != is_outer, sizes)
    mirrored = np.repeat(first[:-1] + first[1:] - 1, sizes) - np.arange(len(point))
    return point[np.where(is_wrong, mirrored, np.arange(len(point)))]


def _winding(point: Complexes, first: Ints, at: Complexes) -> Ints:
    """Return how often the loops together wind round each point, counter-clockwise positive.

    Crossings of the ray to the right, counted by direction (Sunday, Inclusion of a Point in a Polygon, 2001).
    """
    begin, end = point, point[following(first)]
    low, high = np.minimum(begin.imag, end.imag), np.maximum(begin.imag, end.imag)
    order = np.argsort(at.imag, kind="stable")
    turns = np.zeros(len(at), dtype=np.intp)
    for rows in np.array_split(order, max(1, len(order) // RAYS_AT_ONCE)):
        # Rays in the order of their heights: each edge is met by the run of them from its lower end to below its upper.
        heights = at.imag[rows]
        begins, ends = np.searchsorted(heights, low), np.searchsorted(heights, high)
        edge, nth = counted(ends - begins)
        ray = rows[begins[edge] + nth]
        side = ((end[edge] - begin[edge]).conj() * (at[ray] - begin[edge])).imag
        is_up = end.imag[edge] > begin.imag[edge]
        np.add.at(turns, ray, (is_up & (side > 0)).astype(np.intp) - (~is_up & (side < 0)))
    return turns


def _xy(point: Complexes) -> Floats:
    """Return the points as rows of x and y."""
    return np.ascontiguousarray(point).view(np.float64).reshape(-1, 2)
