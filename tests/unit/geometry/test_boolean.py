"""The adapter to shapely: bits kept, types and directions settled."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from frameforge.geometry import boolean


def rows(*rings: list[complex]) -> tuple[np.ndarray, np.ndarray]:
    return np.array([z for ring in rings for z in ring]), np.cumsum([0, *map(len, rings)])


SQUARE = [0j, 4 + 0j, 4 + 4j, 4j]
INNER = [1 + 1j, 2 + 1j, 2 + 2j, 1 + 2j]
FAR = [z + 10.1 for z in SQUARE]
BOW = [0j, 4 + 4j, 4 + 0j, 4j]


def test_rings_become_polygons_with_holes() -> None:
    point, first = rows(SQUARE, INNER, FAR)
    made = boolean.polygons(point, first, np.array([0, 0, 1]))
    assert [polygon.area for polygon in made] == pytest.approx([15, 16])


def test_rings_come_back_directed_and_with_their_bits() -> None:
    point, first = rows(SQUARE[::-1], INNER, FAR)
    shells = boolean.shells(boolean.union(boolean.polygons(point, first, np.array([0, 0, 1]))))
    assert set(shells.point.tolist()) == set(point.tolist())
    assert shells.polygon.tolist() == [0, 0, 1]
    areas = [shapely.Polygon(ring.view(float).reshape(-1, 2)) for ring in np.split(shells.point, shells.first[1:-1])]
    assert [polygon.exterior.is_ccw for polygon in areas] == [True, False, True]


def test_points_and_lines_are_left_out() -> None:
    touching = boolean.intersection(shapely.box(0, 0, 1, 1), shapely.box(1, 0, 2, 1))
    assert touching.geom_type == "LineString"
    assert len(boolean.shells(touching).point) == 0


def test_difference_and_intersection() -> None:
    one, other = shapely.box(0, 0, 4, 4), shapely.box(3, 0, 8, 4)
    assert boolean.difference(one, other).area == 12
    assert boolean.intersection(one, other).area == 4


@pytest.mark.parametrize(("rule", "nested"), [("nonzero", 16), ("evenodd", 15)])
def test_loops_by_the_fill_rule(rule: boolean.Rule, nested: float) -> None:
    # SVG 2, section 13.4.2, the fill-rule property.
    assert boolean.filled(*rows(SQUARE, INNER), rule).area == nested
    assert boolean.filled(*rows(SQUARE, INNER[::-1]), rule).area == 15
    assert boolean.filled(*rows(BOW), rule).area == 8


def test_loops_without_area_fill_nothing() -> None:
    assert boolean.filled(*rows([0j, 1 + 0j, 2 + 0j]), "nonzero").is_empty


def test_crossing_polygons_are_known_and_repaired() -> None:
    point, first = rows(BOW)
    made = boolean.polygons(point, first, np.array([0]))
    assert not boolean.is_sound(made)
    mended = boolean.repaired(made)
    assert boolean.is_sound(mended)
    assert mended[0].area == 8


def test_offsets_are_round() -> None:
    assert boolean.buffered(shapely.Point(0, 0), 1, quad_segs=64).area == pytest.approx(np.pi, rel=1e-3)


def test_lines_share_points() -> None:
    one, two = shapely.linestrings([[(0, 0), (2, 2)]]), shapely.linestrings([[(0, 2), (2, 0)]])
    point, pair = boolean.shared_points(np.atleast_1d(one), np.atleast_1d(two))
    assert point.tolist() == [1 + 1j]
    assert pair.tolist() == [0]


def test_polygons_that_cross_themselves_are_split_where_geos_gives_up_on_them() -> None:
    """Two triangles of 4 mm2 with one corner at 2 + 2j in common, and a square over three quarters of the right one."""
    point, first = rows(BOW)
    (bow,) = boolean.polygons(point, first, np.array([0]))
    square = shapely.box(3, 0, 6, 4)
    assert boolean.union([bow, square]).area == pytest.approx(8 + 12 - 3)
    assert boolean.difference(bow, square).area == pytest.approx(8 - 3)
    assert boolean.intersection(bow, square).area == pytest.approx(3)
