"""Nothing but good texts are given out."""

from __future__ import annotations

from typing import Literal

import pytest
from fixtures.cut_pages import RECIPE, disc, page_of, tent

from frameforge.errors import FrameforgeError
from frameforge.write import checked
from frameforge.write.checked import checked_dxf, checked_svg
from frameforge.write.compare import measured_page
from frameforge.write.dxf import to_dxf
from frameforge.write.svg import to_svg


def test_good_texts_come_as_they_were_written() -> None:
    lines = measured_page(tent())
    kinds: tuple[Literal["mark"], ...] = ("mark",)
    assert checked_svg(tent(), recipe=RECIPE, lines=lines) == to_svg(tent(), recipe=RECIPE)
    assert checked_svg(tent(), kinds=iter(kinds)) == to_svg(tent(), kinds=kinds)
    assert checked_dxf(tent(), style="r12", unit="in", lines=lines) == to_dxf(tent(), style="r12", unit="in")


@pytest.mark.parametrize("name", ["svg", "dxf"])
def test_a_bad_text_is_our_own_fault(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    other = page_of(disc(49.9), "seal")
    monkeypatch.setattr(checked, f"to_{name}", lambda page, **options: (to_svg if name == "svg" else to_dxf)(other))
    with pytest.raises(FrameforgeError, match="does not hold the piece") as raised:
        (checked_svg if name == "svg" else checked_dxf)(page_of(disc(50), "seal"))
    assert raised.value.exit_code == 70
    assert raised.value.where == "seal"
    assert "\n" not in str(raised.value)
