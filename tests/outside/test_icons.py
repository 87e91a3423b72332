"""Icons that nobody here drew, put round a circle and an oval: each a clean edge in one part.

They travel inside two packages of the test extra and are no part of the project: heroicons (MIT licence), filled and
stroked, by curves and with holes; Lucide (ISC licence, some icons of Feather under the MIT licence), stroked circles,
arcs, rectangles and lines. Twenty that stand on one foot and hold together; what falls apart is refused elsewhere.
"""

from __future__ import annotations

import io
import zipfile
from functools import cache
from importlib import resources

import pytest
import shapely

from frameforge.card.preset import load_preset
from frameforge.frame.make import make_piece
from frameforge.frame.piece import Piece
from frameforge.frame.spec import Ornament, PieceSpec, RowSpec, Size
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.region import Region
from frameforge.motif.foot import to_motif
from frameforge.motif.motif import Motif
from frameforge.read.svg import read_drawing
from frameforge.write.checked import checked_dxf, checked_svg
from frameforge.write.page import CutPage, CutPiece

FILLED = ("bell", "cog-6-tooth", "eye-dropper", "fire", "key", "puzzle-piece", "tag", "trophy")
STROKED = ("beaker", "gift", "heart", "star")
LUCIDE = ("carrot", "citrus", "clover", "feather", "flower-2", "grape", "snail", "sprout", "tree-pine")
ICONS = (
    *(("heroicons", f"solid/{name}") for name in FILLED),
    *(("heroicons", f"outline/{name}") for name in STROKED),
    *(("lucide", name) for name in LUCIDE),
)
ROUND = ((Size(120, 120), 8, 1), (Size(150, 100), 12, 1))
"""Base, count, and how many segments the base has of its own."""
KNIFE = load_preset("card-240-knife")
SCALE = 2.5
"""Icons are drawn 24 pixels wide, 6.35 mm."""


@cache
def pack(package: str) -> zipfile.ZipFile:
    return zipfile.ZipFile(io.BytesIO((resources.files(package) / f"{package}.zip").read_bytes()))


@cache
def motif(package: str, name: str) -> Motif:
    drawing = read_drawing(pack(package).read(f"{name}.svg"), where=f"{name}.svg")
    assert not [note for note in drawing.notes if "rough" in note or "exact" in note]
    return to_motif(drawing, name.rpartition("/")[2], least_neck_mm=KNIFE.least_neck_mm / SCALE)


def made(icon: Motif, size: Size, count: int) -> Piece:
    row = RowSpec((Ornament(icon),), count=count, scale=SCALE)
    return make_piece(PieceSpec(icon.name, size, rows=(row,)), KNIFE)


def by_shapely(piece: Piece, base: shapely.Polygon) -> shapely.Geometry:
    """The same put together by shapely alone, of chords; roots lie in the base and leave no trace."""
    card, windows = [base], []
    for repeat in piece.rows[0].repeats:
        card += [to_polygon(region.transformed(repeat.placement)) for region in repeat.motif.join]
        windows += [to_polygon(region.transformed(repeat.placement)) for region in repeat.motif.window]
    return shapely.difference(shapely.union_all(card), shapely.union_all(windows))


def segments(regions: tuple[Region, ...]) -> int:
    return sum(region.segment_count for region in regions)


def test_there_are_twenty_and_more() -> None:
    assert len(set(ICONS)) >= 20


@pytest.mark.parametrize(("package", "name"), ICONS)
def test_an_icon_makes_a_clean_edge_round_a_circle_and_an_oval(package: str, name: str) -> None:
    icon = motif(package, name)
    own = segments(icon.join) + segments(icon.window)
    for size, count, of_base in ROUND:
        piece = made(icon, size, count)
        assert piece.rough == ()
        assert len(piece.rows[0].repeats) == count
        assert piece.region.segment_count <= own * count + count + of_base
        shape = to_polygon(piece.region)
        assert shape.is_valid
        base = shapely.affinity.scale(shapely.Point(0, 0).buffer(1, 720), size.width_mm / 2, size.height_mm / 2)
        wanted = by_shapely(piece, base)
        assert shapely.symmetric_difference(shape, wanted).area < 0.012 * float(shapely.length(wanted))
        assert shortest(piece.region) > 1e-6, "joints lie on joints, and nothing is left between"


def shortest(region: Region) -> float:
    return min(abs(s.end - s.start) or abs(s.velocity(0)) for o in region.outlines for s in o.segments)


@pytest.mark.parametrize(("package", "name"), [("heroicons", "solid/bell"), ("lucide", "grape")])
def test_its_files_are_sound(package: str, name: str) -> None:
    piece = made(motif(package, name), *ROUND[1][:2])
    page = CutPage(piece.name, (CutPiece(piece.name, piece.region),))
    assert "<path" in checked_svg(page)
    assert "LWPOLYLINE" in checked_dxf(page)
