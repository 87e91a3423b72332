"""Where curves are cut before their parallels are fitted: closed forms on the parabola y = x^2."""

from __future__ import annotations

import math

import numpy as np
import pytest

from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.ribbon import cuts
from frameforge.geometry.ribbon.cuts import cut_stretches
from frameforge.geometry.ribbon.fit import Stretch
from frameforge.geometry.segment_table import SegmentTable

BOW = Cubic.from_quadratic(-2 + 4j, 0 - 4j, 2 + 4j)
TABLE = SegmentTable.from_segments([Arc.from_circle(0, 3, 0, 1), BOW])
ROW = np.array([1, 1, 1])


def _edge(distance: float) -> float:
    """The t at which the radius of the parabola is the distance, on the left of its foot."""
    return 0.5 - math.sqrt(((2 * distance) ** (2 / 3) - 1) / 4) / 4


def test_the_speed_factor_is_that_of_the_parallel() -> None:
    t = np.array([0.1, 0.5, 0.8])
    x = -2 + 4 * t
    speed = 4 * np.sqrt(1 + 4 * x * x)
    for distance in (-1.0, 0.7):
        wanted = speed**3 * (1 + distance * 2 / (1 + 4 * x * x) ** 1.5)
        assert cuts._signed_factor(TABLE, ROW, t, distance) == pytest.approx(wanted)


def test_roots_of_the_speed_factor_are_found_by_halving() -> None:
    for low, high, root in ((0.2, 0.5, _edge(1)), (0.5, 0.8, 1 - _edge(1))):
        assert cuts._root(TABLE, 1, low, high, -1.0) == pytest.approx(root, abs=1e-13)


def test_changes_of_sign_are_found_step_by_step() -> None:
    assert cuts._sign_changes(np.array([1.0, 2, -1, -2, 0, 3, 3, -1])) == [1, 4, 6]


@pytest.mark.parametrize("distance", [-0.8, -1.0])
def test_parts_whose_factor_is_negative_are_inverted(distance: float) -> None:
    edge = _edge(-distance)
    (_, row) = cut_stretches(TABLE, distance, 1e-3)
    inverted = [cut for cut in row if cut.fit_mm == 0]
    assert [(cut.t0, cut.t1) for cut in inverted] == [
        (pytest.approx(edge, abs=1e-9), pytest.approx(1 - edge, abs=1e-9))
    ]
    assert all(cut.row == 1 for cut in row)
    assert cuts._parted(TABLE, 1, [0.0, edge, 1 - edge, 1.0], distance) == [
        (0.0, edge, False), (edge, 1 - edge, True), (1 - edge, 1.0, False)
    ]  # fmt: skip


def test_no_stretch_turns_by_more_than_a_right_angle() -> None:
    """The bow turns by 2 atan 4 = 152 degrees: two stretches, parted in its foot."""
    arc, bow = cut_stretches(SegmentTable.from_segments([Arc.from_circle(0, 3, 0, 3.2), BOW]), 0.5, 1e-3)
    assert [cut.t0 for cut in bow] == pytest.approx([0, 0.5], abs=1e-3)
    assert [cut.t0 for cut in arc] == pytest.approx([0, 1 / 3, 2 / 3], abs=1e-6)
    (quarter,) = cut_stretches(SegmentTable.from_segments([Arc.from_circle(0, 3, 0, math.pi / 2)]), 0.5, 1e-3)
    assert quarter == [Stretch(0, 0.0, 1.0, 1e-3)]


def test_cuts_that_share_out_the_turning_keep_away_from_others() -> None:
    assert cuts._cut(Stretch(3, 0.2, 0.6, 0.01), [0.1, 0.21, 0.4, 0.41, 0.59, 0.7]) == [
        Stretch(3, 0.2, 0.4, 0.01), Stretch(3, 0.4, 0.6, 0.01)
    ]  # fmt: skip
    whole = Stretch(3, 0.2, 0.6, 0.0)
    assert cuts._cut(whole, [0.4]) == [whole]


def test_the_size_of_a_part_is_how_far_its_parallel_strays() -> None:
    """At 1 mm inside, the cusps of the parabola's parallel are as far apart as its ends, by symmetry."""
    edge = _edge(1)

    def parallel(t: float) -> complex:
        return BOW.point(t) + 1j * BOW.velocity(t) / abs(BOW.velocity(t))

    far = max(abs(parallel(edge + (1 - 2 * edge) * k / 8) - parallel(edge)) for k in range(9))
    assert cuts._size(TABLE, 1, (edge, 1 - edge, True), -1.0) == pytest.approx(far)


def _told(sizes: list[float], monkeypatch: pytest.MonkeyPatch) -> list[tuple[float, float, float]]:
    """Parts of a fifth each, those with a size inverted, told apart with a fit of 0.01 mm."""
    given = dict(enumerate(sizes))
    parts = [(k / 10, (k + 1) / 10, size > 0) for k, size in given.items()]
    monkeypatch.setattr(cuts, "_size", lambda table, row, part, distance: given[round(part[0] * 10)])
    return [(cut.t0, cut.t1, cut.fit_mm) for cut in cuts._told_apart(TABLE, 1, parts, -1.0, 0.01)]


def test_parts_beside_small_inverted_ones_are_fitted_the_nearer(monkeypatch: pytest.MonkeyPatch) -> None:
    """A tenth of the size; those under a ten-thousandth are passed over, as part of their neighbour."""
    assert _told([0, 0.05, 0, 0.5, 0], monkeypatch) == [
        (0, 0.1, 0.005), (0.1, 0.2, 0), (0.2, 0.3, 0.005), (0.3, 0.4, 0), (0.4, 0.5, 0.01)
    ]  # fmt: skip
    assert _told([0, 1e-6, 0, 0.03, 0], monkeypatch) == [(0, 0.3, 0.003), (0.3, 0.4, 0), (0.4, 0.5, 0.003)]
    assert _told([1e-6, 0], monkeypatch) == [(0, 0.2, 0.01)]
    assert _told([0.02, 0, 0.04], monkeypatch) == [(0, 0.1, 0), (0.1, 0.2, 0.002), (0.2, 0.3, 0)]
