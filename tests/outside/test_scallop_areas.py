"""Scalloped discs against closed forms computed apart from this project (areas with 40 digits by mpmath)."""

from __future__ import annotations

import math

import pytest
from fixtures.outlines import disc, spokes

from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.combine import Copies, evaluate, union
from frameforge.geometry.line import Line
from frameforge.geometry.measure import area_mm2, bounds, length_mm
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region

RADIUS = 50.0

HALF_DISCS = {6: 12385.676753864, 8: 11671.823734419, 12: 10656.702054288, 16: 10045.063661805}
"""Half-discs on the sides of the inscribed polygon, R = 50: (n/2) R^2 sin(2 pi/n) + (n pi/2) R^2 sin^2(pi/n)."""

TANGENT_DISCS = {6: 14373.454936115, 8: 12829.739750274, 12: 11184.351498275, 16: 10344.473582693}
"""Discs of radius R sin(pi/n) centred on the circle, neighbours tangent, united with the disc of R = 50."""


@pytest.mark.parametrize(("count", "area"), HALF_DISCS.items())
def test_half_discs_on_a_polygon(count: int, area: float) -> None:
    corners = [RADIUS * complex(math.cos(k * math.tau / count), math.sin(k * math.tau / count)) for k in range(count)]
    polygon = Region(Outline.from_points(corners))
    side = RADIUS * math.sin(math.pi / count)
    arc = Arc.from_circle(0, side, -math.pi / 2, math.pi)
    half = Region(Outline((arc, Line(arc.end, arc.start))))
    apothem = RADIUS * math.cos(math.pi / count)
    combined = evaluate(union(polygon, Copies(half, spokes(count, apothem, half_step=True))))
    assert combined.report.is_exact
    assert area_mm2(combined.regions) == pytest.approx(area, abs=1e-6)
    assert length_mm(combined.regions) == pytest.approx(count * math.pi * side, abs=1e-6)
    reach = RADIUS * (math.cos(math.pi / count) + math.sin(math.pi / count))
    turned = [region.transformed(Affine.from_turn(math.pi / count)) for region in combined.regions]
    assert bounds(turned).right == pytest.approx(reach, abs=1e-9)


@pytest.mark.parametrize(("count", "area"), TANGENT_DISCS.items())
def test_tangent_discs_round_a_disc(count: int, area: float) -> None:
    small = disc(RADIUS * math.sin(math.pi / count))
    combined = evaluate(union(disc(RADIUS), Copies(small, spokes(count, RADIUS))))
    assert combined.report.is_exact
    assert area_mm2(combined.regions) == pytest.approx(area, abs=1e-6)
