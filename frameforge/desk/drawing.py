"""A made piece as the page draws it: paths, rings and labels in pixels, and the lines that are said of it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import partial
from typing import Any, Final

from frameforge.desk.asked import map_values
from frameforge.desk.marks import label_values, line_values, point_values, ring_values
from frameforge.desk.offer_place import offer_of
from frameforge.desk.quick_path import quick_path
from frameforge.finding import grouped
from frameforge.frame.wording import plural
from frameforge.geometry.affine import Affine
from frameforge.geometry.box import Box
from frameforge.geometry.measure import bounds
from frameforge.geometry.outline import Segment
from frameforge.geometry.region import Region
from frameforge.job.closing import finding_lines
from frameforge.job.made import MadePiece
from frameforge.picture.elements import BAR_MM, mm_to_px
from frameforge.picture.finding_marks import LABEL_ROOM_PX, Label, placed_marks
from frameforge.picture.look import card_colour
from frameforge.picture.path_text import open_text
from frameforge.units import format_floor, format_size

__all__ = ["card_values", "drawn_box", "drawn_piece", "field_of", "found_in", "within_field"]

_GREATEST_SCALE: Final = 6.0
"""Pixels for a millimetre at most, as on our pictures: a tiny piece stays recognisably tiny."""

_SIDE_PX: Final = 72.5
"""Room beside a piece for a label "12 x48", kept before it is known what is found: nothing moves when labels come."""

_BELOW_PX: Final = 30.0
"""Room for the 50 mm bar."""

_EDGE_PX: Final = 1.0
"""Between a label and the side of the drawing."""

_DIGITS: Final = 2


def drawn_piece(made: MadePiece, width_px: float) -> dict[str, Any]:
    """Return one piece drawn ``width_px`` wide, its findings placed, as plain values for the page.

    Positions are px, y down, from the upper left corner. The drawing is the same whatever is found.
    """
    to_px, high = _field(made, width_px)
    return {
        "name": made.name,
        "card": made.card or "",
        "size": f"{format_size(made.box.width_mm, made.box.height_mm)} across",
        "width": width_px,
        "height": high,
        "cards": [
            *(card_values([region], to_px, colour) for region, colour in made.stack),
            *([] if made.stack else [card_values(made.regions, to_px, made.card)]),
        ],
        "creases": _lines(made.creases, to_px),
        "marks": _lines(made.marks, to_px),
        "bar": round(BAR_MM * to_px.greatest_stretch, _DIGITS),
        "positions": _positions(made, to_px),
        "map": map_values(to_px),
        "middle": point_values(to_px.apply(0)),
        "mended": bool(made.mended),
        **found_in(made, width_px),
    }


def found_in(made: MadePiece, width_px: float) -> dict[str, Any]:
    """Return what of the drawing of a piece rests on its findings: their marks and lines, and all that is said."""
    to_px, high = _field(made, width_px)
    groups = grouped(made.findings)
    rings, labels = placed_marks(groups, to_px, drawn_box(made, to_px))
    return {
        "rings": [ring_values(ring) for ring in rings],
        "labels": [label_values(within_field(label, width_px)) for label in labels],
        "findings": [line_values(group, to_px, (width_px, high), partial(offer_of, made)) for group in groups],
        "said": _said(made),
        "rows": [_row(made, place) for place in range(len(made.piece.rows))],
        "mendable": made.can_be_mended,
    }


def _field(made: MadePiece, width_px: float) -> tuple[Affine, float]:
    return field_of(bounds(_cards(made)), width_px)


def field_of(box: Box, width_px: float) -> tuple[Affine, float]:
    """Return the map from mm to px of a drawing of what fills a box (mm), and how high (px) the drawing is."""
    wide, high = width_px - 2 * _SIDE_PX, width_px - 2 * LABEL_ROOM_PX
    scale = min(wide / box.width_mm, high / box.height_mm, _GREATEST_SCALE)
    middle = complex(width_px / 2, LABEL_ROOM_PX + box.height_mm * scale / 2)
    return mm_to_px(scale, middle, box.center), box.height_mm * scale + 2 * LABEL_ROOM_PX + _BELOW_PX


def within_field(label: Label, width_px: float) -> Label:
    """Return a label moved into a drawing where it is wider than the room beside the piece."""
    half = label.width_px / 2 + _EDGE_PX
    x = min(max(label.point.real, half), width_px - half)
    return replace(label, point=complex(x, label.point.imag))


def drawn_box(made: MadePiece, to_px: Affine) -> Box:
    """Return the box of all card of a piece on a drawing, px, y down."""
    box = bounds(_cards(made))
    corners = complex(box.left, box.bottom), complex(box.right, box.top)
    return Box.from_points(to_px.apply(corner) for corner in corners)


def _cards(made: MadePiece) -> tuple[Region, ...]:
    return (*made.regions, *(region for region, _ in made.stack))


def card_values(regions: Iterable[Region], to_px: Affine, colour: str | None) -> dict[str, str]:
    """Return regions of one card as a path in px, and the colour that they are drawn in."""
    return {"path": quick_path(regions, to_px), "colour": card_colour(colour)}


def _lines(runs: Iterable[Sequence[Segment]], to_px: Affine) -> list[str]:
    return [open_text([segment.transformed(to_px) for segment in run], _DIGITS) for run in runs]


def _said(made: MadePiece) -> list[str]:
    """Return the lines said of a piece at the end of a run, without its name and its findings."""
    found = len(finding_lines(made.findings))
    lines = made.lines()
    return [line.strip() for line in lines[1 : len(lines) - found]]


def _positions(made: MadePiece, to_px: Affine) -> list[dict[str, float]]:
    """Return where the repeats of a piece stand, row by row (from 0), by their numbers from 1 at the top.

    None of a tent card, whose repeats stand on both halves.
    """
    if made.piece.tent is not None:
        return []
    return [
        {"row": row, "number": repeat.position, **point_values(to_px.apply(repeat.placement.apply(0)))}
        for row, result in enumerate(made.piece.rows)
        for repeat in result.repeats
    ]


def _row(made: MadePiece, place: int) -> dict[str, Any]:
    """Return a row's count, its gap, and the counts beside it that close the pattern with a gap."""
    row = made.piece.rows[place]
    motif = row.motif_name if "+" not in row.motif_name else "motif"
    near = {count: gap for count, gap in made.neighbours[place].items() if gap > 0}
    told = {**near, row.count: row.gap_mm}
    return {
        "count": row.count,
        "counts": [
            {
                "count": count,
                "words": f"{count} {plural(motif, count)}",
                "gap": "" if gap is None else f"gap {format_floor(max(gap, 0.0))}",
            }
            for count, gap in sorted(told.items())
        ],
    }
