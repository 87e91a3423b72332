"""What a DXF text of ours says, read without the writer's help: header, layers, lines in the unit of the file."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.write.page import Run

__all__ = ["DxfEntity", "DxfText", "DxfTextError", "read_dxf"]

Tag = tuple[int, str]


class DxfTextError(ValueError):
    """The text is not of the form we write."""


@dataclass(frozen=True, slots=True)
class DxfEntity:
    """One line: its type, its layer, its segments, whether it is flagged as closed."""

    kind: str
    layer: str
    run: Run
    is_closed: bool


@dataclass(frozen=True, slots=True)
class DxfText:
    """Header variables by name (their first value), names of the layers, lines in their order."""

    header: dict[str, str]
    layers: tuple[str, ...]
    entities: tuple[DxfEntity, ...]


def read_dxf(text: str) -> DxfText:
    """Return what an ASCII DXF holds. Raises DxfTextError when it is not of the form we write."""
    sections = dict(_sections(_tags(text)))
    for name in ("HEADER", "TABLES", "ENTITIES"):
        if name not in sections:
            raise DxfTextError(f"no section {name}")
    layers = [_first(record, 2) for record in _records(sections["TABLES"]) if record[0][1] == "LAYER"]
    entities = tuple(_entities(_records(sections["ENTITIES"])))
    return DxfText(dict(_variables(sections["HEADER"])), tuple(layers), entities)


def _tags(text: str) -> list[Tag]:
    """Return the pairs of group code and value, comments left out."""
    lines = text.split("\n")
    if lines[-1] != "" or len(lines) % 2 == 0 or lines[-3:-1] != ["  0", "EOF"]:
        raise DxfTextError("the text does not end with EOF")
    try:
        codes = [int(code) for code in lines[0:-1:2]]
    except ValueError as fault:
        raise DxfTextError(f"a group code is not a number: {fault}") from fault
    return [(code, value) for code, value in zip(codes, lines[1::2], strict=True) if code != 999]


def _sections(tags: list[Tag]) -> Iterator[tuple[str, list[Tag]]]:
    """Yield name and content of each section."""
    starts = [i for i, tag in enumerate(tags) if tag == (0, "SECTION")]
    ends = [i for i, tag in enumerate(tags) if tag == (0, "ENDSEC")]
    if len(starts) != len(ends):
        raise DxfTextError(f"{len(starts)} sections begin, {len(ends)} end")
    for start, end in zip(starts, ends, strict=True):
        yield tags[start + 1][1], tags[start + 2 : end]


def _records(tags: list[Tag]) -> Iterator[list[Tag]]:
    """Yield runs of tags that begin with group code 0."""
    starts = [i for i, (code, _) in enumerate(tags) if code == 0]
    for start, end in zip(starts, [*starts[1:], len(tags)], strict=True):
        yield tags[start:end]


def _variables(tags: list[Tag]) -> Iterator[tuple[str, str]]:
    """Yield name and first value of each header variable."""
    for i, (code, name) in enumerate(tags):
        if code == 9:
            yield name, tags[i + 1][1]


def _first(record: list[Tag], code: int, default: str | None = None) -> str:
    """Return the first value of a group code."""
    for found, value in record:
        if found == code:
            return value
    if default is None:
        raise DxfTextError(f"{record[0][1]} without group code {code}")
    return default


def _entities(records: Iterator[list[Tag]]) -> Iterator[DxfEntity]:
    """Yield the lines; a POLYLINE takes the VERTEX records up to SEQEND."""
    for record in records:
        name, layer = record[0][1], _first(record, 8, "")
        flags = int(_first(record, 70, "0"))
        if name == "LWPOLYLINE":
            first = next((i for i, (code, _) in enumerate(record) if code == 10), len(record))
            run = _bulged(_vertices(record[first:]), is_closed=bool(flags & 1))
        elif name == "POLYLINE":
            parts = []
            while (part := next(records, None)) is not None and part[0][1] == "VERTEX":
                parts.append(part)
            if part is None or part[0][1] != "SEQEND":
                raise DxfTextError("a POLYLINE without SEQEND")
            run = _bulged([_vertex(part) for part in parts], is_closed=bool(flags & 1))
        elif name == "SPLINE":
            run = _spline(record)
        else:
            raise DxfTextError(f"an entity {name}")
        yield DxfEntity(name, layer, run, bool(flags & 1))


Vertex = tuple[complex, float]


def _vertices(tags: list[Tag]) -> list[Vertex]:
    """Return the vertices of an LWPOLYLINE; each begins with group code 10."""
    starts = [i for i, (code, _) in enumerate(tags) if code == 10]
    return [_vertex(tags[a:b]) for a, b in zip(starts, [*starts[1:], len(tags)], strict=True)]


def _vertex(tags: list[Tag]) -> Vertex:
    """Return point and bulge of one vertex."""
    x, y, bulge = None, None, 0.0
    for code, value in tags:
        if code == 10:
            x = float(value)
        elif code == 20:
            y = float(value)
        elif code == 42:
            bulge = float(value)
    if x is None or y is None:
        raise DxfTextError("a vertex without x or y")
    return complex(x, y), bulge


def _bulged(vertices: list[Vertex], *, is_closed: bool) -> Run:
    """Return the segments of a polyline; the bulge of a vertex is that of the line to the next one."""
    if len(vertices) < 2:
        raise DxfTextError(f"a polyline of {len(vertices)} vertices")
    segments: list[Segment] = []
    following = vertices[1:] + vertices[:1] if is_closed else vertices[1:]
    for (start, bulge), (end, _) in zip(vertices, following, strict=False):
        if start == end:
            raise DxfTextError(f"a line at {start:g} has no length")
        segments.append(Arc.from_bulge(start, end, bulge) if bulge else Line(start, end))
    return tuple(segments)


_DEGREE: Final = 3


def _spline(record: list[Tag]) -> Run:
    """Return the cubics of a degree-3 spline whose joints are knots of multiplicity 3."""
    knots = [float(value) for code, value in record if code == 40]
    points = list(map(complex, *([float(v) for c, v in record if c == code] for code in (10, 20))))
    count = len(knots) // _DEGREE - 1
    wanted = [0.0, *(float(k) for k in range(count + 1) for _ in range(_DEGREE)), float(count)]
    if int(_first(record, 71)) != _DEGREE or knots != wanted or len(points) != _DEGREE * count + 1:
        raise DxfTextError(f"a spline of degree {_first(record, 71)} with {len(knots)} knots and {len(points)} points")
    if any(code == 41 for code, _ in record):
        raise DxfTextError("a spline with weights")
    return tuple(Cubic(*points[_DEGREE * k : _DEGREE * k + 4]) for k in range(count))
