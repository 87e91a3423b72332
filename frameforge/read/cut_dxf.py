"""The lines of a DXF cut file, by ezdxf: lines, arcs, ellipses, polylines with bulges, splines, blocks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any, Final

from frameforge.errors import InputError
from frameforge.geometry.arc import Arc
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.read.cut_drawing import CutDrawing, FileLine, chained
from frameforge.read.dxf_document import open_dxf
from frameforge.read.dxf_hidden import Hidden
from frameforge.read.dxf_spline import is_exact, spline_cubics
from frameforge.read.svg_notes import Notes, one_line
from frameforge.tolerances import SPLINE_FIT_MM

if TYPE_CHECKING:
    from ezdxf.entities.dxfgfx import DXFGraphic

__all__ = ["read_cut_dxf"]

GREATEST_LINES: Final = 100_000
GREATEST_DEPTH: Final = 8
NOTHING: Final = 1e-100

_MM: Final = {1: 25.4, 2: 304.8, 4: 1.0, 5: 10.0, 6: 1000.0, 8: 25.4e-6, 9: 0.0254, 10: 914.4, 13: 1e-3, 14: 100.0}
"""$INSUNITS to mm (DXF reference, HEADER section): inches, feet, mm, cm, m, microinches, mils, yards, microns, dm."""

_OTHER_LAYERS: Final = ("CREASE", "MARK")
_WORDS: Final = {
    "TEXT": "lettering", "MTEXT": "lettering", "ATTRIB": "lettering", "DIMENSION": "a dimension", "HATCH": "a hatching",
    "IMAGE": "a picture", "POINT": "a point", "3DFACE": "a solid", "MESH": "a solid", "3DSOLID": "a solid",
}  # fmt: skip


def read_cut_dxf(data: bytes, *, where: str) -> CutDrawing:
    """Return the lines of a DXF in mm, y up. Raises InputError, one line, where it is none or holds no line."""
    document = open_dxf(data, where=where)
    unit = document.header.get("$INSUNITS", 0)
    notes = Notes()
    reader = _Reader(notes, _MM.get(unit, 1.0), where, Hidden.in_document(document))
    lines = tuple(reader.lines(document.modelspace(), 0))
    if not lines:
        told = "".join(f" {note[0].upper()}{note[1:]}" for note in notes.to_tuple()[:1])
        say = f"the file holds no line to cut.{told} Draw one, or name another file."
        raise InputError(say, where=where, code="nothing-to-cut")
    return CutDrawing(chained(lines), notes.to_tuple(), unit in _MM, reader.others)


class _Reader:
    """Turns entities into lines, and notes what is no line."""

    def __init__(self, notes: Notes, factor: float, where: str, hidden: Hidden) -> None:
        self._notes = notes
        self._hidden = hidden
        self._factor = factor
        self._where = where
        self._met = 0
        self.others = 0

    def lines(self, entities: Any, depth: int) -> Iterator[FileLine]:
        """Yield the lines of entities, those in blocks too. Raises InputError for more than can be checked."""
        for entity in entities:
            self._met += 1
            if self._met > GREATEST_LINES or depth > GREATEST_DEPTH:
                say = f"the file unfolds to more than {GREATEST_LINES} lines. Save only the piece itself."
                raise InputError(say, where=self._where, code="too-large")
            kind = entity.dxftype()
            if not entity.dxf.is_supported("layer"):
                # What no DXF knows: it is carried along as it stands, and says nothing of itself.
                self._notes.add(f"{one_line(kind).lower()} is no cut line and was left out.")
            elif entity.dxf.get("layer", "0").upper() in _OTHER_LAYERS:
                self.others += 1
            elif self._hidden.holds(entity):
                self._notes.add("what lies on a hidden layer was left out.")
            elif kind == "INSERT":
                for placed in entity.multi_insert() if entity.mcount > 1 else (entity,):
                    yield from self.lines(placed.virtual_entities(), depth + 1)
            elif kind in _READERS:
                yield from self._line(entity, kind)
            else:
                self._notes.add(f"{_WORDS.get(kind, one_line(kind).lower())} is no cut line and was left out.")

    def _line(self, entity: DXFGraphic, kind: str) -> Iterator[FileLine]:
        """Yield the line of one entity; one that is flat in no way, or has no length, is left out."""
        label = f"{kind.lower()} {entity.dxf.get('handle') or ''}".strip()
        try:
            _refuse_on_edge(entity)
            segments = [segment for segment in _READERS[kind](entity, self._factor) if _has_length(segment)]
        except (ValueError, ZeroDivisionError, TypeError, KeyError):
            self._notes.add(f"{label} cannot be followed and was left out.")
            return
        if kind == "SPLINE" and not is_exact(_tool(entity)):
            self._notes.add(f"splines that are no plain cubics were followed to within {SPLINE_FIT_MM:g} mm.")
        if segments:
            yield FileLine(_joined(segments), label)


def _refuse_on_edge(entity: Any) -> None:
    """Raise ValueError where an entity lies in a plane that is not the drawing's."""
    x, y, _ = entity.dxf.get("extrusion", (0, 0, 1))
    if max(abs(x), abs(y)) > 1e-6:
        raise ValueError("it stands on edge")


def _has_length(segment: Segment) -> bool:
    return not isinstance(segment, Line) or segment.start != segment.end


def _joined(segments: list[Segment]) -> tuple[Segment, ...]:
    """Return the segments with shared joints; closed where the last end rounds to the first start."""
    chain = [segments[0]]
    for segment in segments[1:]:
        chain.append(segment.with_ends(chain[-1].end, segment.end))
    if len(chain) > 1 and abs(chain[-1].end - chain[0].start) < 1e-9:
        chain[-1] = chain[-1].with_ends(chain[-1].start, chain[0].start)
    return tuple(chain)


def _point(vector: Any, factor: float) -> complex:
    """Return a point in mm; coordinates next to nothing are 0, since arithmetic overflows on the least of numbers."""
    x, y = (factor * value if abs(value) > NOTHING else 0.0 for value in (vector[0], vector[1]))
    return complex(x, y)


def _of_line(entity: Any, factor: float) -> list[Segment]:
    return [Line(_point(entity.dxf.start, factor), _point(entity.dxf.end, factor))]


def _of_ellipse(entity: Any, factor: float) -> list[Segment]:
    """Return the arc of a CIRCLE, ARC or ELLIPSE; those seen from behind (extrusion down) run mirrored."""
    from ezdxf.math import ConstructionEllipse

    kind = entity.dxftype()
    if kind == "ELLIPSE":
        found = entity.construction_tool()
    else:
        start, end = (0.0, 360.0) if kind == "CIRCLE" else (entity.dxf.start_angle, entity.dxf.end_angle)
        found = ConstructionEllipse.from_arc(
            entity.dxf.center, entity.dxf.radius, entity.dxf.extrusion, start, end, ccw=True
        )
        if not entity.dxf.extrusion.isclose((0, 0, 1)):
            found.center = entity.ocs().to_wcs(entity.dxf.center)
    sweep = found.param_span
    full = abs(sweep - 6.283185307179586) < 1e-9
    u, v = _point(found.major_axis, factor), _point(found.minor_axis, factor)
    return [
        Arc.from_ellipse(_point(found.center, factor), u, v, found.start_param, 6.283185307179586 if full else sweep)
    ]


def _of_polyline(entity: Any, factor: float) -> list[Segment]:
    """Return lines and arcs of an LWPOLYLINE or a flat POLYLINE; bulges are arcs (DXF reference, group code 42)."""
    if entity.dxftype() == "POLYLINE":
        if not (entity.is_2d_polyline or entity.is_3d_polyline):
            raise ValueError("a mesh")
        rows = [(_point(v.dxf.location, factor), v.dxf.get("bulge", 0.0)) for v in entity.vertices]
    else:
        rows = [(_point((x, y), factor), bulge) for x, y, bulge in entity.get_points("xyb")]
    if len(rows) < 2:
        return []
    following = [*rows[1:], rows[0]] if entity.is_closed else rows[1:]
    pairs = zip(rows, following, strict=False)
    found: list[Segment] = []
    for (a, bulge), (b, _) in pairs:
        if a != b:
            found.append(Arc.from_bulge(a, b, bulge) if abs(bulge) > 1e-12 else Line(a, b))
    if entity.dxf.get("extrusion", (0, 0, 1))[2] < 0:
        found = [segment.transformed(_seen_from_behind()) for segment in found]
    return found


def _seen_from_behind() -> Any:
    """Return the map of a drawing whose extrusion points down: x runs to the left (DXF arbitrary axis algorithm)."""
    from frameforge.geometry.affine import Affine

    return Affine.from_matrix(-1, 0, 0, 1, 0, 0)


def _tool(entity: Any) -> Any:
    """Return the curve of a SPLINE."""
    return entity.construction_tool()


def _of_spline(entity: Any, factor: float) -> Sequence[Segment]:
    return spline_cubics(_tool(entity), factor)


_READERS: Final = {
    "LINE": _of_line,
    "CIRCLE": _of_ellipse,
    "ARC": _of_ellipse,
    "ELLIPSE": _of_ellipse,
    "LWPOLYLINE": _of_polyline,
    "POLYLINE": _of_polyline,
    "SPLINE": _of_spline,
}
