"""Mouths of corner motifs in an opening: where their walls come out, on the curve or on lines from tip to tip."""

from __future__ import annotations

from dataclasses import replace

import pytest
from fixtures.rows import KNIFE

from frameforge.frame.base import Edge
from frameforge.frame.layout import Layout
from frameforge.frame.model import RowModel
from frameforge.frame.mouth import edge_height_mm, opened, walls
from frameforge.frame.spec import Ornament, PieceSpec, RowSpec, Size
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.motif.motif import Motif

OPENING = Size(100, 80)
COUNT = 7


def laid(**more: object) -> Layout:
    """Return spears in gaps 12 wide and 8 deep, their points on an oval opening."""
    points = (0j, -2 - 3j, -0.8 - 3j, -0.8 - 9j, 0.8 - 9j, 0.8 - 3j, 2 - 3j)
    spear = Motif("spear", (Region(Outline.from_points(points)),), 12.0, cut_away=(Region(rectangle(-6, -8, 6, 0.3)),))
    row = RowSpec((Ornament(spear),), count=COUNT, place="in", **more)  # type: ignore[arg-type]
    model = RowModel(PieceSpec("x", Size(160, 140), opening=OPENING, rows=(row,)), row, KNIFE)
    return model.layout(Size(160, 140), COUNT, 1.0)


def aside(point: complex, start: complex, end: complex) -> float:
    """Return how far a point lies beside the line through two others, mm."""
    way = (end - start) / abs(end - start)
    return abs(((point - start) * way.conjugate()).imag)


@pytest.mark.parametrize("more", [{}, {"seat": "bent"}])
def test_walls_meet_the_lines_from_tip_to_tip(more: dict[str, object]) -> None:
    layout = laid(**more)
    tips = [layout.track.placement(r, s).apply(0j) for r, s in zip(layout.readies, layout.seats, strict=True)]
    for k, seat in enumerate(layout.seats):
        both = walls(layout, k, Edge.from_size(OPENING), is_flat=True)
        for (mouth, end), beside, way, corner in zip(
            both, (tips[k - 1], tips[(k + 1) % COUNT]), seat.end_ways, (seat.left, seat.right), strict=True
        ):
            assert mouth == corner
            assert aside(end, tips[k], beside) < 1e-9, "on the line to the next tip"
            assert abs(((end - mouth) * way.conjugate()).real) < 1e-9, "straight along the wall"
            assert 0 < ((end - tips[k]) / (beside - tips[k])).real < 0.5


def test_walls_meet_the_curve_where_nothing_is_straightened() -> None:
    layout, edge = laid(), Edge.from_size(OPENING)
    for k, seat in enumerate(layout.seats):
        for mouth, end in walls(layout, k, edge, is_flat=False):
            assert (end.real / 50) ** 2 + (end.imag / 40) ** 2 == pytest.approx(1, abs=1e-9)
            assert abs(((end - mouth) * seat.tangent.conjugate()).real) < 1e-9


@pytest.mark.parametrize("more", [{}, {"seat": "bent"}])
def test_an_opening_stands_as_high_over_a_mouth_as_its_walls_reach(more: dict[str, object]) -> None:
    """The greatest of four heights: where either wall meets the curve, and where it meets the line to the next tip."""
    layout, edge = laid(**more), Edge.from_size(OPENING)
    for k, seat in enumerate(layout.seats):
        ends = [end for is_flat in (False, True) for _, end in walls(layout, k, edge, is_flat=is_flat)]
        heights = [
            (((end - mouth) * (1j * layout.track.side * way).conjugate()).real)
            for end, mouth, way in zip(ends, (seat.left, seat.right) * 2, seat.end_ways * 2, strict=True)
        ]
        found = edge_height_mm(layout, k, edge, is_flat=True)
        assert found == pytest.approx(max(0.0, *heights), abs=1e-9)
        assert found >= edge_height_mm(layout, k, edge, is_flat=False)
    assert max(edge_height_mm(layout, k, edge, is_flat=True) for k in range(COUNT)) > 0.1


def test_a_mouth_alone_has_no_line_to_come_out_at() -> None:
    layout, edge = replace(laid(), is_there=(True,) + (False,) * (COUNT - 1)), Edge.from_size(OPENING)
    assert walls(layout, 0, edge, is_flat=True) == walls(layout, 0, edge, is_flat=False)


def test_a_mouth_without_a_foot_stays_as_drawn() -> None:
    cut = (Region(rectangle(-6, -8, 6, 0)),)
    assert opened(Motif("bite", (), 0.0, cut_away=cut), 2.0) == cut
    (wide,) = opened(Motif("bite", (), 12.0, cut_away=cut), 2.0)
    assert bounds(wide).top == pytest.approx(2.0)


def test_a_mouth_is_as_wide_as_its_foot_from_the_foot_line_up_whatever_is_drawn_above_it() -> None:
    """Drawn narrower over the foot line, from 12 to 8 mm over .3 mm: with walls straight up it is 12 mm wide there."""
    cut = Region(Outline.from_points([-6 - 8j, 6 - 8j, 6 + 0j, 4 + 0.3j, -4 + 0.3j, -6 + 0j]))
    (mouth,) = opened(Motif("bite", (), 12.0, cut_away=(cut,)), 2.0)
    assert area_mm2(mouth) == pytest.approx(12 * 10)
