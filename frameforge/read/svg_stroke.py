"""Strokes of a drawing: its style as a pen, and what that pen covers of a shape, in millimetres.

A pen follows the shape in the shape's own user units; where its map does more than move, turn and scale evenly, the
stroke is made first and mapped with all else (SVG 2 section 13.5).
"""

from __future__ import annotations

import math
import re
from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final, Literal, TypeGuard

from frameforge.errors import InputError
from frameforge.geometry.affine import IDENTITY, Affine
from frameforge.geometry.measure import length_mm
from frameforge.geometry.outline import Outline, Segment
from frameforge.geometry.region import Region
from frameforge.geometry.stroke import Pen, dot_region, strokes_with_report
from frameforge.read.svg_curves import Subpath
from frameforge.read.svg_ends import halved, with_straight_ends
from frameforge.read.svg_notes import Notes
from frameforge.read.svg_scene import Shape
from frameforge.read.svg_style import Style
from frameforge.read.svg_units import MM_PER_PX, length
from frameforge.tolerances import LEAST_DASH_MM, REFINEMENTS, SAME_POINT_MM

__all__ = ["Stroke", "pen_of", "stroke_of", "stroke_width", "widened"]

_SEPARATOR: Final = re.compile(r"[\s,]+")
_CAPS: Final[dict[str, Literal["round", "square"]]] = {"round": "round", "square": "square"}
_JOINS: Final[dict[str, Literal["round", "bevel"]]] = {"round": "round", "bevel": "bevel"}
_TOGETHER: Final = 40
_CHORDS: Final = 48
_GREATEST_LIST: Final = 100
_GREATEST_DASHES: Final = 1000
_GREATEST_WIDTH_MM: Final = 1e4


def stroke_width(style: Style, viewport: complex) -> float:
    """Return the stroke width in user units; a negative one, or one that cannot be read, counts as 1."""
    width = length(style.stroke_width, whole=_diagonal(viewport), font_px=style.font_px)
    return 1.0 if width is None or width < 0 else width


def pen_of(style: Style, viewport: complex, mm_per_unit: float) -> Pen:
    """Return the pen a style draws with, where a unit is ``mm_per_unit`` mm. The stroke width must be above 0.

    Joins beyond SVG 1.1 count as mitres; dashes finer than a tenth of a millimetre as a whole line.
    """
    offset = length(style.stroke_dashoffset, whole=_diagonal(viewport), font_px=style.font_px)
    return Pen(
        stroke_width(style, viewport) * mm_per_unit,
        _CAPS.get(style.stroke_linecap, "butt"),
        _JOINS.get(style.stroke_linejoin, "mitre"),
        max(1.0, style.stroke_miterlimit),
        _cuttable(tuple(dash * mm_per_unit for dash in _dashes(style, viewport))),
        (offset or 0.0) * mm_per_unit,
    )


@dataclass(frozen=True, slots=True)
class Stroke:
    """The line of a shape where its pen draws, in mm; ``to_mm`` takes what the pen covers on to the page."""

    shape: Shape
    subpaths: tuple[Subpath, ...]
    pen: Pen
    to_mm: Affine

    @property
    def key(self) -> tuple[Hashable, ...]:
        """What strokes share that may be widened together."""
        return self.pen, self.to_mm, self.shape.part, tuple(id(clip) for clip in self.shape.clips)


def stroke_of(shape: Shape, *, where: str) -> Stroke:
    """Return the stroke of a shape. Raises InputError for a pen wider than 10 m and for more than a thousand dashes."""
    to_pen, to_mm, pen = _placed(shape)
    if pen.width_mm > _GREATEST_WIDTH_MM:
        raise InputError(
            f"its stroke is {pen.width_mm / 1000:.0f} m wide, {_GREATEST_WIDTH_MM / 1000:.0f} m is the most. "
            "Make it thinner.", where=f"{where}, {shape.label}", code="too-large", found=pen.width_mm,
        )  # fmt: skip
    stroke = Stroke(shape, tuple(subpath.transformed(to_pen) for subpath in shape.subpaths), pen, to_mm)
    _refuse_dashes(stroke, f"{where}, {shape.label}")
    return stroke


def widened(strokes: Sequence[Stroke], notes: Notes) -> Iterator[tuple[Region, ...]]:
    """Yield what strokes of one key cover, some dozens at a time; what could not be made exact is noted."""
    for begin in range(0, len(strokes), _TOGETHER):
        batch = strokes[begin : begin + _TOGETHER]
        regions, faults = _covered(batch)
        if not faults:
            yield regions
        elif len(batch) > 1:
            for stroke in batch:
                yield from widened([stroke], notes)
        else:
            notes.add(f"the stroke of {batch[0].shape.label} bends more tightly than it is wide; its edge is rough.")
            chords, left = _covered(batch, in_chords=True)
            yield chords if left < faults else regions


def _covered(strokes: Sequence[Stroke], *, in_chords: bool = False) -> tuple[tuple[Region, ...], int]:
    """Return what the pen covers of strokes that share it, and how many places could not be made exact."""
    pen, to_mm = strokes[0].pen, strokes[0].to_mm
    lines: dict[Outline | tuple[Segment, ...], None] = {}  # each once: drawings hold copies upon copies
    apart: dict[Outline | tuple[Segment, ...], None] = {}
    regions: list[Region] = []
    for subpath in (subpath for stroke in strokes for subpath in stroke.subpaths):
        line = _line(subpath.in_chords(_CHORDS) if in_chords else subpath, pen)
        if line is None:
            regions += dot_region(subpath.start, pen)
        elif _ends_in_itself(line, pen):
            half, rest = halved(line)
            lines[half] = apart[rest] = None
        else:
            lines[line] = None
    faults = 0
    for group in (lines, apart):
        combined = strokes_with_report(tuple(group), pen, refinements=0 if in_chords else REFINEMENTS)
        regions += combined.regions
        faults += len(combined.report.lost) + len(combined.report.patched)
    return tuple(region if to_mm == IDENTITY else region.transformed(to_mm) for region in regions), faults


def _ends_in_itself(line: Outline | tuple[Segment, ...], pen: Pen) -> TypeGuard[tuple[Segment, ...]]:
    """Return whether an open line comes back to its start with round caps: two discs in one place.

    Such a line is widened in two halves, which are united with all else.
    """
    if isinstance(line, Outline) or pen.cap != "round" or pen.dashes_mm:
        return False
    return abs(line[-1].end - line[0].start) <= SAME_POINT_MM


def _line(subpath: Subpath, pen: Pen) -> Outline | tuple[Segment, ...] | None:
    """Return a subpath as a pen follows it; None where it is but a dot."""
    if not subpath.segments or not subpath.is_closed:
        return with_straight_ends(subpath.segments, pen.reach_mm) or None
    try:
        return Outline.from_chain(subpath.segments, joint_mm=SAME_POINT_MM)
    except ValueError:
        return None


def _placed(shape: Shape) -> tuple[Affine, Affine, Pen]:
    """Return the map to where the pen draws, the map from there to the page, and the pen."""
    if shape.has_fixed_stroke:
        return shape.affine, IDENTITY, pen_of(shape.style, shape.viewport, MM_PER_PX)
    stretch = shape.affine.greatest_stretch
    pen = pen_of(shape.style, shape.viewport, stretch)
    if shape.affine.is_similarity:
        return shape.affine, IDENTITY, pen
    return Affine.from_scale(stretch), shape.affine.after(Affine.from_scale(1 / stretch)), pen


def _refuse_dashes(stroke: Stroke, where: str) -> None:
    """Refuse more dashes than anyone would cut."""
    pen = stroke.pen
    if pen.dashes_mm:
        long = sum(length_mm(subpath.segments) for subpath in stroke.subpaths if subpath.segments)
        many = long / sum(pen.dashes_mm) * len(pen.dashes_mm) / 2
        if many > _GREATEST_DASHES:
            raise InputError(
                f"its stroke has {many:.0f} dashes, {_GREATEST_DASHES} is the most. Make them longer.",
                where=where, code="too-large", found=many, limit=_GREATEST_DASHES,
            )  # fmt: skip


def _dashes(style: Style, viewport: complex) -> tuple[float, ...]:
    """Return the dashes in user units: an odd number is taken twice; none where one cannot be read, or all are 0."""
    text = style.stroke_dasharray.strip()
    if text.lower() in ("", "none"):
        return ()
    whole = _diagonal(viewport)
    found = [length(part, whole=whole, font_px=style.font_px) for part in _SEPARATOR.split(text.strip(", \t\r\n"))]
    dashes = tuple(value for value in found if value is not None and value >= 0)
    if len(dashes) != len(found) or sum(dashes) <= 0 or len(dashes) > _GREATEST_LIST:
        return ()
    return dashes * 2 if len(dashes) % 2 else dashes


def _cuttable(dashes_mm: tuple[float, ...]) -> tuple[float, ...]:
    """Return the dashes, or none where they are so fine that no knife could cut them apart."""
    return dashes_mm if 2 * sum(dashes_mm) >= len(dashes_mm) * LEAST_DASH_MM else ()


def _diagonal(viewport: complex) -> float:
    """Return what percentages of neither width nor height are of (SVG 2 section 8.9)."""
    return math.hypot(viewport.real, viewport.imag) / math.sqrt(2)
