"""Each finding on a plain shape: its place, its true measure, and silence on the good side of the limit."""

from __future__ import annotations

import cmath
import math

import pytest

from frameforge.card.preset import load_preset
from frameforge.check.whole import check_piece
from frameforge.finding import Finding
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle

KNIFE = load_preset("card-240-knife")
DISC = circle(0, 40)


def found(code: str, *regions: Region) -> list[Finding]:
    return [finding for finding in check_piece(regions, KNIFE) if finding.code == code]


def pierced(*holes: Outline) -> Region:
    return Region(DISC, tuple(hole.reversed() for hole in holes))


def place(finding: Finding) -> complex:
    assert finding.x_mm is not None
    assert finding.y_mm is not None
    return complex(finding.x_mm, finding.y_mm)


@pytest.mark.parametrize("k", range(20))
def test_a_web_beside_the_edge(k: int) -> None:
    turn = complex(math.cos(k), math.sin(k))
    web = 0.3 + 0.06 * k
    (thin,) = found("thin-web", pierced(circle((40 - web - 3) * turn, 3)))
    assert thin.measured == pytest.approx(web, abs=1e-9)
    assert abs(place(thin) - (40 - web / 2) * turn) < 0.05
    assert not found("thin-web", pierced(circle((40 - 1.51 - 3) * turn, 3)))


@pytest.mark.parametrize("k", range(20))
def test_a_hole_too_small(k: int) -> None:
    diameter, at = 0.6 + 0.07 * k, complex(k - 10, 10)
    (small,) = found("small-hole", pierced(circle(at, diameter / 2)))
    assert small.measured == pytest.approx(diameter, abs=1e-9)
    assert abs(place(small) - at) < 0.05
    assert not found("small-hole", pierced(circle(at, 1.005)))
    assert not found("narrow-slot", pierced(circle(at, diameter / 2)))


@pytest.mark.parametrize("k", range(20))
def test_a_slit_too_narrow(k: int) -> None:
    width = 0.15 + 0.04 * k
    (slot,) = found("narrow-slot", pierced(rectangle(-6, k - width / 2, 6, k + width / 2)))
    assert slot.measured == pytest.approx(width, abs=1e-9)
    assert abs(place(slot).imag - k) < 0.05
    assert abs(place(slot).real) <= 6
    assert not found("narrow-slot", pierced(rectangle(-6, k - 0.505, 6, k + 0.505)))
    assert not found("small-hole", pierced(rectangle(-6, k - width / 2, 6, k + width / 2)))


@pytest.mark.parametrize("k", range(20))
def test_edges_that_all_but_touch(k: int) -> None:
    apart = 0.004 + 0.0045 * k
    near = Region(circle(complex(50 + apart, 0), 10))
    (miss,) = found("near-miss", Region(DISC), near)
    assert miss.measured == pytest.approx(apart, abs=1e-9)
    assert abs(place(miss) - (40 + apart / 2)) < 0.05
    assert not found("near-miss", Region(DISC), Region(circle(50.11, 10)))


@pytest.mark.parametrize("k", range(20))
def test_a_touch_in_one_point_is_refused_and_a_gap_is_not(k: int) -> None:
    turn = complex(math.cos(k), math.sin(k))
    (touch,) = found("point-touch", Region(DISC), Region(circle(50 * turn, 10)))
    assert touch.severity == "refused"
    assert abs(place(touch) - 40 * turn) < 1e-4
    assert not found("point-touch", Region(DISC), Region(circle(50.01 * turn, 10)))


def test_a_second_part_is_loose_and_a_small_one_a_crumb_too() -> None:
    (loose,) = found("loose", Region(DISC), Region(circle(60, 1)))
    assert loose.severity == "refused"
    assert place(loose) == pytest.approx(60)
    (crumb,) = found("card-crumb", Region(DISC), Region(circle(60, 1)))
    assert crumb.measured == pytest.approx(math.pi)
    assert not found("card-crumb", Region(DISC), Region(circle(60, 1.13)))  # 4.01 mm2
    (least,) = found("card-crumb", Region(DISC), Region(circle(60, math.sqrt(3.998 / math.pi))))
    assert "3.99 mm2 of card, smaller than 4 mm2" in least.say, "what is below the limit reads below it"
    assert not found("loose", Region(DISC))


def test_a_bit_of_waste_under_four_square_millimetres_is_noted() -> None:
    (bit,) = found("waste-crumb", pierced(circle(5, 1.12)))
    assert bit.severity == "note"
    assert bit.measured == pytest.approx(math.pi * 1.12**2)
    assert not found("waste-crumb", pierced(circle(5, 1.13)))


@pytest.mark.parametrize("angle", [2.0 + 0.94 * k for k in range(19)] + [19.98])
def test_a_sharp_tip_gives_its_angle_and_its_point(angle: float) -> None:
    half, turn = 16 * math.tan(math.radians(angle / 2)), cmath.rect(1, angle)
    (spike,) = found("spike", Region(Outline.from_points([-half * turn, half * turn, 16j * turn])))
    assert spike.measured == pytest.approx(angle, abs=0.05)
    assert abs(place(spike) - 16j * turn) < 1e-9
    blunt = 16 * math.tan(math.radians((20.01 + angle / 10) / 2))
    assert not found("spike", Region(Outline.from_points([-blunt * turn, blunt * turn, 16j * turn])))


def test_a_triangle_of_four_by_sixteen() -> None:
    # Closed form: 2 atan(2/16) = 14.250 degrees.
    (spike,) = found("spike", Region(Outline.from_points([-2, 2, 16j])))
    assert spike.measured == pytest.approx(14.250, abs=5e-4)


def test_a_sharp_notch_is_a_narrow_slot_told_by_its_angle() -> None:
    half = 16 * math.tan(math.radians(6))
    notched = Region(Outline.from_points([-30 - 30j, 30 - 30j, 30 + 30j, half + 30j, 14j, -half + 30j, -30 + 30j]))
    (notch,) = found("narrow-slot", notched)
    assert notch.unit == "deg"
    assert notch.measured == pytest.approx(12, abs=0.05)
    assert abs(place(notch) - 14j) < 1e-9


def test_small_pieces_are_hard_to_hold() -> None:
    # 2 1/4 in = 57.15 mm: common practice, no source.
    assert found("hard-to-hold", Region(circle(0, 57.14 / 2)))
    assert not found("hard-to-hold", Region(circle(0, 57.15 / 2)))


def test_bunting_of_seventeen_blossoms() -> None:
    # Six holes a blossom, five of them 1.5 mm across: 85 are under 2.0 mm, 102 under 3.0, none under .8.
    holes = []
    for blossom in range(17):
        middle = 30 * complex(math.cos(blossom * math.tau / 17), math.sin(blossom * math.tau / 17))
        holes.append(circle(middle, 1.1))
        holes += [circle(middle + 3.5 * complex(math.cos(k), math.sin(k)), 0.75) for k in range(5)]
    region = pierced(*holes)
    for limit, count in ((2.0, 85), (3.0, 102), (0.8, 0)):
        preset = KNIFE.with_values({"least_hole_mm": limit})
        assert sum(finding.code == "small-hole" for finding in check_piece([region], preset)) == count
