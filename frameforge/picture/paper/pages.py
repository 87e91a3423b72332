"""A guide put together and parted over pages: crop marks, where the next page lies, page numbers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from frameforge.geometry.box import Box
from frameforge.picture.paper.marks import Marks, Stroke, Words, straight
from frameforge.picture.paper.scale_check import LEAST_WIDTH_MM, scale_check
from frameforge.picture.paper.tiles import Tiling, pages_along, tiled

__all__ = ["EDGE_MM", "Guide", "Page", "guide_pages", "put_together"]

EDGE_MM: Final = 10.0
"""Paper at every side of a page that printers leave white."""

_AIR_MM: Final = 4.0
"""Room round the drawing."""
_CROP_MM: Final = 5.0
_GREY: Final = 0.5
_SMALL_MM: Final = 2.6


@dataclass(frozen=True, slots=True)
class Guide:
    """What is printed, its lower left corner at 0, and the pages that take it."""

    title: str
    marks: Marks
    tiling: Tiling


@dataclass(frozen=True, slots=True)
class Page:
    """One page, its lower left corner at 0: ``marks`` are shown inside ``window`` only, ``furniture`` everywhere."""

    width_mm: float
    height_mm: float
    window: Box
    marks: Marks
    furniture: Marks


def put_together(
    title: str, drawing: Marks, lines: Sequence[str], page_mm: tuple[float, float], overlap_mm: float
) -> Guide:
    """Return the drawing with the bar, the square and ``lines`` below it; ``page_mm`` is the room on one page.

    No page edge goes through bar, square and lines, and where there is room the next page covers none of them. Raises
    ValueError where a page is too small for those.
    """
    room, tall = page_mm
    size = (drawing.box.width_mm + 2 * _AIR_MM, drawing.box.height_mm + 2 * _AIR_MM)
    columns = pages_along(size[0], room, overlap_mm)
    clear = room - overlap_mm if columns > 1 else room
    check = scale_check(lines, min(room, max(clear, LEAST_WIDTH_MM)))
    if check.box.height_mm > tall:
        raise ValueError(f"bar, square and {len(lines)} lines have no room in {room:g} x {tall:g} mm")
    top = size[1]
    row = 0
    while True:
        # The block stands in the first page, from the top, that takes it whole below the drawing.
        start = max(top, row * (tall - overlap_mm))
        if start + check.box.height_mm <= row * (tall - overlap_mm) + tall:
            break
        row += 1
    whole_width = columns * (room - overlap_mm) + overlap_mm
    tiling = tiled((whole_width, start + check.box.height_mm), page_mm, overlap_mm)
    width, height = tiling.whole_mm
    middle = drawing.box.center
    drawn = drawing.moved(complex(width / 2, height - size[1] / 2) - middle)
    below = check.moved(complex(0, height - start - check.box.height_mm))
    return Guide(title, drawn.joined(below), tiling)


def guide_pages(guide: Guide) -> Iterator[Page]:
    """Yield the pages from the upper left to the lower right."""
    tiling = guide.tiling
    window = Box(EDGE_MM, EDGE_MM, EDGE_MM + tiling.width_mm, EDGE_MM + tiling.height_mm)
    for row in range(tiling.rows):
        for column in range(tiling.columns):
            moved = guide.marks.moved(complex(EDGE_MM, EDGE_MM) - tiling.corner(column, row))
            furniture = _furniture(guide, window, column, row)
            yield Page(tiling.width_mm + 2 * EDGE_MM, tiling.height_mm + 2 * EDGE_MM, window, moved, furniture)


def _furniture(guide: Guide, window: Box, column: int, row: int) -> Marks:
    """Return what stands round the window of a page: its number, and on several pages crop marks and overlaps."""
    tiling = guide.tiling
    number = row * tiling.columns + column + 1
    said = f"{guide.title}, page {number} of {tiling.pages}"
    if tiling.pages > 1:
        said += f" (row {row + 1}, column {column + 1})"
    words = [Words(complex(window.left + _CROP_MM, window.bottom - 6.0), said, _SMALL_MM)]
    strokes: list[Stroke] = []
    if tiling.pages > 1:
        strokes += _crop_marks(window)
        for stroke, word in _overlaps(tiling, window, column, row):
            strokes.append(stroke)
            words.append(word)
    return Marks(window, tuple(strokes), tuple(words))


def _crop_marks(window: Box) -> Iterator[Stroke]:
    """Yield two short lines at each corner of the window, outside it: where to trim."""
    for x, outward in ((window.left, -1), (window.right, 1)):
        for y, upward in ((window.bottom, -1), (window.top, 1)):
            corner = complex(x, y)
            yield straight(corner + outward * 1.0, corner + outward * _CROP_MM, 0.2)
            yield straight(corner + upward * 1.0j, corner + upward * _CROP_MM * 1j, 0.2)


def _overlaps(tiling: Tiling, window: Box, column: int, row: int) -> Iterator[tuple[Stroke, Words]]:
    """Yield the dashed lines on which the next pages are laid, each with the number of the page."""
    number = row * tiling.columns + column + 1
    o = tiling.overlap_mm
    if column + 1 < tiling.columns and o:
        x = window.right - o
        line = straight(complex(x, window.bottom), complex(x, window.top), 0.12, grey=_GREY, dashes_mm=(3.0, 2.0))
        at = complex(window.right + 4.5, (window.bottom + window.top) / 2)
        yield (
            line,
            Words(at, f"page {number + 1} goes on here, from the dashed line", _SMALL_MM, "middle", 90.0, grey=0.3),
        )
    if row + 1 < tiling.rows and o:
        y = window.bottom + o
        line = straight(complex(window.left, y), complex(window.right, y), 0.12, grey=_GREY, dashes_mm=(3.0, 2.0))
        at = complex((window.left + window.right) / 2 + 10.0, window.bottom - 6.0)
        below = number + tiling.columns
        yield line, Words(at, f"page {below} goes on here, from the dashed line", _SMALL_MM, "start", grey=0.3)
