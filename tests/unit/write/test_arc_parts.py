"""Arcs in quarters and as cubics.

The table of the distance of n cubics from a circle of radius 1 was computed from the handle length 4/3 tan(pi/(2n));
n = 4 gives the well-known 2.7253e-4.
"""

from __future__ import annotations

import cmath
import math
from itertools import pairwise

import numpy as np
import pytest

from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.flatten import sample
from frameforge.write.arc_parts import quarters, to_cubics

T = np.linspace(0, 1, 400)


@pytest.mark.parametrize(("sweep_deg", "parts"), [(360, 4), (90, 1), (90.01, 2), (-180, 2), (271, 4), (5, 1)])
def test_a_circle_is_cut_evenly_into_quarters_at_most(sweep_deg: float, parts: int) -> None:
    found = quarters(Arc.from_circle(3 + 4j, 10, 0.3, math.radians(sweep_deg)))
    assert [math.degrees(part.sweep_rad) for part in found] == pytest.approx([sweep_deg / parts] * parts)


def test_an_ellipse_is_cut_where_it_meets_its_axes() -> None:
    turned = Arc.from_ellipse(1 + 1j, 30, 10j, 0.2, -4.0).transformed(Affine.from_turn(0.7))
    skewed = turned.transformed(Affine(1.1, 0.3 + 0.1j, 5))
    for arc in (turned, skewed):
        long, short, _ = arc.principal_axes
        inner = [part.start for part in quarters(arc)[1:]]
        reach = [min(abs(abs(p - arc.center) - r) for r in (long, short)) for p in inner]
        assert len(inner) in (2, 3)
        assert reach == pytest.approx([0] * len(inner), abs=1e-9)
        assert all(abs(part.sweep_rad) <= math.pi / 2 + 1e-9 for part in quarters(arc))


def test_parts_share_their_joints_and_keep_the_ends() -> None:
    arc = Arc.from_ellipse(0, 30, 10j, 0.2, 5.5)
    parts = quarters(arc)
    assert (parts[0].start, parts[-1].end) == (arc.start, arc.end)
    assert all(a.end == b.start for a, b in pairwise(parts))


@pytest.mark.parametrize(("cubics", "outside"), [(4, 2.7253e-4), (6, 2.38644e-5), (8, 4.24553e-6), (12, 3.72662e-7)])
def test_cubics_keep_just_the_tolerance_asked(cubics: int, outside: float) -> None:
    circle = Arc.from_circle(0, 1, 0.4, math.tau)
    assert len(to_cubics(circle, outside * 1.001)) == cubics
    assert len(to_cubics(circle, outside * 0.98)) == cubics + 1
    off = max(float(np.max(np.abs(np.abs(sample(c, T)) - 1))) for c in to_cubics(circle, outside * 1.001))
    assert off == pytest.approx(outside, rel=2e-3)


def test_cubics_of_an_ellipse_stay_within_the_tolerance() -> None:
    turn = cmath.rect(1, 0.5)
    arc = Arc.from_ellipse(2, 60 * turn, 20j * turn, -1, 3.3)
    parts = to_cubics(arc, 1e-5)
    assert (parts[0].start, parts[-1].end) == (arc.start, arc.end)
    for cubic in parts:
        flat = (sample(cubic, T) - arc.center) / turn
        # The ellipse 60 x 20 stretched to a circle of 60: distances only grow.
        assert np.max(np.abs(np.abs(flat.real + 3j * flat.imag) - 60)) <= 3e-5
