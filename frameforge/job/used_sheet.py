"""A sheet that was cut from before: its size, and where nothing is left of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from frameforge.card.sheet_size import LEAST_SIDE_MM, SheetSize
from frameforge.errors import InputError
from frameforge.geometry.box import Box
from frameforge.geometry.combine import Loops, evaluate
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.job.recipe_file import file_bytes, shown_path
from frameforge.read.cut_drawing import FileLine
from frameforge.read.cut_svg import read_cut_svg
from frameforge.read.page_size import svg_page_mm

__all__ = ["UsedSheet", "read_used_sheet"]

_EDGE_MM: Final = 0.5
"""A line this near to the page all round is the edge of the sheet and no hole."""

_SLIT_MM: Final = 0.1
"""Half the width given to an open line without any: a cut that was left open is a hole in the card all the same."""


@dataclass(frozen=True, slots=True)
class UsedSheet:
    """A sheet begun before: its size, called by its file, and the areas that are used up (mm from its lower left)."""

    size: SheetSize
    regions: tuple[Region, ...]

    @property
    def area_mm2(self) -> float:
        """Card that is left of it."""
        return self.size.width_mm * self.size.height_mm - sum(map(area_mm2, self.regions))


def read_used_sheet(path: Path, *, where: str) -> UsedSheet:
    """Return the sheet of an SVG: its page is the sheet, what its closed lines enclose is used up, openings too.

    ``where`` names the option or key. Raises FileError where the file cannot be read, InputError where it is no SVG,
    or states no size, or one that is no sheet.
    """
    shown = shown_path(path)
    if path.suffix.lower() not in (".svg", ".svgz"):
        say = f'"{shown}" is no SVG, and only an SVG tells how large its sheet is. Name the .svg of the sheet.'
        raise InputError(say, where=where, code="no-cut-file")
    data = file_bytes(path)
    page = svg_page_mm(data, where=shown)
    if page is None or min(page) < LEAST_SIDE_MM:
        say = "the page is the sheet, and this file states no page of a sheet's size. Set its width and height in mm."
        raise InputError(say, where=shown, code="no-size")
    width, height = (round(side, 6) for side in page)
    size = SheetSize(path.stem, width, height)
    lines = read_cut_svg(data, where=shown).lines
    sheet = Box(0.0, 0.0, width, height)
    closed = [Outline(line.segments) for line in lines if line.is_closed]
    solid = [_solid(outline) for outline in closed if not _is_edge(outline, sheet)]
    slits = [_slit(line) for line in lines if not line.is_closed]
    return UsedSheet(size, _filled([*solid, *slits]))


def _is_edge(outline: Outline, sheet: Box) -> bool:
    """Whether an outline runs round the whole sheet."""
    box, inner = bounds(outline), sheet.grown(-_EDGE_MM)
    return box.contains(complex(inner.left, inner.bottom)) and box.contains(complex(inner.right, inner.top))


def _solid(outline: Outline) -> Outline:
    """Return an outline that runs counter-clockwise, so that all of them together are filled."""
    return outline if area_mm2(outline) > 0 else outline.reversed()


def _slit(line: FileLine) -> Outline:
    """Return the box round an open line: what was cut there may be loose."""
    box = bounds(line.segments).grown(_SLIT_MM)
    corners = complex(box.left, box.bottom), complex(box.right, box.bottom), complex(box.right, box.top)
    return Outline.from_points((*corners, complex(box.left, box.top)))


def _filled(outlines: Sequence[Outline]) -> tuple[Region, ...]:
    """Return the areas within any of the outlines, without the openings in them."""
    if not outlines:
        return ()
    return tuple(Region(region.outer) for region in evaluate(Loops(tuple(outlines), "nonzero")).regions)
