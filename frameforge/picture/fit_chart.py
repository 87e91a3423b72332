"""The fit chart: a plain table of sizes and counts, the chosen cell marked, what is hard to hold hatched."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from frameforge.geometry.measure import bounds
from frameforge.geometry.region import Region
from frameforge.picture.elements import bar, bar_width, card, line, mm_to_px, page, text
from frameforge.picture.letter_widths import text_width
from frameforge.picture.look import (
    BEETROOT,
    DEW,
    DRY_SLATE,
    FLEECE,
    LINE_STEP_PX,
    MARGIN_PX,
    MARROW_FLOWER,
    NAME_PX,
    TEXT_PX,
    TITLE_PX,
    WET_SLATE,
    card_colour,
)
from frameforge.picture.path_text import number_text

__all__ = ["ChartCell", "ChartRow", "ChartTable", "FitChart", "fit_chart"]

PAGE_PX: Final = 620.0
"""Least width of the page; a wide table makes it wider."""

ROW_PX: Final = 32.0
COLUMN_GAP_PX: Final = 26.0
WIDEST_GAP_PX: Final = 64.0
SMALL_GAP_PX: Final = 6.0
PAD_PX: Final = 9.0
"""Room beside the words of a chosen cell."""

HATCH_PX: Final = 9.0
"""From one hatching line to the next."""

MOTIF_SCALE: Final = 2.4
"""Pixels for a millimetre of the motif above the table."""

MOTIF_PX: Final = 260.0
MOTIF_HIGH_PX: Final = 120.0
"""A motif is drawn no wider and no higher than this, whatever its size."""

TITLE_STEP_PX: Final = 26.0
TABLE_GAP_PX: Final = 24.0

_NOT_BEFORE_UNITS: Final = re.compile(r" +(?!(?:mm|in|deg)\b)")
"""Blanks at which a line may break: not between a number and its unit."""


@dataclass(frozen=True, slots=True)
class ChartCell:
    """One cell: its words, small words beside them, whether it is the chosen one, whether its words are bold."""

    words: str
    small: str = ""
    is_chosen: bool = False
    is_bold: bool = False

    @property
    def words_px(self) -> float:
        """Width of its words."""
        return text_width(self.words, NAME_PX if self.is_bold else TEXT_PX, is_bold=self.is_bold)

    @property
    def small_px(self) -> float:
        """Width of its small words with the room before them; 0 without any."""
        return SMALL_GAP_PX + text_width(self.small, TEXT_PX) if self.small else 0.0


@dataclass(frozen=True, slots=True)
class ChartRow:
    """One row: its cells, a note behind them, whether it is hatched as hard to hold."""

    cells: tuple[ChartCell, ...]
    note: str = ""
    is_hatched: bool = False


@dataclass(frozen=True, slots=True)
class ChartTable:
    """A table: its headings, its rows (at least one), and a title of its own where there are several."""

    headings: tuple[ChartCell, ...]
    rows: tuple[ChartRow, ...]
    title: str = ""


@dataclass(frozen=True, slots=True)
class FitChart:
    """What is drawn: a title, lines below it, tables, lines below those, and the motif with its foot, at true scale.

    ``motif`` are regions that stand on y = 0, mm, y up; ``foot_mm`` is the width of the foot about x = 0, or None.
    """

    title: str
    lines: tuple[str, ...]
    tables: tuple[ChartTable, ...]
    legend: tuple[str, ...]
    motif: tuple[Region, ...]
    foot_mm: float | None = None


@dataclass(frozen=True, slots=True)
class _Grid:
    """Where a table stands: the right end of every column, of small words how much of it, notes, left and right end."""

    rights: tuple[float, ...]
    smalls: tuple[float, ...]
    notes: float
    left: float
    right: float


def fit_chart(chart: FitChart) -> str:
    """Return the picture as SVG text, as wide and as high as it needs. Raises ValueError for a chart without a row."""
    if not chart.tables or not all(table.rows for table in chart.tables):
        raise ValueError("a fit chart needs at least one row")
    right = max(_grid(table, PAGE_PX - MARGIN_PX).right for table in chart.tables)
    width = right + MARGIN_PX
    body, top = _head(chart, width)
    for table in chart.tables:
        drawn, top = _table(table, _grid(table, right), top)
        body += drawn
    words = _wrapped(chart.legend, TEXT_PX, width - 2 * MARGIN_PX)
    for k, told in enumerate(words):
        body.append(text(complex(MARGIN_PX, top + 6 + k * LINE_STEP_PX), told, fill=DRY_SLATE))
    height = (top + 6 + (len(words) - 1) * LINE_STEP_PX if words else top - TABLE_GAP_PX) + MARGIN_PX
    what = "; ".join((chart.title, *chart.lines, *chart.legend))
    return page(width, height, chart.title, what, body)


def _table(table: ChartTable, grid: _Grid, top: float) -> tuple[list[str], float]:
    """Return a table that begins at ``top``, and where what comes below it begins."""
    body = []
    if table.title:
        body.append(text(complex(grid.left, top + NAME_PX), table.title, size_px=NAME_PX, is_bold=True))
        top += NAME_PX + 8
    body += _heading_row(table, grid, top)
    for k, row in enumerate(table.rows):
        body += _row(row, grid, top + (k + 1) * ROW_PX)
    bottom = top + (len(table.rows) + 1) * ROW_PX
    body.append(line(complex(grid.left, bottom), complex(grid.right, bottom), stroke=DEW, width_px=1))
    return body, bottom + TABLE_GAP_PX


def _grid(table: ChartTable, least_right: float) -> _Grid:
    """Return the columns, each as wide as its widest cell; a narrow table is drawn out to ``least_right``."""
    columns = list(zip(table.headings, *(row.cells for row in table.rows), strict=True))
    smalls = [max(cell.small_px for cell in column) for column in columns]
    widths = [
        max(max(cell.words_px for cell in column) + small, *(cell.words_px for cell in column if not cell.small), 0.0)
        + 2 * PAD_PX
        for column, small in zip(columns, smalls, strict=True)
    ]
    note = max(text_width(row.note, TEXT_PX) for row in table.rows)
    gaps = len(widths) - (0 if note else 1)
    free = least_right - MARGIN_PX - sum(widths) - note
    gap = min(max(COLUMN_GAP_PX - 2 * PAD_PX, free / gaps if gaps else 0.0), WIDEST_GAP_PX)
    rights, right = [], MARGIN_PX - gap
    for width in widths:
        right += gap + width
        rights.append(right)
    notes = right + gap if note else right
    return _Grid(tuple(rights), tuple(smalls), notes, MARGIN_PX, max(notes + note, least_right))


def _head(chart: FitChart, width: float) -> tuple[list[str], float]:
    """Return title, lines and motif, and where the table begins."""
    drawn, motif_width, motif_bottom = _motif(chart, width - MARGIN_PX)
    room = width - 2 * MARGIN_PX - motif_width - COLUMN_GAP_PX
    body, baseline = [], MARGIN_PX + TITLE_PX * 0.8
    for told in _wrapped((chart.title,), TITLE_PX, room, is_bold=True):
        body.append(text(complex(MARGIN_PX, baseline), told, size_px=TITLE_PX, is_bold=True))
        baseline += TITLE_STEP_PX
    for told in _wrapped(chart.lines, TEXT_PX, room):
        body.append(text(complex(MARGIN_PX, baseline), told, fill=DRY_SLATE))
        baseline += LINE_STEP_PX
    return [*body, *drawn], max(baseline - LINE_STEP_PX + 14, motif_bottom) + 14


def _motif(chart: FitChart, right: float) -> tuple[list[str], float, float]:
    """Return the motif on its line with the 50 mm bar below, its width, and the lowest place it takes."""
    box = bounds(chart.motif)
    scale = min(MOTIF_SCALE, MOTIF_PX / box.width_mm, MOTIF_HIGH_PX / max(box.height_mm, 1e-9))
    wide = max(box.width_mm * scale, bar_width(scale))
    floor = MARGIN_PX + max(box.top, 0.0) * scale + 4
    middle = complex(right - wide / 2, floor)
    sunk = floor + max(-box.bottom, 0.0) * scale
    body = [
        line(complex(right - wide, floor), complex(right, floor), stroke=DEW, width_px=1.5),
        card(chart.motif, mm_to_px(scale, middle, complex(box.center.real, 0)), card_colour("moss")),
        *_foot(chart.foot_mm, middle - box.center.real * scale, scale),
        *bar(right, sunk + 30, scale),
    ]
    return body, wide, sunk + 34


def _foot(foot_mm: float | None, at: complex, scale: float) -> Iterator[str]:
    """Yield the foot, cased, with a tick at both ends."""
    if not foot_mm:
        return
    left, right = at - foot_mm * scale / 2, at + foot_mm * scale / 2
    strokes = ((left, right), (left - 5j, left + 5j), (right - 5j, right + 5j))
    for start, end in strokes:
        yield line(start, end, stroke=FLEECE, width_px=4.5)
    for start, end in strokes:
        yield line(start, end, stroke=BEETROOT, width_px=2)


def _heading_row(table: ChartTable, grid: _Grid, top: float) -> Iterator[str]:
    """Yield the headings, each over the right end of its column."""
    for k, cell in enumerate(table.headings):
        yield from _words(cell, grid.rights[k], grid.smalls[k] if cell.small else 0.0, top, fill=DRY_SLATE)


def _row(row: ChartRow, grid: _Grid, top: float) -> Iterator[str]:
    """Yield one row below its rule: hatching first, the chosen cell's ground on it, words on both."""
    if row.is_hatched:
        yield _hatching(grid.left, top, grid.right, top + ROW_PX)
    yield line(complex(grid.left, top), complex(grid.right, top), stroke=DEW, width_px=1)
    for cell, right, small in zip(row.cells, grid.rights, grid.smalls, strict=True):
        if cell.is_chosen:
            yield from _ground(right - small - cell.words_px - 2 * PAD_PX, top, right if cell.small else right - small)
        yield from _words(cell, right, small, top, fill=WET_SLATE)
    if row.note:
        yield text(complex(grid.notes, top + ROW_PX * 0.66), row.note, fill=DRY_SLATE)


def _ground(left: float, top: float, right: float) -> tuple[str, ...]:
    """Return what lies behind a chosen cell: marrow flower with a beetroot edge below."""
    x, y = number_text(left, 2), number_text(top + 3, 2)
    size = f'width="{number_text(right - left, 2)}" height="{number_text(ROW_PX - 6, 2)}"'
    low = top + ROW_PX - 3
    return (
        f'<rect x="{x}" y="{y}" {size} fill="{MARROW_FLOWER}"/>',
        line(complex(left, low), complex(right, low), stroke=BEETROOT, width_px=2),
    )


def _words(cell: ChartCell, right: float, small_px: float, top: float, *, fill: str) -> Iterator[str]:
    """Yield the words of a cell, ending where the column's small words begin, and its own small words behind them."""
    baseline, end = top + ROW_PX * 0.66, right - PAD_PX
    if cell.small:
        small = WET_SLATE if cell.is_chosen else DRY_SLATE
        yield text(complex(end - small_px + SMALL_GAP_PX, baseline), cell.small, fill=small)
    size = NAME_PX if cell.is_bold else TEXT_PX
    yield text(
        complex(end - small_px, baseline), cell.words, size_px=size, is_bold=cell.is_bold, fill=fill, anchor="end"
    )


def _hatching(left: float, top: float, right: float, bottom: float) -> str:
    """Return slanted lines over a stretch, cut off at its sides."""
    high, steps = bottom - top, []
    start = left - high + HATCH_PX / 2
    while start < right:
        low = max(start, left)
        far = min(start + high, right)
        if far > low:
            y0, y1 = bottom - (low - start), bottom - (far - start)
            steps.append(f"M {number_text(low, 2)} {number_text(y0, 2)} L {number_text(far, 2)} {number_text(y1, 2)}")
        start += HATCH_PX
    return f'<path d="{" ".join(steps)}" fill="none" stroke="{DEW}" stroke-width="1.2"/>'


def _wrapped(lines: Sequence[str], size_px: float, room: float, *, is_bold: bool = False) -> list[str]:
    """Return the lines broken between words so that none is wider than ``room`` px, but for single long words."""
    broken: list[str] = []
    for told in lines:
        here = ""
        for word in _NOT_BEFORE_UNITS.split(told):
            longer = f"{here} {word}".strip()
            if here and text_width(longer, size_px, is_bold=is_bold) > room:
                broken.append(here)
                longer = word
            here = longer
        broken.append(here)
    return broken
