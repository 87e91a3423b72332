"""The hand-out: one page a project, for those who cut and glue: picture, parts, sizes, order, times, cautions."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from frameforge.geometry.affine import Affine
from frameforge.geometry.box import Box
from frameforge.geometry.measure import bounds
from frameforge.geometry.region import Region
from frameforge.picture.letter_widths import shortened
from frameforge.picture.look import card_colour
from frameforge.picture.paper.marks import Filled, Marks, Stroke, Words, straight
from frameforge.picture.paper.pages import EDGE_MM, Page
from frameforge.picture.paper.scale_check import wrapped

__all__ = ["HandOut", "HandOutPart", "hand_out_page"]

_PAPER_MM: Final = (210.0, 297.0)
_TITLE_MM: Final = 6.5
_HEAD_MM: Final = 4.0
_TYPE_MM: Final = 3.1
_STEP_MM: Final = 4.7
_PICTURE_MM: Final = 112.0
_AIR_MM: Final = 6.0
_BAR_MM: Final = 50.0
_COLUMNS: Final = (0.0, 62.0, 92.0, 110.0, 158.0)
_END_MM: Final = 192.0
_HEADINGS: Final = ("part", "card", "copies", "across", "cutting")


@dataclass(frozen=True, slots=True)
class HandOutPart:
    """One part of a project: what it is called, its card, how many, its size and its cutting in words, its drawing."""

    name: str
    card: str | None
    copies: int
    across: str
    cutting: str
    regions: tuple[Region, ...]
    lines: tuple[Stroke, ...] = ()


@dataclass(frozen=True, slots=True)
class HandOut:
    """One project: title, parts, and paragraphs below headings."""

    title: str
    parts: tuple[HandOutPart, ...]
    paragraphs: tuple[tuple[str, tuple[str, ...]], ...]


def hand_out_page(hand_out: HandOut, number: int, of: int) -> Page:
    """Return the page of a project. What does not go on the page is told at its end."""
    width, height = _PAPER_MM
    window = Box(EDGE_MM, EDGE_MM, width - EDGE_MM, height - EDGE_MM)
    top = window.top - _TITLE_MM
    words = [Words(complex(window.left, top), hand_out.title, _TITLE_MM, is_bold=True)]
    picture = _picture(hand_out.parts, Box(window.left, top - 5 - _PICTURE_MM, window.right, top - 5))
    y = picture.box.bottom - _AIR_MM
    table, y = _table(hand_out.parts, window.left, y)
    words += table
    for heading, lines in hand_out.paragraphs:
        if not lines:
            continue
        y -= _STEP_MM * 0.5
        words.append(Words(complex(window.left, y), heading, _HEAD_MM, is_bold=True))
        y -= _STEP_MM * 1.1
        for line in wrapped(lines, window.width_mm, _TYPE_MM):
            if y < window.bottom + _STEP_MM:
                words.append(Words(complex(window.left, window.bottom), "More in report.md.", _TYPE_MM))
                break
            words.append(Words(complex(window.left, y), line, _TYPE_MM))
            y -= _STEP_MM
    below = picture.box.bottom - 2
    rule = straight(complex(window.left, below), complex(window.right, below), 0.15, grey=0.6)
    marks = Marks(window, (*picture.strokes, rule), (*picture.words, *words), picture.areas)
    foot = Words(complex(window.right, window.bottom - 6), f"{number} of {of}", 2.6, "end", grey=0.3)
    return Page(width, height, window.grown(EDGE_MM), marks, Marks(window, (), (foot,)))


def _table(parts: Sequence[HandOutPart], left: float, top: float) -> tuple[list[Words], float]:
    """Return the table of parts, and where it ends."""
    words = [
        Words(complex(left + x, top), heading, _TYPE_MM, is_bold=True)
        for x, heading in zip(_COLUMNS, _HEADINGS, strict=True)
    ]
    y = top - _STEP_MM
    for part in parts:
        cells = (part.name, part.card or "any", str(part.copies), part.across, part.cutting)
        rooms = [b - a - 2.0 for a, b in pairwise((*_COLUMNS, _END_MM))]
        words += [
            Words(complex(left + x, y), shortened(cell, room, _TYPE_MM), _TYPE_MM)
            for x, cell, room in zip(_COLUMNS, cells, rooms, strict=True)
        ]
        y -= _STEP_MM
    return words, y


def _picture(parts: Sequence[HandOutPart], frame: Box) -> Marks:
    """Return all parts side by side, to one scale, in a frame, with a bar of 50 mm in that scale."""
    boxes = [bounds(part.regions) for part in parts]
    room_w, room_h = frame.width_mm, frame.height_mm - 8.0
    columns, scale = _best_grid(boxes, room_w, room_h)
    rows = math.ceil(len(parts) / columns)
    pitch_x, pitch_y = room_w / columns, room_h / rows
    areas, strokes = [], []
    for k, (part, box) in enumerate(zip(parts, boxes, strict=True)):
        row, column = divmod(k, columns)
        in_row = min(columns, len(parts) - row * columns)
        shift = (columns - in_row) * pitch_x / 2
        middle = complex(frame.left + shift + (column + 0.5) * pitch_x, frame.top - (row + 0.5) * pitch_y)
        place = Affine(scale, 0, middle - scale * box.center)
        outlines = tuple(o.transformed(place) for region in part.regions for o in region.outlines)
        areas.append(Filled(outlines, card_colour(part.card)))
        strokes += [
            Stroke(tuple(segment.transformed(place) for segment in line.run), line.width_mm, line.dashes_mm, line.grey)
            for line in part.lines
        ]
    bar = straight(
        complex(frame.right - _BAR_MM * scale, frame.bottom + 2), complex(frame.right, frame.bottom + 2), 0.3
    )
    said = Words(complex(frame.right - _BAR_MM * scale - 2, frame.bottom + 1), "50 mm", 2.6, "end", grey=0.2)
    return Marks(frame, (*strokes, bar), (said,), tuple(areas))


def _best_grid(boxes: Sequence[Box], width: float, height: float) -> tuple[int, float]:
    """Return the number of columns that lets the parts be drawn largest, and the scale, 1 at most."""
    wide, tall = max(box.width_mm for box in boxes) + 4, max(box.height_mm for box in boxes) + 4
    tried = []
    for columns in range(1, len(boxes) + 1):
        rows = math.ceil(len(boxes) / columns)
        tried.append((min(width / columns / wide, height / rows / tall, 1.0), -columns))
    scale, columns = max(tried)
    return -columns, scale
