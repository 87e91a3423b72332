"""Parallel segments joined into chains: arcs or mitres at raised corners, breaks at hollow ones."""

from __future__ import annotations

import cmath
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from frameforge.geometry.cubic import Cubic
from frameforge.geometry.outline import Segment
from frameforge.geometry.ribbon.corners import Corner, Corners
from frameforge.geometry.ribbon.stretches import Part
from frameforge.tolerances import MIN_CHORD_MM, SMOOTH_MM, SMOOTH_RAD

__all__ = ["Link", "ParallelChain", "chains_of", "corner_between"]


@dataclass(frozen=True, slots=True)
class Link:
    """One parallel segment; ``corner``: the corner of the source that it goes round, None beside a segment.

    The links round one corner, arcs or the two lines of a mitre, share its value.
    """

    segment: Segment
    is_fitted: bool = False
    corner: Corner | None = None


@dataclass(frozen=True, slots=True)
class ParallelChain:
    """Links end to end. Closed chains end in the bits in which they start; open ones have two free ends."""

    links: tuple[Link, ...]
    is_open: bool


def chains_of(outline: Sequence[Part], distance_mm: float, corners: Corners) -> list[ParallelChain]:
    """Return the chains of parallel segments of one closed outline of parts, each as long as it can be."""
    steps = list(_steps(outline, distance_mm, corners))
    breaks = [i for i, step in enumerate(steps) if step is None]
    if not breaks:
        return [ParallelChain(_welded(steps, is_open=False), is_open=False)] if steps else []
    chains: list[list[Link | None]] = [[]]
    for step in steps[breaks[0] :] + steps[: breaks[0]]:
        if step is None:
            chains.append([])
        else:
            chains[-1].append(step)
    return [ParallelChain(_welded(links, is_open=True), is_open=True) for links in chains if links]


def _steps(outline: Sequence[Part], distance_mm: float, corners: Corners) -> Iterator[Link | None]:
    """Yield the links along the outline, and None where the chain breaks."""
    for k, part in enumerate(outline):
        yield None if part.parallel is None else Link(part.parallel, part.is_fitted)
        following = outline[(k + 1) % len(outline)]
        corner = corner_between(part, following, corners)
        if _is_smooth(part, following, corner.turn_rad * distance_mm, corner.turn_rad):
            continue
        if corner.is_raised(distance_mm):
            yield from (Link(segment, False, corner) for segment in corner.segments(distance_mm))
        else:
            yield None


def corner_between(part: Part, following: Part, corners: Corners) -> Corner:
    """Return the corner in which a part passes into the one that follows it."""
    at, before, after = following.source.point(following.t0), part.end_way, following.start_way
    join = part.cap or corners.join_for(cmath.phase(after / before))
    return Corner(at, before, after, join)


def _is_smooth(part: Part, following: Part, gap_mm: float, turn_rad: float) -> bool:
    """Return whether the parallels run on into each other."""
    if part.is_fitted or following.is_fitted:
        return abs(gap_mm) < SMOOTH_MM
    return abs(turn_rad) < SMOOTH_RAD


def _welded(links: Sequence[Link | None], *, is_open: bool) -> tuple[Link, ...]:
    """Return the links with neighbours sharing the bits of their joint; links without length are left out.

    Exact segments keep their ends, fitted ones give way.
    """
    chain = [link for link in links if link is not None]
    kept = [link for link in chain if abs(link.segment.end - link.segment.start) > MIN_CHORD_MM] or chain[:1]
    for k in range(len(kept) - 1 if is_open else len(kept)):
        after = (k + 1) % len(kept)
        here, there = kept[k], kept[after]
        if here.segment.end == there.segment.start:
            continue
        if here.is_fitted and not there.is_fitted:
            kept[k] = _with_ends(here, here.segment.start, there.segment.start)
        else:
            kept[after] = _with_ends(there, here.segment.end, there.segment.end)
    return tuple(kept)


def _with_ends(link: Link, start: complex, end: complex) -> Link:
    """Return the link with its ends moved a very little, the handles of a cubic with them."""
    segment = link.segment
    if isinstance(segment, Cubic):
        moved: Segment = Cubic(start, segment.c1 + start - segment.start, segment.c2 + end - segment.end, end)
    else:
        moved = segment.with_ends(start, end)
    return Link(moved, link.is_fitted, link.corner)
