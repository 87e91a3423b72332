"""One parallel outline worked out: ribbons and core to shapely, the rings traced back, the result proved."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from shapely.geometry.base import BaseGeometry

from frameforge.geometry import boolean
from frameforge.geometry.combine import Combined, Report, regions_of
from frameforge.geometry.outline import Segment
from frameforge.geometry.ribbon.bands import Band, corner_polygons, ribbon_polygons
from frameforge.geometry.ribbon.chains import ParallelChain, chains_of
from frameforge.geometry.ribbon.corners import Corners
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
    REFINE_BY,
    REFINEMENTS,
    SMOOTH_MM,
)

__all__ = ["Task", "evaluate"]

# A solved joint may lie this many chord distances nearer to the source than the parallels do.
_NEARER = 2.5
# Chords of a thin ribbon must be much finer than it is wide.
_PARTS_OF_DISTANCE = 20


@dataclass(frozen=True, slots=True)
class Task:
    """What is asked: closed loops with the card on their left, the distance to their right, and the core.

    ``core(inset_mm, chord_mm)`` returns the polygons of what lies within the distance less ``inset_mm`` of the card
    (for a shrunk region: of what is that much less deep), good to a third of the inset.
    """

    loops: tuple[tuple[Segment, ...], ...]
    distance_mm: float
    fit_mm: float
    corners: Corners
    core: Callable[[float, float], BaseGeometry]


def evaluate(task: Task) -> Combined:
    """Return the regions at the distance, in canonical form, and the report; repeated finer while anything is amiss."""
    parts = parts_of(task.loops, task.distance_mm, task.fit_mm)[0]
    chains = [chain for loop in parts for chain in chains_of(loop, task.distance_mm, task.corners)]
    chord_mm = min(CHORD_MM, abs(task.distance_mm) / _PARTS_OF_DISTANCE)
    if not chains:
        return Combined((), Report(chord_mm))
    for repeats in range(REFINEMENTS + 1):
        combined, is_proved = _attempt(task, parts, chains, chord_mm, repeats)
        if is_proved:
            break
        chord_mm /= REFINE_BY
    return combined


def _attempt(
    task: Task, parts: list[list[Part]], links: list[ParallelChain], chord_mm: float, repeats: int
) -> tuple[Combined, bool]:
    """Return the result at one chord distance, and whether nothing is amiss with it."""
    segments = [[link.segment for link in chain.links] for chain in links]
    chains = Chains.from_segments(segments, [chain.is_open for chain in links]).welded()
    source = Source.from_chains(chains, chord_mm)
    shells = boolean.shells(_geometry(task, parts, links, source))
    lines = SourceLines.from_outlines(task.loops, chord_mm)
    if not len(shells.polygon):
        return Combined((), Report(chord_mm, repeats)), True
    traced = trace(Rings(shells.point, shells.first), source, _rules(task, lines))
    regions = regions_of(traced.outlines, shells.polygon)
    report = Report(chord_mm, repeats, traced.lost, traced.patched, traced.touches)
    return Combined(regions, report), _is_proved(task, traced, lines)


def _geometry(task: Task, parts: list[list[Part]], links: list[ParallelChain], source: Source) -> BaseGeometry:
    """Return what shapely makes of core and bands."""
    band = Band(task.distance_mm)
    at_corner = [link.corner is not None for chain in links for link in chain.links]
    ribbons = ribbon_polygons(source.chains, source.vertices, at_corner, band)
    corners = corner_polygons(source.chains, source.vertices, links)
    joints = np.concatenate([source.chains.table.start, source.chains.table.end])
    pieces = boolean.repaired(np.concatenate([ribbons, corners, filler_polygons(parts, band, joints)]))
    core = task.core(band.margin_mm, source.chord_mm)
    if task.distance_mm < 0:
        return boolean.difference(core, boolean.union(pieces))
    return boolean.union(np.concatenate([np.array([core], dtype=object), pieces]))


def _rules(task: Task, lines: SourceLines) -> Rules:
    """Return what the tracer accepts: no joint that lies clearly inside the distance."""
    least = abs(task.distance_mm) - _NEARER * lines.chord_mm - 2 * task.fit_mm

    def accept(point: Complexes) -> Bools:
        return lines.are_clear(point, least)

    return Rules(accept, FREE_END_MM, CRUMB_EDGE_MM, DUST_MM, drops_pockets=True)


def _is_proved(task: Task, traced: Traced, lines: SourceLines) -> bool:
    """Return whether every edge and joint was found and all curves lie at the distance."""
    if traced.lost or traced.patched:
        return False
    if task.corners.join != "round":
        return True
    least = abs(task.distance_mm) - (task.fit_mm + lines.chord_mm + SMOOTH_MM)
    return are_clear(list(traced.outlines.values()), lines, least)
