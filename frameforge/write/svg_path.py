"""The path data of SVG: absolute M L C A Z, whole steps of a ten-thousandth of a millimetre."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from frameforge.geometry.arc import Arc
from frameforge.geometry.box import Box
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.tolerances import FLAT_ARC, SPLINE_MM, SVG_DECIMALS, THIN_ARC_MM, TURNED_ARC_MM
from frameforge.write.arc_parts import quarters, to_cubics
from frameforge.write.numbers import decimal, steps
from frameforge.write.page import Run
from frameforge.write.step import Point, Step, cleaned_outline, cleaned_run

__all__ = ["path_data"]


def path_data(runs: Iterable[Run], page: Box) -> str:
    """Return the ``d`` of one path that holds ``runs`` in their order, in the millimetres of the page, y down.

    A run that ends where it starts is closed by Z, which also draws its last line. A hole that rounding swallows
    whole is left out. Raises ValueError when a number is not finite.
    """
    return " ".join(filter(None, (_subpath(run, page) for run in runs)))


def _subpath(run: Run, page: Box) -> str:
    """Return one subpath, empty when nothing is left of it."""
    is_closed = run[0].start == run[-1].end
    rounded = (step for segment in run for step in _steps(segment, page))
    kept = cleaned_outline(rounded) if is_closed else cleaned_run(rounded)
    if not kept:
        return ""
    drawn = kept[:-1] if is_closed and kept[-1].letter == "L" else kept
    words = [f"M{_pair(kept[0].start)}", *(_word(step) for step in drawn), *(["Z"] if is_closed else [])]
    return " ".join(words)


def _steps(segment: Segment, page: Box) -> Iterator[Step]:
    """Yield the rounded segment; an arc in quarters, or as cubics where rounded radii would not carry it."""
    if isinstance(segment, Line):
        yield Step("L", _place(segment.start, page), _place(segment.end, page))
        return
    if isinstance(segment, Arc):
        if segment.is_circular or _is_wide(segment):
            yield from (_arc_step(part, page) for part in quarters(segment))
            return
        cubics = to_cubics(segment, SPLINE_MM)
    else:
        cubics = (segment,)
    for cubic in cubics:
        rest = (*_place(cubic.c1, page), *_place(cubic.c2, page))
        yield Step("C", _place(cubic.start, page), _place(cubic.end, page), rest)


def _place(point: complex, page: Box) -> Point:
    """Return a point on the page in whole steps, y down."""
    return steps(point.real - page.left, SVG_DECIMALS), steps(page.top - point.imag, SVG_DECIMALS)


def _is_wide(arc: Arc) -> bool:
    """Whether an elliptical arc keeps its place when its radii and ends are rounded.

    A reader finds the centre from them; an error e of an end moves it along the long half-axis by e times the ratio
    of the half-axes. An error of the turn moves the far end of the long half-axis by as many radians.
    """
    long, short, _ = arc.principal_axes
    is_upright = _ellipse(arc)[2] == 0
    return short >= THIN_ARC_MM and long <= FLAT_ARC * short and (is_upright or long <= TURNED_ARC_MM)


def _arc_step(arc: Arc, page: Box) -> Step:
    """Return the rounded arc of at most a quarter; a radius that rounds to nothing leaves a line."""
    start, end = _place(arc.start, page), _place(arc.end, page)
    if arc.is_circular:
        radius = steps(abs(arc.u), SVG_DECIMALS)
        radii_and_turn = radius, radius, 0
    else:
        radii_and_turn = _ellipse(arc)
    if not radii_and_turn[1]:
        return Step("L", start, end)
    return Step("A", start, end, (*radii_and_turn, 0 if arc.turns_left else 1))


def _ellipse(arc: Arc) -> tuple[int, int, int]:
    """Return both radii and the turn of the first one in steps of 1e-4 deg, between -45 and 45, clockwise on screen."""
    long, short, angle_rad = arc.principal_axes
    rx, ry = steps(long, SVG_DECIMALS), steps(short, SVG_DECIMALS)
    turn = -math.degrees(angle_rad) % 180
    if 45 < turn <= 135:
        rx, ry, turn = ry, rx, turn - 90
    elif turn > 135:
        turn -= 180
    return rx, ry, steps(turn, SVG_DECIMALS)


def _word(step: Step) -> str:
    """Return the command of one step."""
    if step.letter == "L":
        return f"L{_pair(step.end)}"
    if step.letter == "C":
        x1, y1, x2, y2 = step.rest
        return f"C{_pair((x1, y1))} {_pair((x2, y2))} {_pair(step.end)}"
    rx, ry, turn, sweep = step.rest
    return f"A{_pair((rx, ry))} {decimal(turn, SVG_DECIMALS)} 0 {sweep} {_pair(step.end)}"


def _pair(point: Point) -> str:
    """Return two coordinates."""
    return f"{decimal(point[0], SVG_DECIMALS)},{decimal(point[1], SVG_DECIMALS)}"
