"""Where a disc that stands on a point of an edge touches a wall: held against the least over many points."""

from __future__ import annotations

import numpy as np
import pytest

from frameforge.check.wall_touch import least_radius_at
from frameforge.geometry.cubic import Cubic


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
