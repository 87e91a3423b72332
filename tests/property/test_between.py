"""Edges between feet of any size, count and depth, on circles: the card against chords and circular segments."""

from __future__ import annotations

import math

import pytest
from fixtures.plain_motifs import plain_rectangle
from fixtures.rows import KNIFE
from hypothesis import given, settings
from hypothesis import strategies as st

from frameforge.frame.make import make_piece
from frameforge.frame.spec import Between, Ornament, PieceSpec, RowSpec, Size
from frameforge.geometry.measure import area_mm2


@st.composite
def rings(draw: st.DrawFn) -> tuple[float, int, float]:
    """Return diameter, count and foot of a ring whose feet take a quarter to a half of the edge."""
    count = draw(st.integers(5, 16))
    diameter = draw(st.floats(60, 220))
    foot = diameter * math.sin(math.pi / count * draw(st.floats(0.25, 0.5)))
    return diameter, count, max(foot, 3.0)


def card_mm2(ring: tuple[float, int, float], between: Between, depth: float | None) -> float:
    diameter, count, foot = ring
    row = RowSpec((Ornament(plain_rectangle(foot, 20.0)),), count=count, between=between, depth_mm=depth)
    return area_mm2(make_piece(PieceSpec("hoop", Size(diameter, diameter), rows=(row,)), KNIFE).region)


def chord_mm(ring: tuple[float, int, float]) -> float:
    """Return the straight distance between the ends of neighbouring feet."""
    diameter, count, foot = ring
    return diameter * math.sin(math.pi / count - math.asin(foot / diameter))


def segment_mm2(chord: float, rise: float) -> float:
    """Return the area of a circular segment by its chord and rise: r^2 (h - sin h cos h), tan(h/2) = 2 rise/chord."""
    half = 2 * math.atan(2 * rise / chord)
    return ((chord**2 / 4 + rise**2) / (2 * rise)) ** 2 * (half - math.sin(half) * math.cos(half))


@given(ring=rings(), part=st.floats(0.02, 0.15))
@settings(max_examples=4, deadline=None, derandomize=True)
def test_kept_flat_hollow_and_raised_differ_by_circular_segments(ring: tuple[float, int, float], part: float) -> None:
    """Kept less flat: segments of the base, R^2/2 (th - sin th) each; hollow and raised: those of the stated depth."""
    diameter, count, _ = ring
    chord = chord_mm(ring)
    turn = 2 * math.asin(chord / diameter)
    flat = card_mm2(ring, "flat", None)
    kept = count * diameter**2 / 8 * (turn - math.sin(turn))
    assert card_mm2(ring, "keep", None) - flat == pytest.approx(kept, abs=1e-6)
    segments = count * segment_mm2(chord, part * chord)
    assert flat - card_mm2(ring, "hollow", part * chord) == pytest.approx(segments, abs=1e-6)
    assert card_mm2(ring, "raised", part * chord) - flat == pytest.approx(segments, abs=1e-6)


def test_a_side_between_feet_of_20_on_100() -> None:
    """n 8, w 20, D 100: kept arcs 92.722 mm2 over sides of 19.018 (computed in closed form)."""
    ring = (100.0, 8, 20.0)
    assert chord_mm(ring) == pytest.approx(19.018, abs=5e-4)
    assert card_mm2(ring, "keep", None) - card_mm2(ring, "flat", None) == pytest.approx(92.722, abs=5e-4)
