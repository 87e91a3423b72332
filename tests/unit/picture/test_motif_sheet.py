"""Pictures of motifs: the foot drawn where it is, windows open, all motifs on one edge and to one scale."""

from __future__ import annotations

from itertools import pairwise

import pytest
import svgpathtools
from fixtures.raster import colour_at, raster
from lxml import etree

from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle
from frameforge.motif.motif import Motif
from frameforge.picture.look import BEETROOT, BENCH, CARD_COLOURS, DRAB
from frameforge.picture.motif_sheet import motif_picture, motif_sheet

SVG = "{http://www.w3.org/2000/svg}"
LEAF = Outline((Line(-2.2 + 0j, 2.2 + 0j), Cubic(2.2 + 0j, 9 + 5j, 3 + 12j, 16j), Cubic(16j, -3 + 12j, -9 + 5j, -2.2)))
BEAN_LEAF = Motif("bean-leaf", (Region(LEAF),), 4.4, window=(Region(circle(8j, 1.5)),))
POST = Motif("post", (Region(rectangle(-1, -3, 1, 30)),), 2.0)
CORNER = Motif("corner", (Region(rectangle(-4, 0, 4, 4)),), 8.0, cut_away=(Region(rectangle(-4, -5, 4, 0)),))


def _feet(svg: str) -> list[tuple[float, float, float, float]]:
    """Boxes of the level beetroot lines."""
    paths = (e for e in etree.fromstring(svg.encode()).iter(SVG + "path") if e.get("stroke") == BEETROOT)
    boxes = [svgpathtools.parse_path(e.get("d")).bbox() for e in paths]
    return [box for box in boxes if box[3] - box[2] < 0.01]


def _cards(svg: str) -> list[tuple[float, float, float, float]]:
    paths = (e for e in etree.fromstring(svg.encode()).iter(SVG + "path") if e.get("fill") == CARD_COLOURS["moss"])
    return [svgpathtools.parse_path(e.get("d")).bbox() for e in paths]


@pytest.mark.parametrize("motif", [BEAN_LEAF, POST])
def test_the_foot_is_drawn_at_the_scale_of_the_card(motif: Motif) -> None:
    svg = motif_picture(motif)
    (x0, x1, y0, _), (left, right, top, bottom) = _feet(svg)[0], _cards(svg)[0]
    height_mm = {"bean-leaf": 16.0, "post": 33.0}[motif.name]
    assert (x1 - x0) / motif.foot_mm == pytest.approx((bottom - top) / height_mm, abs=0.01)
    assert (x0 + x1) / 2 == pytest.approx((left + right) / 2, abs=0.02)
    assert f"foot {motif.foot_mm:.1f} mm" in svg
    assert 0 < y0 < float(etree.fromstring(svg.encode()).get("height"))


def test_a_window_shows_the_bench() -> None:
    svg = motif_picture(BEAN_LEAF)
    left, right, top, bottom = _cards(svg)[0]
    scale = (bottom - top) / 16
    image = raster(svg)
    middle = complex((left + right) / 2, bottom - 8 * scale)
    assert colour_at(image, middle + 0.9 * scale) == BENCH
    assert colour_at(image, middle + 2.5 * scale) == CARD_COLOURS["moss"]


def test_a_part_cut_away_is_dashed_and_inside_the_page() -> None:
    svg = motif_picture(CORNER, lines=("8.0 x 4.0 mm",))
    root = etree.fromstring(svg.encode())
    dashed = [e for e in root.iter(SVG + "path") if e.get("stroke-dasharray") == "4 3"]
    assert len(dashed) == 1
    _, _, _, bottom = svgpathtools.parse_path(dashed[0].get("d")).bbox()
    assert bottom < float(root.get("height")) - 40


def test_a_motif_that_replaces_the_edge_is_shown_in_its_card() -> None:
    """Left and right of the part cut away stands the card of the piece; inside it, the bench."""
    image = raster(motif_picture(CORNER))
    x0, x1, y, _ = _feet(motif_picture(CORNER))[0]
    assert colour_at(image, complex(x0 - 20, y + 20)) == DRAB
    assert colour_at(image, complex(x1 + 20, y + 20)) == DRAB
    assert colour_at(image, complex((x0 + x1) / 2 - 30, y + 40)) == BENCH
    plain = raster(motif_picture(POST))
    x0, _, y, _ = _feet(motif_picture(POST))[0]
    assert colour_at(plain, complex(x0 - 20, y + 20)) == BENCH


def test_a_sheet_stands_all_motifs_of_a_row_on_one_edge_to_one_scale() -> None:
    motifs = [BEAN_LEAF, POST, CORNER, BEAN_LEAF, POST]
    svg = motif_sheet("motifs", motifs, lines=[("foot 4.4 mm",)] * 5)
    feet = _feet(svg)
    scales = [(x1 - x0) / motif.foot_mm for (x0, x1, _, _), motif in zip(feet, motifs, strict=True)]
    assert max(scales) - min(scales) < 0.01
    assert len({round(y, 2) for _, _, y, _ in feet[:4]}) == 1
    assert feet[4][2] > feet[0][2]
    cards = _cards(svg)
    assert all(a[1] < b[0] for a, b in pairwise(cards[:4]))
    names = [e.text for e in etree.fromstring(svg.encode()).iter(SVG + "text") if e.get("font-size") == "16"]
    assert names == [motif.name for motif in motifs]


def test_nothing_to_show() -> None:
    with pytest.raises(ValueError, match="at least one motif"):
        motif_sheet("motifs", [])
