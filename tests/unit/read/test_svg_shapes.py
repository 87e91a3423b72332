"""Basic shapes become the curves that chapter 10 of SVG 2 (9 of SVG 1.1) describes."""

from __future__ import annotations

import math

import pytest

from frameforge.geometry.affine import IDENTITY
from frameforge.geometry.arc import Arc
from frameforge.geometry.line import Line
from frameforge.geometry.measure import area_mm2
from frameforge.read.path_grammar import Fault
from frameforge.read.svg_curves import Subpath
from frameforge.read.svg_shapes import shape_subpaths


def shape(name: str, **attributes: float | str) -> tuple[tuple[Subpath, ...], Fault | None]:
    """Return the subpaths of a shape with these attributes."""
    texts = {key: str(value) for key, value in attributes.items()}

    def lengths(key: str, direction: str) -> float | None:
        return float(texts[key]) if key in texts else None

    return shape_subpaths(name, texts.get, lengths)


def area(name: str, **attributes: float | str) -> float:
    """Return the area a shape encloses, 0 for none; on screen its curve must run clockwise, so it counts positive."""
    subpaths, fault = shape(name, **attributes)
    assert fault is None
    outlines = [subpath.to_outline(IDENTITY, 1e-9) for subpath in subpaths]
    return sum(area_mm2(outline) for outline in outlines if outline is not None)


def test_areas_of_the_shapes() -> None:
    """Closed forms: a b, pi r^2, pi a b, and (4 - pi) rx ry less for rounded corners."""
    assert area("rect", width=4, height=3) == pytest.approx(12)
    assert area("circle", r=2) == pytest.approx(4 * math.pi)
    assert area("ellipse", rx=2, ry=3) == pytest.approx(6 * math.pi)
    assert area("rect", x=1, y=1, width=10, height=8, rx=2, ry=3) == pytest.approx(80 - (4 - math.pi) * 6)
    assert area("polygon", points="0,0 4,0 4,3") == pytest.approx(6)
    assert area("polyline", points="0,0 4,0 4,3") == pytest.approx(6)
    assert area("path", d="M0 0H4V3Z") == pytest.approx(6)


@pytest.mark.parametrize(
    ("radii", "wanted"),
    [
        ({"rx": 2}, (2, 2)),
        ({"ry": 2}, (2, 2)),
        ({"rx": 50}, (5, 4)),
        ({"rx": 50, "ry": 1}, (5, 1)),
        ({"rx": -1, "ry": 2}, (2, 2)),
        ({"rx": 3, "ry": 30}, (3, 4)),
    ],
)
def test_corner_radii_are_completed_and_clamped(radii: dict[str, float], wanted: tuple[float, float]) -> None:
    """SVG 2 section 10.2: one radius alone counts for both, each is at most half its side."""
    assert area("rect", width=10, height=8, **radii) == pytest.approx(80 - (4 - math.pi) * wanted[0] * wanted[1])


def test_a_rect_that_is_all_corner_has_no_sides_left() -> None:
    ((subpath,), _) = shape("rect", width=10, height=10, rx=5)
    assert [type(segment) for segment in subpath.segments] == [Arc] * 4
    ((subpath,), _) = shape("rect", width=12, height=10, rx=5)
    assert [type(segment) for segment in subpath.segments].count(Line) == 2
    assert subpath.end == subpath.start


@pytest.mark.parametrize(
    ("name", "attributes"),
    [
        ("rect", {"width": 0, "height": 3}),
        ("rect", {"width": -4, "height": 3}),
        ("rect", {"height": 3}),
        ("circle", {}),
        ("circle", {"r": -1}),
        ("ellipse", {"rx": 1, "ry": 0}),
        ("polygon", {"points": "1,1"}),
        ("polygon", {}),
        ("path", {}),
        ("path", {"d": "none"}),
    ],
)
def test_a_shape_without_extent_draws_nothing(name: str, attributes: dict[str, float | str]) -> None:
    assert shape(name, **attributes) == ((), None)


def test_an_ellipse_with_one_radius_is_a_circle() -> None:
    """SVG 2 section 10.4: ``auto`` takes the other radius."""
    assert area("ellipse", rx=2) == pytest.approx(4 * math.pi)


def test_a_line_is_open_and_a_polygon_closed() -> None:
    ((line,), _) = shape("line", x2=3, y2=4)
    assert (line.segments, line.is_closed) == ((Line(0j, 3 + 4j),), False)
    ((polygon,), _) = shape("polygon", points="0 0 1 0 1 0 1 1")
    assert (len(polygon.segments), polygon.is_closed) == (3, True)


def test_an_odd_last_number_is_left_out_and_told() -> None:
    subpaths, fault = shape("polygon", points="0,0 4,0 4,3 9")
    assert fault is not None
    assert fault.is_harmless
    assert len(subpaths[0].segments) == 3


def test_path_data_may_stand_in_css() -> None:
    assert area("path", d='path("M0 0H4V3Z")') == pytest.approx(6)
    assert area("path", d="path(evenodd, 'M0 0H4V3Z')") == pytest.approx(6)
