"""Slits that open from a narrow floor: as wide as between the corners of the floor, whatever the limit, and mended."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace

import numpy as np
import pytest
from fixtures.mending import KNIFE, codes_left

from frameforge.card.preset import Preset
from frameforge.check import dead_end
from frameforge.check.chords import to_chords
from frameforge.check.thickness import ThinPlace, thin_places
from frameforge.check.whole import check_piece
from frameforge.geometry.affine import Affine
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.mend.whole import mend_piece


def opened(floor_mm: float, opens_deg: float, turn_rad: float = 0.0) -> Region:
    """A block, turned about 0, with a notch 8 mm deep that opens upwards from a floor whose middle is at 0."""
    out = floor_mm / 2 + 8 * math.tan(math.radians(opens_deg) / 2)
    notch = [out + 8j, floor_mm / 2 + 0j, -floor_mm / 2 + 0j, -out + 8j]
    block = Region(Outline.from_points([-30 - 20j, 30 - 20j, 30 + 8j, *notch, -30 + 8j]))
    return block.transformed(Affine(cmath.rect(1, turn_rad), 0, 0))


def slits(region: Region, limit_mm: float = 1.0) -> list[ThinPlace]:
    return [p for p in thin_places([region], limit_mm, "slot") if p.kind != "tip"]


def feet(count: int, gap_mm: float) -> Region:
    """Half discs of radius 8 side by side round a disc, their feet on its edge and ``gap_mm`` from each other."""
    half = 2 * math.pi / count / 2
    foot_mm = 16.0
    away = (foot_mm / 2 + gap_mm / 2 / math.cos(half)) / math.tan(half)
    points: list[complex] = []
    for k in range(count):
        turn = cmath.rect(1, 2 * half * k)
        points += [turn * (away + 8 * cmath.rect(1, -math.pi / 2 + math.pi * j / 48)) for j in range(49)]
    return Region(Outline.from_points(points))


@pytest.mark.parametrize("k", range(20))
def test_a_slit_is_as_wide_as_its_floor(k: int) -> None:
    floor, opens = 0.2 + 0.039 * k, 58.0 - 2.9 * k
    (place,) = slits(opened(floor, opens, 0.31 * k))
    assert place.width_mm == pytest.approx(floor, abs=1e-9)
    assert abs(place.middle) < 1e-9
    assert place.angle_deg == pytest.approx(opens, abs=1e-6)
    assert slits(opened(floor, opens, 0.31 * k), floor) == []
    assert len(slits(opened(floor, opens, 0.31 * k), floor + 0.001)) == 1


@pytest.mark.parametrize(("count", "gap_mm"), [(8, 0.6), (12, 0.95), (19, 0.465), (24, 0.3)])
def test_slits_between_the_feet_of_round_motifs_are_each_told(count: int, gap_mm: float) -> None:
    found = slits(feet(count, gap_mm))
    assert len(found) == count
    assert {round(place.width_mm, 6) for place in found} == {gap_mm}
    assert slits(feet(count, 1.0)) == []


def test_a_notch_with_a_point_is_no_slit() -> None:
    assert slits(opened(0.1, 40.0)) == []
    assert slits(opened(0.5, 70.0)) == []


def test_a_step_and_a_shallow_groove_are_no_slits() -> None:
    step = Region(Outline.from_points([-30 - 20j, 30 - 20j, 30 + 8j, 0.4 + 8j, 0.4 + 0j, 0j, -8j, -30 - 8j]))
    assert slits(step) == []
    groove = Region(Outline.from_points([-30 - 20j, 30 - 20j, 30 + 0j, 0.3 + 0j, 0.25 - 0.1j, -0.25 - 0.1j, -0.3, -30]))
    assert slits(groove) == []


@pytest.mark.parametrize(("floor_mm", "opens_deg"), [(0.3, 22.0), (0.46, 19.0), (0.7, 40.0), (0.98, 30.0)])
@pytest.mark.parametrize("preset", [KNIFE, replace(KNIFE, least_slot_mm=1.2)], ids=["1.0", "1.2"])
def test_what_opens_from_a_floor_is_mended(floor_mm: float, opens_deg: float, preset: Preset) -> None:
    block = opened(floor_mm, opens_deg)
    assert [f.code for f in check_piece([block], preset)] == ["narrow-slot"]
    mended = mend_piece([block], preset, ("narrow-slot",))
    assert mended.left == ()
    assert codes_left(mended.regions, preset) == []


def test_points_along_a_loop_go_round_its_seam() -> None:
    """A rectangle of 6 x 4 after one of 2 x 2: places before its start and past its end are on it as well."""
    chords = to_chords([Region(rectangle(10, 0, 12, 2)), Region(rectangle(0, 0, 6, 4))])
    points, chord = dead_end._walked(chords, 1, np.array([0.0, 1.5, 6.0, 9.0, -1.0, 21.0]))
    assert points.tolist() == pytest.approx([0, 1.5, 6, 6 + 3j, 1j, 1])
    assert chord.tolist() == [4, 4, 5, 5, 7, 4]


def test_floors_are_pairs_of_corners_that_follow_on_a_loop() -> None:
    """A comb of two slots 0.8 and 1.4 wide: corners of floors only, in order; the last corner's next is the first."""
    comb = Outline.from_points(
        [0j, 20 + 0j, 20 + 9j, 12.8 + 9j, 12.8 + 4j, 12 + 4j, 12 + 9j, 6.4 + 9j, 6.4 + 4j, 5 + 4j, 5 + 9j, 9j]
    )
    chords = to_chords([Region(comb)])
    turn = np.angle(chords.direction / chords.direction[chords.before])
    corners = np.flatnonzero(turn < -dead_end.CORNER_RAD)
    assert [complex(z) for z in chords.start[corners]] == [12.8 + 4j, 12 + 4j, 6.4 + 4j, 5 + 4j]

    def floors(limit_mm: float, which: list[int] | None = None) -> list[tuple[complex, complex]]:
        some = corners if which is None else corners[which]
        found = dead_end._floors(chords, some, limit_mm)
        return [(complex(chords.start[one]), complex(chords.start[two])) for one, two in found]

    assert floors(1.0) == [(12.8 + 4j, 12 + 4j)]
    assert floors(1.5) == [(12.8 + 4j, 12 + 4j), (6.4 + 4j, 5 + 4j)]
    assert floors(0.8 - 1e-9) == []
    assert floors(9.0, [0, 3]) == []
    assert floors(1.0, [0]) == []


@pytest.mark.parametrize("opens_deg", [2.0, 10.0, 30.0, 59.0])
@pytest.mark.parametrize("floor_mm", [0.3, 0.6])
def test_a_slit_over_a_floor_is_told_with_its_angle_and_its_mouth(floor_mm: float, opens_deg: float) -> None:
    """Discs stand from the floor on at steps of 0.2 mm until the walls are 1 mm apart."""
    chords = to_chords([opened(floor_mm, opens_deg)])
    (found,) = dead_end._dead_ends(chords, 1.0, 0.2)
    assert found.mm == pytest.approx(floor_mm)
    assert math.degrees(found.opens_rad) == pytest.approx(opens_deg)
    rate = 2 * math.sin(math.radians(opens_deg) / 2)
    ways = sorted({0.0, max(floor_mm / 2, 0.25), *np.arange(1, 20) * 0.2})
    ways = [way for way in ways if way < 1.5 + max(floor_mm / 2, 0.25)]
    beyond = [way for way in ways if floor_mm + rate * way >= 1.0]
    assert found.mouth_mm == pytest.approx(beyond[0] if beyond else ways[-1])
    for (a, b, i, j), way in zip(found.walls, ways, strict=False):
        assert abs(b - a) == pytest.approx(floor_mm + rate * way)
        assert abs(chords.start[i] - a) <= chords.length[i] + 1e-9
        assert abs(chords.start[j] - b) <= chords.length[j] + 1e-9
    assert len(found.walls) == ways.index(pytest.approx(found.mouth_mm)) + 1


@pytest.mark.parametrize(
    ("floor_mm", "opens_deg"), [(0.6, 0.04), (0.6, 61.0), (0.11, 31.0), (1.01, 10.0), (0.04, 10.0)]
)
def test_what_is_no_slit_over_a_floor(floor_mm: float, opens_deg: float) -> None:
    """Even walls; walls that open by over 60 degrees, over 30 from a narrow floor; floors too wide, or a point."""
    assert dead_end._dead_ends(to_chords([opened(floor_mm, opens_deg)]), 1.0, 0.2) == ()
