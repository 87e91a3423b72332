"""Stepping and shooting comes to the places that Newton comes to, and says so where no gap closes a ring."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any, TypeVar

import numpy as np
import pytest
from fixtures.plain_motifs import arch, drop, leaf, plain_rectangle, pod

from frameforge.frame import shooting
from frameforge.frame.base import Edge
from frameforge.frame.ornament import Ready, ready
from frameforge.frame.place import Track
from frameforge.frame.ring import solve_ring, solve_stretch
from frameforge.frame.shooting import shoot_ring, shoot_stretch
from frameforge.frame.spec import Ornament
from frameforge.motif.motif import Motif

T = TypeVar("T")
OVAL = Track(Edge(75, 50), 1, "foot", "base")


def of(*motifs: Motif, flips: bool = False) -> list[Ready]:
    return [ready(Ornament(m), 1.0, is_flipped=flips and k % 2 == 1) for k, m in enumerate(motifs)]


def even(count: int, start: float = 0.0) -> np.ndarray:
    return start + math.tau * np.arange(count) / count


@pytest.mark.parametrize(
    "readies",
    [of(*[leaf()] * 9), of(drop(), arch(), drop(), arch(), leaf(), pod()), of(*[pod()] * 6, flips=True)],
    ids=["leaf", "mixed", "mirrored pods"],
)
@pytest.mark.parametrize("start", [pytest.param(0.0, marks=pytest.mark.slow), 0.7])
def test_both_roads_come_to_the_same_places(readies: list[Ready], start: float) -> None:
    wanted = solve_ring(OVAL, readies, start).taus
    found = shoot_ring(OVAL, readies, even(len(readies), start), math.tau, None)
    assert found is not None
    assert float(np.abs(found - wanted).max()) <= 1e-12


def test_both_roads_agree_where_a_gap_is_at_the_start() -> None:
    readies = of(arch(), leaf(), pod())
    wanted = solve_ring(OVAL, readies, 0.4, starts_with_gap=True).taus
    at = OVAL.edge.direction_rad(0.4) + math.tau
    found = shoot_ring(OVAL, readies, even(3, 1.2), math.tau, at)
    assert found is not None
    assert float(np.abs(found - wanted).max()) <= 1e-12


def test_both_roads_agree_on_a_stretch() -> None:
    readies = of(arch(), leaf(), pod(), arch())
    wanted = solve_stretch(OVAL, readies, (0.3, 1.4, 2.4, 3.6)).taus
    found = shoot_stretch(OVAL, readies, np.array([0.3, 1.4, 2.4, 3.6]))
    assert found is not None
    assert (found[0], found[-1]) == (0.3, 3.6)
    assert float(np.abs(found - wanted).max()) <= 1e-12


def test_no_gap_closes_what_finds_no_seat() -> None:
    """A foot of 20 has no seat at the ends of an oval that is 12 high; 8 of them cannot all keep to its sides."""
    thin = Track(Edge(75, 6), 1, "foot", "base")
    assert shoot_ring(thin, of(*[plain_rectangle(20, 5)] * 8), even(8), math.tau, None) is None


def counted(f: Callable[[float], T]) -> tuple[Callable[[float], T], list[float]]:
    asked: list[float] = []

    def look(x: float) -> T:
        asked.append(x)
        return f(x)

    return look, asked


@pytest.mark.parametrize(
    ("f", "hint", "zero", "most"),
    [
        (lambda x: (3 * (x - 1), 3.0), 1.0, 1.0, 1),
        (lambda x: (3 * (x - 1), 3.0), 1.2, 1.0, 2),
        (lambda x: (3 * (x - 1), 3.0), 1.44, None, 1),
        (lambda x: (x * x - 2, 2 * x), 1.2, math.sqrt(2), 5),
        (lambda x: (x * x - 2, 2 * x), 2.1, math.sqrt(2), 6),
        (lambda x: (math.atan(x - 2), 1 / (1 + (x - 2) ** 2)), 2.1, 2.0, 4),
        (lambda x: (1.0, -1.0), 2.0, None, 1),
        (lambda x: (1.0, 0.0), 2.0, None, 1),
        (lambda x: (-math.inf, 1.0), 2.0, None, 1),
        (lambda x: (math.inf, 1.0), 2.0, None, 1),
        (lambda x: (0.1, 1.0), 2.0, None, 8),
        (lambda x: (0.1, 1e16), 2.0, 2.0, 1),
    ],
)
def test_newton_finds_a_step_near_its_hint_in_few_tries_or_none(
    f: Callable[[float], tuple[float, float]], hint: float, zero: float | None, most: int
) -> None:
    """Not where the excess falls, or where the step would change by more than three tenths; nor in eight tries."""
    look, asked = counted(f)
    found = shooting._by_newton(look, hint)
    assert found == (None if zero is None else pytest.approx(zero, abs=1e-13))
    assert len(asked) <= most
    if zero is None:
        assert len(asked) == most


def test_a_zero_is_looked_for_in_growing_steps_from_the_start() -> None:
    look, asked = counted(lambda x: x - 2)
    assert shooting._passed(look, 0.0, 0.1, 1e-13) == pytest.approx(2.0, abs=1e-13)
    assert asked == pytest.approx([0, 0.1, 0.26, 0.516, 0.9256, 1.58096, 2.629536, 2.0])
    look, asked = counted(lambda x: x - 2)
    assert shooting._passed(look, 4.0, 0.5, 1e-13) == pytest.approx(2.0, abs=1e-13)
    assert asked == pytest.approx([4, 3.5, 2.7, 1.42, 2.0])
    look, asked = counted(lambda x: x - 2)
    assert shooting._passed(look, 2.0 + 5e-14, 0.5, 1e-13) == 2.0 + 5e-14
    assert len(asked) == 1


@pytest.mark.parametrize(
    ("f", "most"),
    [
        (lambda x: x**3 - 8, 13),
        (lambda x: x - 2 if x > 1.9 else -math.inf, 11),
        (lambda x: x - 2 if x < 2.1 else math.inf, 11),
        (lambda x: math.expm1(4 * (x - 2)), 16),
        (lambda x: 1 - math.exp(4 * (2 - x)), 16),
    ],
)
def test_a_zero_between_is_found_soon_also_where_one_side_is_infinite(f: Callable[[float], float], most: int) -> None:
    look, asked = counted(f)
    assert shooting._passed(look, 1.0, 0.1, 1e-13) == pytest.approx(2.0, abs=1e-12)
    assert len(asked) <= most


def test_where_a_function_jumps_over_0_the_place_above_it_is_told() -> None:
    look, asked = counted(lambda x: -1.0 if x < 2 else 1.0)
    assert shooting._passed(look, 1.0, 0.1, 1e-13) == pytest.approx(2.0, abs=1e-14)
    assert len(asked) < 70


@pytest.mark.parametrize(
    ("value", "within", "places"),
    [
        (-1.0, (-math.inf, math.inf), [0.0, 0.1, 0.26, 0.516]),
        (1.0, (-math.inf, math.inf), [0.0, -0.1, -0.26, -0.516]),
        (-1.0, (-1.0, 0.2), [0.0, 0.1, 0.15, 0.175]),
        (1.0, (-0.2, 1.0), [0.0, -0.1, -0.15, -0.175]),
    ],
)
def test_where_nothing_passes_0_it_is_looked_for_24_times_inside_the_bounds(
    value: float, within: tuple[float, float], places: list[float]
) -> None:
    look, asked = counted(lambda x: value)
    assert shooting._passed(look, 0.0, 0.1, 1e-13, within) is None
    assert asked[:4] == pytest.approx(places)
    assert len(asked) == 25


def test_a_ring_is_shot_with_few_measured_gaps(monkeypatch: pytest.MonkeyPatch) -> None:
    measured: list[int] = []
    plain = shooting._Shot.excess_mm

    def look(self: shooting._Shot, *args: Any) -> tuple[float, float]:
        measured.append(self.left)
        return plain(self, *args)

    monkeypatch.setattr(shooting._Shot, "excess_mm", look)
    assert shoot_ring(OVAL, of(*[leaf()] * 4), even(4, 0.7), math.tau, None) is not None
    assert len(measured) <= 200
    assert measured[0] == 60 * 5


def test_a_shot_that_has_measured_its_all_sees_no_seat_any_more() -> None:
    shot = shooting._Shot(OVAL, of(leaf(), leaf()), [0.5])
    shot.left = 1
    value, rate = shot.excess_mm((shot.readies[0], shot.readies[1]), 0.0, 2.0, 0.5)
    assert math.isfinite(value)
    assert rate > 0
    more = shot.excess_mm((shot.readies[0], shot.readies[1]), 0.0, 1.5, 0.5)
    assert more[0] == -math.inf
    assert math.isnan(more[1])


def test_the_excess_of_a_gap_is_over_the_wanted_one_and_without_a_seat_far_below() -> None:
    shot = shooting._Shot(OVAL, of(leaf(), leaf()), [0.5])
    shot.left = 9
    pair = shot.readies[0], shot.readies[1]
    two, three = (shot.excess_mm(pair, 0.0, gap, 0.5)[0] for gap in (2.0, 3.0))
    assert two - three == pytest.approx(1.0)
    thin = shooting._Shot(
        Track(Edge(75, 6), 1, "foot", "base"), of(plain_rectangle(20, 5), plain_rectangle(20, 5)), [1]
    )
    thin.left = 9
    value, rate = thin.excess_mm((thin.readies[0], thin.readies[1]), 0.0, 2.0, math.pi / 2)
    assert value == -math.inf
    assert math.isnan(rate)
    assert thin.stepped(math.pi / 2, 2.0) is None


@pytest.mark.parametrize(("rate", "shots"), [(0.21, 3), (1.0, 2), (4.9, 3), (0.19, 21), (5.1, 21)])
def test_a_ring_is_moved_until_its_gap_lies_where_it_shall(
    rate: float, shots: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The miss changes by so much for what the ring is turned: rates from a fifth to five are believed."""
    begun: list[float] = []

    def ending(self: shooting._Shot, first: float, end: float) -> list[float]:
        begun.append(first)
        return [first, first + 2, end]

    monkeypatch.setattr(shooting._Shot, "ending", ending)
    monkeypatch.setattr(shooting, "gap_miss", lambda last, first, at: rate * (begun[-1] - at))
    found = shoot_ring(OVAL, of(leaf(), leaf()), np.array([0.2, 2.2]), math.tau, 0.3)
    assert len(begun) == shots
    assert found is not None
    if shots < 21:
        assert begun[-1] == pytest.approx(0.3, abs=1e-12)
        assert found.tolist() == pytest.approx([0.3, 2.3])
    begun.clear()
    pinned = shoot_ring(OVAL, of(leaf(), leaf()), np.array([0.2, 2.2]), math.tau, None)
    assert pinned is not None
    assert begun == [0.2]


def test_a_ring_that_does_not_close_at_first_or_later_is_none(monkeypatch: pytest.MonkeyPatch) -> None:
    for closes in (0, 1):
        left = [None, *[[0.2, 2.2, 6.4]] * closes]

        def ending(*_: object, left: list[Any] = left) -> list[float] | None:
            return left.pop()  # type: ignore[no-any-return]

        monkeypatch.setattr(shooting._Shot, "ending", ending)
        assert shoot_ring(OVAL, of(leaf(), leaf()), np.array([0.2, 2.2]), math.tau, 0.3) is None
    monkeypatch.setattr(shooting._Shot, "ending", lambda *_: None)
    assert shoot_ring(OVAL, of(leaf(), leaf()), np.array([0.2, 2.2]), math.tau, None) is None
    assert shoot_stretch(OVAL, of(leaf(), leaf()), np.array([0.2, 2.2])) is None


def test_the_steps_of_a_ring_are_looked_for_near_those_of_the_guess_the_last_to_the_first(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    hints: list[list[float]] = []

    def ending(self: shooting._Shot, first: float, end: float) -> None:
        hints.append([first, end, *self.hints])

    monkeypatch.setattr(shooting._Shot, "ending", ending)
    assert shoot_ring(OVAL, of(*[leaf()] * 3), np.array([0.5, 2.0, 4.0]), math.tau, None) is None
    assert hints == [pytest.approx([0.5, 0.5 + math.tau, 1.5, 2.0, math.tau - 3.5])]
