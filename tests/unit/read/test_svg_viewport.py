"""The page in millimetres, and viewBox with preserveAspectRatio.

Source: SVG 2 sections 8.2 (the equivalent transform) and 8.6; CSS: 96 px to the inch.
"""

from __future__ import annotations

from xml.etree.ElementTree import fromstring

import pytest

from frameforge.errors import InputError
from frameforge.read.svg_viewport import Page, fit_view_box, read_page, read_view_box


def page(attributes: str) -> Page:
    """Return the page of a root element with these attributes."""
    return read_page(fromstring(f"<svg {attributes}/>"), where="leaf.svg")


def test_a_page_in_mm_is_kept_to_the_bit_and_turned_upright() -> None:
    found = page('width="20mm" height="30mm" viewBox="0 0 20 30"')
    assert (found.width_mm, found.height_mm) == (20, 30)
    assert found.to_mm.apply(0j) == 30j
    assert found.to_mm.apply(20 + 30j) == 20


def test_without_a_size_a_unit_is_a_pixel() -> None:
    found = page('viewBox="0 0 96 192"')
    assert (found.width_mm, found.height_mm) == (None, None)
    assert found.to_mm.apply(96 + 0j) == pytest.approx(25.4 + 50.8j)
    bare = page("")
    assert (bare.width_mm, bare.is_bounded) == (None, False)
    assert bare.to_mm.apply(96 + 96j) == pytest.approx(25.4 - 25.4j)


def test_one_side_takes_its_fellow_from_the_view_box() -> None:
    found = page('width="50mm" viewBox="0 0 10 20"')
    assert (found.width_mm, found.height_mm) == (50, 100)
    found = page('height="50mm" width="100%" viewBox="0 0 10 20"')
    assert (found.width_mm, found.height_mm) == (25, 50)


@pytest.mark.parametrize("attributes", ['width="0" height="5"', 'width="5" height="-2mm"'])
def test_a_page_of_no_size_is_refused(attributes: str) -> None:
    with pytest.raises(InputError, match=r"it must be above 0"):
        page(attributes)


@pytest.mark.parametrize(
    ("ratio", "corner", "far"),
    [
        (None, 25 + 0j, 75 + 100j),
        ("xMidYMid", 25 + 0j, 75 + 100j),
        ("xMinYMin meet", 0j, 50 + 100j),
        ("xMaxYMid meet", 50 + 0j, 100 + 100j),
        ("none", 0j, 100 + 100j),
        ("xMidYMid slice", -50j, 100 + 150j),
        ("xMidYMin slice", 0j, 100 + 200j),
        ("xMidYMax slice", -100j, 100 + 100j),
        ("defer xMinYMin", 0j, 50 + 100j),
        ("sideways", 25 + 0j, 75 + 100j),
    ],
)
def test_a_tall_view_in_a_square_port(ratio: str | None, corner: complex, far: complex) -> None:
    """A view of 10 x 20 at 5, 5 in a port of 100 x 100."""
    affine = fit_view_box((5, 5, 10, 20), 100, 100, ratio)
    assert affine.apply(5 + 5j) == pytest.approx(corner)
    assert affine.apply(15 + 25j) == pytest.approx(far)


@pytest.mark.parametrize("text", [None, "", "0 0 10", "0 0 0 10", "0 0 10 -1", "a b c d", "0 0 1e400 5"])
def test_a_view_box_that_cannot_be_used_is_none(text: str | None) -> None:
    assert read_view_box(text) is None
