"""Hair-thin card in a DXF: what follows curves crosses no other line, and stays short where none is near."""

from __future__ import annotations

import io
import itertools
import math
from typing import Any

import ezdxf
import numpy as np
import pytest
import shapely
from ezdxf.entities import LWPolyline
from fixtures.cut_pages import page_of

from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import ellipse
from frameforge.write.checked import checked_dxf
from frameforge.write.crossing import is_card
from frameforge.write.dxf import DxfStyle
from frameforge.write.dxf_place import DxfUnit
from frameforge.write.page import CutPage, CutPiece
from frameforge.write.polyline import Polyline


def hoop(wide_mm: float) -> Region:
    """Return an oval hoop so wide at its ends; its two edges have their joints in other places."""
    across, high, parts = 40.0 - wide_mm, 1j * (25.0 - wide_mm), ((0.4, 2.5), (2.9, math.tau - 2.5))
    first, last = (Arc.from_ellipse(0, across, high, start, sweep) for start, sweep in parts)
    hole = Outline((first, last.with_ends(first.end, first.start)))
    return Region(ellipse(0, 40.0, 25.0), (hole.reversed(),))


def read(text: str) -> list[list[tuple[float, float]]]:
    """Return the polylines of a DXF, mm, as ezdxf reads them, arcs as chords within .0001 mm."""
    document = ezdxf.read(io.StringIO(text))
    scale = 25.4 if document.header["$INSUNITS"] == 1 else 1.0
    found = []
    for entity in document.modelspace():
        assert isinstance(entity, LWPolyline)
        vertices = [(scale * x, scale * y, b) for x, y, b in entity.get_points("xyb")]
        ring = []
        for (x, y, b), (x2, y2, _) in itertools.pairwise([*vertices, vertices[0]]):
            if b == 0:
                ring.append((x, y))
                continue
            centre, start, end, r = ezdxf.math.bulge_to_arc((x, y), (x2, y2), b)
            n = max(2, math.ceil((end - start) % math.tau / math.sqrt(8e-4 / r)))
            angles = np.linspace(start, start + (end - start) % math.tau, n + 1)
            arc = [(centre.x + r * math.cos(t), centre.y + r * math.sin(t)) for t in angles]
            ring += (arc if b > 0 else arc[::-1])[:-1]
        found.append(ring)
    return found


@pytest.mark.parametrize(("style", "unit"), [("bulges", "mm"), ("bulges", "in"), ("lines", "mm")])
@pytest.mark.parametrize("wide_mm", [0.004, 0.0008])
def test_lines_that_all_but_touch_do_not_cross(wide_mm: float, style: DxfStyle, unit: DxfUnit) -> None:
    hole, outer = read(checked_dxf(page_of(hoop(wide_mm)), style=style, unit=unit))
    card = shapely.Polygon(outer, [hole])
    assert shapely.is_valid(card)
    assert card.area == pytest.approx(math.pi * (40 * 25 - (40 - wide_mm) * (25 - wide_mm)), abs=wide_mm * 20)


def test_where_nothing_is_near_arcs_stay_as_few_as_may_be() -> None:
    def vertices(wide_mm: float) -> int:
        return sum(map(len, read_vertices(checked_dxf(page_of(hoop(wide_mm))))))

    assert vertices(0.0008) > 2 * vertices(0.5)


def read_vertices(text: str) -> list[list[Any]]:
    found = ezdxf.read(io.StringIO(text)).modelspace()
    return [list(entity.get_points("xyb")) for entity in found if isinstance(entity, LWPolyline)]


def square(low: float, high: float, bulge: float = 0.0) -> Polyline:
    return Polyline(((low, low, 0.0), (high, low, bulge), (high, high, 0.0), (low, high, 0.0)), is_closed=True)


def test_card_is_what_neither_crosses_itself_nor_its_holes() -> None:
    assert is_card(square(0, 10), [square(2, 4), square(5, 8)], 1e-3)
    assert not is_card(square(0, 10), [square(2, 5), square(4, 8)], 1e-3)
    assert not is_card(square(0, 10), [square(8, 12)], 1e-3)
    bow = Polyline(((0.0, 0.0, 0.0), (9.0, 9.0, 0.0), (9.0, 0.0, 0.0), (0.0, 9.0, 0.0)), is_closed=True)
    assert not is_card(bow, [], 1e-3)


@pytest.mark.parametrize(("bulge", "is_sound"), [(1.0, True), (-1.0, False), (-0.2, True), (-0.5, False)])
def test_arcs_count_with_their_bulge(bulge: float, is_sound: bool) -> None:
    """A side of 10 with a bulge b rises 5 b from its chord: inward it meets a hole 2 off it where that is more."""
    assert is_card(square(0, 10, bulge), [square(4, 8)], 1e-3) == is_sound


def test_a_line_of_no_width_is_no_card() -> None:
    flat = Polyline(((0.0, 0.0, 0.0), (1.0, 0.0, 0.0)), is_closed=True)
    assert not is_card(flat, [], 1e-3)


def test_pieces_of_a_page_are_looked_at_one_by_one() -> None:
    near = CutPiece("near", hoop(0.0008))
    page = CutPage("two", (near, near.transformed(Affine.from_move(100 + 0j))))
    lines = read(checked_dxf(page))
    assert [shapely.is_valid(shapely.Polygon(lines[k + 1], [lines[k]])) for k in (0, 2)] == [True, True]
