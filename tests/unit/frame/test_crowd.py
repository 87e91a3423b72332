"""Outlines where they stand, and gaps between bent ones: against the general closest pair of their fitted curves."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from fixtures.plain_motifs import drop, husk, leaf, plain_rectangle, pod
from fixtures.rows import model_of

from frameforge.frame.bent_row import bent_regions
from frameforge.frame.crowd import Crowd, Standing
from frameforge.frame.gap import gap_between
from frameforge.frame.layout import Layout
from frameforge.frame.profile import Profile
from frameforge.frame.spec import Size
from frameforge.frame.standing import standing_at
from frameforge.geometry.affine import Affine
from frameforge.geometry.nearest import distance
from frameforge.motif.motif import Motif
from frameforge.tolerances import BEND_FIT_MM

OVAL = Size(150, 100)


def test_a_crowd_is_its_standings() -> None:
    profile = Profile.from_outlines([drop().join[0].outer])
    standings = [Standing(profile, 1j, 3 + 4j), Standing(profile, -1, 0)]
    crowd = Crowd.from_standings(standings)
    for k, standing in enumerate(standings):
        assert (crowd.starts[k] == standing.points).all()
        assert (crowd.ends[k] == standing.chords[1]).all()
    which, chord = np.array([0, 1]), np.array([2, 5])
    segment, t = profile.along(chord, np.array([0.0, 0.0]))
    assert np.abs(crowd.curve(which, segment, t)[0] - crowd.starts[which, chord]).max() < 1e-12
    assert (crowd.taken(1).starts == crowd.starts[1:]).all()
    with pytest.raises(ValueError, match="mirrored before"):
        Standing.from_placement(profile, Affine.from_mirror())


def laid(motif: Motif, size: Size, count: int, **more: Any) -> Layout:
    return model_of(motif, size=size, seat="bent", **more).layout(size, count, 1.0)


@pytest.mark.parametrize("make", [husk, leaf, drop, pod, plain_rectangle])
@pytest.mark.parametrize("size", [Size(100, 100), OVAL])
def test_gaps_of_bent_motifs_are_those_of_their_fitted_curves(make, size: Size) -> None:  # type: ignore[no-untyped-def]
    """Both outlines lie within the fit of the true ones."""
    motif = make()
    layout = laid(motif, size, 10)
    for k in (0, 2, 7):
        ours = layout.gaps[k]
        assert ours is not None
        sides = [[region.outer for region in bent_regions(layout, i, motif.join)] for i in (k, k + 1)]
        assert distance(*sides).gap_mm == pytest.approx(ours.gap_mm, abs=2 * BEND_FIT_MM)


@pytest.mark.parametrize("size", [Size(100, 100), OVAL])
def test_bent_walls_touch_when_their_feet_do(size: Size) -> None:
    """Walls along one and the same normal: the gap is 0, and below it as far as the feet overlap."""
    model = model_of(plain_rectangle(20, 10), size=size, seat="bent")
    track, ready = model.track(size, 1.0), model.readies(1, 1.0)[0]
    first = track.seat(ready, 0.6)
    for over in (0.0, 0.01, 0.5):
        at = first.at_mm + 20.0 - over  # type: ignore[attr-defined]
        bends = track.bends(ready, [0.0])
        after = track.seat(ready, float(bends.walk.tau(np.array([at]))[0]))
        gap = gap_between(*(standing_at(track, ready, seat) for seat in (first, after)))
        assert gap.gap_mm <= 1e-9
        assert gap.gap_mm == pytest.approx(-over, abs=0.25 * over + 1e-9)


@pytest.mark.parametrize(("make", "count"), [(leaf, 20), (husk, 36), (pod, 14)])
def test_all_gaps_of_a_bent_ring_are_equal(make, count: int) -> None:  # type: ignore[no-untyped-def]
    layout = laid(make(), OVAL, count)
    gaps = [gap.gap_mm for gap in layout.gaps if gap]
    assert len(gaps) == count
    assert max(gaps) - min(gaps) <= 1e-9


def test_slope_through_touching_is_constant_when_bent() -> None:
    """Neighbours on an oval moved apart by .02 mm steps over +-.1 mm: the slope of the gap varies by under 1 %."""
    model = model_of(leaf(), size=OVAL, seat="bent")
    track, ready = model.track(OVAL, 1.0), model.readies(1, 1.0)[0]
    first = track.seat(ready, 0.9)

    def gap(step: float) -> float:
        return gap_between(*(standing_at(track, ready, seat) for seat in (first, track.seat(ready, 0.9 + step)))).gap_mm

    low, high = 0.1, 0.4
    for _ in range(40):
        middle = (low + high) / 2
        low, high = (middle, high) if gap(middle) < 0 else (low, middle)
    slopes = np.diff([gap(high + 0.02 / 60 * k) for k in range(-5, 6)])
    assert slopes.min() > 0
    assert slopes.max() / slopes.min() < 1.01


def test_repeats_on_a_circle_are_alike_and_measured_once() -> None:
    layout = laid(leaf(), Size(100, 100), 12)
    gaps = {gap.gap_mm for gap in layout.gaps if gap}
    assert len(gaps) == 1
    turns = [gap.on_a * complex(math.cos(a), math.sin(a)) for a, gap in zip(
        [2 * math.pi * k / 12 for k in range(12)], [g for g in layout.gaps if g], strict=True)]  # fmt: skip
    assert max(abs(z - turns[0]) for z in turns) < 1e-9


def test_a_zone_kept_free_makes_a_crowd_denser() -> None:
    """As on a circle as long as the oval, for 160 x 100 mm; the zone takes a sixth of it, and gaps are less."""
    size = Size(160, 100)
    gaps = [model_of(leaf(), size=size, keep_free=zone).clearance_mm(size, 700, 1.0) for zone in (None, (60.0, 180.0))]
    assert -14 < gaps[1] < gaps[0] < -13
