"""Teeth by hand: which rows are measured by them, and how far a wall stands from the next."""

from __future__ import annotations

import math
from typing import Any

import pytest
from fixtures.plain_motifs import leaf
from fixtures.rows import D100, model_of

from frameforge.frame import tooth
from frameforge.frame.base import Edge
from frameforge.frame.solve import count_for
from frameforge.frame.spec import Size
from frameforge.frame.tooth import cut_standing, is_of_teeth, tooth_widths_mm
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.motif.motif import Motif

POINTS = (0j, -2 - 3j, -0.8 - 3j, -0.8 - 9j, 0.8 - 9j, 0.8 - 3j, 2 - 3j)
SPEAR = Motif("spear", (Region(Outline.from_points(POINTS)),), 12.0, cut_away=(Region(rectangle(-6, -8, 6, 0.3)),))
NOTCH = Motif("notch", (Region(rectangle(-1.5, -1, 1.5, 8)),), 3.0, cut_away=(Region(rectangle(-4, -3, 4, 1)),))
O60 = Size(60, 60)


def test_only_corner_motifs_in_an_opening_are_measured_by_their_teeth() -> None:
    inner: dict[str, Any] = {"place": "in", "opening": O60}
    assert is_of_teeth(model_of(SPEAR, **inner).layout(D100, 6, 1.0))
    assert is_of_teeth(model_of(leaf(), SPEAR, **inner).layout(D100, 6, 1.0))
    assert not is_of_teeth(model_of(SPEAR).layout(D100, 6, 1.0))
    assert not is_of_teeth(model_of(NOTCH, **inner).layout(D100, 6, 1.0))
    assert not is_of_teeth(model_of(leaf()).layout(D100, 6, 1.0))


@pytest.mark.parametrize("count", [2, 3, 12])
def test_in_an_opening_a_tooth_is_narrowest_at_its_edge(count: int) -> None:
    """Walls run outwards 4 mm beside the axis of a foot that lies at sqrt(30^2 - 1.5^2).

    They meet the edge of 30 mm at sqrt(30^2 - 4^2): between two of them 2 (y sin(pi/n) - 4 cos(pi/n)).
    """
    model = model_of(NOTCH, place="in", opening=O60)
    layout = model.layout(D100, count, 1.0)
    low = min(math.sqrt(900 - 16), math.sqrt(900 - 2.25) - 1)
    found = tooth_widths_mm(layout, Edge.from_size(O60))
    assert len(found) == count
    if count > 2:
        wanted = 2 * (low * math.sin(math.pi / count) - 4 * math.cos(math.pi / count))
        assert found == pytest.approx([wanted] * count, abs=0.02)


def test_the_cut_away_stands_where_its_motif_does() -> None:
    layout = model_of(NOTCH).layout(D100, 4, 1.0)
    points = cut_standing(layout, 1).points
    foot = math.sqrt(2500 - 2.25)
    assert points.real.min() == pytest.approx(foot - 3)
    assert points.real.max() == pytest.approx(foot + 1)
    assert (points.imag.min(), points.imag.max()) == pytest.approx((-4, 4))


def test_how_far_a_point_is_from_a_wall() -> None:
    wall = (0j, 10j)
    assert tooth._to_wall(3 + 5j, wall) == pytest.approx(3)
    assert tooth._to_wall(-3 + 5j, wall) == pytest.approx(3)
    assert tooth._to_wall(3 + 14j, wall) == pytest.approx(5)
    assert tooth._to_wall(3 - 4j, wall) == pytest.approx(5)
    assert tooth._to_wall(3 + 4j, (0j, 0j)) == pytest.approx(5), "a wall of no length"
    slanted = (1 + 1j, 5 + 5j)
    assert tooth._to_wall(3 + 1j, slanted) == pytest.approx(math.sqrt(2))


def test_two_walls_are_apart_by_the_ends_of_both() -> None:
    assert tooth._apart((0j, 10j), (4 + 2j, 6 + 8j)) == pytest.approx(
        (abs(4 + 2j), tooth._to_wall(10j, (4 + 2j, 6 + 8j)), 4, 6)
    )


def test_the_outline_of_a_cut_away_is_worked_out_once() -> None:
    assert tooth._cut_profile(NOTCH) is tooth._cut_profile(NOTCH)


def test_other_motifs_between_corner_motifs_in_an_opening_keep_their_gaps() -> None:
    """No two cut-aways are neighbours, so that there is no tooth: what is left is the gap of unlike neighbours."""
    mixed = model_of(SPEAR, leaf(), place="in", opening=O60)
    layout = mixed.layout(D100, 4, 1.0)
    assert tooth_widths_mm(layout, mixed.own_edge(D100, layout)) == []
    assert mixed.clearance_mm(D100, 4, 1.0) == pytest.approx(min(gap.gap_mm for gap in layout.gaps if gap), abs=1e-9)
    most = count_for(mixed, D100, 1.0, 2.0)
    assert 4 < most < 40
    assert mixed.clearance_mm(D100, most, 1.0) >= 2 > mixed.clearance_mm(D100, most + 2, 1.0)


def test_between_a_cut_away_and_none_there_is_no_tooth() -> None:
    mixed = model_of(NOTCH, leaf())
    assert tooth_widths_mm(mixed.layout(D100, 6, 1.0), Edge(50, 50)) == []
    three = model_of(NOTCH, NOTCH, leaf()).layout(D100, 6, 1.0)
    assert len(tooth_widths_mm(three, Edge(50, 50))) == 2
