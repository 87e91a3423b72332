"""What a finished edge may not do: leave too little card, or reach into what stands across an opening."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial

import numpy as np
import shapely

from frameforge.frame.base import Edge
from frameforge.frame.edge_distance import is_within, point_distance_mm
from frameforge.frame.edge_line import EdgeLine
from frameforge.frame.layout import Layout
from frameforge.frame.model import RowModel, edges_of
from frameforge.frame.raised import Side
from frameforge.frame.spec import PieceSpec, Size
from frameforge.frame.ways import RefusedError, Way
from frameforge.frame.wording import down, size_words
from frameforge.tolerances import CHORD_MM
from frameforge.units import format_floor

__all__ = ["check_card", "check_reach", "edge_distance_mm", "least_card_mm", "opening_offers"]

_RING = 720
_ROUGH_MM = 0.05
"""Chords of both edges together are nearer to them than this, up to 3 m across."""

_SAMPLES = 65
_SECTIONS = 48
_TENTH = 0.1

Shapes = np.ndarray[tuple[int], np.dtype[np.object_]]


def check_card(
    model: RowModel, size: Size, layout: Layout, lines: Sequence[EdgeLine], deepest_mm: float = math.inf
) -> None:
    """Refuse edges that leave less card than the least neck: to the other edge of the card, or to one another.

    A hollow deeper than ``deepest_mm`` would cut in under a foot and is refused too. Every way out was tried. Raises
    RefusedError.
    """
    other = _other_edge(model.spec, size, layout)
    row, least = model.row, model.preset.least_neck_mm
    depth = (row.depth_mm or 0.0) if row.between == "hollow" else 0.0
    numbers = {}
    if depth and depth > deepest_mm:
        code, numbers = "too-deep", {"depth_mm": depth, "limit_mm": deepest_mm}
        say = f"a depth of {depth:.4g} mm would cut in under the feet"
        say += f"; it can be {format_floor(deepest_mm)} at most." if deepest_mm >= _TENTH else "."
    elif not _leaves(lines, other, least):
        left = least_card_mm(lines, other, least)
        code, numbers = "no-rim", {"rim_mm": left, "limit_mm": least}
        say = f"between {row.between} leaves {format_floor(left)} of card, this card needs {least:g} mm."
    else:
        return
    ways = _depth_offers(model, lines, depth, lambda tried, d: d <= deepest_mm and _leaves(tried, other, least))
    if code == "no-rim":
        ways += _edge_offers(model.spec, size, layout, lines, least)
    raise RefusedError(say, ways, partial(_or_keep, depth), where=model.spec.name, code=code, **numbers)


def _or_keep(depth_mm: float, words: list[str]) -> str:
    """Return the ways as a sentence; without any, the edge kept as it is always goes."""
    return _sentence(words) or f" Take --between keep{' without a depth' if depth_mm else ''}."


def _sentence(words: list[str]) -> str:
    return f" Take {' or '.join(words)}." if words else ""


def _change(model: RowModel, words: str, **row: object) -> Way:
    """Return what is typed with what it changes of the row."""
    return Way(words, row=row, index=model.spec.rows.index(model.row) if model.row in model.spec.rows else 0)


def _depth_offers(
    model: RowModel, lines: Sequence[EdgeLine], depth_mm: float, holds: Callable[[Sequence[EdgeLine], float], bool]
) -> list[Way]:
    """Return the greatest depth below the given one that holds, or straight lines where those do."""
    room = _largest(lambda d: holds(_with_depth(lines, d), d), depth_mm)
    if room >= _TENTH:
        return [_change(model, f"--depth {room:.4g}mm", depth_mm=room)]
    if not (depth_mm and holds(_with_depth(lines, 0.0), -math.inf)):
        return []
    return [_change(model, "--between flat without a depth", between="flat", depth_mm=None)]


def _other_edge(spec: PieceSpec, size: Size, layout: Layout) -> Edge | None:
    """Return the edge on the other side of the card, if there is one."""
    base, opening = edges_of(spec, size)
    return base if layout.track.meets == "opening" else opening


def _with_depth(lines: Sequence[EdgeLine], depth_mm: float) -> list[EdgeLine]:
    return [replace(line, rise_mm=math.copysign(depth_mm, line.rise_mm)) for line in lines]


def _largest(holds: Callable[[float], bool], below: float) -> float:
    """Return the greatest multiple of .1 mm under ``below`` that holds, 0 where none does; less holds sooner."""
    low, high = 0, math.ceil(below / _TENTH - 1e-9)
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if holds(round(middle * _TENTH, 1)) else (low, middle)
    return round(low * _TENTH, 1)


def _edge_offers(spec: PieceSpec, size: Size, layout: Layout, lines: Sequence[EdgeLine], least_mm: float) -> list[Way]:
    """Return the largest opening, or the least rim, with which these edges leave enough card, if there is one."""
    if layout.track.meets == "opening":
        return []
    return opening_offers(spec, size, lambda opening: _leaves(lines, opening, least_mm))


def opening_offers(spec: PieceSpec, size: Size, holds: Callable[[Edge], bool]) -> list[Way]:
    """Return the largest opening in steps of .1 mm, or the least rim, with which something holds, if there is one."""
    if (opening := spec.opening) is not None:
        short = min(opening.width_mm, opening.height_mm)

        def smaller(width_mm: float) -> Size:
            by = short - width_mm
            return Size(*(down(side - by, _TENTH) for side in (opening.width_mm, opening.height_mm)))

        width = _largest(lambda w: holds(Edge.from_size(smaller(w))), short)
        made = smaller(width) if width else None
        return [Way(f"--opening {size_words(made)}", piece={"opening": made})] if made else []
    if spec.rim_mm is None:
        return []
    base = Edge.from_size(size)
    widest = math.floor(base.least_radius_mm * 10 - 1e-6) / 10
    room = _largest(lambda w: holds(base.parallel(-round(widest - w, 1))), widest - spec.rim_mm)
    rim = round(widest - room, 1)
    return [Way(f"--rim {rim:g}mm", piece={"rim_mm": rim})] if room else []


def _leaves(lines: Sequence[EdgeLine], other: Edge | None, least_mm: float) -> bool:
    """Whether finished edges leave at least that much card."""
    return least_card_mm(lines, other, least_mm, is_exact=False) >= least_mm - 1e-9


def least_card_mm(lines: Sequence[EdgeLine], other: Edge | None, limit_mm: float, *, is_exact: bool = True) -> float:
    """Return the least card between finished edges and the other edge of the card, or between two of them, mm.

    To the other edge to about 1e-12 mm; unless ``is_exact`` only where it matters, near ``limit_mm``, else within .05.
    Between two finished edges within .02; those that share a foot count where they come nearer than it is wide.
    0 where edges cross.
    """
    shapes = np.array([shapely.LineString(np.column_stack([p.real, p.imag])) for p in (o.points() for o in lines)])
    left = _between_lines(lines, shapes, limit_mm)
    if other is None:
        return left
    ring = np.array([other.point(math.tau * k / _RING) for k in range(_RING)])
    away = shapely.distance(shapes, shapely.LinearRing(np.column_stack([ring.real, ring.imag])))
    is_near = any(is_within(line.start, other) != is_within(line.top, other) for line in lines)
    if not is_exact and not is_near and abs(away.min() - limit_mm) > _ROUGH_MM:
        return min(left, float(away.min()))
    nearest = [k for k in np.argsort(away).tolist() if away[k] <= away.min() + _ROUGH_MM]
    return min(left, *(edge_distance_mm(lines[k], other) for k in nearest[:3]))


def _between_lines(lines: Sequence[EdgeLine], shapes: Shapes, limit_mm: float) -> float:
    """Return the least distance between two lines; at a shared foot no less than that foot is wide counts."""
    tree = shapely.STRtree(shapes)
    first, second = tree.query(shapes, predicate="dwithin", distance=limit_mm)
    least = math.inf
    for a, b in zip(first.tolist(), second.tolist(), strict=True):
        if a >= b:
            continue
        feet = min(abs(lines[a].end - lines[b].start), abs(lines[b].end - lines[a].start))
        away = float(shapely.distance(shapes[a], shapes[b]))
        # As near as the foot between them is wide is how the motif was drawn.
        if away < min(limit_mm, feet - 2 * CHORD_MM):
            least = min(least, away)
    return least


def edge_distance_mm(line: EdgeLine, edge: Edge) -> float:
    """Return the least distance from a finished edge to another edge of the card, to about 1e-12 mm; 0 where it passes.

    Sampled, then narrowed down by golden sections (Kiefer, Proc. Amer. Math. Soc. 4 (1953) 502).
    """
    if is_within(line.start, edge) != is_within(line.top, edge):
        return 0.0
    segment = max(line.segments, key=lambda s: abs(s.end - s.start))

    def away(t: float) -> float:
        return point_distance_mm(segment.point(t), edge)

    found = [away(k / (_SAMPLES - 1)) for k in range(_SAMPLES)]
    k = min(range(_SAMPLES), key=found.__getitem__)
    low, high = max(k - 1, 0) / (_SAMPLES - 1), min(k + 1, _SAMPLES - 1) / (_SAMPLES - 1)
    golden = (math.sqrt(5) - 1) / 2
    for _ in range(_SECTIONS):
        left, right = high - golden * (high - low), low + golden * (high - low)
        low, high = (low, right) if away(left) <= away(right) else (left, high)
    return min(found[k], away((low + high) / 2))


def check_reach(model: RowModel, layout: Layout, raised: Callable[[float], Sequence[EdgeLine]]) -> None:
    """Refuse arches in an opening that come nearer than a slot to one another or to motifs further on.

    ``raised`` gives the edges for a rise that is asked for. Raises RefusedError.
    """
    slot, wanted = model.preset.least_slot_mm, model.row.depth_mm or 0.0
    if layout.track.meets != "opening" or not _meet(layout, raised(wanted), slot):
        return
    room = _largest(lambda rise: not _meet(layout, raised(rise), slot), wanted)
    say = f"the raised edges come nearer than {slot:g} mm to each other or to motifs across the opening."
    ways = [_change(model, f"--depth {room:.4g}mm", depth_mm=room)] if room >= _TENTH else []
    ways.append(_change(model, "--between flat without a depth", between="flat", depth_mm=None))
    raise RefusedError(
        say, ways[:1], partial(_or_keep, wanted), where=model.spec.name, code="edges-meet", limit_mm=slot
    )


def _meet(layout: Layout, lines: Sequence[EdgeLine], slot_mm: float) -> bool:
    """Whether arches that share no foot, or an arch and a motif beside which it does not begin, are that near."""
    if not lines:
        return False
    shapes = [shapely.LineString(np.column_stack([p.real, p.imag])) for p in (line.points() for line in lines)]
    tree = shapely.STRtree(shapes)
    first, second = tree.query(shapes, predicate="dwithin", distance=slot_mm)
    for a, b in zip(first.tolist(), second.tolist(), strict=True):
        feet = min(abs(lines[a].end - lines[b].start), abs(lines[b].end - lines[a].start)) if a < b else 0.0
        if a < b and float(shapely.distance(shapes[a], shapes[b])) < min(slot_mm, feet - 2 * CHORD_MM):
            return True
    for ready, seat, there in zip(layout.readies, layout.seats, layout.is_there, strict=True):
        outlines = Side.of(layout, ready, seat, seat.middle).outlines if there else None
        near = tree.query(outlines, predicate="dwithin", distance=slot_mm).tolist() if outlines is not None else []
        if any(lines[k].start != seat.right and lines[k].end != seat.left for k in near):
            return True
    return False
