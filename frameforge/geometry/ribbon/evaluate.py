"""One parallel outline worked out: ribbons and core to shapely, the rings traced back, the result proved."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from shapely.geometry.base import BaseGeometry

from frameforge.geometry import boolean
from frameforge.geometry.combine import Combined, Report, regions_of
from frameforge.geometry.outline import Segment
from frameforge.geometry.ribbon.bands import Band, corner_polygons, ribbon_polygons
from frameforge.geometry.ribbon.chains import ParallelChain, chains_of
from frameforge.geometry.ribbon.corners import Corner, Corners, Join
from frameforge.geometry.ribbon.fillers import filler_polygons
from frameforge.geometry.ribbon.proof import SourceLines, are_clear
from frameforge.geometry.ribbon.stretches import Part, parts_of
from frameforge.geometry.segment_table import Bools, Complexes
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.joints import Rules
from frameforge.geometry.trace.runs import Rings
from frameforge.geometry.trace.source import Source
from frameforge.geometry.trace.tracing import Traced, trace
from frameforge.tolerances import (
    CHORD_MM,
    CRUMB_EDGE_MM,
    DUST_MM,
    FREE_END_MM,
    MOST_CHORDS,
    REFINE_BY,
    REFINEMENTS,
    SMOOTH_MM,
)

__all__ = ["Loop", "Task", "evaluate"]

# A solved joint may lie this many chord distances nearer to the source than the parallels do.
_NEARER = 2.5
# Chords of a thin ribbon must be much finer than it is wide.
_PARTS_OF_DISTANCE = 20


@dataclass(frozen=True, slots=True)
class Loop:
    """A closed loop of segments; or, with ``cap``, the two sides of a line, each closed by the cap at its end."""

    sides: tuple[tuple[Segment, ...], ...]
    cap: Join | None = None

    @property
    def segments(self) -> tuple[Segment, ...]:
        """All segments round the loop."""
        return tuple(segment for side in self.sides for segment in side)


@dataclass(frozen=True, slots=True)
class Task:
    """What is asked: closed loops with the card on their left, the distance to their right, and the core.

    ``core(inset_mm, chord_mm)`` returns the polygons of what lies within the distance less ``inset_mm`` of the card
    (for a shrunk region: of what is that much less deep), good to a third of the inset. It is repeated finer at most
    ``refinements`` times.
    """

    loops: tuple[Loop, ...]
    distance_mm: float
    fit_mm: float
    corners: Corners
    core: Callable[[float, float], BaseGeometry]
    refinements: int = REFINEMENTS


def evaluate(task: Task) -> Combined:
    """Return the regions at the distance, in canonical form, and the report; repeated finer while anything is amiss."""
    parts = _parts(task)
    chains = [chain for loop in parts for chain in chains_of(loop, task.distance_mm, task.corners)]
    chord_mm = min(CHORD_MM, abs(task.distance_mm) / _PARTS_OF_DISTANCE)
    if not chains:
        return Combined((), Report(chord_mm))
    for repeats in range(task.refinements + 1):
        combined, is_proved, chords = _attempt(task, parts, chains, chord_mm, repeats)
        if is_proved or chords * math.sqrt(REFINE_BY) > MOST_CHORDS:
            break
        chord_mm /= REFINE_BY
    return combined


def _parts(task: Task) -> list[list[Part]]:
    """Return the parts of every loop."""
    sides = iter(parts_of([side for loop in task.loops for side in loop.sides], task.distance_mm, task.fit_mm)[0])
    loops = []
    for loop in task.loops:
        parts: list[Part] = []
        for _ in loop.sides:
            parts += next(sides)
            if parts and loop.cap:
                parts[-1] = replace(parts[-1], cap=loop.cap)
        loops.append(parts)
    return loops


def _attempt(
    task: Task, parts: list[list[Part]], links: list[ParallelChain], chord_mm: float, repeats: int
) -> tuple[Combined, bool, int]:
    """Return the result at one chord distance, whether nothing is amiss with it, and how many chords there were."""
    segments = [[link.segment for link in chain.links] for chain in links]
    chains = Chains.from_segments(segments, [chain.is_open for chain in links]).welded()
    source = Source.from_chains(chains, chord_mm)
    shells = boolean.shells(_geometry(task, parts, links, source))
    lines = SourceLines.from_outlines([loop.segments for loop in task.loops], chord_mm)
    if not len(shells.polygon):
        return Combined((), Report(chord_mm, repeats)), True, len(source.vertices.point)
    corners = [link.corner for chain in links for link in chain.links if link.corner is not None]
    traced = trace(Rings(shells.point, shells.first), source, _rules(task, lines, corners))
    regions = regions_of(traced.outlines, shells.polygon)
    report = Report(chord_mm, repeats, traced.lost, traced.patched, traced.touches)
    return Combined(regions, report), _is_proved(task, traced, lines, corners), len(source.vertices.point)


def _geometry(task: Task, parts: list[list[Part]], links: list[ParallelChain], source: Source) -> BaseGeometry:
    """Return what shapely makes of core and bands."""
    band = Band(task.distance_mm, is_full=any(loop.cap in ("butt", "square") for loop in task.loops))
    at_corner = [link.corner is not None for chain in links for link in chain.links]
    ribbons = ribbon_polygons(source.chains, source.vertices, at_corner, band)
    corners = corner_polygons(source.chains, source.vertices, links, band)
    joints = np.concatenate([source.chains.table.start, source.chains.table.end])
    pieces = boolean.repaired(np.concatenate([ribbons, corners, filler_polygons(parts, band, task.corners, joints)]))
    core = task.core(band.margin_mm, source.chord_mm)
    if task.distance_mm < 0:
        return boolean.difference(core, boolean.union(pieces))
    return boolean.union(np.concatenate([np.array([core], dtype=object), pieces]))


def _rules(task: Task, lines: SourceLines, corners: list[Corner]) -> Rules:
    """Return what the tracer accepts: no joint that lies clearly inside the distance.

    A straight cut across a corner or an end does run inside it, so near those all joints are accepted.
    """
    reach = abs(task.distance_mm)
    least = reach - _NEARER * lines.chord_mm - 2 * task.fit_mm
    cuts = np.array([corner.at for corner in corners if corner.join in ("bevel", "butt")])

    def accept(point: Complexes) -> Bools:
        is_clear = lines.are_clear(point, least)
        for k in np.flatnonzero(~is_clear) if len(cuts) else ():
            is_clear[k] = bool((abs(cuts - point[k]) <= reach).any())
        return is_clear

    return Rules(accept, FREE_END_MM, CRUMB_EDGE_MM, DUST_MM, drops_pockets=True)


def _is_proved(task: Task, traced: Traced, lines: SourceLines, corners: list[Corner]) -> bool:
    """Return whether every edge and joint was found and all curves lie at the distance, straight cuts apart."""
    if traced.lost or traced.patched:
        return False
    if any(corner.join in ("bevel", "butt") for corner in corners):
        return True
    least = abs(task.distance_mm) - (task.fit_mm + lines.chord_mm + SMOOTH_MM)
    return are_clear(list(traced.outlines.values()), lines, least)
