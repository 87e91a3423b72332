"""Motifs tilted on their foot: a leaning bar keeps its area, its foot widens to w / cos, its wall stands under it."""

from __future__ import annotations

import math

import pytest
from fixtures.plain_motifs import disc, leaf, plain_rectangle

from frameforge.errors import InputError
from frameforge.frame.lean import MOST_LEAN_DEG, lean_map, leaned
from frameforge.geometry.measure import area_mm2, bounds, centroid


@pytest.mark.parametrize("deg", [-60.0, -20.0, 1.0, 35.0, 60.0])
def test_a_leaning_bar_is_a_bar_cut_level(deg: float) -> None:
    """A strip of width w cut level through the middle of its foot: area w h, foot w / cos."""
    motif = leaned(plain_rectangle(8, 30), deg)
    (region,) = motif.join
    assert area_mm2(region) == pytest.approx(240, abs=1e-8)
    assert motif.foot_mm == pytest.approx(8 / math.cos(math.radians(deg)), abs=1e-8)
    box = bounds(region)
    assert box.bottom == pytest.approx(0, abs=1e-9)
    assert math.copysign(1, centroid(region).real) == math.copysign(1, deg)


def test_left_and_right_are_mirror_images() -> None:
    right, left = leaned(leaf(), 25.0), leaned(leaf(), -25.0).mirrored()
    assert right.foot_mm == pytest.approx(left.foot_mm, abs=1e-9)
    assert bounds(right.join).right == pytest.approx(bounds(left.join).right, abs=1e-9)
    assert area_mm2(right.join[0]) == pytest.approx(area_mm2(left.join[0]), abs=1e-8)


def test_the_foot_stands_about_0() -> None:
    motif = leaned(leaf(), 25.0)
    on_line = [s.start.real for s in motif.join[0].outer.segments if abs(s.start.imag) < 1e-9]
    assert (min(on_line), max(on_line)) == pytest.approx((-motif.foot_mm / 2, motif.foot_mm / 2), abs=1e-9)


def test_without_a_foot_it_is_only_turned() -> None:
    motif = leaned(disc(6.0), 30.0)
    assert motif.foot_mm == 0
    assert centroid(motif.join[0]) == pytest.approx(6 * complex(math.sin(math.pi / 6), math.cos(math.pi / 6)), abs=1e-9)


@pytest.mark.parametrize("deg", [MOST_LEAN_DEG + 0.1, -90.0, math.nan])
def test_lying_down_is_refused(deg: float) -> None:
    with pytest.raises(InputError, match=r"60 deg at most\. Take 60 deg or less\.$"):
        leaned(leaf(), deg)


def test_what_stays_whole_of_a_motif_without_a_foot_is_turned_as_it_is() -> None:
    assert lean_map(disc(6.0), 30.0).apply(6j) == pytest.approx(
        6 * complex(math.sin(math.pi / 6), math.cos(math.pi / 6))
    )


def test_a_lean_too_far_is_told_with_the_most_that_goes() -> None:
    assert MOST_LEAN_DEG == 60
    for deg, words in ((60.5, "60.5"), (-75.0, "-75")):
        with pytest.raises(InputError) as fault:
            leaned(leaf(), deg)
        assert str(fault.value) == (
            f"leaf: a lean of {words} deg lays the motif on the edge; it can be 60 deg at most. Take 60 deg or less."
        )
        assert fault.value.numbers == {"lean_deg": deg, "limit_deg": 60.0}


@pytest.mark.parametrize("deg", [-40.0, 25.0])
def test_what_stays_whole_goes_where_the_leaned_motif_stands(deg: float) -> None:
    """A bar is cut level about its middle, so it is only turned; a leaf moves as well, and its tip with it."""
    towards = complex(math.sin(math.radians(deg)), math.cos(math.radians(deg)))
    assert lean_map(plain_rectangle(8, 30), deg).apply(10j) == pytest.approx(10 * towards, abs=1e-9)
    tip = lean_map(leaf(), deg).apply(16j)
    corners = [segment.start for segment in leaned(leaf(), deg).join[0].outer.segments]
    assert min(abs(corner - tip) for corner in corners) < 1e-9
    assert tip.imag == pytest.approx(16 * towards.imag, abs=1e-9)
