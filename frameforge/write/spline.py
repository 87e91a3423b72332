"""One degree-3 spline for a whole outline."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.tolerances import SPLINE_MM
from frameforge.write.arc_parts import to_cubics
from frameforge.write.dxf_place import DxfPlace
from frameforge.write.page import Run
from frameforge.write.step import Step, cleaned_outline, cleaned_run

__all__ = ["Spline", "run_spline"]


@dataclass(frozen=True, slots=True)
class Spline:
    """Control points in the unit of the file, knots, and whether the curve ends where it starts.

    Each joint is a control point with a knot of multiplicity 3, so that the spline is the chain of its cubics exactly
    (Farin, Curves and Surfaces for CAGD, ch. 8) and corners stay corners; no weights, which some readers refuse.
    """

    control: tuple[tuple[float, float], ...]
    knots: tuple[float, ...]
    is_closed: bool


def run_spline(run: Run, place: DxfPlace) -> Spline | None:
    """Return the run with cubics exact, arcs within ``SPLINE_MM``; None when rounding leaves nothing of it."""
    is_closed = run[0].start == run[-1].end
    rounded = (_step(cubic, place) for segment in run for cubic in _cubics(segment))
    kept = cleaned_outline(rounded) if is_closed else cleaned_run(rounded)
    if not kept:
        return None
    points = [kept[0].start, *(point for step in kept for point in _after(step))]
    knots = [0.0, *(float(k) for k in range(len(kept) + 1) for _ in range(3)), float(len(kept))]
    return Spline(tuple(place.length(point) for point in points), tuple(knots), is_closed)


def _cubics(segment: Segment) -> Iterator[Cubic]:
    """Yield the segment as cubics; a line has its handles at thirds."""
    if isinstance(segment, Line):
        third = (segment.end - segment.start) / 3
        yield Cubic(segment.start, segment.start + third, segment.end - third, segment.end)
    elif isinstance(segment, Arc):
        yield from to_cubics(segment, SPLINE_MM)
    else:
        yield segment


def _step(cubic: Cubic, place: DxfPlace) -> Step:
    """Return the rounded cubic."""
    rest = (*place.steps(cubic.c1), *place.steps(cubic.c2))
    return Step("C", place.steps(cubic.start), place.steps(cubic.end), rest)


def _after(step: Step) -> tuple[tuple[int, int], tuple[int, int], tuple[int, int]]:
    """Return the control points of a cubic behind its start."""
    x1, y1, x2, y2 = step.rest
    return (x1, y1), (x2, y2), step.end
