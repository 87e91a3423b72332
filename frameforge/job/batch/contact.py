"""The contact sheet of a class: every piece small, with its words and card, and a box to tick off, on A4."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Final

from frameforge.geometry.affine import Affine
from frameforge.geometry.box import Box
from frameforge.geometry.measure import bounds
from frameforge.job.batch.made import MadeRow
from frameforge.job.batch.record import PieceRecord
from frameforge.picture.letter_widths import shortened
from frameforge.picture.look import card_colour
from frameforge.picture.paper.marks import Filled, Marks, Stroke, Words, straight
from frameforge.picture.paper.pages import EDGE_MM, Page
from frameforge.write.pdf import to_pdf

if TYPE_CHECKING:
    from frameforge.job.laid_sheet import SheetsMade

__all__ = ["CONTACT_SHEET", "contact_pdf"]

CONTACT_SHEET: Final = "contact-sheet.pdf"

_PAPER_MM: Final = (210.0, 297.0)
_COLUMNS: Final = 4
_ROWS: Final = 6
_HEAD_MM: Final = 12.0
_TICK_MM: Final = 4.0
_TYPE_MM: Final = 2.9
_SMALL_MM: Final = 2.3
_WORDS_MM: Final = 9.0


def contact_pdf(rows: Sequence[MadeRow], sheets: SheetsMade | None) -> bytes:
    """Return the contact sheet as a PDF file, the pieces in the order of the list."""
    on_sheet = _sheet_of(sheets)
    cells = [
        (piece, row.task.words or piece.report.name, row, on_sheet.get(piece.report.name, ""))
        for row in rows
        for piece in row.record.pieces
    ]
    per_page = _COLUMNS * _ROWS
    count = math.ceil(len(cells) / per_page)
    pages = [_page(cells[k * per_page : (k + 1) * per_page], k + 1, count, len(cells)) for k in range(count)]
    return to_pdf(pages, "contact sheet")


def _sheet_of(sheets: SheetsMade | None) -> dict[str, str]:
    """Return on which sheet each piece lies, by its name."""
    if sheets is None:
        return {}
    return {piece.part.name: sheet.name for sheet in sheets.sheets for piece in sheet.pieces}


_Cell = tuple[PieceRecord, str, MadeRow, str]


def _page(cells: Sequence[_Cell], number: int, count: int, total: int) -> Page:
    """Return one page of cells."""
    width, height = _PAPER_MM
    window = Box(EDGE_MM, EDGE_MM, width - EDGE_MM, height - EDGE_MM)
    wide, tall = window.width_mm / _COLUMNS, (window.height_mm - _HEAD_MM) / _ROWS
    head = Words(complex(window.left, window.top - 5), f"{total} pieces to tick off", 4.5, is_bold=True)
    foot = Words(complex(window.right, window.bottom - 6), f"{number} of {count}", 2.6, "end", grey=0.3)
    boxes = [bounds(piece.outline) for piece, *_ in cells]
    sides = [min((wide - 8) / box.width_mm, (tall - _WORDS_MM - 6) / box.height_mm) for box in boxes]
    scale = min(1.0, *sides)
    areas, strokes, words = [], [], [head]
    for k, cell in enumerate(cells):
        row, column = divmod(k, _COLUMNS)
        left, top = window.left + column * wide, window.top - _HEAD_MM - row * tall
        area, lines, said = _drawn(cell, Box(left, top - tall, left + wide, top), scale)
        areas.append(area)
        strokes += lines
        words += said
    marks = Marks(window, tuple(strokes), tuple(words), tuple(areas))
    return Page(width, height, window.grown(EDGE_MM), marks, Marks(window, (), (foot,)))


def _drawn(cell: _Cell, box: Box, scale: float) -> tuple[Filled, list[Stroke], list[Words]]:
    """Return one cell: the piece, the box to tick, its words, its card and sheet."""
    piece, name, row, sheet = cell
    middle = complex(box.center.real, box.bottom + _WORDS_MM + (box.height_mm - _WORDS_MM) / 2)
    place = Affine(scale, 0, middle - scale * bounds(piece.outline).center)
    area = Filled(tuple(o.transformed(place) for o in piece.outline.outlines), card_colour(piece.report.card), 0.1)
    lines = [
        Stroke(tuple(segment.transformed(place) for segment in run), 0.1)
        for run in (*piece.cut.marks, *piece.cut.creases)
    ]
    corner = complex(box.left + 2, box.bottom + 4)
    lines += [*_tick(corner)]
    others = [value for key, value in (row.task.values or {}).items() if value and value != row.task.words]
    below = ", ".join(dict.fromkeys(part for part in (*others, piece.report.card or "", sheet) if part))
    room = box.width_mm - _TICK_MM - 6
    beside = corner + _TICK_MM + 1.5
    words = [
        Words(beside + 1.8j, shortened(name, room, _TYPE_MM, is_bold=True), _TYPE_MM, is_bold=True),
        Words(beside - 1.4j, shortened(below, room, _SMALL_MM), _SMALL_MM, grey=0.2),
    ]
    if piece.report.copies > 1:
        words.append(Words(complex(box.right - 2, box.top - 4), f"x{piece.report.copies}", _TYPE_MM, "end"))
    return area, lines, words


def _tick(corner: complex) -> Iterator[Stroke]:
    """Yield the box to tick."""
    a, b = _TICK_MM, 1j * _TICK_MM
    for start, end in ((0, a), (a, a + b), (a + b, b), (b, 0)):
        yield straight(corner + start, corner + end, 0.25)
