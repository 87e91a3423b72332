"""DXF of any make read as lines. Lengths and boxes by closed forms; files written by ezdxf, a reader of its own."""

from __future__ import annotations

import io
import math
from collections.abc import Callable
from typing import Any

import ezdxf
import pytest
from ezdxf.math import ConstructionEllipse, closed_uniform_bspline, rational_bspline_from_ellipse

from frameforge.errors import InputError
from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.measure import area_mm2, bounds, length_mm
from frameforge.read.cut_drawing import CutDrawing
from frameforge.read.cut_dxf import read_cut_dxf
from frameforge.read.dxf_spline import spline_cubics


def _read(draw: Callable[[Any], object], unit: int = 4, version: str = "R2010") -> CutDrawing:
    document = ezdxf.new(version)
    if version != "R12":
        document.header["$INSUNITS"] = unit
    draw(document.modelspace())
    text = io.StringIO()
    document.write(text)
    return read_cut_dxf(text.getvalue().encode(), where="piece.dxf")


def test_an_entity_that_no_dxf_knows_is_left_out_with_a_note() -> None:
    document = ezdxf.new("R2010")
    document.modelspace().add_circle((0, 0), 5)
    document.modelspace().add_lwpolyline([(0, 0), (9, 0), (9, 9)], close=True)
    text = io.StringIO()
    document.write(text)
    drawing = read_cut_dxf(text.getvalue().replace("LWPOLYLINE", "LWPOLYLI9E").encode(), where="piece.dxf")
    assert len(drawing.lines) == 1
    assert drawing.notes == ("lwpolyli9e is no cut line and was left out.",)


def test_loose_lines_and_arcs_are_one_outline() -> None:
    def draw(space: Any) -> None:
        space.add_arc((30, 10), 5, 0, 180)
        space.add_line((35, 10), (35, 2))
        space.add_line((25, 2), (25, 10))
        space.add_line((25, 2), (35.0004, 2))

    (line,) = _read(draw).lines
    assert line.is_closed
    assert length_mm(line.segments) == pytest.approx(5 * math.pi + 26, abs=2e-3)
    assert abs(area_mm2(line.segments)) == pytest.approx(80 + 12.5 * math.pi, abs=1e-2)


def test_three_ends_in_one_place_are_left_apart() -> None:
    lines = _read(lambda space: [space.add_line((0, 0), end) for end in ((9, 0), (0, 9), (9, 9))]).lines
    assert [line.is_closed for line in lines] == [False] * 3


def test_bulges_are_arcs() -> None:
    """A bulge of 1 is half a circle (DXF reference, group code 42)."""
    points = [(0, 0, 1), (20, 0, 0), (20, 10, 0), (0, 10, 0)]
    (line,) = _read(lambda space: space.add_lwpolyline(points, format="xyb", close=True)).lines
    assert isinstance(line.segments[0], Arc)
    assert area_mm2(line.segments) == pytest.approx(200 + 50 * math.pi, abs=1e-9)


def test_ellipses_and_splines_stay_curves() -> None:
    def draw(space: Any) -> None:
        space.add_ellipse((60, 10), (8, 6), 0.5)
        space.add_open_spline([(0, 60), (0, 80), (30, 80), (30, 60)], degree=3)

    oval, wave = _read(draw).lines
    assert isinstance(oval.segments[0], Arc)
    assert area_mm2(oval.segments) == pytest.approx(50 * math.pi, abs=1e-9)
    assert wave.segments == (Cubic(60j, 80j, 30 + 80j, 30 + 60j),)


def test_blocks_are_unfolded_where_they_are_placed() -> None:
    def draw(space: Any) -> None:
        block = space.doc.blocks.new("dot")
        block.add_circle((0, 0), 1)
        space.add_blockref("dot", (90, 50), dxfattribs={"xscale": 3, "yscale": 3})

    (line,) = _read(draw).lines
    assert bounds(line.segments).center == pytest.approx(90 + 50j)
    assert area_mm2(line.segments) == pytest.approx(9 * math.pi)


def test_the_least_of_numbers_are_nothing() -> None:
    (line,) = _read(lambda space: space.add_lwpolyline([(0, 1e-320), (9, 0), (9, 9)], close=True)).lines
    assert line.segments[0].start == 0


def test_blocks_in_rows_are_placed_each() -> None:
    def draw(space: Any) -> None:
        space.doc.blocks.new("dot").add_circle((0, 0), 1)
        space.add_blockref("dot", (0, 0)).grid((2, 3), (20, 30))

    lines = _read(draw).lines
    middles = {complex(round(z.real, 6), round(z.imag, 6)) for z in (bounds(line.segments).center for line in lines)}
    assert middles == {complex(x, y) for x in (0, 30, 60) for y in (0, 20)}


def test_hidden_layers_are_left_out_and_told() -> None:
    def draw(space: Any) -> None:
        space.doc.layers.add("guides").off()
        space.doc.layers.add("old").freeze()
        for layer in ("GUIDES", "old", "0"):
            space.add_circle((0, 0), 5, dxfattribs={"layer": layer})

    drawing = _read(draw)
    assert (len(drawing.lines), drawing.notes) == (1, ("what lies on a hidden layer was left out.",))


def test_what_stands_on_edge_is_left_out() -> None:
    def draw(space: Any) -> None:
        space.add_circle((0, 0), 5)
        space.add_circle((0, 0), 20, dxfattribs={"extrusion": (0, 1, 0)})

    drawing = _read(draw)
    assert bounds(drawing.lines[0].segments).width_mm == pytest.approx(10)
    assert len(drawing.lines) == len(drawing.notes) == 1


@pytest.mark.parametrize("degree", [1, 2, 3])
def test_splines_that_go_around_are_exact(degree: int) -> None:
    """Against de Boor's values as ezdxf works them out, at the middle of every span."""
    poles = [(0, 0), (40, 0), (40, 40), (10, 55), (0, 40)]
    tool = closed_uniform_bspline(poles, order=degree + 1)
    cubics = spline_cubics(tool, 1.0)
    spans = [t for t in tool.knots() if tool.knots()[degree] <= t <= tool.knots()[-degree - 1]]
    assert len(cubics) == len(spans) - 1 == len(poles)
    assert abs(cubics[-1].end - cubics[0].start) < 1e-9
    for cubic, begin, end in zip(cubics, spans, spans[1:], strict=False):
        wanted = tool.point((begin + end) / 2)
        assert cubic.point(0.5) == pytest.approx(complex(wanted.x, wanted.y), abs=1e-9)


@pytest.mark.parametrize("radius", [3.0, 40.0])
def test_a_rational_spline_is_followed_as_near_as_is_told(radius: float) -> None:
    """A circle as a rational spline of degree 2: every point of it at the radius, its area by formula."""
    tool = rational_bspline_from_ellipse(ConstructionEllipse.from_arc((0, 0), radius))

    drawing = _read(lambda space: space.add_spline().apply_construction_tool(tool))
    assert drawing.notes == ("splines that are no plain cubics were followed to within 0.002 mm.",)
    points = [segment.point(k / 50) for line in drawing.lines for segment in line.segments for k in range(51)]
    assert max(abs(abs(point) - radius) for point in points) <= 2.1e-3
    assert area_mm2(drawing.lines[0].segments) == pytest.approx(math.pi * radius**2, rel=1e-4)


def test_a_spline_of_degree_5_is_followed_too_and_a_cubic_one_needs_no_note() -> None:
    poles = [(0, 0), (0, 30), (40, 50), (60, -20), (80, 30), (100, 0)]
    drawing = _read(lambda space: space.add_open_spline(poles, degree=5))
    assert len(drawing.notes) == 1
    assert abs(drawing.lines[0].segments[-1].end - 100) < 1e-9
    assert _read(lambda space: space.add_open_spline(poles, degree=3)).notes == ()


def test_a_spline_that_goes_around_is_read_closed() -> None:
    def draw(space: Any) -> None:
        space.add_spline().apply_construction_tool(closed_uniform_bspline([(0, 0), (40, 0), (40, 40), (0, 40)]))

    (line,) = _read(draw).lines
    assert line.is_closed


def test_binary_files_are_read() -> None:
    document = ezdxf.new()
    document.header["$INSUNITS"] = 4
    document.modelspace().add_circle((0, 0), 20)
    data = io.BytesIO()
    document.write(data, fmt="bin")
    drawing = read_cut_dxf(data.getvalue(), where="piece.dxf")
    assert area_mm2(drawing.lines[0].segments) == pytest.approx(400 * math.pi)
    with pytest.raises(InputError, match="breaks off"):
        read_cut_dxf(data.getvalue()[:5000], where="piece.dxf")


def test_what_is_seen_from_behind_is_mirrored() -> None:
    (line,) = _read(lambda space: space.add_arc((10, 50), 5, 10, 80, dxfattribs={"extrusion": (0, 0, -1)})).lines
    ends = {complex(round(z.real, 6), round(z.imag, 6)) for z in (line.segments[0].start, line.segments[-1].end)}
    wanted = [complex(-10 - 5 * math.cos(math.radians(q)), 50 + 5 * math.sin(math.radians(q))) for q in (10, 80)]
    assert ends == {complex(round(z.real, 6), round(z.imag, 6)) for z in wanted}


@pytest.mark.parametrize(("unit", "mm", "is_stated"), [(1, 25.4, True), (4, 1, True), (6, 1000, True), (0, 1, False)])
def test_units_come_from_the_header(unit: int, mm: float, is_stated: bool) -> None:
    drawing = _read(lambda space: space.add_circle((0, 0), 2), unit)
    assert bounds(drawing.lines[0].segments).width_mm == pytest.approx(4 * mm)
    assert drawing.has_size is is_stated


def test_r12_polylines_are_read_and_carry_no_unit() -> None:
    drawing = _read(lambda space: space.add_polyline2d([(0, 0), (9, 0), (9, 9)], close=True), version="R12")
    assert (length_mm(drawing.lines[0].segments), drawing.has_size) == (pytest.approx(18 + 9 * math.sqrt(2)), False)


def test_what_is_no_line_is_named() -> None:
    def draw(space: Any) -> None:
        space.add_circle((0, 0), 2)
        space.add_text("Spring")
        space.add_point((1, 1))
        space.add_circle((0, 0), 1, dxfattribs={"layer": "MARK"})

    drawing = _read(draw)
    told = ("lettering is no cut line and was left out.", "a point is no cut line and was left out.")
    assert (drawing.notes, drawing.other_lines, len(drawing.lines)) == (told, 1, 1)


@pytest.mark.parametrize("data", [b"", b"hello", b"  0\nSECTION\n", b"\x00" * 2000, b"0\nSECTION\n2\nENTITIES\n0\nEOF"])
def test_what_is_no_dxf_is_refused(data: bytes) -> None:
    with pytest.raises(InputError) as refused:
        read_cut_dxf(data, where="piece.dxf")
    assert str(refused.value).startswith("piece.dxf: ")
    assert "\n" not in str(refused.value)


def test_a_file_that_breaks_off_is_refused() -> None:
    document = ezdxf.new()
    document.modelspace().add_circle((0, 0), 2)
    text = io.StringIO()
    document.write(text)
    for share in (0.3, 0.6, 0.95):
        data = text.getvalue().encode()
        with pytest.raises(InputError, match="breaks off"):
            read_cut_dxf(data[: int(share * len(data))], where="piece.dxf")
