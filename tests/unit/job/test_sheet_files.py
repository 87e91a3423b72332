"""The files of sheets, and what their picture tells."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from fixtures.laid import box_part, disc_part, laid, ring_part, sheet_of, sheets_of

from frameforge.geometry.affine import Affine
from frameforge.geometry.measure import bounds
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import ellipse
from frameforge.job.laid_sheet import LaidPiece
from frameforge.job.part import Part
from frameforge.job.sheet_files import sheet_files
from frameforge.recipe.model import FilesTable
from frameforge.write.page import CutPiece


def turned(part: Part, x_mm: float, y_mm: float, quarters: int) -> LaidPiece:
    """Return a copy turned by quarters, counter-clockwise, with its middle at a place."""
    whole = part.cut.transformed(Affine(1j**quarters))
    move = Affine.from_move(complex(x_mm, y_mm) - bounds(whole.region).center)
    return LaidPiece(part, 1, x_mm, y_mm, 90.0 * quarters, None, whole.transformed(move))


def oval_part() -> Part:
    """Return an oval whose outline is one arc that ends where it starts, away from the point 0."""
    region = Region(ellipse(100 + 30j, 40, 20))
    return replace(disc_part("label", 10), cut=CutPiece("label", region))


def numbers(svg: str) -> dict[str, complex]:
    """Return where the numbers of a plan stand, in px."""
    found = re.findall(r'<text stroke="[^>]*x="([\d.]+)" y="([\d.]+)"[^>]*>(\d+)</text>', svg)
    return {number: complex(float(x), float(y)) for x, y, number in found}


@pytest.mark.parametrize("quarters", [0, 1, 2, 3])
def test_a_number_stands_on_its_piece_however_that_is_turned(quarters: int) -> None:
    """A4 alone is drawn with 2.6 px a mm, its lower left corner 28 px from the left."""
    part, ring = oval_part(), ring_part("ring", 60, 30)
    made = sheets_of(sheet_of([turned(part, 60, 200, quarters), turned(ring, 150, 100, quarters)]))
    _, batches = sheet_files(made, FilesTable(), "plan")
    svg = next(f.data.decode() for batch in batches for f in batch.files if f.name == "plan.svg")
    at = numbers(svg)
    top = float(re.search(r'd="M 28 ([\d.]+)', svg)[1]) - 297 * 2.6  # type: ignore[index]
    place = {n: complex((z.real - 28) / 2.6, 297 - (z.imag - top) / 2.6) for n, z in at.items()}
    assert abs(place["1"] - (60 + 200j)) < 3
    assert 15 <= abs(place["2"] - (150 + 100j)) <= 31


def test_numbers_are_left_out_where_a_card_has_one_kind() -> None:
    part = disc_part("seal", 60, 2)
    _, batches = sheet_files(sheets_of(sheet_of([laid(part, 50, 50), laid(part, 150, 50, 2)])), FilesTable(), "plan")
    svg = next(f.data.decode() for batch in batches for f in batch.files if f.name == "plan.svg")
    assert numbers(svg) == {}
    assert ">2 x seal</text>" in svg


def test_formats_choose_the_files() -> None:
    made = sheets_of(sheet_of([laid(box_part("tag", 40, 20), 50, 50)]))
    for formats, names in (
        (("svg",), ["sheet-1.svg"]),
        (("dxf",), ["sheet-1.dxf"]),
        (("png",), ["plan.svg", "plan.png"]),
        (None, ["sheet-1.svg", "sheet-1.dxf", "plan.svg", "plan.png"]),
    ):
        told, batches = sheet_files(made, FilesTable(formats=formats), "plan")
        assert [file.name for batch in batches for file in batch.files] == names
        assert list(told.told_files) == names
