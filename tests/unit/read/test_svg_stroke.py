"""A style's stroke properties become a pen.

Source: SVG 2 sections 13.5.2 - 13.5.6 (initial values, odd dash lists taken twice, negative values not rendered).
"""

from __future__ import annotations

import itertools
import math

import pytest
import shapely

from frameforge.errors import InputError
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.geometry.region import Region
from frameforge.geometry.stroke import Pen
from frameforge.read.svg import read_drawing
from frameforge.read.svg_stroke import pen_of
from frameforge.read.svg_style import ROOT_STYLE, inherit


def pen(viewport: complex = 100 + 100j, **properties: str) -> Pen:
    """Return the pen of these stroke properties (without their ``stroke-``), a unit being a millimetre."""
    return pen_of(inherit(ROOT_STYLE, {f"stroke-{key}": value for key, value in properties.items()}), viewport, 1.0)


def stroked(attributes: str, *, around: str = "") -> tuple[Region, ...]:
    """Return what a path covers that has a stroke and no fill; a unit is a millimetre."""
    text = (
        f'<svg width="100mm" height="100mm" viewBox="0 0 100 100"><g fill="none" stroke="red" {around}>'
        f"<path {attributes}/></g></svg>"
    )
    return read_drawing(text.encode(), where="leaf.svg").join


def area(attributes: str, *, around: str = "") -> float:
    """Return the area that such a stroke covers."""
    return sum(map(area_mm2, stroked(attributes, around=around)))


def test_initial_values() -> None:
    assert pen() == Pen(1, "butt", "mitre", 4)


def test_values_are_taken() -> None:
    found = pen(width="2mm", linecap="round", linejoin="bevel", miterlimit="2.5", dashoffset="3")
    assert found.width_mm == pytest.approx(2 * 96 / 25.4)
    assert (found.cap, found.join, found.mitre_limit, found.dash_offset_mm) == ("round", "bevel", 2.5, 3)
    assert pen(linejoin="miter-clip").join == "mitre"
    assert pen(miterlimit=".5").mitre_limit == 1


def test_percentages_are_of_the_viewports_diagonal() -> None:
    """sqrt(30^2 + 40^2) / sqrt(2), so 10 % of 35.355."""
    assert pen(30 + 40j, width="10%").width_mm == pytest.approx(3.5355339)


@pytest.mark.parametrize(
    ("text", "dashes"),
    [
        ("none", ()),
        ("5", (5, 5)),
        ("5, 2 1", (5, 2, 1, 5, 2, 1)),
        ("1 2,3 4", (1, 2, 3, 4)),
        ("0 0", ()),
        ("4 -1", ()),
        ("4 dots", ()),
        ("1em 2", (16, 2)),
        ("0 5", (0, 5)),
    ],
)
def test_dashes(text: str, dashes: tuple[float, ...]) -> None:
    assert pen(dasharray=text).dashes_mm == pytest.approx(dashes)


def test_a_negative_width_counts_as_not_given() -> None:
    assert pen(width="-3").width_mm == 1
    assert pen(width="wide").width_mm == 1


LINE = 'd="M10 10H30"'


def test_caps_and_joins_in_closed_form() -> None:
    """A bar of 20 x 4; caps add a disc or two half squares; a right corner adds a point, a triangle, a quarter disc."""
    assert area(f'{LINE} stroke-width="4"') == pytest.approx(80)
    assert area(f'{LINE} stroke-width="4" stroke-linecap="round"') == pytest.approx(80 + 4 * math.pi)
    assert area(f'{LINE} stroke-width="4" stroke-linecap="square"') == pytest.approx(96)
    corner = 'd="M10 10H30V30" stroke-width="4"'
    assert area(corner) == pytest.approx(160)
    assert area(f'{corner} stroke-linejoin="bevel"') == pytest.approx(158)
    assert area(f'{corner} stroke-linejoin="round"') == pytest.approx(156 + math.pi)
    assert area(f'{corner} stroke-miterlimit="1.4"') == pytest.approx(158)


def test_a_closed_line_is_a_ring() -> None:
    (ring,) = stroked('d="M10 10H40V30H10Z" stroke-width="2"')
    assert len(ring.holes) == 1
    assert area_mm2(ring) == pytest.approx(32 * 22 - 28 * 18)


def test_dashes_are_cut_apart() -> None:
    regions = stroked(f'{LINE} stroke-width="4" stroke-dasharray="3 2" stroke-dashoffset="1"')
    assert [round(area_mm2(region), 9) for region in regions] == [8, 12, 12, 12, 4]


def test_a_dot_shows_by_its_caps_only() -> None:
    dot = 'd="M10 10Z" stroke-width="4"'
    assert area(f'{dot} stroke-linecap="round"') == pytest.approx(4 * math.pi)
    assert area(f'{dot} stroke-linecap="square"') == pytest.approx(16)
    with pytest.raises(InputError, match="holds nothing that can be cut"):
        area(dot)


def test_a_stroke_is_mapped_with_its_shape_unless_it_keeps_its_width() -> None:
    """Twice as wide across and once down: an upright bar is 8 wide, a level one 4."""
    assert area('d="M10 10V30" stroke-width="4"', around='transform="scale(2 1)"') == pytest.approx(160)
    assert area('d="M10 10H20" stroke-width="4"', around='transform="scale(2 1)"') == pytest.approx(80)
    assert area('d="M10 10H20" stroke-width="4"', around='transform="rotate(20) scale(-2)"') == pytest.approx(160)
    fixed = 'd="M10 10H20" stroke-width="4" vector-effect="non-scaling-stroke"'
    assert area(fixed, around='transform="scale(2 1)"') == pytest.approx(20 * 4 * 25.4 / 96)


def test_strokes_of_one_pen_are_one_with_each_other_and_with_fills() -> None:
    (cross,) = stroked('d="M10 20H30M20 10V30" stroke-width="2"')
    assert area_mm2(cross) == pytest.approx(76)
    (both,) = stroked('d="M10 10H20V20H10Z" fill="red" stroke-width="2"')
    assert bounds(both).width_mm == pytest.approx(12)
    assert area_mm2(both) == pytest.approx(144)


def test_paint_order_counts_for_white_strokes() -> None:
    text = (
        '<svg width="40mm" height="40mm" viewBox="0 0 40 40"><rect width="20" height="20" fill="black"/>'
        '<path d="M0 10H20" stroke="white" stroke-width="4"/>'
        '<path d="M10 0V20" stroke="black" stroke-width="4"/></svg>'
    )
    found = read_drawing(text.encode(), where="leaf.svg", white="cuts")
    assert sum(map(area_mm2, found.join)) == pytest.approx(400 - 80 + 16)


@pytest.mark.parametrize("pen_text", ['stroke-width="1e8"', 'stroke-width=".1" stroke-dasharray=".1"'])
def test_endless_strokes_are_refused(pen_text: str) -> None:
    with pytest.raises(InputError, match=r"^leaf\.svg, path 1: its stroke "):
        stroked(f'd="M0 0H1000" {pen_text}')


def test_dashes_too_fine_to_cut_are_a_whole_line() -> None:
    assert area(f'{LINE} stroke-width="2" stroke-dasharray=".01"') == pytest.approx(40)


def test_a_handle_of_no_length_does_not_turn_the_end() -> None:
    """Two ends turned by a handle of a ten-thousandth: what is drawn is the straight bar, length times width."""
    line = 'd="M20 80C20.0001 80 80 20 80.0001 20" stroke-width="10"'
    assert area(line) == pytest.approx(600 * math.sqrt(2), rel=1e-4)


def test_a_line_that_bends_more_tightly_than_it_is_wide_is_nearly_right_and_told() -> None:
    """The second road is the definition: all that the pen's cross stroke sweeps (SVG 2 section 13.5), by shapely."""
    text = (
        '<svg width="200mm" height="200mm" viewBox="0 0 200 200">'
        '<path d="M20 160C21 160 160 20 161 20" fill="none" stroke="red" stroke-width="20"/></svg>'
    )
    found = read_drawing(text.encode(), where="leaf.svg")
    curve = Cubic(20 + 160j, 21 + 160j, 160 + 20j, 161 + 20j)
    steps = [(1 - math.cos(math.pi * i / 20_000)) / 2 for i in range(20_001)]
    across = [10j * v / abs(v) for v in map(curve.velocity, steps)]
    points = [curve.point(t) for t in steps]
    quads = [
        shapely.Polygon([(z.real, z.imag) for z in (p - a, q - b, q + b, p + a)]).convex_hull
        for (p, a), (q, b) in itertools.pairwise(zip(points, across, strict=True))
    ]
    assert sum(map(area_mm2, found.join)) == pytest.approx(shapely.union_all(quads).area, rel=0.006)
    assert any("bends more tightly than it is wide" in note for note in found.notes)
