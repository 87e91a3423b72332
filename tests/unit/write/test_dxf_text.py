"""Our own reading of DXF text: group codes by the DXF reference."""

from __future__ import annotations

import pytest
from fixtures.cut_pages import lines_page, page_of, ring, tent

from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.write.dxf import to_dxf
from frameforge.write.dxf_text import DxfTextError, read_dxf

HEAD = "  0\nSECTION\n  2\nHEADER\n  9\n$ACADVER\n  1\nAC1015\n  0\nENDSEC\n"
TABLES = "  0\nSECTION\n  2\nTABLES\n  0\nLAYER\n  2\nCUT\n  0\nENDSEC\n"


def _text(entities: str) -> str:
    """Return a small DXF around entities."""
    return f"{HEAD}{TABLES}  0\nSECTION\n  2\nENTITIES\n{entities}  0\nENDSEC\n  0\nEOF\n"


LW = "  0\nLWPOLYLINE\n  8\nCUT\n 70\n{flags}\n 10\n0.0\n 20\n0.0\n 42\n1.0\n 10\n2.0\n 20\n0.0\n 10\n2.0\n 20\n5.0\n"


def test_a_closed_polyline_closes_to_its_first_vertex_and_a_bulge_of_1_is_the_half_circle_below() -> None:
    """Bulge +1 from 0,0 to 2,0 bows to 1,-1."""
    (entity,) = read_dxf(_text(LW.format(flags=1))).entities
    arc, *lines = entity.run
    assert isinstance(arc, Arc)
    assert arc.point(0.5) == pytest.approx(1 - 1j)
    assert lines == [Line(2, 2 + 5j), Line(2 + 5j, 0)]
    assert (entity.kind, entity.layer, entity.is_closed) == ("LWPOLYLINE", "CUT", True)


def test_an_open_polyline_does_not() -> None:
    (entity,) = read_dxf(_text(LW.format(flags=0))).entities
    assert len(entity.run) == 2
    assert not entity.is_closed


def test_a_polyline_of_r12_is_read_vertex_by_vertex() -> None:
    vertex = "  0\nVERTEX\n  8\nCUT\n 10\n{}\n 20\n{}\n"
    text = "  0\nPOLYLINE\n  8\nCUT\n 66\n1\n 70\n1\n" + vertex.format(0, 0) + vertex.format(3, 0) + vertex.format(0, 4)
    (entity,) = read_dxf(_text(text + "  0\nSEQEND\n")).entities
    assert entity.run == (Line(0, 3), Line(3, 4j), Line(4j, 0))


def test_a_spline_is_its_cubics() -> None:
    knots = "".join(f" 40\n{k}\n" for k in (0, 0, 0, 0, 1, 1, 1, 1))
    points = "".join(f" 10\n{x}\n 20\n{y}\n 30\n0\n" for x, y in ((0, 0), (1, 1), (2, 1), (3, 0)))
    (entity,) = read_dxf(_text(f"  0\nSPLINE\n  8\nCUT\n 70\n0\n 71\n3\n{knots}{points}")).entities
    assert entity.run == (Cubic(0, 1 + 1j, 2 + 1j, 3),)


def test_header_and_layers_are_found() -> None:
    found = read_dxf(to_dxf(tent()))
    assert found.header["$ACADVER"] == "AC1015"
    assert set(found.layers) >= {"0", "CUT", "CREASE", "MARK"}
    assert [e.layer for e in found.entities] == ["CUT"] + ["CREASE"] * 8 + ["MARK"] * 2


def test_comments_are_passed_over() -> None:
    assert len(read_dxf("999\nhello\n" + _text(LW.format(flags=1))).entities) == 1


@pytest.mark.parametrize(
    "text",
    [
        "",
        to_dxf(lines_page())[:-20],
        to_dxf(lines_page()).replace("  0\nEOF\n", ""),
        to_dxf(lines_page()).replace("ENTITIES", "ENTITY"),
        _text("  0\nLINE\n  8\nCUT\n 10\n0\n 20\n0\n 11\n1\n 21\n1\n"),
        _text("  0\nPOLYLINE\n  8\nCUT\n 70\n1\n"),
        _text(LW.format(flags=1).replace("2.0", "0.0")),
        _text("  0\nLWPOLYLINE\n  8\nCUT\n 70\n1\n 10\n0.0\n 20\n0.0\n"),
        _text("  0\nLWPOLYLINE\n  8\nCUT\n 70\n1\n 10\n0.0\n 10\n1.0\n 20\n0.0\n"),
        _text("  0\nSPLINE\n  8\nCUT\n 70\n0\n 71\n2\n 40\n0\n"),
        to_dxf(page_of(ring()), style="splines").replace(" 40\n2.0\n", " 40\n2.5\n", 1),
        _text(LW.format(flags=1)).replace(" 42\n", "abc\n"),
    ],
)
def test_what_we_never_write_is_refused(text: str) -> None:
    with pytest.raises(DxfTextError):
        read_dxf(text)
