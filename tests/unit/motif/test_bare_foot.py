"""A foot alone: as wide as asked, and its gap to the next one is that of the foot ends wherever it stands."""

from __future__ import annotations

import pytest
from fixtures.rows import model_of

from frameforge.frame.spec import Size
from frameforge.geometry.measure import area_mm2
from frameforge.motif.bare_foot import BARE_FOOT, bare_foot


def test_it_is_a_sliver_as_wide_as_asked() -> None:
    foot = bare_foot(20.0)
    assert (foot.name, foot.foot_mm) == (BARE_FOOT, 20.0)
    (card,) = foot.join
    assert 0 < area_mm2(card) <= 20 * 0.2 / 2


@pytest.mark.parametrize(("size", "count"), [(Size(100, 100), 12), (Size(60, 60), 3), (Size(150, 100), 14)])
@pytest.mark.parametrize("place", ["out", "in"])
def test_gaps_are_those_of_the_foot_ends(size: Size, count: int, place: str) -> None:
    more: dict[str, object] = {"place": place}
    if place == "in":
        more["opening"] = size
        size = Size(size.width_mm + 30, size.height_mm + 30)
    layout = model_of(bare_foot(16.0), size=size, **more).layout(size, count, 1.0)  # type: ignore[arg-type]
    pairs = zip(layout.gaps, layout.foot_gaps, strict=True)
    assert all(gap is not None and foot == pytest.approx(gap.gap_mm, abs=1e-9) for gap, foot in pairs)
