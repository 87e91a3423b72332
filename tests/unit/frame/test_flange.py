"""Flanges: teeth that stand side by side when folded, as many as asked or as are about 10 mm wide."""

from __future__ import annotations

import cmath
import math
import re
from itertools import pairwise

import pytest
import shapely
from fixtures.rows import KNIFE

from frameforge.errors import GeometryError
from frameforge.frame.base import Edge
from frameforge.frame.flange import TAPER_DEG, Flange, flange_of
from frameforge.frame.spec import FlangeSpec
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import area_mm2
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import ellipse

D80, OVAL = Edge(40, 40), Edge(60, 40)


def flange(edge: Edge = D80, height: float = 8.0, teeth: int | None = None) -> Flange:
    return flange_of(FlangeSpec(height, teeth), edge, KNIFE)


def corners(made: Flange) -> list[complex]:
    """The corners clockwise from the top: root, tip, tip, root, ..."""
    run = [segment.end for segment in reversed(made.card.outer.segments)]
    first = max(range(len(run)), key=lambda k: run[k].imag if abs(run[k].real) < 1e-9 else -1e9)
    return [*run[first:], *run[:first]]


@pytest.mark.parametrize("edge", [D80, OVAL])
def test_folded_teeth_do_not_overlap(edge: Edge) -> None:
    """Folded up along its root, a tooth covers of that line what lies straight below it: no more than the root."""
    found = corners(flange(edge))
    for root, tip, other, end in zip(found[0::3], found[1::3], found[2::3], [*found[3::3], found[0]], strict=True):
        along = (end - root) / abs(end - root)
        places = [((z - root) * along.conjugate()).real for z in (tip, other)]
        assert 0 < places[0] < places[1] < abs(end - root)


@pytest.mark.parametrize("edge", [D80, OVAL])
def test_the_wall_is_as_high_as_asked_everywhere(edge: Edge) -> None:
    """From the edge, which bulges beyond the line of the fold, to the tip."""
    made = flange(edge, 9.0)
    found = corners(made)
    for root, tip, end in zip(found[0::3], found[1::3], [*found[3::3], found[0]], strict=True):
        along = (end - root) / abs(end - root)
        high = ((tip - root) * along.conjugate()).imag
        near = [edge.point(edge.tau_towards(math.atan2(z.real, z.imag))) for z in ((root + end) / 2,)]
        bulge = ((near[0] - root) * along.conjugate()).imag
        assert high - bulge == pytest.approx(9.0, abs=0.02)
        assert high - made.bulge_mm <= 9.0 + 1e-9


def test_on_a_circle_all_is_told_by_the_count() -> None:
    made = flange(teeth=24)
    assert made.teeth == 24
    assert made.width_mm == pytest.approx(80 * math.sin(math.pi / 24))
    assert made.turn_deg == pytest.approx(15)
    assert made.notch_deg == pytest.approx(15 + 2 * TAPER_DEG)
    assert made.bulge_mm == pytest.approx(40 * (1 - math.cos(math.pi / 24)))
    lean = math.tan(math.radians(TAPER_DEG))
    assert made.tip_mm == pytest.approx(made.width_mm - 2 * lean * (8 + made.bulge_mm))


def test_left_to_us_teeth_are_about_10_mm_wide_and_12_at_least() -> None:
    assert flange().teeth == 25
    assert flange(Edge(15, 15), 4.0).teeth == 12


def test_the_disc_lies_inside_and_teeth_meet_on_its_edge() -> None:
    made = flange(OVAL)
    disc = to_polygon(Region(ellipse(0j, 60, 40)), 1e-3)
    assert shapely.difference(disc, to_polygon(made.card).buffer(2e-3)).area < 1e-6
    for root in corners(made)[0::3]:
        assert (root.real / 60) ** 2 + (root.imag / 40) ** 2 == pytest.approx(1, abs=1e-9)
    assert area_mm2(made.card) > 0


def test_no_notch_is_sharper_than_the_card_bears() -> None:
    made = flange(OVAL)
    assert made.notch_deg == pytest.approx(KNIFE.tip_deg, abs=0.02)
    found = corners(made)
    before, after = [found[-1], *found[2:-1:3]], found[1::3]
    notches = [
        abs(math.degrees(cmath.phase((b - root) / (a - root))))
        for root, a, b in zip(found[0::3], before, after, strict=True)
    ]
    assert min(notches) == pytest.approx(made.notch_deg, abs=1e-6)


def test_teeth_too_wide_to_fold_are_refused_and_the_count_offered_holds() -> None:
    with pytest.raises(GeometryError, match="bulges") as caught:
        flange(teeth=8)
    offer = int(re.search(r"teeth = (\d+)", str(caught.value))[1])  # type: ignore[index]
    assert flange(teeth=offer).bulge_mm <= 1.0
    with pytest.raises(GeometryError):
        flange(teeth=offer - 1)


def test_teeth_that_come_to_a_point_are_refused_with_what_would_do() -> None:
    with pytest.raises(GeometryError, match="wide at their tips") as caught:
        flange(height=15.0, teeth=80)
    fewer = int(re.search(r"teeth = (\d+)", str(caught.value))[1])  # type: ignore[index]
    lower = float(re.search(r"height of ([\d.]+) mm", str(caught.value))[1])  # type: ignore[index]
    assert flange(height=15.0, teeth=fewer).tip_mm >= KNIFE.least_finger_mm
    assert flange(height=lower, teeth=80).tip_mm >= KNIFE.least_finger_mm - 1e-9


def test_corners_stand_in_turn() -> None:
    turns = [math.atan2(z.real, z.imag) % math.tau for z in corners(flange(teeth=20))[0::3]]
    assert [b - a for a, b in pairwise(turns)] == pytest.approx([math.tau / 20] * 19)


def test_left_to_us_teeth_are_narrower_where_an_oval_is_sharply_curved() -> None:
    made = flange(Edge(74.3, 30.0), 4.0)
    assert made.teeth == 35
    assert made.bulge_mm <= 1.0


def test_teeth_that_come_to_a_point_are_refused_with_fewer_or_lower_ones_that_hold() -> None:
    with pytest.raises(GeometryError) as fault:
        flange(Edge(10, 10), 40.0, 12)
    assert fault.value.say == (
        "12 teeth 40 mm high are 0 mm wide at their tips, this card needs 1.5 mm. "
        "Take teeth = 7 or a height of 20.6 mm or less."
    )
    assert flange(Edge(10, 10), 40.0, 7).tip_mm >= 1.5 > flange_tip(8)
    assert flange(Edge(10, 10), 20.6, 12).tip_mm >= 1.5


def flange_tip(teeth: int) -> float:
    with pytest.raises(GeometryError) as fault:
        flange(Edge(10, 10), 40.0, teeth)
    return fault.value.numbers["tip_mm"]


def test_only_what_holds_is_offered() -> None:
    """On a circle of 10 mm fifteen teeth hold and are no lower way out: a lower wall would be under a millimetre."""
    with pytest.raises(GeometryError, match=r"are 0\.51 mm wide .* Take teeth = 15\.$"):
        flange(Edge(5, 5), 3.0, 30)


def test_a_base_is_offered_on_which_as_many_teeth_hold() -> None:
    """Six teeth 3 mm high on 3 mm are 1.5 mm wide at their roots; a tooth leans in by 5 degrees a side, and more."""
    with pytest.raises(GeometryError, match=r"Take a base of 5 mm or more\.$"):
        flange(Edge(1.5, 1.5), 3.0, 6)
    assert flange(Edge(2.5, 2.5), 3.0, 6).tip_mm >= 1.5
    with pytest.raises(GeometryError) as fault:
        flange(Edge(1.5, 1.2), 9.0, 6)
    width, height = map(float, re.findall(r"Take a base of (\d+) x (\d+) mm or more", fault.value.say)[0])
    assert flange(Edge(width / 2, height / 2), 9.0, 6).tip_mm >= 1.5
    with pytest.raises(GeometryError, match=r"Take a much lower flange, or no stated teeth\.$"):
        flange(Edge(1.5, 1.5), 90.0, 6)


def test_fewer_teeth_that_would_bulge_are_no_way_out() -> None:
    """On 400 mm teeth fold along lines that the edge bulges over by 1 mm with 31 of them: R (1 - cos pi/n)."""
    with pytest.raises(GeometryError, match=r"62 teeth 250 mm high .* Take a height of 75 mm or less\.$"):
        flange(Edge(200, 200), 250.0, 62)
    assert flange(Edge(200, 200), 75.0, 62).tip_mm >= 1.5


@pytest.mark.parametrize(("teeth", "lean_deg"), [(18, 5.0), (35, 5.0), (40, 5.5 + math.degrees(1e-4))])
def test_round_a_circle_all_measures_are_closed_forms(teeth: int, lean_deg: float) -> None:
    """Width 2 R sin(pi/n), bulge R (1 - cos(pi/n)), turn 360/n; sides lean in by 5 deg or half of what lacks of 20."""
    made = flange(teeth=teeth, height=6.0)
    width, bulge = 80 * math.sin(math.pi / teeth), 40 * (1 - math.cos(math.pi / teeth))
    assert made.teeth == teeth
    assert made.width_mm == pytest.approx(width, abs=1e-9)
    assert made.bulge_mm == pytest.approx(bulge, abs=1e-9)
    assert made.tip_mm == pytest.approx(width - 2 * (6 + bulge) * math.tan(math.radians(lean_deg)), abs=1e-9)
    assert made.turn_deg == pytest.approx(360 / teeth, abs=1e-9)
    assert made.notch_deg == pytest.approx(360 / teeth + 2 * lean_deg, abs=1e-9)
    across = width * 40 * math.cos(math.pi / teeth) / 2 + (width + made.tip_mm) / 2 * (6 + bulge)
    assert area_mm2(made.card) == pytest.approx(teeth * across, abs=1e-8)


@pytest.mark.parametrize(("radius", "teeth"), [(12.0, 12), (19.8, 12), (20.0, 13), (40.0, 25), (1200.0, 720)])
def test_left_to_us_teeth_are_about_10_mm_wide_12_at_least_and_720_at_most(radius: float, teeth: int) -> None:
    assert flange(Edge(radius, radius), 2.0).teeth == teeth


def test_teeth_too_wide_to_fold_are_told_with_how_far_the_edge_bulges() -> None:
    """40 (1 - cos(pi/8)) = 3.044; with 15 it is .874, with 14 still 1.003."""
    for teeth, bulge in ((8, "3.04"), (14, "1")):
        with pytest.raises(GeometryError) as fault:
            flange_of(FlangeSpec(8.0, teeth), D80, KNIFE, where="lid")
        assert str(fault.value) == (
            f"lid: {teeth} teeth are so wide that the edge bulges {bulge} mm beyond the line they fold along. "
            "Take teeth = 15 or more."
        )
        assert (fault.value.code, fault.value.numbers) == ("flange", {"teeth": teeth})


def test_a_lower_wall_is_offered_from_a_millimetre_on() -> None:
    """20 teeth round 14 mm are 2.19 mm wide: what the sides may lean in by is gone at a height of some 3.8 mm."""
    with pytest.raises(GeometryError) as fault:
        flange_of(FlangeSpec(6.0, 20), Edge(7, 7), KNIFE, where="lid")
    assert str(fault.value).startswith("lid: 20 teeth 6 mm high are 1.12 mm wide at their tips, this card needs 1.5 mm")
    width, bulge, lean = 14 * math.sin(math.pi / 20), 7 * (1 - math.cos(math.pi / 20)), math.tan(math.radians(5))
    assert fault.value.numbers == {"teeth": 20, "tip_mm": pytest.approx(width - 2 * (6 + bulge) * lean)}
    lower = math.floor(((width - 1.5) / (2 * lean) - bulge) * 10) / 10
    assert fault.value.say.endswith(f" or a height of {lower:g} mm or less.")
