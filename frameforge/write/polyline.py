"""The vertices of DXF polylines: lines and circular arcs by bulge, or chords."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np

from frameforge.geometry.arc import Arc
from frameforge.geometry.biarc import to_bulges
from frameforge.geometry.flatten import chord_count, flatten_outline, sample
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline, Segment
from frameforge.tolerances import BIARC_MM, BULGE_DECIMALS, LINES_MM, SPLINE_MM, SVG_MM
from frameforge.write.arc_parts import quarters
from frameforge.write.dxf_place import DxfPlace
from frameforge.write.numbers import steps
from frameforge.write.page import Run
from frameforge.write.step import Step, cleaned_outline, cleaned_run

__all__ = ["Polyline", "bulge_polyline", "chord_polyline"]


_QUARTER: Final = math.tan(math.pi / 8) * (1 + 1e-12)
"""Bulge of a quarter."""

_CHORD_MM: Final = LINES_MM - SVG_MM
"""What is left for the chords when the SVG may lie on the other side of the curve."""


@dataclass(frozen=True, slots=True)
class Polyline:
    """Vertices (x, y, bulge) in the unit of the file; the bulge is that of the line to the next vertex.

    bulge = tan(sweep / 4), positive counter-clockwise (DXF reference). A closed one does not repeat its first vertex.
    """

    vertices: tuple[tuple[float, float, float], ...]
    is_closed: bool


def bulge_polyline(run: Run, place: DxfPlace, part: float = 1.0) -> Polyline | None:
    """Return the run with lines and circular arcs exact, cubics and elliptical arcs as biarcs within ``BIARC_MM``, or
    within that part of it.

    Arcs are cut into quarters at most. None when rounding leaves nothing of the run.
    """
    rounded = (step for segment in run for step in _bulges(segment, place, part * BIARC_MM))
    return _polyline(rounded, _is_closed(run), place)


def chord_polyline(run: Run, place: DxfPlace, part: float = 1.0) -> Polyline | None:
    """Return the run as chords within ``LINES_MM`` of it, or that part, and so of its SVG; None when rounding leaves
    nothing."""
    points = [place.steps(complex(point)) for point in _chord_points(run, part * _CHORD_MM)]
    ends = points[1:] + points[:1] if _is_closed(run) else points[1:]
    lines = (Step("L", a, b) for a, b in zip(points, ends, strict=False))
    return _polyline(lines, _is_closed(run), place)


def _is_closed(run: Run) -> bool:
    """Whether the run ends where it starts."""
    return run[0].start == run[-1].end


def _bulges(segment: Segment, place: DxfPlace, fit_mm: float) -> Iterator[Step]:
    """Yield the rounded lines and arcs of a segment."""
    start = segment.start
    for end, bulge in _parts(segment, fit_mm):
        if abs(bulge) <= _QUARTER:
            yield _step(start, end, bulge, place)
        else:
            for part in quarters(Arc.from_bulge(start, end, bulge)):
                yield _step(part.start, part.end, math.tan(part.sweep_rad / 4), place)
        start = end


def _parts(segment: Segment, fit_mm: float) -> Iterable[tuple[complex, float]]:
    """Return end and bulge of lines and arcs; a speck smaller than ``SPLINE_MM`` is the line across it."""
    if isinstance(segment, Line):
        return ((segment.end, 0.0),)
    if isinstance(segment, Arc) and segment.is_circular:
        sign = 1 if segment.turns_left else -1
        return [(part.end, sign * math.tan(abs(part.sweep_rad) / 4)) for part in quarters(segment)]
    if isinstance(segment, Arc):
        is_speck = segment.greatest_radius < SPLINE_MM
    else:
        is_speck = max(abs(p - segment.start) for p in (segment.c1, segment.c2, segment.end)) < SPLINE_MM
    return ((segment.end, 0.0),) if is_speck else to_bulges(segment, fit_mm)


def _step(start: complex, end: complex, bulge: float, place: DxfPlace) -> Step:
    """Return the rounded line or arc; a bulge that rounds to nothing leaves a line."""
    rounded = steps(bulge, BULGE_DECIMALS)
    a, b = place.steps(start), place.steps(end)
    return Step("B", a, b, (rounded,)) if rounded else Step("L", a, b)


def _chord_points(run: Run, chord_mm: float) -> list[complex]:
    """Return the vertices of the chords, of an open run both ends too."""
    if _is_closed(run):
        return list(flatten_outline(Outline(run), chord_mm).points.tolist())
    points = [run[0].start]
    for segment in run:
        n = chord_count(segment, chord_mm)
        points.extend(sample(segment, np.arange(1, n) / n).tolist())
        points.append(segment.end)
    return points


def _polyline(rounded: Iterable[Step], is_closed: bool, place: DxfPlace) -> Polyline | None:
    """Return the vertices of the steps, cleaned of what rounding made of them."""
    kept = cleaned_outline(rounded) if is_closed else cleaned_run(rounded)
    if not kept:
        return None
    vertices = [(*place.length(step.start), _bulge(step)) for step in kept]
    if not is_closed:
        vertices.append((*place.length(kept[-1].end), 0.0))
    return Polyline(tuple(vertices), is_closed)


def _bulge(step: Step) -> float:
    """Return the bulge of a step as a number."""
    return step.rest[0] / 10**BULGE_DECIMALS if step.rest else 0.0
