"""Area, length, bounds and centroid against closed forms, and against a second road: very fine polygons."""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest
import shapely

from frameforge.geometry import measure
from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.box import Box
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.measure import area_mm2, bounds, centroid, length_mm
from frameforge.geometry.outline import Outline, Segment
from frameforge.geometry.region import Region
from frameforge.geometry.segment_table import Floats, SegmentTable
from frameforge.geometry.shapes import circle, ellipse, rectangle

# A drop: two cubics, an arc, a line; nothing symmetric.
DROP = Outline(
    (
        Cubic(0j, 3 - 2j, 9 - 1j, 8 + 4j),
        Arc.from_bulge(8 + 4j, 3 + 8j, 0.6),
        Cubic(3 + 8j, 1 + 5j, 4 + 4j, -2 + 3j),
        Line(-2 + 3j, 0j),
    )
)


def sampled(segment: Segment, count: int = 20_000) -> np.ndarray:
    """Points on the segment at equal parameter, by its own point()."""
    return np.array([segment.point(i / count) for i in range(count + 1)])


def fine_polygon(outline: Outline, count: int = 20_000) -> shapely.Polygon:
    points = np.concatenate([sampled(s, count)[:-1] for s in outline.segments])
    return shapely.Polygon(np.column_stack((points.real, points.imag)))


def random_affine(seed: int) -> Affine:
    rng = np.random.default_rng(seed)
    a, b, c = (complex(*rng.normal(size=2)) for _ in range(3))
    return Affine(a, b, 100 * c)


def test_rectangle() -> None:
    shape = rectangle(1, 2, 4, 6)
    assert area_mm2(shape) == 12
    assert length_mm(shape) == 14
    assert centroid(shape) == pytest.approx(2.5 + 4j, abs=1e-15)
    assert bounds(shape) == Box(1, 2, 4, 6)


def test_circle_has_the_area_and_length_of_a_circle() -> None:
    shape = circle(1000 - 500j, 50)
    assert area_mm2(shape) == pytest.approx(2500 * math.pi, rel=1e-14)
    assert area_mm2(shape.reversed()) == pytest.approx(-2500 * math.pi, rel=1e-14)
    assert length_mm(shape) == pytest.approx(100 * math.pi, rel=1e-15)
    assert abs(centroid(shape) - (1000 - 500j)) < 1e-11
    box = bounds(shape)
    assert (box.left, box.right, box.bottom, box.top) == pytest.approx((950, 1050, -550, -450), abs=1e-12)


def test_circular_segments() -> None:
    """Bulge table: area of a circular segment for r = 1 (closed form r^2 (theta - sin theta) / 2)."""
    table = {30: 0.0117993877992, 60: 0.0905860737061, 90: 0.2853981633974, 180: 1.570796326795, 270: 2.856194490192}
    for degrees, area in table.items():
        arc = Arc.from_circle(7 - 3j, 1, 0.4, math.radians(degrees))
        cap = Outline((arc, Line(arc.end, arc.start)))
        assert area_mm2(cap) == pytest.approx(area, abs=1e-12)
        half = math.radians(degrees) / 2
        middle = 7 - 3j + cmath.rect(4 * math.sin(half) ** 3 / (3 * (2 * half - math.sin(2 * half))), 0.4 + half)
        assert abs(centroid(cap) - middle) < 1e-12


def test_a_ring_is_its_outer_less_its_hole() -> None:
    """R 50, r 42: 736 pi mm2."""
    ring = Region(circle(0, 50), (circle(0, 42).reversed(),))
    assert area_mm2(ring) == pytest.approx(736 * math.pi, rel=1e-14)
    assert length_mm(ring) == pytest.approx(184 * math.pi, rel=1e-15)
    assert abs(centroid(ring)) < 1e-12
    off = Region(circle(0, 50), (circle(5, 42).reversed(),))
    assert abs(centroid(off) - (-5 * 42**2 / 736)) < 1e-12


def test_oval_length_by_series() -> None:
    """Perimeter of half-axes 60 x 40 by the Gauss-Kummer series pi (a+b) sum binom(1/2, n)^2 h^n."""
    h = (20 / 100) ** 2
    term, total = 1.0, 1.0
    for n in range(1, 30):
        term *= ((0.5 - (n - 1)) / n) ** 2 * h
        total += term
    assert length_mm(ellipse(3 + 4j, 60, 40)) == pytest.approx(100 * math.pi * total, rel=1e-13)


def test_cubic_of_known_length_and_bounds() -> None:
    """y = x^2 over 0..1 as a cubic: length sqrt(5)/2 + asinh(2)/4, area to the left of it from the origin 1/6."""
    parabola = Cubic.from_quadratic(0j, 0.5 + 0j, 1 + 1j)
    assert length_mm(parabola) == pytest.approx(math.sqrt(5) / 2 + math.asinh(2) / 4, rel=1e-14)
    assert area_mm2(parabola) == pytest.approx(1 / 2 - 1 / 3, rel=1e-14)
    assert bounds(parabola) == Box(0, 0, 1, 1)
    bow = Cubic(0j, 0 + 4j, 4 + 4j, 4 + 0j)
    assert bounds(bow) == Box(0, 0, 4, 3)


def test_a_cusp_still_gives_its_length() -> None:
    """Semicubic cusp (t^2, t^3) over -1..1: twice (13 sqrt(13) - 8)/27, with the tip inside the cubic."""
    # Bernstein coefficients of x = (2w - 1)^2, y = (2w - 1)^3 over w = 0..1.
    cusp = Cubic(1 - 1j, -1 / 3 + 1j, -1 / 3 - 1j, 1 + 1j)
    assert cusp.point(0.5) == 0
    assert length_mm(cusp) == pytest.approx(2 * (13 * math.sqrt(13) - 8) / 27, rel=1e-11)
    off_middle = [cusp.piece(0, 0.83), cusp.piece(0.83, 1)]
    assert length_mm(off_middle) == pytest.approx(2 * (13 * math.sqrt(13) - 8) / 27, rel=1e-11)


def test_a_flat_oval_is_twice_its_axis() -> None:
    assert length_mm(ellipse(0, 10, 1e-9)) == pytest.approx(40, rel=1e-10)


def test_against_a_fine_polygon() -> None:
    fine = fine_polygon(DROP)
    assert area_mm2(DROP) == pytest.approx(fine.area, rel=1e-8)
    assert length_mm(DROP) == pytest.approx(fine.length, rel=1e-8)
    assert abs(centroid(DROP) - complex(fine.centroid.x, fine.centroid.y)) < 1e-7
    box = bounds(DROP)
    assert (box.left, box.bottom, box.right, box.top) == pytest.approx(fine.bounds, abs=1e-7)


@pytest.mark.parametrize("seed", range(6))
def test_an_affine_map_scales_the_area_and_carries_the_centroid(seed: int) -> None:
    """The image of a circular arc is an elliptical one: closed forms must agree with the determinant."""
    affine = random_affine(seed)
    image = DROP.transformed(affine)
    assert area_mm2(image) == pytest.approx(affine.determinant * area_mm2(DROP), rel=1e-11)
    assert abs(centroid(image) - affine.apply(centroid(DROP))) < 1e-10
    fine = fine_polygon(image, 4000)
    assert length_mm(image) == pytest.approx(fine.length, rel=2e-7)
    box = bounds(image)
    assert (box.left, box.bottom, box.right, box.top) == pytest.approx(fine.bounds, abs=1e-4)


def test_many_shapes_at_once_are_the_sum() -> None:
    rings = [circle(3 * k, 1) for k in range(50)]
    assert area_mm2(rings) == pytest.approx(50 * math.pi, rel=1e-13)
    assert length_mm(rings) == pytest.approx(100 * math.pi, rel=1e-13)
    box = bounds(rings)
    assert (box.left, box.right) == pytest.approx((-1, 148), abs=1e-12)
    assert abs(centroid(rings) - 73.5) < 1e-11
    assert area_mm2(Region(shape) for shape in rings) == pytest.approx(50 * math.pi, rel=1e-13)


def test_areas_of_open_parts_add_up() -> None:
    """An outline cut open keeps its area when each part is measured from the origin."""
    assert area_mm2(DROP.segments) == pytest.approx(area_mm2(DROP), rel=1e-13)
    assert sum(area_mm2(s) for s in DROP.segments) == pytest.approx(area_mm2(DROP), rel=1e-13)


def test_nothing_measures_nothing() -> None:
    assert area_mm2([]) == 0
    assert length_mm([]) == 0
    with pytest.raises(ValueError, match="no bounds"):
        bounds([])
    with pytest.raises(ValueError, match="no centroid"):
        centroid([])


def test_the_box_of_one_region_is_worked_out_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """A picture asks for it again and again; another region has its own, however like it is."""
    seen: list[bool] = []
    plain = measure._extremes

    def counted(table: SegmentTable, *, real: bool) -> tuple[Floats, Floats]:
        seen.append(real)
        return plain(table, real=real)

    monkeypatch.setattr(measure, "_extremes", counted)
    one, other = Region(circle(0, 5)), Region(circle(0, 5))
    boxes = [bounds(region) for region in (one, one, (one,), other)]
    assert boxes == [Box(-5, -5, 5, 5)] * 4
    assert seen == [True, False] * 2
