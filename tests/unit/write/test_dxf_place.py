"""Where points come to lie in a DXF. An inch is 25.4 mm exactly (international yard and pound agreement, 1959)."""

from __future__ import annotations

import pytest

from frameforge.geometry.box import Box
from frameforge.write.dxf_place import DxfPlace

PAGE = Box(-50.5, -30, 49.5, 20)


def test_the_lower_left_corner_is_the_origin() -> None:
    place = DxfPlace(PAGE)
    assert place.length(place.steps(-50.5 - 30j)) == (0, 0)
    assert place.length(place.steps(0.25 + 1j)) == (50.75, 31)
    assert place.size() == (100, 50)


def test_millimetres_have_six_decimals_and_inches_eight() -> None:
    assert DxfPlace(PAGE).steps(-50.4999994 - 30j) == (1, 0)
    place = DxfPlace(PAGE, "in")
    assert place.size() == pytest.approx((100 / 25.4, 50 / 25.4), abs=5e-9)
    assert place.steps(-25.1 - 30j) == (100_000_000, 0)


def test_only_finite_numbers_can_be_written() -> None:
    with pytest.raises(ValueError, match="finite"):
        DxfPlace(PAGE).steps(complex("nan"))
