"""Where chords cross levels, and directions of an outline at its joints: none at a corner, whichever side is asked."""

from __future__ import annotations

import math
import tracemalloc

import numpy as np
import pytest

from frameforge.frame import slide
from frameforge.frame.crowd import Crowd, Standing
from frameforge.frame.profile import Complexes, Floats, Profile
from frameforge.frame.slide import _crossing, _View, slide_depth
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


def one_by_one(starts: Complexes, ends: Complexes, level: float, side: int) -> tuple[float, int]:
    """Return the utmost place at which chords cross a level, and the first chord that does so there."""
    found = [(-math.inf, 0)]
    for k, (a, b) in enumerate(zip(starts.tolist(), ends.tolist(), strict=True)):
        if min(a.imag, b.imag) <= level <= max(a.imag, b.imag):
            level_end = max(side * a.real, side * b.real)
            part = 0.0 if a.imag == b.imag else (level - a.imag) / (b.imag - a.imag)
            found.append((level_end if a.imag == b.imag else side * (a.real + part * (b.real - a.real)), -k))
    place, chord = max(found)
    return side * place, -chord


@pytest.mark.parametrize("most", [1, 7, 1 << 19])
@pytest.mark.parametrize("side", [1, -1])
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_the_utmost_crossing_is_found_however_many_are_looked_at_in_one_pass(
    seed: int, side: int, most: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Coordinates in whole mm: many chords end on a level, and some lie on one."""
    monkeypatch.setattr(slide, "_MOST_CROSSINGS", most)
    random = np.random.default_rng(seed)
    starts: Complexes = random.integers(-6, 7, 40) + 1j * random.integers(-6, 7, 40)
    ends: Complexes = np.roll(starts, -1)
    levels: Floats = random.permutation(np.arange(-8.0, 9.0))
    found = _crossing(starts, ends, levels, side=side)
    for level, place, chord in zip(levels.tolist(), found[0].tolist(), found[1].tolist(), strict=True):
        wanted, first = one_by_one(starts, ends, level, side)
        assert place == pytest.approx(wanted, abs=1e-12)
        if math.isfinite(wanted):
            assert (starts[chord], ends[chord]) == (starts[first], ends[first])


def test_thousands_of_chords_take_little_memory() -> None:
    """Every chord against every level would be 36 million places; each level is crossed by six chords at most."""
    turns = np.arange(6000) * math.tau / 6000
    points = (50 + np.cos(5 * turns)) * np.exp(1j * turns)
    lines = [Line(complex(a), complex(b)) for a, b in zip(points, np.roll(points, -1), strict=True)]
    profile = Profile.from_outlines([Outline(tuple(lines))])
    a, b = (Crowd.from_standings([Standing(profile, 1, place)]) for place in (0j, 100 + 0j))
    tracemalloc.start()
    try:
        depth = slide_depth(a, b).depth_mm
        peak = tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()
    widths = 50 + np.cos(5 * np.array([0.0, math.pi]))
    assert depth == pytest.approx(float(widths.sum()) - 100, abs=0.7)
    assert peak < 50e6
