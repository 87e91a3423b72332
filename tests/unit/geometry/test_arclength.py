"""Arc length round an ellipse: whole turns, other starts, flat ovals, refusals."""

from __future__ import annotations

import cmath
import itertools
import math

import numpy as np
import pytest
from scipy.special import elliprd, elliprf

from frameforge.geometry import arclength
from frameforge.geometry.arc import Arc
from frameforge.geometry.arclength import (
    complete_e,
    ellipse_length_mm,
    ellipse_parameter_rad,
    ellipse_perimeter_mm,
    equal_arc_rad,
    equal_chord_rad,
)
from frameforge.geometry.measure import length_mm


def point(a: float, b: float, q: float) -> complex:
    return complex(a * math.cos(q), b * math.sin(q))


def test_on_a_circle_length_is_radius_times_angle() -> None:
    for q in (-9.0, -1.0, 0.0, 0.5, 3.0, 12.0):
        assert ellipse_length_mm(50, 50, q) == pytest.approx(50 * q, abs=1e-12)
        assert ellipse_parameter_rad(50, 50, 50 * q) == pytest.approx(q, abs=1e-14)


@pytest.mark.parametrize("axes", [(75.0, 50.0), (50.0, 75.0), (120.0, 40.0), (1.0, 90.0)])
@pytest.mark.parametrize("span", [(0.0, 0.4), (0.9, 2.6), (-2.0, 3.0)])
def test_length_by_quadrature_of_the_arc(axes: tuple[float, float], span: tuple[float, float]) -> None:
    """Carlson's integrals against Gauss-Legendre on the speed: two roads."""
    a, b = axes
    arc = Arc.from_ellipse(0, complex(a), complex(0, b), span[0], span[1] - span[0])
    assert ellipse_length_mm(a, b, span[1]) - ellipse_length_mm(a, b, span[0]) == pytest.approx(
        length_mm(arc), abs=1e-10
    )


def test_a_turn_adds_a_perimeter() -> None:
    for turns in (-3, 1, 40):
        whole = ellipse_length_mm(75, 50, 1 + turns * math.tau) - ellipse_length_mm(75, 50, 1)
        assert whole == pytest.approx(turns * ellipse_perimeter_mm(75, 50), abs=1e-10)


@pytest.mark.parametrize("ratio", [1.0, 1.5, 3.0, 10.0, 200.0])
def test_the_inverse_returns_the_length(ratio: float) -> None:
    a, b = 60 * ratio, 60.0
    whole = ellipse_perimeter_mm(a, b)
    for k in range(-20, 41):
        length = whole * k / 20
        assert ellipse_length_mm(a, b, ellipse_parameter_rad(a, b, length)) == pytest.approx(length, abs=1e-10)


@pytest.mark.parametrize("axes", [(75.0, 50.0), (50.0, 75.0), (120.0, 40.0), (200.0, 10.0), (30.0, 30.0)])
@pytest.mark.parametrize("count", [3, 4, 7, 20, 61])
@pytest.mark.parametrize("start", [0.0, 0.3, math.pi / 2, -5.0])
def test_steps_are_equal(axes: tuple[float, float], count: int, start: float) -> None:
    a, b = axes
    arcs = equal_arc_rad(a, b, count, start)
    lengths = [ellipse_length_mm(a, b, q) for q in (*arcs, start + math.tau)]
    steps = [after - before for before, after in itertools.pairwise(lengths)]
    assert steps == pytest.approx([ellipse_perimeter_mm(a, b) / count] * count, abs=1e-10)
    chords = equal_chord_rad(a, b, count, start)
    assert chords[0] == arcs[0] == start
    assert all(before < after for before, after in zip(chords, (*chords[1:], start + math.tau), strict=True))
    points = [point(a, b, q) for q in (*chords, chords[0])]
    sides = [abs(after - before) for before, after in itertools.pairwise(points)]
    assert max(sides) - min(sides) < 1e-10


def test_on_a_circle_both_ways_are_equal_angles() -> None:
    """Chord spacing sin(pi/n) of a circle of diameter 1 (Machinery's Handbook table): n = 7 gives 0.433884."""
    for divide in (equal_arc_rad, equal_chord_rad):
        assert divide(50, 50, 7, 0.2) == pytest.approx([0.2 + math.tau * k / 7 for k in range(7)], abs=1e-14)
    corners = [cmath.rect(0.5, q) for q in equal_chord_rad(0.5, 0.5, 7)]
    assert abs(corners[1] - corners[0]) == pytest.approx(0.433884, abs=5e-7)


def test_one_and_two_points() -> None:
    assert equal_arc_rad(75, 50, 1, 0.4) == (0.4,)
    assert equal_chord_rad(75, 50, 1, 0.4) == (0.4,)
    assert equal_chord_rad(75, 50, 2, 0.4) == pytest.approx((0.4, 0.4 + math.pi))


def test_refusals() -> None:
    with pytest.raises(ValueError, match="above 0"):
        ellipse_perimeter_mm(0, 3)
    with pytest.raises(ValueError, match="above 0"):
        equal_chord_rad(3, math.nan, 1)
    with pytest.raises(ValueError, match="at least 1"):
        equal_arc_rad(3, 2, 0)
    with pytest.raises(ValueError, match="at least 1"):
        equal_chord_rad(3, 2, 0)
    with pytest.raises(ValueError, match="E\\(m\\)"):
        complete_e(1.1)
    with pytest.raises(ValueError, match="no 4 equal chords"):
        equal_chord_rad(100, 0.1, 4, 0.3)


def test_an_ellipse_without_height_is_its_long_axis_there_and_back() -> None:
    """E(0) = pi / 2 and E(1) = 1 (Abramowitz & Stegun 17.3.11)."""
    assert (complete_e(0.0), complete_e(1.0)) == (pytest.approx(math.pi / 2, abs=1e-15), 1.0)
    assert complete_e(1 - 1e-12) == pytest.approx(1.0, abs=1e-10)


def test_series_of_carlsons_integrals_near_the_end_of_their_range() -> None:
    """Terms to degree 5 leave some 0.01^6 at a spread of 0.01; against scipy's integrals."""
    x, y, z = 1 + 0.01 * np.random.default_rng(3).uniform(-1, 1, (3, 200))
    assert arclength._rf_tail(x, y, z) == pytest.approx(elliprf(x, y, z), rel=2e-13)
    assert arclength._rd_tail(x, y, z) == pytest.approx(elliprd(x, y, z), rel=1e-12)


def test_carlsons_integrals_of_arguments_far_apart() -> None:
    rng = np.random.default_rng(4)
    x, y = 10 ** rng.uniform(-9, 4, (2, 200))
    first, second = arclength._carlson(x, y)
    assert first == pytest.approx(elliprf(x, y, 1), rel=1e-14)
    assert second == pytest.approx(elliprd(x, y, 1), rel=1e-14)


def calls(name: str, monkeypatch: pytest.MonkeyPatch) -> list[object]:
    """A list that grows by one at each call of a function of the module."""
    found: list[object] = []
    plain = getattr(arclength, name)

    def counted(*given: object) -> object:
        found.append(given)
        return plain(*given)

    monkeypatch.setattr(arclength, name, counted)
    return found


@pytest.mark.parametrize(("axes", "most"), [((50.0, 50.0), 1), ((75.0, 50.0), 5), ((120.0, 40.0), 6), ((1.0, 30.0), 7)])
def test_a_place_along_the_ellipse_is_found_in_a_few_rounds(
    axes: tuple[float, float], most: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = ellipse_perimeter_mm(*axes)
    rounds = calls("_lengths", monkeypatch)
    for k in range(20):
        rounds.clear()
        ellipse_parameter_rad(*axes, whole * k / 20)
        assert len(rounds) <= (1 if k == 0 else most)


def test_quarters_of_the_ellipse() -> None:
    """The start in its own bits: Newton must not leave a place that is met."""
    found = [ellipse_parameter_rad(75, 50, ellipse_perimeter_mm(75, 50) * k / 4) for k in range(-1, 3)]
    assert found == pytest.approx([-math.pi / 2, 0, math.pi / 2, math.pi], abs=1e-14)
    assert found[1] == 0


@pytest.mark.parametrize(
    ("axes", "count", "most"),
    [((50.0, 50.0), 7, 1), ((75.0, 50.0), 20, 4), ((120.0, 40.0), 3, 6), ((40.0, 1.0), 7, 10), ((25.0, 1.0), 4, 4)],
)
def test_equal_chords_settle_in_a_few_rounds(
    axes: tuple[float, float], count: int, most: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    rounds = calls("_chord_change", monkeypatch)
    equal_chord_rad(*axes, count, 0.3)
    assert len(rounds) <= most


@pytest.mark.parametrize(
    ("ratio", "count", "start", "tries"),
    [
        (22.147241664096054, 12, 1.9721, 9),
        (97.51395873393615, 60, 5.99914006833452, 9),
        (18.77986, 33, 0.423844, 71),
    ],
)
def test_where_equal_chords_do_not_settle_a_circle_is_flattened_in_steps(
    ratio: float, count: int, start: float, tries: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    rings = calls("_equal_chords", monkeypatch)
    chords = equal_chord_rad(ratio, 1.0, count, start)
    points = [point(ratio, 1.0, q) for q in (*chords, chords[0])]
    sides = [abs(after - before) for before, after in itertools.pairwise(points)]
    assert max(sides) - min(sides) < 1e-10
    assert len(rings) == tries


def test_what_does_not_settle_is_given_up_after_60_rounds(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(arclength, "_chord_change", lambda a, b, q: 0 * q + 1e-9 * np.sin(q))
    assert arclength._equal_chords(2.0, 1.0, np.linspace(0, 1, 5)) is None
    seen = calls("_chord_change", monkeypatch)
    arclength._equal_chords(2.0, 1.0, np.linspace(0, 1, 5))
    assert len(seen) == 60


def test_a_round_of_equal_chords_never_halves_a_step(monkeypatch: pytest.MonkeyPatch) -> None:
    """A change that would swap two neighbours is cut until the step between them shrinks to a half."""
    q = np.array([0.0, 1.0, 2.0, 3.0])
    changes = [np.array([0.0, 3.0, 0.0, 0.0]), 0 * q]
    monkeypatch.setattr(arclength, "_chord_change", lambda a, b, ring: changes.pop(0))
    assert arclength._equal_chords(2.0, 1.0, q) == pytest.approx([0, 1.5, 2, 3])
