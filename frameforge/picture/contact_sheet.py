"""Several pieces side by side, all to one scale: a sheet to choose from and to tick off."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from frameforge.geometry.box import Box
from frameforge.geometry.measure import bounds
from frameforge.picture.elements import (
    bar,
    bar_width,
    card,
    crease_lines,
    loose_lines,
    mm_to_px,
    page,
    text,
)
from frameforge.picture.letter_widths import text_width
from frameforge.picture.look import DRY_SLATE, LINE_STEP_PX, MARGIN_PX, NAME_PX, TEXT_PX, TITLE_PX, card_colour
from frameforge.picture.piece import PieceDrawing

__all__ = ["contact_sheet"]

PAGE_PX: Final = 1120.0
"""Width that the scale aims at; the page is as wide as its columns."""

GAP_PX: Final = 36.0
"""Bench between neighbouring cells."""

HEAD_PX: Final = MARGIN_PX + TITLE_PX + GAP_PX
"""Height of the line with the title and the bar."""

GREATEST_SCALE: Final = 4.0
"""Pixels for a millimetre at most."""

PROPORTION: Final = 4 / 3
"""Width to height that the choice of columns comes nearest to: a screen, a sheet of paper on its side."""


@dataclass(frozen=True, slots=True)
class _Grid:
    """Column widths and row heights in px for one number of columns; heights are those of the drawn card."""

    columns: tuple[float, ...]
    rows: tuple[float, ...]
    words_px: float

    @property
    def width_px(self) -> float:
        """Width of the page."""
        return sum(self.columns) + GAP_PX * (len(self.columns) - 1) + 2 * MARGIN_PX

    @property
    def height_px(self) -> float:
        """Height of the page."""
        return HEAD_PX + sum(self.rows) + len(self.rows) * (self.words_px + GAP_PX) - GAP_PX + MARGIN_PX

    @property
    def waste(self) -> float:
        """How far the page is from the wished proportion, times the number of cells; the least is taken."""
        ratio = self.width_px / self.height_px / PROPORTION
        return max(ratio, 1 / ratio) * len(self.columns) * len(self.rows)


def contact_sheet(title: str, drawings: Sequence[PieceDrawing]) -> str:
    """Return the picture as SVG text: the pieces in their order, row by row, names and lines below, one 50 mm bar.

    Raises ValueError when there is no drawing, or one without a region.
    """
    if not drawings:
        raise ValueError("a contact sheet needs at least one piece")
    boxes = [bounds(drawing.regions) for drawing in drawings]
    scale = _scale(boxes)
    grid = min((_grid(drawings, boxes, scale, n) for n in range(1, len(boxes) + 1)), key=lambda g: g.waste)
    baseline = MARGIN_PX + TITLE_PX * 0.8
    head_px = text_width(title, TITLE_PX, is_bold=True) + GAP_PX + bar_width(scale) + 2 * MARGIN_PX
    width = max(grid.width_px, head_px)
    body = [
        text(complex(MARGIN_PX, baseline), title, size_px=TITLE_PX, is_bold=True),
        *bar(width - MARGIN_PX, baseline, scale),
    ]
    for i, (drawing, box) in enumerate(zip(drawings, boxes, strict=True)):
        body.extend(_cell(drawing, box, scale, grid, i))
    return page(width, grid.height_px, title, f"{title}: {', '.join(d.name for d in drawings)}", body)


def _scale(boxes: Sequence[Box]) -> float:
    """Return px for a mm: the pieces in about three columns fill the page's width."""
    widest = sorted((box.width_mm for box in boxes), reverse=True)[:3]
    return min((PAGE_PX - 2 * MARGIN_PX - GAP_PX * (len(widest) - 1)) / sum(widest), GREATEST_SCALE)


def _grid(drawings: Sequence[PieceDrawing], boxes: Sequence[Box], scale: float, columns: int) -> _Grid:
    """Return the grid for a number of columns: each column as wide as its widest card or words."""
    widths = [max(box.width_mm * scale, _words_width(drawing)) for box, drawing in zip(boxes, drawings, strict=True)]
    heights = [box.height_mm * scale for box in boxes]
    lines = max(len(drawing.lines) for drawing in drawings)
    return _Grid(
        tuple(max(widths[i::columns]) for i in range(columns)),
        tuple(max(heights[i : i + columns]) for i in range(0, len(heights), columns)),
        NAME_PX + 14 + lines * LINE_STEP_PX,
    )


def _words_width(drawing: PieceDrawing) -> float:
    """Return the width in px of the widest line of words below a piece."""
    small = (text_width(line, TEXT_PX) for line in drawing.lines)
    return max(text_width(drawing.name, NAME_PX, is_bold=True), *small, 0.0)


def _cell(drawing: PieceDrawing, box: Box, scale: float, grid: _Grid, index: int) -> list[str]:
    """Return one piece, its middle in the middle of its cell, and its words centred below."""
    row, column = divmod(index, len(grid.columns))
    x = MARGIN_PX + sum(grid.columns[:column]) + GAP_PX * column + grid.columns[column] / 2
    top = HEAD_PX + sum(grid.rows[:row]) + row * (grid.words_px + GAP_PX)
    middle = complex(x, top + grid.rows[row] / 2)
    baseline = top + grid.rows[row] + 14 + NAME_PX * 0.8
    words = [text(complex(x, baseline), drawing.name, size_px=NAME_PX, is_bold=True, anchor="middle")]
    for i, line in enumerate(drawing.lines):
        words.append(text(complex(x, baseline + (i + 1) * LINE_STEP_PX), line, fill=DRY_SLATE, anchor="middle"))
    to_px = mm_to_px(scale, middle, box.center)
    lines = (*loose_lines(drawing.marks, to_px), *crease_lines(drawing.creases, to_px))
    return [card(drawing.regions, to_px, card_colour(drawing.card)), *lines, *words]
