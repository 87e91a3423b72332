"""The strip of a lid: its length on circles and ovals, its parts, and in how few it goes on a sheet."""

from __future__ import annotations

import math

import pytest

from frameforge.frame.spec import Size
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.sets.lid import fewest_parts, strip_for


def test_round_a_disc_it_is_pi_times_the_disc_and_the_card_and_a_lap() -> None:
    strip = strip_for(Size(80, 80), 20.0, 10.0, 0.3)
    assert strip.length_mm == pytest.approx(math.pi * 80.3 + 10)
    box = bounds(strip.card)
    assert (box.width_mm, box.height_mm) == (pytest.approx(strip.length_mm), 20)
    assert area_mm2(strip.card) == pytest.approx(20 * strip.length_mm)


def test_round_an_oval_it_is_the_line_half_a_thickness_outside() -> None:
    """By 200,000 chords of the parallel curve."""
    a, b, d = 60.0, 40.0, 0.25
    n = 200_000
    points = []
    for k in range(n):
        q = math.tau * k / n
        x, y = a * math.cos(q), b * math.sin(q)
        nx, ny = b * math.cos(q), a * math.sin(q)
        long = math.hypot(nx, ny)
        points.append(complex(x + d * nx / long, y + d * ny / long))
    around = sum(abs(points[k] - points[k - 1]) for k in range(n))
    assert strip_for(Size(120, 80), 20.0, 0.0, 2 * d).length_mm == pytest.approx(around, abs=1e-6)


@pytest.mark.parametrize("parts", [1, 2, 5])
def test_parts_share_the_way_round_and_each_has_a_lap(parts: int) -> None:
    strip = strip_for(Size(200, 200), 20.0, 10.0, 0.3, parts)
    assert parts * (strip.length_mm - 10) == pytest.approx(math.pi * 200.3)


@pytest.mark.parametrize(("room", "parts"), [(287, 3), (640, 1), (324.7, 2), (324.5, 3), (20, 63)])
def test_the_fewest_parts_that_go_on_a_sheet(room: float, parts: int) -> None:
    found = fewest_parts(Size(200, 200), 10.0, 0.3, room)
    assert found == parts
    assert strip_for(Size(200, 200), 20.0, 10.0, 0.3, parts).length_mm <= room
    if parts > 1:
        assert strip_for(Size(200, 200), 20.0, 10.0, 0.3, parts - 1).length_mm > room


def test_a_lap_longer_than_the_sheet_leaves_no_parts() -> None:
    assert fewest_parts(Size(200, 200), 10.0, 0.3, 10.0) is None
