"""Parting over pages: ceil((W - o)/(p - o)) pages, every point of the drawing on one of them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from frameforge.picture.paper.tiles import pages_along, tiled


def test_300_by_300_on_190_by_277_takes_4_pages() -> None:
    """The formula's worked example: an overlap of 10 mm."""
    assert tiled((300, 300), (190, 277), 10).pages == 4


@pytest.mark.parametrize(
    ("length", "pages"), [(1, 1), (190, 1), (190.0000000001, 1), (190.01, 2), (370, 2), (370.01, 3)]
)
def test_a_page_more_as_soon_as_the_last_is_full(length: float, pages: int) -> None:
    assert pages_along(length, 190, 10) == pages


@given(
    st.floats(1, 2000), st.floats(1, 2000), st.floats(100, 400), st.floats(100, 400), st.floats(0, 40),
    st.floats(0, 1), st.floats(0, 1),
)  # fmt: skip
def test_every_point_is_on_a_page(w: float, h: float, p: float, q: float, o: float, u: float, v: float) -> None:
    tiling = tiled((w, h), (p, q), o)
    whole_w, whole_h = tiling.whole_mm
    assert whole_w >= w - 1e-6
    assert whole_h >= h - 1e-6
    x, y = u * whole_w, v * whole_h
    corners = [tiling.corner(c, r) for c in range(tiling.columns) for r in range(tiling.rows)]
    slack = 1e-6
    assert any(c.real - slack <= x <= c.real + p + slack and c.imag - slack <= y <= c.imag + q + slack for c in corners)


@pytest.mark.parametrize(("page", "overlap"), [(10, 10), (10, 11), (10, -1)])
def test_a_page_without_room_beside_its_overlap_is_refused(page: float, overlap: float) -> None:
    with pytest.raises(ValueError, match="leaves no room"):
        pages_along(100, page, overlap)
