"""Thin card thickened: amounts by closed form, ends where they were, the rest untouched."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from fixtures.mending import assert_kept_elsewhere, codes_left, limits, reach
from fixtures.planted import FAMILIES, Planted, planted

from frameforge.check.thickness import thin_places
from frameforge.geometry.arc import Arc
from frameforge.geometry.line import Line
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.geometry.outline import Outline, Segment
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle
from frameforge.mend.apply import applied
from frameforge.mend.thicken import thicken
from frameforge.mend.view import View
from frameforge.mend.whole import mend_piece

THIN = ("thin-web", "thin-neck", "thin-finger")
ON_CARD = [
    seed for seed in range(200) if FAMILIES[seed % len(FAMILIES)].__name__ not in ("_open_slot", "_closed_slit", "_gap")
]


def disc_bar(width_mm: float) -> Region:
    """Return two discs of radius 10, 30 apart, joined by a bar."""
    half = math.asin(width_mm / 2 / 10)
    left = Arc.from_circle(-15, 10, half, math.tau - 2 * half)
    right = Arc.from_circle(15, 10, math.pi + half, math.tau - 2 * half)
    chain: list[Segment] = [left, Line(left.end, right.start), right, Line(right.end, left.start)]
    return Region(Outline.from_chain(chain, joint_mm=1e-9))


def block_with_finger(length: float, half: float, cap: str) -> Region:
    """Return a block 20 x 20 whose right side at x = 0 carries a finger."""
    if cap == "round":
        end: list[Line | Arc] = [Arc.from_circle(length - half, half, -math.pi / 2, math.pi)]
    else:
        end = [Line(length - 1j * half, length + 1j * half)]
    corners = [1j * half, 10j, -20 + 10j, -20 - 10j, -10j, -1j * half]
    chain: list[Segment] = [Line(-1j * half, end[0].start), *end, Line(end[-1].end, 1j * half)]
    chain += [Line(a, b) for a, b in pairwise(corners)]
    return Region(Outline.from_chain(chain, joint_mm=1e-9))


@pytest.mark.parametrize(("was", "wanted"), [(1.2, 1.5), (0.3, 1.0), (0.9, 3.1)])
def test_a_bar_gains_its_missing_width_along_its_free_length(was: float, wanted: float) -> None:
    """New card: the strip w + 2 margins wide, less the old bar, between the circles (circular segments by formula)."""
    mended = mend_piece([disc_bar(was)], limits(wanted), THIN)
    (region,) = mended.regions

    def free_area(width: float) -> float:
        # The strip between |x| = 15 - sqrt(100 - y^2): 30 w - 2 (integral of sqrt(100 - y^2) over the width).
        half = width / 2
        return 30 * width - 2 * (half * math.sqrt(100 - half**2) + 100 * math.asin(half / 10))

    (change,) = mended.changes
    assert change.code == "thin-neck"
    assert change.added_mm2 == pytest.approx(free_area(wanted + 0.01) - free_area(was), abs=1e-9)
    assert change.removed_mm2 == 0
    assert area_mm2(region) - area_mm2(disc_bar(was)) == pytest.approx(change.added_mm2, abs=1e-9)
    assert mended.left == ()
    (place,) = thin_places([region], wanted + 0.1)
    assert place.width_mm == pytest.approx(wanted + 0.01, abs=1e-9)


def test_the_bar_of_1_2_mended_for_1_5_takes_about_3_mm2() -> None:
    mended = mend_piece([disc_bar(1.2)], limits(1.5), THIN)
    assert len(mended.regions) == 1
    assert 2.9 < mended.changes[0].added_mm2 < 3.3
    assert all(isinstance(segment, Line | Arc) for segment in mended.regions[0].outer.segments)
    assert len(mended.regions[0].outer.segments) == 4, "two arcs of the discs, two lines of the strip"


@pytest.mark.parametrize("cap", ["round", "square"])
@pytest.mark.parametrize(("half", "wanted"), [(0.6, 1.5), (0.2, 1.2), (0.7, 1.45)])
def test_a_finger_grows_thicker_and_no_longer(cap: str, half: float, wanted: float) -> None:
    before = block_with_finger(8, half, cap)
    mended = mend_piece([before], limits(wanted), THIN)
    assert [change.code for change in mended.changes] == ["thin-finger"]
    assert mended.left == ()
    assert thin_places(mended.regions, wanted) == ()
    assert bounds(mended.regions).right == pytest.approx(8, abs=0.006)
    if cap == "square":
        ends = [s for s in mended.regions[0].outer.segments if isinstance(s, Line) and abs(s.start.real - 8) < 1e-6]
        assert any(abs(s.end - s.start) == pytest.approx(wanted + 0.01) for s in ends), "its end is straight again"


def test_a_slanted_end_keeps_its_slant() -> None:
    outline = Outline.from_points([-1.2j / 2, 8 - 0.6j, 8.4 + 0.6j, 0.6j, 10j, -20 + 10j, -20 - 10j, -10j])
    mended = mend_piece([Region(outline)], limits(1.5), THIN)
    assert mended.left == ()
    slanted = [
        s for s in mended.regions[0].outer.segments if abs((s.end - s.start) * (0.4 - 1.2j)) > 1.5 and s.start.real > 7
    ]
    way = slanted[0].end - slanted[0].start
    assert abs((way / (0.4 + 1.2j)).imag) < 1e-9


def test_a_ring_thin_all_round_is_thickened_inwards() -> None:
    ring = Region(circle(0, 10), (circle(0, 9).reversed(),))
    mended = mend_piece([ring], limits(1.5), THIN)
    assert mended.regions[0].outer == ring.outer, "the outside keeps its shape"
    assert -area_mm2(mended.regions[0].holes[0]) == pytest.approx(math.pi * (10 - 1.505) ** 2, abs=1e-6)


def test_a_web_between_holes_is_thickened_from_both_sides() -> None:
    plate = Region(circle(0, 26), (circle(-5.5, 5).reversed(), circle(5.5, 5).reversed()))
    view = View.from_regions([plate], limits(1.5))
    (place,) = (p for p in view.survey.card_places)
    after = applied([plate], [thicken(view, place, 1.5)])
    assert after.regions[0].outer is plate.outer
    left, right = (abs(area_mm2(hole)) for hole in after.regions[0].holes)
    assert left == pytest.approx(right, abs=1e-6)
    assert codes_left(after.regions, limits(1.5)) == []


def test_only_what_the_patch_reaches_is_changed() -> None:
    plate = Region(rectangle(-40, -20, 40, 20), tuple(circle(x, 2).reversed() for x in (-30, -20.8, -16, 0, 30)))
    view = View.from_regions([plate], limits(1.5))
    (place,) = view.survey.card_places
    patch = thicken(view, place, 1.5)
    after = applied([plate], [patch])
    assert_kept_elsewhere([plate], after.regions, reach(patch))
    changed = set(after.regions[0].holes) - set(plate.holes)
    assert set(plate.holes) - set(after.regions[0].holes) == set(plate.holes[1:3])
    arcs = {(s.center, abs(s.u)) for hole in changed for s in hole.segments if isinstance(s, Arc)}
    left = {(centre, radius) for centre, radius in arcs if radius > 1}
    assert left == {(-20.8 + 0j, 2.0), (-16 + 0j, 2.0)}, "what is left of the circles are arcs of the same circles"
    assert all(radius == pytest.approx(0.755) for _, radius in arcs - left), "and the new edge has the disc's radius"


def _mended(case: Planted) -> None:
    preset = limits(case.width_mm + 0.25)
    view = View.from_regions(case.regions, preset)
    places = [place for place in view.survey.card_places if place.kind != "tip"]
    patches = [thicken(view, place, preset.least_web_mm) for place in places]
    after = applied(case.regions, patches)
    for patch in patches:
        assert_kept_elsewhere(case.regions, after.regions, reach(patch))
    mended = mend_piece(case.regions, preset, THIN)
    assert mended.left == ()
    assert mended.rounds <= 3
    assert len(mended.regions) == len(case.regions)
    assert [code for code in codes_left(mended.regions, preset) if code in THIN] == []


@pytest.mark.parametrize("seed", [1, 4, 5])
def test_each_kind_of_planted_place_is_mended(seed: int) -> None:
    _mended(planted(seed))


@pytest.mark.slow
@pytest.mark.parametrize("seed", ON_CARD)
def test_every_planted_place_is_mended(seed: int) -> None:
    assert len(ON_CARD) == 140
    _mended(planted(seed))
