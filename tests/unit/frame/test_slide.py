"""Directions of an outline at its joints: none at a corner, whichever side of it is asked."""

from __future__ import annotations

import math

import pytest

from frameforge.frame.crowd import Crowd, Standing
from frameforge.frame.profile import Profile
from frameforge.frame.slide import _View
from frameforge.geometry.arc import Arc
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline


def test_a_corner_has_no_direction_and_a_smooth_joint_has() -> None:
    """A half disc: a flat side, then chords of the arc, with corners where they meet."""
    arc = Arc.from_circle(0j, 5, 0.0, math.pi)
    profile = Profile.from_outlines([Outline((Line(arc.end, arc.start), arc))])
    view = _View(Crowd.from_standings([Standing(profile, 1, 0j)]), 1)
    flat, first, last = 0, 1, len(profile.points) - 1
    assert view.direction(flat, 0.0) is None
    assert view.direction(flat, 1.0) is None
    assert view.direction(first, 0.0) is None
    assert view.direction(last, 1.0) is None
    for chord, part in ((flat, 0.5), (first, 0.5), (first, 1.0), (last, 0.0), (first + 2, 0.0), (first + 2, 1.0)):
        assert view.direction(chord, part) is not None
    along = view.direction(first + 1, 0.0)
    assert along is not None
    point = profile.points[first + 1]
    assert along / abs(along) == pytest.approx(1j * point / abs(point), abs=1e-6)
