"""A piece with its dimension lines, and each of its motifs beside it, drawn larger with its own."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final

from frameforge.desk.asked import map_of, width_of
from frameforge.desk.drawing import drawn_box, drawn_piece
from frameforge.desk.made_pieces import made_pieces
from frameforge.frame.base import Edge
from frameforge.frame.piece import RowResult
from frameforge.frame.spec import Size
from frameforge.frame.wording import plural
from frameforge.geometry.affine import Affine
from frameforge.geometry.box import Box
from frameforge.geometry.measure import bounds
from frameforge.geometry.region import Region
from frameforge.job.made import MadePiece
from frameforge.job.motif_source import MotifSource
from frameforge.motif.motif import Motif
from frameforge.picture.dimension_lines import STEP_PX, DimensionLine, Span, Stack, stack_reach
from frameforge.picture.elements import mm_to_px
from frameforge.picture.finding_marks import LABEL_ROOM_PX
from frameforge.picture.letter_widths import text_width
from frameforge.picture.look import TEXT_PX
from frameforge.picture.path_text import number_text, region_text
from frameforge.recipe.model import PieceTable
from frameforge.recipe.recipe import Recipe
from frameforge.units import format_both, format_floor_both

__all__ = ["dimensions"]

_DIGITS: Final = 2
_SIDE_PX: Final = 6.0
"""Kept free beside words that stand at the very edge of a drawing."""
_NEAR_PX: Final = 12.0
"""From a piece without labels to where its stack of dimension lines begins."""
_MOTIF_PX: Final = 110.0
"""A motif is drawn as large as this square takes."""
_MOTIF_SCALE: Final = 12.0
"""Pixels for a millimetre at most, of a motif drawn by itself."""
_MOST_PARTS: Final = 6
"""Cards of a set whose widths are drawn; of more only the outermost and the innermost."""
_SAME_MM: Final = 0.05
"""Sizes told to a tenth that differ by less read alike."""


def dimensions(question: dict[str, Any], source: MotifSource) -> dict[str, Any]:
    """Return every piece of a recipe drawn with its dimension lines, as plain values for the page.

    ``question`` holds recipe and width (px). Raises what the command raises.
    """
    recipe, pieces = made_pieces(str(question["recipe"]), source)
    width = width_of(question)
    return {"pieces": [_dimensioned(recipe, made, width) for made in pieces]}


def _dimensioned(recipe: Recipe, made: MadePiece, width: float) -> dict[str, Any]:
    """Return a piece drawn so much smaller that its dimension lines have room beside it."""
    across, upright = list(_across(recipe, made)), list(_upright(recipe, made))
    left = STEP_PX * (len(upright) + 0.6) + _SIDE_PX if upright else 0.0
    drawn = drawn_piece(made, width - left)
    to_px = map_of(drawn)
    room = 0.0 if drawn["labels"] else LABEL_ROOM_PX - _NEAR_PX
    box = drawn_box(made, to_px)
    above = Stack("above", room, -left + _SIDE_PX, width - left - _SIDE_PX)
    beside = Stack("left", 0.0 if drawn["labels"] else box.left - _NEAR_PX, box.bottom, box.top)
    rows = above.lines(_placed(across, to_px))
    columns = beside.lines(_placed(upright, to_px))
    top = max(stack_reach(rows, above) - room + _SIDE_PX, 0.0)
    return {
        **drawn,
        "view": [round(v, _DIGITS) for v in (-left, -top, width, drawn["height"] + top)],
        "dimensions": [_line(line) for line in (*rows, *columns)],
        "motifs": [_motif(row, motif, to_px.greatest_stretch) for row, motif in _motifs(made)],
    }


_Mm = tuple[str, complex, complex]
"""Words, and the two places in mm, y up."""


def _placed(found: list[_Mm], to_px: Affine) -> list[Span]:
    return [Span(words, to_px.apply(start), to_px.apply(end)) for words, start, end in found]


def _across(recipe: Recipe, made: MadePiece) -> Iterator[_Mm]:
    """Yield what is measured from left to right."""
    edges = _edges(recipe, made)
    if edges is not None:
        base, opening = edges
        yield _wide("base", base.size.width_mm)
        if opening is not None:
            yield _wide("opening", opening.size.width_mm)
            inner, outer = opening.size.width_mm / 2, base.size.width_mm / 2
            yield f"rim {format_floor_both(outer - inner)}", complex(inner, 0), complex(outer, 0)
    for what, part in _parts(made):
        box = bounds(part)
        if edges is None or abs(box.width_mm - edges[0].size.width_mm) > _SAME_MM:
            words = f"{what} {format_both(box.width_mm)}"
            yield words, complex(box.left, _height_of(part, box.left)), complex(box.right, _height_of(part, box.right))
    if edges is None:
        hole = _middle_hole(made)
        if hole is not None:
            middle = hole.center.imag
            yield f"opening {format_both(hole.width_mm)}", complex(hole.left, middle), complex(hole.right, middle)


def _upright(recipe: Recipe, made: MadePiece) -> Iterator[_Mm]:
    """Yield what is measured from bottom to top: of ovals, and of pieces that are not as high as they are wide."""
    edges = _edges(recipe, made)
    if edges is not None and not edges[0].size.is_circle:
        base, opening = edges
        yield _high("base", base.size.height_mm)
        if opening is not None:
            yield _high("opening", opening.size.height_mm)
            inner, outer = opening.size.height_mm / 2, base.size.height_mm / 2
            if abs(outer - inner - (base.size.width_mm - opening.size.width_mm) / 2) > _SAME_MM / 10:
                yield f"rim {format_floor_both(outer - inner)}", complex(0, inner), complex(0, outer)
    for what, part in _parts(made):
        box = bounds(part)
        is_base = edges is not None and abs(box.height_mm - edges[0].size.height_mm) <= _SAME_MM
        if abs(box.width_mm - box.height_mm) > _SAME_MM and not is_base:
            low, high = complex(_width_of(part, box.bottom), box.bottom), complex(_width_of(part, box.top), box.top)
            yield f"{what} {format_both(box.height_mm)}", low, high
    hole = None if edges is not None else _middle_hole(made)
    if hole is not None and abs(hole.width_mm - hole.height_mm) > _SAME_MM:
        middle = hole.center.real
        yield f"opening {format_both(hole.height_mm)}", complex(middle, hole.bottom), complex(middle, hole.top)


def _wide(what: str, mm: float) -> _Mm:
    return f"{what} {format_both(mm)}", complex(-mm / 2, 0), complex(mm / 2, 0)


def _high(what: str, mm: float) -> _Mm:
    return f"{what} {format_both(mm)}", complex(0, -mm / 2), complex(0, mm / 2)


def _edges(recipe: Recipe, made: MadePiece) -> tuple[Edge, Edge | None] | None:
    """Return the edges of base and opening; None of a piece that is made after another, or of a set of cards."""
    if made.origin[0] != "piece" or made.kept_as is not None or made.bond is not None:
        return None
    table: PieceTable = recipe.pieces[made.origin[1]]
    if table.test_piece:
        return None
    base = Edge.from_size(made.piece.size)
    if table.rim is not None:
        return base, base.parallel(-table.rim)
    return base, Edge.from_size(table.opening) if isinstance(table.opening, Size) else None


def _parts(made: MadePiece) -> list[tuple[str, Region]]:
    """Return the cards whose widths are drawn, with words: those of a set or of a stack, else the one card."""
    if made.stack:
        cards = [(f"{colour or 'bare'} card", region) for region, colour in made.stack]
    else:
        cards = [("across", region) for region in (made.bond.parts if made.bond else (made.piece.region,))]
    return cards if len(cards) <= _MOST_PARTS else [cards[0], cards[-1]]


def _middle_hole(made: MadePiece) -> Box | None:
    """Return the box of the hole that the middle of a piece lies in, if any does."""
    inner = made.bond.parts[0] if made.bond else made.piece.region
    center = bounds(inner.outer).center
    boxes = (bounds(hole) for hole in inner.holes)
    return next((b for b in boxes if b.left < center.real < b.right and b.bottom < center.imag < b.top), None)


def _height_of(part: Region, x: float) -> float:
    """Return how high the place lies that reaches out furthest, to the left or to the right."""
    return min((p for s in part.outer.segments for p in _samples(s)), key=lambda p: abs(p.real - x)).imag


def _width_of(part: Region, y: float) -> float:
    return min((p for s in part.outer.segments for p in _samples(s)), key=lambda p: abs(p.imag - y)).real


def _samples(segment: Any) -> Iterator[complex]:
    return (segment.point(k / 8) for k in range(9))


def _motifs(made: MadePiece) -> Iterator[tuple[RowResult, Motif]]:
    """Yield every motif of a piece once, as it stands in its row. Of bent ones the first stands for all."""
    seen: set[tuple[str, float, str]] = set()
    for row in made.piece.told_rows:
        for repeat in row.repeats:
            key = (repeat.motif.name, round(repeat.motif.foot_mm, 6), row.seat)
            if key not in seen:
                seen.add(key)
                yield row, repeat.motif


def _motif(row: RowResult, motif: Motif, px_per_mm: float) -> dict[str, Any]:
    """Return a motif by itself, on the line that it stands on, with its height and its foot."""
    is_seated = row.place in ("out", "in") and motif.foot_mm > 0
    half = complex(motif.foot_mm / 2, 0)
    box = bounds(motif.regions)
    if is_seated:
        box = box.union(Box.from_points((-half, half)))
    scale = min(_MOTIF_PX / box.height_mm, _MOTIF_PX / box.width_mm, _MOTIF_SCALE)
    low = 0.0 if is_seated and box.top > _SAME_MM else box.bottom
    words = f"height {format_both(box.top - low)}", f"foot {format_floor_both(motif.foot_mm)}"
    across = max(box.width_mm * scale, text_width(words[1], TEXT_PX) if is_seated else 0.0) + 2 * _SIDE_PX
    tall = max(box.height_mm * scale, text_width(words[0], TEXT_PX)) + 2 * _SIDE_PX
    left = STEP_PX * 1.6
    middle = complex(left + across / 2, tall / 2)
    to_px = mm_to_px(scale, middle, box.center)
    foot_px = to_px.apply(complex(0, low)).imag
    high = max(tall, foot_px + STEP_PX + TEXT_PX + _SIDE_PX) if is_seated else tall
    beside = Stack("left", middle.real - box.width_mm * scale / 2, 0.0, tall)
    below = Stack("below", foot_px, left, left + across)
    top_at, low_at = complex(0, box.top), complex(-half.real if is_seated else 0, low)
    lines = beside.lines(_placed([(words[0], low_at, top_at)], to_px))
    if is_seated:
        lines += below.lines(_placed([(words[1], -half, half)], to_px))
    ends = [to_px.apply(complex(x, 0)) for x in (box.left, box.right)]
    return {
        "words": plural(motif.name, 1),
        "times": f"drawn {number_text(scale / px_per_mm, 1)} x as large",
        "width": round(left + across, _DIGITS),
        "height": round(high, _DIGITS),
        "join": _paths(motif.join, to_px),
        "cut_away": _paths(motif.cut_away, to_px),
        "window": _paths(motif.window, to_px),
        "edge": f"M {_xy(ends[0])} L {_xy(ends[1])}" if is_seated else "",
        "dimensions": [_line(line) for line in lines],
    }


def _paths(regions: tuple[Region, ...], to_px: Affine) -> str:
    return region_text((region.transformed(to_px) for region in regions), _DIGITS)


def _line(line: DimensionLine) -> dict[str, Any]:
    return {
        "line": line.line,
        "arrows": line.arrows,
        "extensions": line.extensions,
        "words": line.words,
        "x": round(line.at.real, _DIGITS),
        "y": round(line.at.imag, _DIGITS),
        "turn": line.turn_deg,
    }


def _xy(z: complex) -> str:
    return f"{number_text(z.real, _DIGITS)} {number_text(z.imag, _DIGITS)}"
