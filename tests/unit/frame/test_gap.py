"""Signed gaps: apart, touching, overlapping, interlocked; against the general closest pair of outlines."""

from __future__ import annotations

import cmath
import math
from collections import OrderedDict
from itertools import pairwise

import numpy as np
import pytest
from fixtures.plain_motifs import arch, drop, husk, leaf, plain_rectangle, pod, scallop

from frameforge.frame import gap as gap_module
from frameforge.frame.gap import Gap, Standing, gap_between, neighbour_gaps
from frameforge.frame.profile import Profile
from frameforge.geometry.affine import Affine
from frameforge.geometry.line import Line
from frameforge.geometry.measure import bounds
from frameforge.geometry.nearest import distance
from frameforge.geometry.outline import Outline
from frameforge.geometry.shapes import circle, rectangle
from frameforge.motif.motif import Motif


def profile(motif: Motif) -> Profile:
    return Profile.from_outlines(region.outer for region in motif.join)


def moved(motif: Motif, turn: complex, move: complex) -> list[Outline]:
    return [region.outer.transformed(Affine(turn, 0, move)) for region in motif.join]


@pytest.mark.parametrize("make", [husk, leaf, drop, pod, arch, scallop, plain_rectangle])
def test_motifs_apart_have_the_distance_of_their_outlines(make) -> None:  # type: ignore[no-untyped-def]
    """Second road: the general closest pair, which cuts chords ever finer."""
    motif = make()
    shape = profile(motif)
    generator = np.random.default_rng(20261125)
    for _ in range(6):
        turn = cmath.rect(1, -generator.uniform(0.05, 0.7))
        move = complex(generator.uniform(26, 40), generator.uniform(-6, 1))
        gap = gap_between(Standing(shape, 1, 0), Standing(shape, turn, move))
        exact = distance(moved(motif, 1, 0), moved(motif, turn, move))
        assert gap.gap_mm == pytest.approx(exact.gap_mm, abs=1e-9)
        assert abs(gap.on_b - gap.on_a) == pytest.approx(gap.gap_mm, abs=1e-12)


def test_the_gap_passes_smoothly_through_touching() -> None:
    """Two discs on a line: the gap is the distance of middles less both radii, on either side of 0."""
    disc = Profile.from_outlines([circle(0, 5)])
    for apart in (9.0, 9.9, 9.999, 9.9999999, 10.0, 10.0000001, 10.001, 10.1, 12.0):
        gap = gap_between(Standing(disc, 1, 0), Standing(disc, 1, apart + 0j)).gap_mm
        tolerance = 1e-9 if abs(apart - 10) < 0.05 else 0.02
        assert gap == pytest.approx(apart - 10, abs=tolerance)


@pytest.mark.parametrize("make", [leaf, husk, drop, arch])
def test_slope_through_touching_is_constant(make) -> None:  # type: ignore[no-untyped-def]
    """Neighbours on a circle moved apart by .01 mm steps over +-.1 mm: the slope of the gap varies by under 1 %."""
    motif = make()
    shape = profile(motif)
    half = math.pi / 12

    def gap(radius: float) -> float:
        places = [Standing(shape, cmath.rect(1, -q), radius * 1j * cmath.rect(1, -q)) for q in (-half, half)]
        return gap_between(*places).gap_mm

    low, high = 5.0, 80.0
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if gap(middle) < 0 else (low, middle)
    steps = [gap(high + k * 0.01) for k in range(-10, 11)]
    slopes = np.diff(steps)
    assert slopes.min() > 0
    assert slopes.max() / slopes.min() < 1.01


def test_corners_that_touch_have_no_gap_at_all() -> None:
    """Two upright rectangles whose lower corners meet, leaning apart."""
    box = Profile.from_outlines([rectangle(-2, 0, 2, 5)])
    for over in (0.0, 1e-6, 1e-3):
        lean = cmath.rect(1, -0.2)
        corner = 2 - over
        move = corner + 2 * lean
        gap = gap_between(Standing(box, 1, 0), Standing(box, lean, move)).gap_mm
        across = over * 1.0
        assert gap == pytest.approx(-across, abs=max(1e-9, 0.15 * over))


@pytest.mark.parametrize("make", [leaf, drop, husk, arch])
@pytest.mark.parametrize("gap", [1e-6, 1e-8, 1e-9, 1e-10, 1e-11, -1e-11, -1e-9])
def test_outlines_that_all_but_touch_have_their_gap_to_1e_13(make, gap: float) -> None:  # type: ignore[no-untyped-def]
    """Two alike side by side are as far apart as they stand, less their width: a box, and no search."""
    shape, wide = profile(make()), bounds(make().join).width_mm
    for turn in (1, cmath.rect(1, 0.7)):
        found = gap_between(Standing(shape, turn, 0), Standing(shape, turn, (wide + gap) * turn)).gap_mm
        assert found == pytest.approx(gap, abs=1e-13)


def test_hooks_that_reach_round_each_other_count_as_overlapped() -> None:
    left = Outline.from_points([0, 8 + 0j, 8 + 6j, 6 + 6j, 6 + 2j, 2 + 2j, 2 + 8j, 8j])
    right = Outline.from_points([3.5 + 3.5j, 4.5 + 3.5j, 4.5 + 10j, 12 + 10j, 12 + 12j, 3.5 + 12j])
    hook = Profile.from_outlines([left]), Profile.from_outlines([right])
    assert distance([left], [right]).gap_mm > 0.5
    assert gap_between(Standing(hook[0], 1, 0), Standing(hook[1], 1, 0.001 + 0j)).gap_mm < -0.5


def test_equal_pairs_are_measured_once_and_carried() -> None:
    shape = profile(leaf())
    row = [Standing(shape, cmath.rect(1, -k * 0.3), 60j * cmath.rect(1, -k * 0.3)) for k in range(6)]
    gaps = neighbour_gaps(list(pairwise(row)))
    for k, gap in enumerate(gaps):
        alone = neighbour_gaps([(row[k], row[k + 1])])[0]
        assert gap.gap_mm == pytest.approx(alone.gap_mm, abs=1e-11)
        assert abs(gap.on_a - alone.on_a) < 1e-9
        assert abs(gap.direction - alone.direction) < 1e-9


def test_mirrored_placements_are_refused() -> None:
    with pytest.raises(ValueError, match="mirrored before"):
        Standing.from_placement(profile(pod()), Affine.from_mirror())


def test_a_line_of_no_length_changes_no_gap() -> None:
    """Outlines that run on by less than a number can tell have chords of no length; they divide by nothing."""
    square = Outline.from_points([0j, 4 + 0j, 4 + 4j, 4j])
    first, *rest = square.segments
    still = Outline((first, Line(first.end, first.end), *rest))
    profile = Profile.from_outlines([still])
    one, other = (Standing.from_placement(profile, Affine(1, 0, move)) for move in (0j, 7.5 + 0.5j))
    assert gap_between(one, other).gap_mm == pytest.approx(3.5)


def test_the_very_same_pairs_are_measured_once_and_counted_each_time(monkeypatch: pytest.MonkeyPatch) -> None:
    """A row is laid out, looked at and drawn with the same places; what a try may spend does not hang on that."""
    measured: list[int] = []
    plain = gap_module._measured_gaps

    def counted(pairs: list[tuple[Standing, Standing]]) -> tuple[list[Gap], float]:
        measured.append(len(pairs))
        return plain(pairs)

    monkeypatch.setattr(gap_module, "_measured_gaps", counted)
    monkeypatch.setattr(gap_module, "_LAST", OrderedDict())
    spent: list[float] = []
    monkeypatch.setattr(gap_module, "spend", spent.append)
    shape = profile(leaf())
    row = [Standing(shape, cmath.rect(1, -k * 0.3), 60j * cmath.rect(1, -k * 0.3)) for k in range(3)]
    first, *others = (neighbour_gaps([(row[0], row[k])]) for k in (1, 1, 2))
    assert others[0] == first != others[1]
    assert measured == [1, 1]
    assert spent[0] == spent[1] > 0
