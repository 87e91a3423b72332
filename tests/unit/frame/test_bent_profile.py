"""Chords of bent outlines stay near their curves, wherever along the edge."""

from __future__ import annotations

import math

import numpy as np
import pytest
from fixtures.plain_motifs import arch, leaf, plain_rectangle, pod

from frameforge.frame.base import Edge
from frameforge.frame.bend import Bends
from frameforge.frame.bent_profile import bent_profile
from frameforge.frame.profile import Profile
from frameforge.frame.walk import walk_along
from frameforge.geometry.outline import Outline
from frameforge.tolerances import CHORD_MM


@pytest.mark.parametrize("edge", [Edge(28, 28), Edge(75, 50), Edge(120, 40), Edge(75, 50, -12)])
@pytest.mark.parametrize("side", [1, -1])
def test_chords_stay_within_their_distance(edge: Edge, side: int) -> None:
    for motif in (arch(), leaf(), plain_rectangle(20, 5), pod()):
        flat = Profile.from_outlines(region.outer for region in motif.join)
        profile = bent_profile(flat, edge, side, 0.0)
        walk = walk_along(edge)
        for at in np.linspace(0, walk.length_mm, 9):
            bends = Bends(walk, np.array([at]), side)
            which = np.zeros(len(profile.points), dtype=np.intp)
            start = bends.point(which, profile.points)
            chord = start[profile.following] - start
            middle = bends.point(
                which, profile.curve(*profile.along(np.arange(len(which)), np.full(len(which), 0.5)))[0]
            )
            across = ((middle - start) * chord.conj()).imag / np.maximum(np.abs(chord), 1e-300)
            assert np.abs(across).max() <= CHORD_MM


def test_a_straight_foot_gets_chords_and_an_upright_wall_needs_none() -> None:
    flat = Profile.from_outlines([plain_rectangle(20, 10).join[0].outer])
    profile = bent_profile(flat, Edge(50, 50), 1, 0.0)
    counts = np.bincount(profile.segment)
    assert sorted(counts.tolist())[:2] == [1, 1]
    assert min(sorted(counts.tolist())[2:]) > 5
    assert bent_profile(flat, Edge(50, 50), 1, 0.0) is profile


def test_chords_of_a_slope_are_counted_by_its_steepest_bend_whichever_way_it_is_drawn() -> None:
    """Round a circle of 50 mm |P''| of a slope v is at most hypot(2 k vx vy, k (1 + k h) vx^2), k = 1/50, up to h high;
    1.1 of it over 8 times the distance of chords is the square of their number."""
    flat = Profile.from_outlines([Outline.from_points([-30 + 0j, 30 + 0j, 20j])])
    counts = np.bincount(bent_profile(flat, Edge(50, 50), 1, 0.0).segment)
    slope = math.hypot(2 * 30 * 20 / 50, 1.4 * 30**2 / 50)
    wanted = [math.ceil(math.sqrt(1.1 * bend / (8 * CHORD_MM))) for bend in (60**2 / 50, slope, slope)]
    assert counts.tolist() == wanted
