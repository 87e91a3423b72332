"""Drawings of the resvg test suite (MIT or Apache-2.0) and of the W3C SVG 1.1 test suite (W3C test suite licence).

The files are not part of the project: they are looked for in a folder ``data/svg_cases`` of any folder beside the
checkout, with a table ``reference.csv`` of areas and boxes that two renderers agreed on, and skipped where absent.
"""

from __future__ import annotations

import csv
import functools
import itertools
from dataclasses import dataclass
from pathlib import Path

import pytest

from frameforge.errors import InputError
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.geometry.region import Region
from frameforge.read.svg import read_drawing
from frameforge.read.svg_tree import read_tree
from frameforge.read.svg_viewport import read_page

TABLE = next(Path(__file__).parents[2].parent.glob("*/data/svg_cases/reference.csv"), None)

pytestmark = pytest.mark.skipif(TABLE is None, reason="outside data: the drawings are not on this machine")

AREA_PART = 0.01
BOX_PART = 0.005
HELD_PART = 0.95


@dataclass(frozen=True, slots=True)
class Measured:
    """One drawing read: its painted area and box in user units of the root, y down, as the table has them."""

    name: str
    area: float
    box: tuple[float, float, float, float]


@functools.cache
def rows() -> tuple[dict[str, str], ...]:
    """Return the rows of the table."""
    if TABLE is None:
        return ()
    with TABLE.open(encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(file))


@functools.cache
def read(name: str) -> Measured | str:
    """Return what is measured of a drawing, or the line it was refused with; anything else raised is a failure."""
    assert TABLE is not None
    data = (TABLE.parent / name).read_bytes()
    try:
        drawing = read_drawing(data, where=name)
    except InputError as fault:
        return str(fault)
    regions: tuple[Region, ...] = (*drawing.join, *drawing.cut_away, *drawing.window)
    to_units = read_page(read_tree(data, where=name), where=name).to_mm.inverse()
    box = bounds([region.transformed(to_units) for region in regions])
    area = sum(map(area_mm2, regions)) * abs(to_units.determinant)
    return Measured(name, area, (box.left, box.bottom, box.right, box.top))


def misses(row: dict[str, str]) -> str:
    """Return how a drawing read misses its row, empty where it holds."""
    found = read(row["file"])
    if isinstance(found, str):
        return f"refused: {found}"
    area = float(row["fill_area" if row["kind"] == "filled" else "ink_area"])
    unclipped = float(row["ink_area_unclipped"] or area)
    off = min(abs(found.area - wanted) / max(wanted, 1.0) for wanted in (area, unclipped))
    if off > AREA_PART:
        return f"area {found.area:.1f} against {area:.1f} (unclipped {unclipped:.1f})"
    wanted = [float(row[f"ink_{side}"]) for side in ("x0", "y0", "x1", "y1")]
    size = max(wanted[2] - wanted[0], wanted[3] - wanted[1])
    page = [float(number) for number in row["viewBox"].split()] or [0.0, 0.0, 1e9, 1e9]
    clipped = (
        max(found.box[0], page[0]), max(found.box[1], page[1]),
        min(found.box[2], page[0] + page[2]), min(found.box[3], page[1] + page[3]),
    )  # fmt: skip
    if max(abs(a - b) for a, b in zip(clipped, wanted, strict=True)) > BOX_PART * size:
        return f"box {clipped} against {wanted}"
    return ""


def test_every_drawing_is_read_or_refused_as_expected() -> None:
    """No traceback in any; drawings marked ok are read, those marked refuse are refused."""
    wrong = []
    for row in rows():
        found = read(row["file"])
        if row["expect"] != "either" and isinstance(found, str) != (row["expect"] == "refuse"):
            wrong.append(f"{row['file']}: {found}")
    assert not wrong, "\n".join(wrong)


def test_areas_and_boxes_agree_with_two_renderers() -> None:
    """Where both renderers agree: area within 1 %, box within .5 %, for at least 95 % of the motifs marked ok."""
    trusted = [row for row in rows() if row["expect"] == "ok" and row["trust"] == "good"]
    failed = {row["file"]: miss for row in trusted if (miss := misses(row))}
    assert len(trusted) > 100
    lines = "\n".join(itertools.starmap("{}: {}".format, failed.items()))
    assert len(failed) <= (1 - HELD_PART) * len(trusted), lines
