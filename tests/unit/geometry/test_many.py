"""Many segments at once give what each gives alone."""

from __future__ import annotations

import numpy as np

from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.many import Many
from frameforge.geometry.outline import Segment

SEGMENTS: list[Segment] = [
    Line(1 + 2j, 5 - 3j),
    Cubic(-1 - 1.2j, 1 - 1.4j, 2 - 2.6j, 4 - 4.5j),
    Arc.from_ellipse(3 + 1j, 30 + 10j, -4 + 12j, -0.4, 2.0),
    Arc.from_circle(3j, 5, 1.0, -4.0),
]


def test_points_and_derivatives() -> None:
    curves = Many(SEGMENTS)
    t = np.tile(np.linspace(0, 1, 9), (len(SEGMENTS), 1))
    index = np.repeat(np.arange(len(SEGMENTS))[:, None], 9, axis=1)
    for ours, name in (
        (curves.points, "point"),
        (curves.velocities, "velocity"),
        (curves.accelerations, "acceleration"),
    ):
        wanted = np.array([[getattr(s, name)(float(v)) for v in t[0]] for s in SEGMENTS])
        assert np.abs(ours(index, t) - wanted).max() < 1e-12


def test_the_bend_bounds_the_second_derivative() -> None:
    curves = Many(SEGMENTS)
    for k, segment in enumerate(SEGMENTS):
        greatest = max(abs(segment.acceleration(v)) for v in np.linspace(0, 1, 200))
        assert greatest <= curves.bend[k] * (1 + 1e-12)
        assert greatest >= 0.5 * curves.bend[k]


def test_lines_and_cubics_alone_need_no_angles() -> None:
    curves = Many(SEGMENTS[:2])
    assert not curves.has_arcs
    assert abs(curves.points(np.array([1]), np.array([0.5]))[0] - SEGMENTS[1].point(0.5)) < 1e-14
