"""Other programs read the same areas and sizes out of our files.

SVG paths by fontTools and svgpathtools, SVG pictures by rsvg-convert (librsvg), DXF by ezdxf and by GDAL through
pyogrio. Truth is the area of the page's own curves, by Green's theorem in closed form.
"""

from __future__ import annotations

import math
import re
import shutil
import subprocess
from collections.abc import Iterator
from io import BytesIO, StringIO
from pathlib import Path

import ezdxf.filemanagement
import numpy as np
import pyogrio
import pytest
import shapely
import svgpathtools
from ezdxf.entities import DXFEntity
from fixtures.cut_pages import arcs_page, every_page, leaf_frame, lines_page, oval, page_of, ring
from fixtures.path_area import path_area
from fontTools.pens.areaPen import AreaPen
from fontTools.pens.boundsPen import BoundsPen
from fontTools.svgLib.path import parse_path
from PIL import Image

from frameforge.geometry.measure import area_mm2, length_mm
from frameforge.tolerances import BIARC_MM, LINES_MM
from frameforge.write.dxf import DXF_STYLES, DxfStyle, to_dxf
from frameforge.write.page import CutPage
from frameforge.write.svg import to_svg

ONE_PIECE = ("plate", "scallops", "ring", "oval", "leaves")
LINES_AND_ARCS = {"plate": lines_page(), "scallops": arcs_page(), "ring": page_of(ring()), "many": arcs_page(72)}


def _area(page: CutPage) -> float:
    """Return the area of the page's card by its own curves, mm2."""
    return sum(area_mm2(piece.region) for piece in page.pieces)


def _length(page: CutPage) -> float:
    """Return the cut length, mm."""
    return sum(length_mm(piece.region) for piece in page.pieces)


def _d(page: CutPage) -> str:
    """Return the data of the page's one path."""
    (d,) = re.findall(r' d="([^"]*)"', to_svg(page))
    return str(d)


def _dxf(page: CutPage, style: DxfStyle = "bulges", unit: str = "mm") -> list[DXFEntity]:
    """Return the entities as ezdxf reads them."""
    text = to_dxf(page, style=style, unit="in" if unit == "in" else "mm")
    return list(ezdxf.filemanagement.read(StringIO(text)).modelspace())


# --- SVG


@pytest.mark.parametrize("name", ONE_PIECE)
def test_svgpathtools_reads_the_area(name: str) -> None:
    page = every_page()[name]
    assert abs(path_area(_d(page))) == pytest.approx(_area(page), rel=1e-5)


@pytest.mark.parametrize("name", ONE_PIECE)
def test_fonttools_reads_the_area_and_the_box(name: str) -> None:
    """fontTools turns arcs into cubics of up to 90 degrees, which hold 2.8e-4 of a circle's area too much."""
    page = every_page()[name]
    area, box = AreaPen(), BoundsPen(None)
    parse_path(_d(page), area)
    parse_path(_d(page), box)
    has_arcs = name in ("scallops", "ring", "oval", "leaves")
    assert abs(area.value) == pytest.approx(_area(page), rel=1.2e-3 if has_arcs else 1e-5)
    assert box.bounds is not None
    wanted = (0.5, 0.5, page.box.width_mm - 0.5, page.box.height_mm - 0.5)
    assert box.bounds == pytest.approx(wanted, abs=0.02)


def test_fonttools_reads_the_area_of_cubics() -> None:
    """The 24 teardrops alone: cubics are exact there, so only our four decimals count."""
    page = page_of(leaf_frame())
    drops = _d(page).split(" Z ")[:24]
    area = AreaPen()
    parse_path(" Z ".join(drops) + " Z", area)
    holes = page.pieces[0].region.holes[:24]
    assert abs(area.value) == pytest.approx(abs(sum(area_mm2(hole) for hole in holes)), rel=1e-5)


@pytest.mark.parametrize("name", ONE_PIECE)
def test_svgpathtools_finds_every_subpath_closed(name: str) -> None:
    page = every_page()[name]
    subpaths = svgpathtools.parse_path(_d(page)).continuous_subpaths()
    assert len(subpaths) == 1 + len(page.pieces[0].region.holes)
    assert all(subpath.isclosed() for subpath in subpaths)


@pytest.mark.parametrize("rule", ["nonzero", "evenodd"])
@pytest.mark.parametrize("name", ONE_PIECE)
def test_rsvg_paints_the_area_under_both_fill_rules(name: str, rule: str, tmp_path: Path) -> None:
    """Pixels of 0.1 mm, their grey levels added up: edges blur evenly to both sides, 1e-3 relative."""
    if shutil.which("rsvg-convert") is None:
        pytest.skip("rsvg-convert is not there (apt install librsvg2-bin)")
    page = every_page()[name]
    painted = to_svg(page).replace('fill="none" stroke="#000000"', f'fill="#000000" fill-rule="{rule}" stroke="none"')
    (tmp_path / "painted.svg").write_text(painted, encoding="utf-8")
    command = ["rsvg-convert", "--dpi-x", "254", "--dpi-y", "254", "-b", "white", str(tmp_path / "painted.svg")]
    png = subprocess.run(command, capture_output=True, check=True).stdout
    grey = np.asarray(Image.open(BytesIO(png)).convert("L"), dtype=np.float64)
    assert grey.shape[1] == math.ceil(10 * page.box.width_mm - 1e-6)
    assert np.sum(255 - grey) / 255 / 100 == pytest.approx(_area(page), rel=1e-3)


# --- DXF


def _signed(entity: DXFEntity) -> float:
    """Return the area of a closed polyline by the lines and arcs that ezdxf makes of it, + counter-clockwise.

    A line adds half the cross product of its ends; an arc the same of its chord and the circular segment on it.
    ezdxf's arcs all run counter-clockwise, whatever the bulge, so that the bulge gives the sign.
    """
    points = [complex(x, y) for x, y in (vertex[:2] for vertex in _vertices(entity))]
    turn = sum((a.conjugate() * b).imag for a, b in zip(points, points[1:] + points[:1], strict=True))
    total = 0.0
    for part, bulge in zip(entity.virtual_entities(), _bulges(entity), strict=True):  # type: ignore[attr-defined]
        if part.dxftype() == "LINE":
            a, b = (complex(p.x, p.y) for p in (part.dxf.start, part.dxf.end))
            total += (a.conjugate() * b).imag / 2
            continue
        sweep = math.radians((part.dxf.end_angle - part.dxf.start_angle) % 360)
        a, b = (complex(p.x, p.y) for p in (part.start_point, part.end_point))
        area = ((a.conjugate() * b).imag + part.dxf.radius**2 * (sweep - math.sin(sweep))) / 2
        total += math.copysign(1, bulge) * area
    assert total * turn > 0
    return total


def _vertices(entity: DXFEntity) -> list[tuple[float, ...]]:
    """Return x, y, bulge of each vertex of an LWPOLYLINE or POLYLINE."""
    if entity.dxftype() == "LWPOLYLINE":
        return list(entity.get_points("xyb"))  # type: ignore[attr-defined]
    return [(v.dxf.location.x, v.dxf.location.y, v.dxf.bulge) for v in entity.vertices]  # type: ignore[attr-defined]


def _bulges(entity: DXFEntity) -> list[float]:
    """Return the bulges."""
    return [vertex[2] for vertex in _vertices(entity)]


@pytest.mark.parametrize("style", ["bulges", "r12"])
@pytest.mark.parametrize("name", LINES_AND_ARCS)
def test_ezdxf_reads_the_area_of_lines_and_arcs_to_a_millionth(name: str, style: DxfStyle) -> None:
    page = LINES_AND_ARCS[name]
    assert sum(_signed(entity) for entity in _dxf(page, style)) == pytest.approx(_area(page), rel=1e-6)


@pytest.mark.parametrize("name", LINES_AND_ARCS)
def test_in_inches_it_is_the_same_card(name: str) -> None:
    page = LINES_AND_ARCS[name]
    area_in2 = sum(_signed(entity) for entity in _dxf(page, unit="in"))
    assert area_in2 * 25.4**2 == pytest.approx(_area(page), rel=1e-6)


@pytest.mark.parametrize("page", [page_of(leaf_frame()), page_of(oval())], ids=["leaves", "oval"])
def test_ezdxf_reads_the_area_of_biarcs_within_a_hundredth_along_the_cut(page: CutPage) -> None:
    area = sum(_signed(entity) for entity in _dxf(page))
    assert abs(area - _area(page)) <= BIARC_MM * _length(page)


@pytest.mark.parametrize("page", [page_of(leaf_frame()), page_of(oval())], ids=["leaves", "oval"])
def test_ezdxf_reads_chords_within_two_hundredths_along_the_cut(page: CutPage) -> None:
    entities = _dxf(page, "lines")
    assert all(set(_bulges(entity)) == {0} for entity in entities)
    assert abs(sum(_signed(entity) for entity in entities) - _area(page)) <= LINES_MM * _length(page)


@pytest.mark.parametrize("page", [page_of(leaf_frame()), page_of(oval()), arcs_page()], ids=["leaves", "oval", "arcs"])
def test_ezdxf_evaluates_our_splines_onto_the_curves(page: CutPage) -> None:
    """Points by ezdxf's own B-spline, 40 a cubic; area of so many chords, and of half as many, extrapolated to none."""
    total = 0.0
    for entity in _dxf(page, "splines"):
        assert entity.closed  # type: ignore[attr-defined]
        tool = entity.construction_tool()  # type: ignore[attr-defined]
        spans = round(tool.max_t)
        z = np.array([complex(p.x, p.y) for p in tool.points(np.linspace(0, tool.max_t, 40 * spans + 1))])
        assert abs(z[0] - z[-1]) < 1e-9
        fine, coarse = (float(np.sum((w[:-1].conj() * w[1:]).imag)) / 2 for w in (z, z[::2]))
        total += (4 * fine - coarse) / 3
    assert total == pytest.approx(_area(page), rel=1e-6)


@pytest.mark.parametrize("style", DXF_STYLES)
def test_ezdxf_audits_our_files_without_a_finding(style: DxfStyle) -> None:
    for page in every_page().values():
        auditor = ezdxf.filemanagement.read(StringIO(to_dxf(page, style=style, recipe="x = 1\n"))).audit()
        assert (auditor.errors, auditor.fixes) == ([], [])


@pytest.fixture
def steps_of_a_degree() -> Iterator[None]:
    """GDAL cuts arcs into chords of 4 degrees unless told otherwise."""
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": "1"})
    yield
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": None})


def _gdal(text: str, folder: Path) -> list[shapely.LineString]:
    """Return the lines that GDAL reads."""
    path = folder / "piece.dxf"
    path.write_text(text, encoding="ascii")
    _, _, found, fields = pyogrio.raw.read(path, columns=["Layer"])
    assert set(fields[0]) == {"CUT"}
    return list(shapely.from_wkb(found))


@pytest.mark.usefixtures("steps_of_a_degree")
@pytest.mark.parametrize("style", ["bulges", "r12"])
@pytest.mark.parametrize("name", LINES_AND_ARCS)
def test_gdal_reads_the_area_of_arcs_to_a_ten_thousandth(name: str, style: DxfStyle, tmp_path: Path) -> None:
    page = LINES_AND_ARCS[name]
    rings = _gdal(to_dxf(page, style=style), tmp_path)
    assert all(ring.is_ring for ring in rings)
    *holes, outside = (shapely.Polygon(ring).area for ring in rings)
    assert outside - sum(holes) == pytest.approx(_area(page), rel=1e-4)


@pytest.mark.usefixtures("steps_of_a_degree")
@pytest.mark.parametrize("style", ["bulges", "r12", "lines"])
@pytest.mark.parametrize("name", ONE_PIECE)
def test_gdal_reads_the_box(name: str, style: DxfStyle, tmp_path: Path) -> None:
    page = every_page()[name]
    bounds = shapely.total_bounds(_gdal(to_dxf(page, style=style), tmp_path))
    wanted = (0.5, 0.5, page.box.width_mm - 0.5, page.box.height_mm - 0.5)
    assert bounds.tolist() == pytest.approx(wanted, abs=0.02)


@pytest.mark.usefixtures("steps_of_a_degree")
def test_gdal_reads_our_splines_as_rings_of_the_right_area(tmp_path: Path) -> None:
    """GDAL samples a spline evenly 8 times a control point and misses corners, so 1e-4 only."""
    page = page_of(leaf_frame())
    rings = _gdal(to_dxf(page, style="splines"), tmp_path)
    assert all(ring.is_ring for ring in rings)
    *holes, outside = (shapely.Polygon(ring).area for ring in rings)
    assert outside - sum(holes) == pytest.approx(_area(page), rel=2e-4)
