"""Rings, stacks and openings against closed forms.

Sources: length and area of a parallel curve of a convex outline, P + 2 pi d and A + P d + pi d^2 (J. Steiner, 1840);
the ellipse's perimeter by the complete elliptic integral (DLMF 19.9.9), here with scipy-free arithmetic-geometric mean
(DLMF 19.8.6). The rest is arithmetic on circles, told beside each check.
"""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest
import shapely
from fixtures.plain_motifs import arch, leaf, scallop
from fixtures.rows import KNIFE
from fixtures.sets import edge_row, piece_of, rings_of

from frameforge.geometry.flatten import flatten_outline, to_polygon
from frameforge.geometry.measure import area_mm2, bounds, length_mm
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.sets.layers import LayerSpec, layers_of


def ellipse_perimeter(a: float, b: float) -> float:
    """Return 4 a E(e) by the arithmetic-geometric mean."""
    x, y, total, power = a, b, 0.0, 0.5
    total = (a * a - b * b) * power
    while abs(x - y) > 1e-15 * a:
        x, y, z = (x + y) / 2, math.sqrt(x * y), (x - y) / 2
        power *= 2
        total += power * z * z
    return 2 * math.pi * (a * a - total) / x


def widest_and_narrowest(inner: Outline, outer: Outline) -> tuple[float, float]:
    """Return the least and the greatest distance of points of the outer line from the inner one, by fine chords."""
    line = shapely.LinearRing([(z.real, z.imag) for z in flatten_outline(inner, 2e-4).points])
    points = flatten_outline(outer, 2e-4).points
    gaps = shapely.distance(line, shapely.points(points.real, points.imag))
    return float(gaps.min()), float(gaps.max())


def test_the_perimeter_by_the_mean_is_the_known_one() -> None:
    assert ellipse_perimeter(75, 50) == pytest.approx(396.636, abs=5e-4)


def test_five_rings_of_sixty_to_a_hundred_and_forty() -> None:
    """pi (60 + 80 + 100 + 120 + 140) in 5 lines; cut one by one the rings take pi 800 = 2513.274."""
    bond = rings_of(60, 80, 100, 120, 140).bond
    assert len(bond.lines) == 5
    assert bond.length_mm == pytest.approx(1570.796, abs=5e-4)
    assert length_mm(bond.parts) == pytest.approx(2701.770, abs=5e-4)
    assert bond.faults() == ()


def test_twenty_four_arches_on_the_outermost_ring() -> None:
    """2 (a + h) across with a = sqrt(70^2 - 8^2) and h = 8: 155.08 mm."""
    bond = rings_of(60, 80, 100, 120, 140, rows=(edge_row(4, arch(), count=24),)).bond
    across = 2 * (math.sqrt(70**2 - 8**2) + 8)
    assert across == pytest.approx(155.083, abs=5e-4)
    assert bounds(bond.whole).height_mm == pytest.approx(across)
    assert area_mm2(bond.parts[0]) == pytest.approx(math.pi * 900)


@pytest.mark.parametrize(
    ("size", "border", "around", "area"),
    [
        ((150, 100), 5, 428.052, 13842.69),
        ((120, 80), 0, 317.309, 7539.82),
        ((120, 80), 5, 348.725, 9204.91),
        ((120, 80), 10, 380.141, 11027.07),
    ],
)
def test_even_borders_of_ovals(size: tuple[float, float], border: float, around: float, area: float) -> None:
    """By Steiner from the ellipse's own perimeter and area."""
    a, b = size[0] / 2, size[1] / 2
    perimeter = ellipse_perimeter(a, b)
    assert perimeter + math.tau * border == pytest.approx(around, abs=6e-4)
    assert math.pi * a * b + perimeter * border + math.pi * border**2 == pytest.approx(area, abs=6e-3)
    specs = [LayerSpec("card", border / 2), LayerSpec("card", border / 2)] if border else []
    lowest = layers_of(piece_of(size), specs, KNIFE, has_opening=False)[-1]
    assert length_mm(lowest.region) == pytest.approx(around, abs=6e-4)
    assert area_mm2(lowest.region) == pytest.approx(area, abs=6e-3)


def test_an_even_border_is_even_and_a_larger_oval_is_not() -> None:
    """A plain 160 x 110 oval lies 4.907 to 5.000 mm outside 150 x 100."""
    top, low = layers_of(piece_of((150, 100)), [LayerSpec("card", 5)], KNIFE, has_opening=False)
    assert widest_and_narrowest(top.region.outer, low.region.outer) == pytest.approx((5.0, 5.0), abs=1e-3)
    oval = piece_of((160, 110)).region.outer
    assert widest_and_narrowest(top.region.outer, oval) == pytest.approx((4.907, 5.0), abs=1e-3)


@pytest.mark.parametrize("motif", [leaf(), scallop()], ids=["leaf", "scallop"])
def test_the_border_of_motifs_is_even(motif: object) -> None:
    """No point of the lower outline is nearer or further than the border: the two differ by it in Hausdorff's sense."""
    piece = piece_of(76, 50, motif, count=12)  # type: ignore[arg-type]
    top, low = layers_of(piece, [LayerSpec("card", 3)], KNIFE, has_opening=True)
    assert widest_and_narrowest(top.region.outer, low.region.outer) == pytest.approx((3, 3), abs=0.004)
    back = shapely.hausdorff_distance(
        to_polygon(Region(top.region.outer), 1e-3).exterior, to_polygon(Region(low.region.outer), 1e-3).exterior
    )
    assert back >= 3 - 0.004


def test_the_inset_limit_of_an_oval() -> None:
    """The least radius of curvature, b^2 / a = 50^2 / 75 = 33.333; by the curvature formula at the end of the axis."""
    taus = np.array([0.0, math.pi / 2])
    speed = np.abs(75 * np.cos(taus) - 50j * np.sin(taus))
    radius = speed**3 / (75 * 50)
    assert radius.min() == pytest.approx(33.333, abs=5e-4)
    layers = layers_of(piece_of((150, 100)), [LayerSpec("card", -33.3)], KNIFE, has_opening=False)
    low = widest_and_narrowest(layers[1].region.outer, layers[0].region.outer)
    assert low == pytest.approx((33.3, 33.3), abs=1e-3)
    assert cmath.isclose(bounds(layers[0].region).width_mm, 150 - 2 * 33.3, abs_tol=1e-6)
