"""All sheets of a run side by side, to one scale: what is cut from which card, and where it lies."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from frameforge.geometry.affine import Affine
from frameforge.geometry.outline import Outline, Segment
from frameforge.geometry.region import Region
from frameforge.picture.elements import bar, bar_width, card, crease_lines, loose_lines, mm_to_px, page, text
from frameforge.picture.letter_widths import text_width
from frameforge.picture.look import (
    BENCH,
    DRY_SLATE,
    EDGE_PX,
    FLEECE,
    LINE_STEP_PX,
    MARGIN_PX,
    NAME_PX,
    TEXT_PX,
    TITLE_PX,
    WET_SLATE,
    card_colour,
)
from frameforge.picture.path_text import number_text, region_text

__all__ = ["PlanPiece", "PlanSheet", "sheet_plan"]

PAGE_PX: Final = 1120.0
GAP_PX: Final = 36.0
GREATEST_SCALE: Final = 2.6
"""Pixels for a millimetre at most: an A4 sheet then stands as large as half the page."""

MOST_COLUMNS: Final = 6
"""More would leave no room for the words below a sheet."""

PROPORTION: Final = 4 / 3
"""Width to height that the choice of columns comes nearest to."""

HATCH_PX: Final = 9.0
"""From one line of the hatching to the next, along the edge of a sheet."""


@dataclass(frozen=True, slots=True)
class PlanPiece:
    """One piece where it lies (mm from the sheet's lower left, y up), and the number that tells what it is.

    ``spot`` is where the number stands and ``room_mm`` how far the card reaches round it; "" for no number. ``lines``
    are cut within the card, as between rings, ``creases`` are folded along.
    """

    region: Region
    number: str = ""
    spot: complex = 0
    room_mm: float = 0.0
    lines: tuple[tuple[Segment, ...], ...] = ()
    creases: tuple[tuple[Segment, ...], ...] = ()


@dataclass(frozen=True, slots=True)
class PlanSheet:
    """One sheet: its name, the colour of its card, its size, what lies on it in cutting order, what is used up of it,
    and lines of small text below."""

    name: str
    card: str | None
    width_mm: float
    height_mm: float
    pieces: tuple[PlanPiece, ...]
    used: tuple[Region, ...] = ()
    lines: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Grid:
    """Where the sheets stand: px for a mm, number of columns, px of a column, lines of words below each sheet."""

    scale: float
    columns: int
    column_px: float
    words: tuple[tuple[str, ...], ...]
    rows_px: tuple[float, ...]

    @property
    def width_px(self) -> float:
        """Width of the page."""
        return self.columns * self.column_px + (self.columns - 1) * GAP_PX + 2 * MARGIN_PX

    @property
    def height_px(self) -> float:
        """Height of the page."""
        return _HEAD_PX + sum(self.rows_px) + (len(self.rows_px) - 1) * GAP_PX + MARGIN_PX


_HEAD_PX: Final = MARGIN_PX + TITLE_PX + 24
_NAME_ROOM_PX: Final = NAME_PX + 12
"""Height of the line above a sheet."""


def sheet_plan(title: str, sheets: Sequence[PlanSheet]) -> str:
    """Return the picture as SVG text: every sheet with its name, its card and what lies on it, one 50 mm bar.

    Waste is hatched, openings and what was cut before show the bench. Raises ValueError when there is no sheet.
    """
    if not sheets:
        raise ValueError("a plan needs at least one sheet")
    most = min(len(sheets), MOST_COLUMNS)
    grid = min((_grid(sheets, columns) for columns in range(1, most + 1)), key=_waste)
    baseline = MARGIN_PX + TITLE_PX * 0.8
    head_px = text_width(title, TITLE_PX, is_bold=True) + GAP_PX + bar_width(grid.scale) + 2 * MARGIN_PX
    width = max(grid.width_px, head_px)
    body = [
        text(complex(MARGIN_PX, baseline), title, size_px=TITLE_PX, is_bold=True),
        *bar(width - MARGIN_PX, baseline, grid.scale),
    ]
    for number, sheet in enumerate(sheets):
        body += _cell(sheet, grid, number)
    told = "; ".join(", ".join((sheet.name, *sheet.lines)) for sheet in sheets)
    return page(width, grid.height_px, title, f"{title}: {told}", body)


def _waste(grid: _Grid) -> tuple[float, int]:
    """Return how far the page is from the wished proportion, times the number of cells; the least is taken."""
    ratio = grid.width_px / grid.height_px / PROPORTION
    return round(max(ratio, 1 / ratio) * grid.columns * len(grid.rows_px), 6), grid.columns


def _grid(sheets: Sequence[PlanSheet], columns: int) -> _Grid:
    """Return the grid for a number of columns, each as wide as the widest sheet."""
    widest = max(sheet.width_mm for sheet in sheets)
    room = (PAGE_PX - 2 * MARGIN_PX - (columns - 1) * GAP_PX) / columns
    scale = min(room / widest, GREATEST_SCALE)
    column = max(widest * scale, *(text_width(sheet.name, NAME_PX, is_bold=True) for sheet in sheets))
    words = tuple(tuple(row for line in sheet.lines for row in _packed(line, column)) for sheet in sheets)
    heights = [_NAME_ROOM_PX + s.height_mm * scale + 8 + len(w) * LINE_STEP_PX
               for s, w in zip(sheets, words, strict=True)]  # fmt: skip
    rows = tuple(max(heights[k : k + columns]) for k in range(0, len(heights), columns))
    return _Grid(scale, columns, column, words, rows)


def _packed(words: str, width_px: float) -> Iterator[str]:
    """Yield lines of the words, broken behind commas; what is wider than a line between two commas breaks anywhere."""
    current = ""
    for part in words.split(", "):
        longer = f"{current}, {part}" if current else part
        if text_width(longer, TEXT_PX) <= width_px:
            current = longer
            continue
        if current:
            yield f"{current},"
        *whole, current = _broken(part, width_px)
        yield from whole
    yield current


def _broken(words: str, width_px: float) -> list[str]:
    """Return lines of words no wider than asked, broken at blanks, and behind the hyphens of words wider than that."""
    lines = [""]
    for word in words.split():
        parts = [word] if text_width(word, TEXT_PX) <= width_px else re.findall(r"[^-]*-|[^-]+", word)
        for number, part in enumerate(parts):
            longer = lines[-1] + (" " if lines[-1] and number == 0 else "") + part
            if lines[-1] and text_width(longer, TEXT_PX) > width_px:
                lines.append(part)
            else:
                lines[-1] = longer
    return lines


def _cell(sheet: PlanSheet, grid: _Grid, number: int) -> Iterator[str]:
    """Yield one sheet: its name above, the card, what lies on it, and the words below."""
    row, column = divmod(number, grid.columns)
    left = MARGIN_PX + column * (grid.column_px + GAP_PX)
    top = _HEAD_PX + sum(grid.rows_px[:row]) + row * GAP_PX
    yield text(complex(left, top + NAME_PX * 0.8), sheet.name, size_px=NAME_PX, is_bold=True)
    top += _NAME_ROOM_PX
    high = sheet.height_mm * grid.scale
    to_px = mm_to_px(grid.scale, complex(left, top + high))
    yield from _card(sheet, to_px)
    for k, words in enumerate(grid.words[number]):
        yield text(complex(left, top + high + 8 + TEXT_PX + k * LINE_STEP_PX), words, fill=DRY_SLATE)


def _card(sheet: PlanSheet, to_px: Affine) -> Iterator[str]:
    """Yield the sheet and its pieces; what lies in an opening is cut first and so drawn last."""
    corners = 0, sheet.width_mm, complex(sheet.width_mm, sheet.height_mm), 1j * sheet.height_mm
    whole = Region(Outline.from_points([complex(corner) for corner in corners]))
    colour = card_colour(sheet.card)
    yield card([whole], to_px, colour)
    yield _hatching(sheet, to_px)
    if sheet.used:
        yield card(sheet.used, to_px, BENCH)
    for piece in reversed(sheet.pieces):
        holes = [Region(hole.reversed()) for hole in piece.region.holes]
        if holes:
            yield _filled(holes, to_px, BENCH)
        yield card([piece.region], to_px, colour)
        yield from loose_lines(piece.lines, to_px)
        yield from crease_lines(piece.creases, to_px)
    scale = abs(to_px.apply_vector(1))
    yield from (_number(piece, to_px, scale) for piece in sheet.pieces if piece.number)


def _hatching(sheet: PlanSheet, to_px: Affine) -> str:
    """Return thin lines all over a sheet, rising to the right; drawn one by one, since a pattern takes six times as
    long to be filled in."""
    upper = to_px.apply(1j * sheet.height_mm)
    lower = to_px.apply(complex(sheet.width_mm))
    width, height = lower.real - upper.real, lower.imag - upper.imag
    words = []
    for k in range(1, math.ceil((width + height) / HATCH_PX)):
        sum_px = k * HATCH_PX
        a = complex(max(0.0, sum_px - height), min(sum_px, height)) + upper
        b = complex(min(sum_px, width), max(0.0, sum_px - width)) + upper
        words.append(f"M {_pair(a)} L {_pair(b)}")
    return f'<path d="{" ".join(words)}" fill="none" stroke="{WET_SLATE}" stroke-width="0.8" stroke-opacity="0.45"/>'


def _pair(at: complex) -> str:
    return f"{number_text(at.real, 1)} {number_text(at.imag, 1)}"


def _filled(regions: Sequence[Region], to_px: Affine, fill: str) -> str:
    """Return regions filled, without an edge."""
    return f'<path d="{region_text(region.transformed(to_px) for region in regions)}" fill="{fill}"/>'


def _number(piece: PlanPiece, to_px: Affine, scale: float) -> str:
    """Return the number of a piece on its card, smaller where the card is narrow, cased so that it reads on it."""
    fits = 2 * piece.room_mm * scale / math.hypot(1.0, text_width(piece.number, 1.0, is_bold=True))
    size = min(max(fits, 9.0), TEXT_PX)
    at = to_px.apply(piece.spot) + 0.36j * size
    plain = text(at, piece.number, size_px=size, is_bold=True, anchor="middle")
    casing = f'stroke="{FLEECE}" stroke-width="{number_text(max(EDGE_PX, 3.0), 2)}" paint-order="stroke"'
    return plain.replace("<text ", f"<text {casing} ", 1)
