"""One piece at true proportion: its name, its card on the bench, its size in words, the 50 mm bar."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from frameforge.finding import FindingGroup
from frameforge.geometry.box import Box
from frameforge.geometry.measure import bounds
from frameforge.geometry.outline import Segment
from frameforge.geometry.region import Region
from frameforge.picture.elements import bar, bar_width, card, crease_lines, loose_lines, mm_to_px, page, text
from frameforge.picture.finding_marks import LABEL_ROOM_PX, finding_marks
from frameforge.picture.finding_table import finding_table
from frameforge.picture.letter_widths import text_width
from frameforge.picture.look import DRY_SLATE, LINE_STEP_PX, MARGIN_PX, TEXT_PX, TITLE_PX, card_colour

__all__ = ["PieceDrawing", "piece_picture"]

PAGE_PX: Final = 620.0
"""Width of the page; a phone shows it whole."""

FIELD_PX: Final = 500.0
"""The piece is drawn as large as this square takes; smaller where labels stand round it."""

GREATEST_SCALE: Final = 6.0
"""Pixels for a millimetre at most: a tiny piece stays recognisably tiny, and the bar fits the page."""


@dataclass(frozen=True, slots=True)
class PieceDrawing:
    """What is drawn of a piece: its name, its card, the colour name of the stock, lines of small text below.

    ``regions`` is one region for a whole piece; several where it is drawn taken apart. mm, y up. ``findings`` are
    ringed on it and told in a table below. ``loose`` are cut lines that bound no card, ``creases`` lines in it along
    which it bends, ``marks`` lines drawn on it.
    """

    name: str
    regions: tuple[Region, ...]
    card: str | None = None
    lines: tuple[str, ...] = ()
    findings: tuple[FindingGroup, ...] = ()
    loose: tuple[tuple[Segment, ...], ...] = ()
    creases: tuple[tuple[Segment, ...], ...] = ()
    marks: tuple[tuple[Segment, ...], ...] = ()
    beneath: tuple[tuple[Region, str | None], ...] = ()
    """Cards that lie beneath, with the colour names of their stock, the lowest first."""


def piece_picture(drawing: PieceDrawing) -> str:
    """Return the picture as SVG text, 620 px wide and as high as it needs.

    Raises ValueError when the drawing holds neither region nor line.
    """
    regions = (*drawing.regions, *(region for region, _ in drawing.beneath))
    outlines = (outline.segments for region in regions for outline in region.outlines)
    box = bounds(segment for segments in (*outlines, *drawing.loose) for segment in segments)
    room = LABEL_ROOM_PX if drawing.findings else 0.0
    field = FIELD_PX - room
    scale = min(field / max(box.width_mm, box.height_mm), GREATEST_SCALE)
    high = box.height_mm * scale
    top = MARGIN_PX + TITLE_PX + 24 + room
    middle = complex(PAGE_PX / 2, top + high / 2)
    below, height = _words_and_bar(drawing.lines, top + high + room + 44, scale)
    table, height = _table(drawing.findings, height)
    drawn = Box.from_points((middle - complex(box.width_mm * scale, high) / 2,
                             middle + complex(box.width_mm * scale, high) / 2))  # fmt: skip
    to_px = mm_to_px(scale, middle, box.center)
    body = (
        text(complex(MARGIN_PX, MARGIN_PX + TITLE_PX * 0.8), drawing.name, size_px=TITLE_PX, is_bold=True),
        *(card((region,), to_px, card_colour(colour)) for region, colour in drawing.beneath),
        *((card(drawing.regions, to_px, card_colour(drawing.card)),) if drawing.regions else ()),
        *loose_lines((*drawing.loose, *drawing.marks), to_px),
        *crease_lines(drawing.creases, to_px),
        *finding_marks(drawing.findings, to_px, drawn),
        *below,
        *table,
    )
    what = "; ".join((f"{drawing.name} in {drawing.card} card" if drawing.card else drawing.name, *drawing.lines))
    return page(PAGE_PX, height, drawing.name, what, body)


def _table(findings: tuple[FindingGroup, ...], height: float) -> tuple[list[str], float]:
    """Return the table of findings below everything else, and the page's height."""
    if not findings:
        return [], height
    table, end = finding_table(findings, MARGIN_PX, PAGE_PX - MARGIN_PX, height)
    return table, end + MARGIN_PX


def _words_and_bar(lines: tuple[str, ...], baseline: float, scale: float) -> tuple[list[str], float]:
    """Return the small text with the bar beside it, or above it where the first line is long, and the page's height."""
    widest = max((text_width(line, TEXT_PX) for line in lines), default=0.0)
    body = list(bar(PAGE_PX - MARGIN_PX, baseline, scale))
    if lines and widest + 40 + bar_width(scale) > PAGE_PX - 2 * MARGIN_PX:
        baseline += LINE_STEP_PX + 8
    for i, words in enumerate(lines):
        body.append(text(complex(MARGIN_PX, baseline + i * LINE_STEP_PX), words, fill=DRY_SLATE))
    return body, baseline + max(0, len(lines) - 1) * LINE_STEP_PX + MARGIN_PX
