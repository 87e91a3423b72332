"""DXF cut files, by ezdxf.

What a file holds: R2000 with its unit in the header; closed polylines on the layer CUT, holes before outlines (CREASE
and MARK may be open); x is SVG's x, y is the page's height less SVG's y. What is kept stands in an XRECORD, or, in R12,
which has no place for it, in comments at the top.
"""

from __future__ import annotations

import io
from collections.abc import Iterable
from typing import TYPE_CHECKING, Final, Literal

from frameforge.geometry.arc import Arc
from frameforge.geometry.line import Line
from frameforge.write.crossing import is_card
from frameforge.write.dxf_place import DxfPlace, DxfUnit
from frameforge.write.kept import kept_lines
from frameforge.write.marker import marked_text
from frameforge.write.page import CutPage, CutPiece, LineKind, Run
from frameforge.write.polyline import Polyline, bulge_polyline, chord_polyline
from frameforge.write.quiet_ezdxf import new, same_every_time

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace

__all__ = ["DXF_STYLES", "LAYERS", "DxfStyle", "to_dxf"]

DxfStyle = Literal["bulges", "r12", "splines", "lines"]
"""How curves are written: arcs by bulge, the same for R12 readers, degree-3 splines, chords."""

DXF_STYLES: Final[tuple[DxfStyle, ...]] = ("bulges", "r12", "splines", "lines")

LAYERS: Final[dict[LineKind, str]] = {"cut": "CUT", "crease": "CREASE", "mark": "MARK"}

_NEARER: Final = (0.1, 0.01)
"""Parts of the allowed distance at which curves are followed where lines would cross otherwise."""
_LOOK_MM: Final = 1e-3
"""How near chords come to the arcs that are looked at for crossings; a tenth of what these are off their curves."""

_KEPT_NAME: Final = "FRAMEFORGE"
_BLACK: Final = 7
_UNIT_CODES: Final[dict[DxfUnit, int]] = {"mm": 4, "in": 1}
"""Values of $INSUNITS (DXF reference, HEADER section)."""


def to_dxf(page: CutPage, *, recipe: str = "", style: DxfStyle = "bulges", unit: DxfUnit = "mm") -> str:
    """Return the page as DXF text, ASCII only: R2000, or R12 for the style ``r12``, which carries no unit.

    Distance from the curves: lines and circular arcs exact but for the last decimal (1e-6 mm); cubics and elliptical
    arcs 0.01 mm by bulges; everything 0.02 mm by lines; splines 1e-5 mm. ``recipe`` is kept in the file when not empty.
    Same input, same text. Raises ValueError when a number is not finite.
    """
    place = DxfPlace(page.box, unit)
    lines = kept_lines(recipe)
    with same_every_time():
        document = _document(page, place, style)
        if style != "r12":
            document.rootdict.add_xrecord(_KEPT_NAME).reset([(1, line) for line in lines])
        stream = io.StringIO()
        document.write(stream)
    comments = "".join(f"999\n{line}\n" for line in lines) if style == "r12" else ""
    return marked_text(comments + stream.getvalue())


def _document(page: CutPage, place: DxfPlace, style: DxfStyle) -> Drawing:
    """Return the document with all lines on their layers."""
    document = new("R12" if style == "r12" else "R2000", units=_UNIT_CODES[place.unit])
    document.header["$MEASUREMENT"] = 1 if place.unit == "mm" else 0
    space = document.modelspace()
    width, height = place.size()
    space.reset_extents((0, 0, 0), (width, height, 0))
    space.reset_limits((0, 0), (width, height))
    document.set_modelspace_vport(height, (width / 2, height / 2))
    for kind in page.kinds():
        document.layers.add(LAYERS[kind], color=_BLACK)
        for piece in page.pieces:
            _add_runs(space, piece, kind, place, style)
    return document


def _add_runs(space: Modelspace, piece: CutPiece, kind: LineKind, place: DxfPlace, style: DxfStyle) -> None:
    """Add the lines of one kind; nothing for those of which rounding leaves nothing."""
    where = {"layer": LAYERS[kind]}
    if style == "splines":
        from frameforge.write.spline import run_spline  # here, since most files have none

        for spline in filter(None, (run_spline(run, place) for run in piece.runs(kind))):
            entity = space.add_open_spline(spline.control, 3, spline.knots, dxfattribs=where)
            entity.closed = spline.is_closed
        return
    for polyline in filter(None, _polylines(piece, kind, place, style)):
        if style == "r12":
            space.add_polyline2d(polyline.vertices, format="xyb", close=polyline.is_closed, dxfattribs=where)
        else:
            space.add_lwpolyline(polyline.vertices, format="xyb", close=polyline.is_closed, dxfattribs=where)


def _polylines(piece: CutPiece, kind: LineKind, place: DxfPlace, style: DxfStyle) -> list[Polyline | None]:
    """Return the lines of one kind as polylines: as far from their curves as the style allows, and nearer where cut
    lines would cross for it."""
    runs, make = piece.runs(kind), chord_polyline if style == "lines" else bulge_polyline
    found = [make(run, place) for run in runs]
    if kind != "cut" or piece.machine_cuts is not None or not _is_fitted(runs, style):
        return found
    for part in (1.0, *_NEARER):
        tried = found if part == 1.0 else [make(run, place, part) for run in runs]
        lines = [line for line in tried if line is not None]
        if lines and is_card(lines[-1], lines[:-1], place.of_mm(part * _LOOK_MM)):
            return tried
    return found


def _is_fitted(runs: Iterable[Run], style: DxfStyle) -> bool:
    """Whether there are curves that a style only follows."""
    exact = (Line,) if style == "lines" else (Line, Arc)
    return any(
        not isinstance(segment, exact) or (isinstance(segment, Arc) and not segment.is_circular)
        for run in runs
        for segment in run
    )
