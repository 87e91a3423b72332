"""Lines as a machine runs them: the one exception from closed outlines, in every file format."""

from __future__ import annotations

from dataclasses import replace

import pytest
from fixtures.cut_pages import disc, leaf_frame, page_of

from frameforge.card.preset import load_preset
from frameforge.geometry.line import Line
from frameforge.geometry.region import Region
from frameforge.machine.allowances import Allowances, Bridges
from frameforge.machine.plan import planned
from frameforge.write.check_dxf import check_dxf
from frameforge.write.check_svg import check_svg
from frameforge.write.checked import checked_dxf, checked_svg
from frameforge.write.dxf import DXF_STYLES
from frameforge.write.page import CutPage, CutPiece
from frameforge.write.svg import to_svg

ALLOWED = {
    "kerf": Allowances(kerf_mm=0.2),
    "overcut": Allowances(overcut_mm=0.5),
    "lead-in": Allowances(lead_in_mm=1.5),
    "bridges": Allowances(bridges=Bridges(0.6, count=4)),
    "all": Allowances(0.15, 0.5, 1.5, Bridges(0.6, every_mm=50)),
}


def _page(region: Region, allowances: Allowances) -> CutPage:
    plan = planned(region, allowances, load_preset("card-240-laser"))
    return CutPage("seal", (CutPiece("seal", plan.region, machine_cuts=plan.runs),))


@pytest.mark.parametrize("name", ALLOWED)
def test_every_format_carries_the_lines(name: str) -> None:
    page = _page(leaf_frame(8), ALLOWED[name])
    svg = checked_svg(page, recipe="x = 1\n")
    for style in DXF_STYLES:
        checked_dxf(page, style=style)
    closed = svg.count("Z")
    lines = svg.count("M")
    assert lines == {"bridges": 13, "all": lines}.get(name, 10)
    assert closed == {"kerf": 10, "bridges": 9}.get(name, 0)


def test_an_open_line_without_leave_is_found() -> None:
    """The same text for a page that promises outlines breaks the promise."""
    page = _page(disc(20), ALLOWED["bridges"])
    outlines = replace(page, pieces=(CutPiece("seal", page.pieces[0].region),))
    assert any("is not closed" in fault for fault in check_svg(to_svg(page), outlines))
    assert any("is not closed" in fault for fault in check_dxf(checked_dxf(page), outlines))


def test_a_lost_run_is_found() -> None:
    page = _page(disc(20), ALLOWED["bridges"])
    cuts = page.pieces[0].machine_cuts
    assert cuts is not None
    less = replace(page, pieces=(replace(page.pieces[0], machine_cuts=cuts[:-1]),))
    assert check_svg(to_svg(less), page) != ()


def test_machine_cuts_with_a_gap_are_refused() -> None:
    gap = (Line(0, 1 + 0j), Line(2 + 0j, 3 + 0j))
    with pytest.raises(ValueError, match="empty or has a gap"):
        CutPiece("seal", page_of(disc()).pieces[0].region, machine_cuts=(gap,))
