"""Where a disc that stands on a point of an edge touches a wall: held against the least over many points."""

from __future__ import annotations

import math

import numpy as np
import pytest

from frameforge.check import wall_touch
from frameforge.check.wall_touch import least_radius_at
from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.flatten import sample
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment


@pytest.mark.parametrize("seed", range(12))
def test_the_disc_against_a_curve_is_the_least_over_its_points(seed: int) -> None:
    rng = np.random.default_rng(seed)
    up = [complex(x, y) for x, y in zip((0, 3, 6, 9), rng.uniform(1.5, 4.0, 4), strict=True)]
    wall = Cubic(*up)
    point, normal = complex(rng.uniform(2, 7), 0), 1j * np.exp(1j * rng.uniform(-0.3, 0.3))
    t = np.linspace(0, 1, 200_001)
    curve = (1 - t) ** 3 * up[0] + 3 * (1 - t) ** 2 * t * up[1] + 3 * (1 - t) * t * t * up[2] + t**3 * up[3]
    depth = 2 * ((curve - point) * np.conj(normal)).real
    radius = np.where(depth > 0, np.abs(curve - point) ** 2 / np.where(depth > 0, depth, 1), np.inf)
    best = int(np.argmin(radius))
    for near in (t[best], min(1.0, t[best] + 0.03), max(0.0, t[best] - 0.2)):
        part = max(0.0, near - 0.25), min(1.0, near + 0.25)
        found, least = least_radius_at(wall, point, complex(normal), part, float(near))
        assert least == pytest.approx(radius[best], abs=1e-8)
        assert found == pytest.approx(t[best], abs=1e-4)


def least_over_points(wall: Segment, point: complex, normal: complex, part: tuple[float, float]) -> tuple[float, float]:
    """The least radius over 100 001 points between two parameters of a wall, and at which of them."""
    t = np.linspace(*part, 100_001)
    reach = sample(wall, t) - point
    depth = 2 * (reach * np.conj(normal)).real
    radius = np.where(depth > 0, np.abs(reach) ** 2 / np.where(depth > 0, depth, 1), np.inf)
    best = int(np.argmin(radius))
    return float(t[best]), float(radius[best])


WALLS: list[Segment] = [
    Line(-9 + 4j, 8 + 7j),
    Line(9 + 7j, -8 + 5j),
    Arc.from_circle(9j, 4, -3, 2.9),
    Arc.from_circle(9j, 4, 0.2, -3.3),
    Arc.from_circle(1 + 2j, 12, 0.3, 2.2),
    Arc.from_circle(-1 + 2j, 12, 2.5, -2.1),
]


@pytest.mark.parametrize("wall", WALLS)
@pytest.mark.parametrize("part", [(0.0, 1.0), (0.1, 0.3), (0.7, 0.9)])
def test_the_disc_against_lines_and_circles_is_the_least_over_their_points(
    wall: Segment, part: tuple[float, float]
) -> None:
    """From outside and from inside of a circle, both ways round; at an end of the part where the hollow is beyond."""
    for point, lean in ((0j, 0.0), (1 - 0.5j, 0.2), (-0.7 + 0.3j, -0.3)):
        normal = complex(1j * np.exp(1j * lean))
        t, radius = least_over_points(wall, point, normal, part)
        found, least = least_radius_at(wall, point, normal, part, sum(part) / 2)
        assert least == pytest.approx(radius, abs=1e-7)
        assert found == pytest.approx(t, abs=2e-3)


def test_a_line_ahead_of_the_point_is_touched_in_closed_form() -> None:
    """The disc on 0 that stands upright under the line at the height 6 has the radius 3; a wall beside it, its way."""
    assert least_radius_at(Line(-4 + 6j, 6 + 6j), 0j, 1j, (0, 1), 0.5) == pytest.approx((0.4, 3))
    assert least_radius_at(Line(5 - 4j, 5 + 16j), 0j, 1j, (0, 1), 0.5) == pytest.approx((0.45, 5))
    assert least_radius_at(Line(-4 - 6j, 6 - 6j), 0j, 1j, (0, 1), 0.5)[1] == math.inf


def test_a_wall_that_starts_on_the_point_is_met_no_nearer_than_its_far_end() -> None:
    assert least_radius_at(Line(0j, 3 + 4j), 0j, 1j, (0.0, 1.0), 1.0)[1] == pytest.approx(25 / 8)


def test_a_circle_that_passes_through_the_point_has_no_tangent_disc() -> None:
    """Points of the circle itself remain: all of one radius, its own."""
    assert least_radius_at(Arc.from_circle(5j, 5, 0.2, 2), 0j, 1j, (0, 1), 0.5)[1] == pytest.approx(5)


def test_newton_finds_the_tangent_in_a_few_rounds(monkeypatch: pytest.MonkeyPatch) -> None:
    wall = Cubic(-6 + 7j, -2 + 4j, 2 + 4j, 6 + 7j)
    seen: list[float] = []
    plain = Cubic.velocity

    def counted(cubic: Cubic, t: float) -> complex:
        seen.append(t)
        return plain(cubic, t)

    monkeypatch.setattr(Cubic, "velocity", counted)
    for near in (0.5, 0.47, 0.53, 0.46):
        seen.clear()
        assert wall_touch._tangent_at(wall, 0j, 1j, near) == pytest.approx(0.5, abs=1e-8)
        assert len(seen) <= 4
        assert least_radius_at(wall, 0j, 1j, (0.2, 0.8), near)[1] == pytest.approx(2.375, abs=1e-12)


@pytest.mark.parametrize("near", [0.25, 0.4, 0.6, 0.75])
def test_a_tangent_further_off_is_not_newtons(near: float) -> None:
    wall = Cubic(-6 + 7j, -2 + 4j, 2 + 4j, 6 + 7j)
    assert wall_touch._tangent_at(wall, 0j, 1j, near) is None
    assert least_radius_at(wall, 0j, 1j, (0.2, 0.8), near) == pytest.approx((0.5, 2.375), abs=1e-7)


@pytest.mark.parametrize("least", [0.2001, 0.31, 0.5, 0.77, 0.7999])
@pytest.mark.parametrize("first", [0.2, 0.5, 0.8])
def test_the_least_of_one_hollow(least: float, first: float) -> None:
    """Golden section: 0.6 by 0.618 a step is 2e-8 after some 36."""
    seen: list[float] = []

    def value(t: float) -> float:
        seen.append(t)
        return abs(t - least) if t > 0.21 else np.inf

    assert wall_touch._least_at(value, 0.2, 0.8, first) == pytest.approx(max(least, 0.21), abs=2e-8)
    assert len(seen) <= 42
    assert all(0.2 <= t <= 0.8 for t in seen)
