"""The demo's files, judged by programs that know nothing of us.

SVG: svgpathtools (areas by quadrature of its own curves) and rsvg-convert (counted pixels). DXF: the raw bulges with
the circular-segment formula (DXF Reference, LWPOLYLINE, group 42: bulge = tan of a quarter of the included angle), and
GDAL through pyogrio. Sizes that geometry fixes are computed here from the drawings' stated feet and heights.
"""

from __future__ import annotations

import math
import shutil
import subprocess
from io import BytesIO
from pathlib import Path
from typing import Any

import numpy as np
import pyogrio
import pytest
import svgpathtools
from ezdxf.filemanagement import readfile
from fixtures.path_area import path_area
from lxml import etree
from PIL import Image

from frameforge.cli.entry import main

SVG = "{http://www.w3.org/2000/svg}"
PIECES = ("gate-sign", "invitation", "seal", "badge", "jar-collar")
WINDOWS = {"gate-sign": 16 * 3 + 1, "invitation": 16, "seal": 14 * 2, "badge": 15 + 1, "jar-collar": 12 * 3 + 1}
"""Holes: windows of the motif, times repeats, and the opening or hanging hole."""

BIARC_MM = 0.01
"""How far the DXF's arcs may lie from the curve; the area may differ by this times the cut length."""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo, made by the command."""
    out = tmp_path_factory.mktemp("demo")
    assert main(["demo", "--out", str(out)]) == 0
    return out


def _path(folder: Path, name: str) -> str:
    """Return the d of the one path of a piece's SVG, found by lxml."""
    paths = list(etree.parse(folder / f"{name}.svg").iter(SVG + "path"))
    assert len(paths) == 1
    return str(paths[0].get("d"))


def _polylines(folder: Path, name: str) -> list[list[tuple[complex, float]]]:
    """Return corners and bulges of every closed polyline on the layer CUT, by ezdxf."""
    entities = list(readfile(folder / f"{name}.dxf").modelspace())
    assert {(entity.dxftype(), entity.dxf.layer) for entity in entities} == {("LWPOLYLINE", "CUT")}
    found = []
    for entity in entities:
        shape: Any = entity
        assert shape.closed
        found.append([(complex(x, y), b) for x, y, b in shape.get_points("xyb")])
    return found


def _bulged_area(corners: list[tuple[complex, float]]) -> float:
    """Return the signed area: the polygon of the corners, and a circular segment on each bulged side."""
    total = 0.0
    for (a, bulge), (b, _) in zip(corners, corners[1:] + corners[:1], strict=True):
        total += (a.conjugate() * b).imag / 2
        if bulge:
            angle = 4 * math.atan(abs(bulge))
            radius = abs(b - a) / (2 * math.sin(angle / 2))
            total += math.copysign(radius * radius / 2 * (angle - math.sin(angle)), bulge)
    return total


@pytest.mark.parametrize("name", PIECES)
def test_svg_is_one_piece_with_the_right_holes(folder: Path, name: str) -> None:
    areas = [path_area(part.d()) for part in svgpathtools.parse_path(_path(folder, name)).continuous_subpaths()]
    assert all(area * areas[-1] < 0 for area in areas[:-1])  # holes run the other way, and stand first
    assert len(areas) - 1 == WINDOWS[name]
    assert abs(areas[-1]) > sum(abs(area) for area in areas[:-1])


@pytest.mark.parametrize("name", PIECES)
def test_svg_and_dxf_hold_the_same_area(folder: Path, name: str) -> None:
    d = _path(folder, name)
    polylines = _polylines(folder, name)
    by_svg, by_dxf = abs(path_area(d)), abs(sum(_bulged_area(corners) for corners in polylines))
    length = svgpathtools.parse_path(d).length(error=1e-4)
    assert abs(by_svg - by_dxf) <= BIARC_MM * length
    assert len(polylines) == WINDOWS[name] + 1


def test_the_seal_has_the_area_of_the_textbook(folder: Path) -> None:
    """Lines and circular arcs only, so nothing is approximated: the DXF within 1e-6, the rounded SVG within 1e-5.

    14 scallops that touch make a regular 14-gon in the circle of 57.15 mm (side 2 R sin(pi/14)) with a circular
    segment on each side (radius 6.5 and half chord 6 on a foot of 12), less two dots of radius .75 in each.
    """
    radius, count = 57.15 / 2, 14
    side = 2 * radius * math.sin(math.pi / count)
    scale = side / 12
    half_angle = math.asin(6 / 6.5)
    segment = (6.5 * scale) ** 2 * (half_angle - math.sin(2 * half_angle) / 2)
    polygon = count / 2 * radius**2 * math.sin(2 * math.pi / count)
    area = polygon + count * (segment - 2 * math.pi * (0.75 * scale) ** 2)
    assert abs(sum(_bulged_area(corners) for corners in _polylines(folder, "seal"))) == pytest.approx(area, rel=1e-6)
    assert abs(path_area(_path(folder, "seal"))) == pytest.approx(area, rel=1e-5)


@pytest.mark.parametrize("name", PIECES)
def test_gdal_reads_the_same_area(folder: Path, name: str) -> None:
    """GDAL's DXF driver with arcs stepped by a degree: its chords lie inside, 1e-4 relative."""
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": "1"})
    try:
        _, _, shapes, _ = pyogrio.raw.read(folder / f"{name}.dxf", read_geometry=True)
    finally:
        pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": None})
    rings = [_wkb_ring(shape) for shape in shapes]
    by_gdal = abs(sum(float(np.sum((r[:-1].conj() * r[1:]).imag)) / 2 for r in rings))
    by_dxf = abs(sum(_bulged_area(corners) for corners in _polylines(folder, name)))
    assert by_gdal == pytest.approx(by_dxf, rel=1e-4)
    assert all(abs(ring[0] - ring[-1]) < 1e-9 for ring in rings)


def _wkb_ring(wkb: bytes) -> Any:
    """Return the points of a WKB line string as complex numbers (OGC 06-103r4, 8.2; Z values are left out)."""
    kind, count = np.frombuffer(wkb, "<u4", 2, offset=1)
    width = 3 if kind & 0x80000000 or kind > 1000 else 2
    assert kind & 0xFF == 2 or kind % 1000 == 2
    xy = np.frombuffer(wkb, "<f8", int(count) * width, offset=9).reshape(-1, width)
    return xy[:, 0] + 1j * xy[:, 1]


@pytest.mark.parametrize("name", PIECES)
def test_rsvg_paints_the_same_area(folder: Path, name: str, tmp_path: Path) -> None:
    """The path filled and counted in pixels, 10 to the millimetre: 1e-3 relative, under both fill rules."""
    if shutil.which("rsvg-convert") is None:
        pytest.skip("rsvg-convert is not there (apt install librsvg2-bin)")
    root = etree.parse(folder / f"{name}.svg").getroot()
    d, area = _path(folder, name), abs(path_area(_path(folder, name)))
    for rule in ("evenodd", "nonzero"):
        drawing = tmp_path / f"{rule}.svg"
        drawing.write_text(
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{root.get("width")}" height="{root.get("height")}" '
            f'viewBox="{root.get("viewBox")}"><path d="{d}" fill-rule="{rule}"/></svg>'
        )
        words = ["rsvg-convert", "--dpi-x", "254", "--dpi-y", "254", "--background-color", "white", str(drawing)]
        png = subprocess.run(words, capture_output=True, check=True).stdout
        pixels = 255 - np.asarray(Image.open(BytesIO(png)).convert("L"), dtype=float)
        assert pixels.sum() / 255 / 100 == pytest.approx(area, rel=1e-3)  # 254 dpi is 10 pixels a millimetre


@pytest.mark.parametrize("name", PIECES)
def test_bounds_agree(folder: Path, name: str) -> None:
    """The SVG's box by svgpathtools, the DXF's by the ends and the four sides of its arcs: within .02 mm."""
    left, right, top, bottom = svgpathtools.parse_path(_path(folder, name)).bbox()
    reach = [point for corners in _polylines(folder, name) for point in _along(corners)]
    width = max(z.real for z in reach) - min(z.real for z in reach)
    height = max(z.imag for z in reach) - min(z.imag for z in reach)
    assert (right - left, bottom - top) == pytest.approx((width, height), abs=0.02)
    root = etree.parse(folder / f"{name}.svg").getroot()
    _, _, wide, high = root.get("viewBox").split()
    assert (f"{wide}mm", f"{high}mm") == (root.get("width"), root.get("height"))
    assert float(wide) - (right - left) == pytest.approx(1.0, abs=1e-3)


def _along(corners: list[tuple[complex, float]]) -> list[complex]:
    """Return 65 points along every side, bulged ones on their arc."""
    found = []
    for (a, bulge), (b, _) in zip(corners, corners[1:] + corners[:1], strict=True):
        if not bulge:
            found.append(a)
            continue
        center = (a + b) / 2 + 1j * (b - a) / 2 * (1 - bulge * bulge) / (2 * bulge)
        turn = 4 * math.atan(bulge)
        found += [center + (a - center) * complex(math.cos(turn * k / 64), math.sin(turn * k / 64)) for k in range(65)]
    return found


def test_sizes_that_the_seat_fixes(folder: Path) -> None:
    """Both foot ends lie on the circle, so the foot line stands at sqrt(R^2 - w^2/4) (Pythagoras).

    Invitation: R 38, foot 4.4, leaf 16 high, leaves on all four sides. Jar collar: R 50, foot 22, pod 7.2 high.
    """
    left, right, top, bottom = svgpathtools.parse_path(_path(folder, "invitation")).bbox()
    across = 2 * (math.sqrt(38**2 - 2.2**2) + 16)
    assert (right - left, bottom - top) == pytest.approx((across, across), abs=1e-3)
    _, _, top, bottom = svgpathtools.parse_path(_path(folder, "jar-collar")).bbox()
    assert bottom - top == pytest.approx(2 * (math.sqrt(50**2 - 11**2) + 7.2), abs=0.05)


@pytest.mark.parametrize("name", PIECES)
def test_the_picture_can_be_opened(folder: Path, name: str) -> None:
    with Image.open(folder / f"{name}.png") as image:
        assert image.width == 1240
        assert len(image.convert("RGB").getcolors(1 << 20) or ()) > 10
