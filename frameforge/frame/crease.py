"""Crease lines: where the card bends, drawn full or dashed, as far as there is card under them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import shapely

from frameforge.card.preset import Preset
from frameforge.errors import GeometryError
from frameforge.frame.base import Edge
from frameforge.frame.spacing import edge_length_mm, tau_at_arc
from frameforge.frame.spec import CreaseSpec
from frameforge.frame.tent import StraightLine
from frameforge.geometry.arc import Arc
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.geometry.region import Region
from frameforge.geometry.segment_table import ARC, CUBIC, Floats, SegmentTable
from frameforge.tolerances import ON_LINE_MM
from frameforge.units import format_floor

__all__ = ["Chain", "bits_on_card", "dash_count", "edge_bits", "line_creases", "round_creases"]

_LEAST_MM = 1e-6
"""Less card than this between two edges is a touch."""

Chain = tuple[Segment, ...]
"""An open line to be creased, or a closed one."""


def bits_on_card(line: StraightLine, region: Region) -> tuple[Line, ...]:
    """Return the bits of a line that run across the card, in their order along it.

    Exact: the line is crossed with the true curves.
    """
    places = _crossings(line, region)
    polygon = to_polygon(region)
    foot = line.reach_mm * line.normal
    bits: list[Line] = []
    for a, b in pairwise(places):
        middle = foot + (a + b) / 2 * line.along
        if b - a <= _LEAST_MM or not shapely.contains_xy(polygon, middle.real, middle.imag):
            continue
        start, end = foot + a * line.along, foot + b * line.along
        if bits and abs(bits[-1].end - start) <= _LEAST_MM:
            bits[-1] = Line(bits[-1].start, end)
        else:
            bits.append(Line(start, end))
    return tuple(bits)


def edge_bits(line: StraightLine, region: Region) -> tuple[Segment, ...]:
    """Return the bits of a region's edge that run along a line."""
    return tuple(s for outline in region.outlines for s in outline.segments if line.lies_along(s))


def line_creases(spec: CreaseSpec, bits: Sequence[Line], preset: Preset, *, where: str = "") -> tuple[Chain, ...]:
    """Return the lines to crease along bits of card: each bit whole, or in dashes, less what it stops short.

    Raises GeometryError where nothing would be left of a bit.
    """
    found: list[Chain] = []
    for bit in bits:
        length = abs(bit.end - bit.start)
        left = length - 2 * spec.stop_mm
        if left < min(length, preset.thickness_mm):
            say = (
                f"a crease of {format_floor(length)} that stops {spec.stop_mm:g} mm short of both ends leaves nothing. "
                f"Take a stop of {math.floor((length - preset.thickness_mm) * 5) / 10:g} mm or less."
            )
            raise GeometryError(say, where=where, code="crease", stop_mm=spec.stop_mm, length_mm=length)
        unit = (bit.end - bit.start) / length
        start, end = bit.start + spec.stop_mm * unit, bit.end - spec.stop_mm * unit
        if not spec.stop_mm:
            start, end = bit.start, bit.end
        found += [_part(start, end, left, *ends) for ends in _dashes(spec, left, preset)]
    return tuple(found)


def round_creases(spec: CreaseSpec, around: Edge, preset: Preset) -> tuple[Chain, ...]:
    """Return the lines to crease along a circle or oval: all of it, or evenly in dashes. There are no ends to stop at.

    A whole one is two halves: a closed line in a file is easily taken for a cut that drops the middle out. As many
    dashes go round as have at least their spaces between them: floor(L / (a + b)).
    """
    up, right = complex(0, around.half_height_mm), complex(around.half_width_mm, 0)
    halves = [Arc.from_ellipse(0j, up, right, begin, math.pi) for begin in (0.0, math.pi)]
    if spec.kind == "full":
        return tuple((half,) for half in halves)
    dash, space = _lengths(spec, preset)
    length = edge_length_mm(around)
    count = max(1, math.floor(length / (dash + space) + ON_LINE_MM))
    if count * dash >= length:
        return tuple((half,) for half in halves)
    found = []
    for k in range(count):
        begin, end = (tau_at_arc(around, length * k / count + more) for more in (0.0, dash))
        found.append((Arc.from_ellipse(0j, up, right, begin, end - begin),))
    return tuple(found)


def dash_count(length_mm: float, dash_mm: float, space_mm: float) -> int:
    """Return how many dashes go on a line that begins and ends with one: floor((L + b) / (a + b)).

    n dashes of a and n - 1 spaces of b or more take n a + (n - 1) b <= L.
    """
    return math.floor((length_mm + space_mm) / (dash_mm + space_mm) + ON_LINE_MM)


def _lengths(spec: CreaseSpec, preset: Preset) -> tuple[float, float]:
    """Return the lengths of dash and space, those of the preset where nothing is said."""
    dash = preset.dash_mm if spec.dash_mm is None else spec.dash_mm
    return dash, preset.dash_space_mm if spec.space_mm is None else spec.space_mm


def _dashes(spec: CreaseSpec, length: float, preset: Preset) -> list[tuple[float, float]]:
    """Return where dashes begin and end on a line: the first at its start, the last at its end, evenly between.

    A line too short for two is creased whole.
    """
    if spec.kind == "full":
        return [(0.0, length)]
    dash, space = _lengths(spec, preset)
    count = dash_count(length, dash, space)
    if count < 2:
        return [(0.0, length)]
    step = (length - dash) / (count - 1)
    starts = [k * step for k in range(count - 1)]
    return [*((start, start + dash) for start in starts), (length - dash, length)]


def _part(start: complex, end: complex, length: float, first: float, last: float) -> Chain:
    """Return the part of a line between two lengths along it, its ends to the bit."""
    unit = (end - start) / length
    begin = start if first == 0 else start + first * unit
    return (Line(begin, end if last == length else start + last * unit),)


def _crossings(line: StraightLine, region: Region) -> list[float]:
    """Return where the edges of a region meet a line, as lengths along it, in order.

    Seen along the line, an edge is y(t) = 0: a line gives one t, an arc A cos q + B sin q + C = 0, a cubic the roots of
    a polynomial. Joints of edges that lie on the line count too.
    """
    segments = [segment for outline in region.outlines for segment in outline.segments]
    table = SegmentTable.from_segments(segments)
    turn = line.along.conjugate()
    foot = line.reach_mm * line.normal
    ends = (table.start - foot) * turn
    places = ends.real[np.abs(ends.imag) <= ON_LINE_MM].tolist()
    for k in np.flatnonzero(_may_cross(table, line)).tolist():
        for t in _roots(table, k, line):
            if 0 < t < 1:
                places.append(((segments[k].point(t) - foot) * turn).real)
    return sorted(places)


def _may_cross(table: SegmentTable, line: StraightLine) -> np.ndarray[tuple[int, ...], np.dtype[np.bool_]]:
    """Return which segments reach to both sides of a line; arcs always may."""
    turned = line.normal.conjugate()
    heights = np.stack(
        [(point * turned).real - line.reach_mm for point in (table.start, table.k1, table.k2, table.end)]
    )
    both = (heights.min(axis=0) <= 0) & (heights.max(axis=0) >= 0)
    return np.asarray(both | (table.kind == ARC))


def _roots(table: SegmentTable, k: int, line: StraightLine) -> list[float]:
    """Return the t at which segment k crosses a line."""
    turned = line.normal.conjugate()
    if table.kind[k] == ARC:
        a, b = (table.k2[k] * turned).real, (table.k3[k] * turned).real
        c = (table.k1[k] * turned).real - line.reach_mm
        reach = math.hypot(a, b)
        if abs(c) > reach:
            return []
        middle, half = math.atan2(b, a), math.acos(max(-1.0, min(1.0, -c / reach)))
        q0, sweep = float(table.q0[k]), float(table.sweep[k])
        low, width = min(q0, q0 + sweep), abs(sweep)
        angles = [low + (q - low) % math.tau for q in (middle + half, middle - half)]
        return [(q - q0) / sweep for q in angles if q - low <= width]
    points = (table.start[k], table.k1[k], table.k2[k], table.end[k])
    p0, p1, p2, p3 = (float((point * turned).real) - line.reach_mm for point in points)
    if table.kind[k] != CUBIC:
        return [p0 / (p0 - p3)] if p0 != p3 else []
    power: Floats = np.array([p3 - p0 + 3 * (p1 - p2), 3 * (p0 - 2 * p1 + p2), 3 * (p1 - p0), p0])
    roots = np.roots(power)
    return [float(root.real) for root in roots if abs(root.imag) <= 1e-9]
