"""Patches applied to a piece: exact, and only to the outlines that they reach."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from frameforge.check.chords import to_chords
from frameforge.geometry import boolean
from frameforge.geometry.combine import Expression, difference, evaluate, union
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import area_mm2
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.mend.patch import Patch
from frameforge.tolerances import CHORD_MM

__all__ = ["Applied", "applied", "worked"]

REACH_MM = 2.5 * CHORD_MM
"""An outline whose chords come this near to those of a patch may touch it."""

FINE_MM = 0.002
"""Chords for the shares of patches that are applied together."""


@dataclass(frozen=True, slots=True)
class Applied:
    """The regions after patches, and the card in mm2 that each patch put on and took off."""

    regions: tuple[Region, ...]
    added_mm2: tuple[float, ...]
    removed_mm2: tuple[float, ...]


def applied(regions: Sequence[Region], patches: Sequence[Patch]) -> Applied:
    """Return the regions with all patches applied: holes filled, parts dropped, card taken off, card put on.

    Outlines that no patch reaches come back as they are. The amounts of all patches together are measured on the true
    curves; where several patches work at once, their shares in it are measured on chords.
    """
    whole, less, more = _stages(regions, patches)
    off = _shares(whole, patches, area_mm2(whole) - area_mm2(less), is_added=False)
    on = _shares(less, patches, area_mm2(more) - area_mm2(less), is_added=True)
    for k, patch in enumerate(patches):
        again = _cut_again_mm2(patch)
        on[k] += sum(abs(area_mm2(hole)) for hole in patch.fills) - again
        off[k] += area_mm2(patch.drops) - again
    return Applied(more, tuple(on), tuple(off))


def worked(regions: Sequence[Region], patches: Sequence[Patch]) -> tuple[Region, ...]:
    """Return the same regions, without asking how much each patch changed."""
    return _stages(regions, patches)[-1]


def _stages(regions: Sequence[Region], patches: Sequence[Patch]) -> tuple[tuple[Region, ...], ...]:
    """Return the regions with holes filled and parts dropped, then with card taken off, then with card put on."""
    dropped = {region for patch in patches for region in patch.drops}
    filled = {hole for patch in patches for hole in patch.fills}
    whole = tuple(_without(region, filled) for region in regions if region not in dropped)
    less = _taken_off(whole, [cut for patch in patches for cut in patch.cuts])
    more = tuple(_with_less_holes(region, patches) for region in less)
    return whole, less, _put_on(more, [add for patch in patches for add in patch.adds])


def _cut_again_mm2(patch: Patch) -> float:
    """Return how much of the holes that a patch fills it cuts out again."""
    if not (patch.fills and patch.cuts):
        return 0.0
    holes = _united([Region(hole.reversed()) for hole in patch.fills])
    return float(boolean.intersection(holes, _united(patch.cuts)).area)


def _without(region: Region, filled: set[Outline]) -> Region:
    """Return the region without some of its holes."""
    if not filled.intersection(region.holes):
        return region
    return Region(region.outer, tuple(hole for hole in region.holes if hole not in filled))


def _with_less_holes(region: Region, patches: Sequence[Patch]) -> Region:
    """Return the region with the holes that patches line."""
    linings: dict[Outline, list[Region]] = {}
    for patch in patches:
        for hole in patch.lined:
            linings.setdefault(hole, []).extend(patch.linings)
    lined = [hole for hole in region.holes if hole in linings]
    if not lined:
        return region
    left: dict[Outline, list[Outline]] = {}
    for holes in _worked_together(lined, linings):
        adds = [add for hole in holes for add in linings[hole]]
        waste = evaluate(difference(union(*(Region(hole.reversed()) for hole in holes)), *adds)).regions
        left[holes[0]] = [bit.outer.reversed() for bit in waste]
        left |= {hole: [] for hole in holes[1:]}
    return Region(region.outer, tuple(bit for hole in region.holes for bit in left.get(hole, [hole])))


def _worked_together(lined: Sequence[Outline], linings: dict[Outline, list[Region]]) -> list[list[Outline]]:
    """Return holes in rows that can be worked out at once: of more than one hole, no lining comes near another."""
    polygons = [to_polygon(Region(hole.reversed())) for hole in lined]
    tree = shapely.STRtree(polygons)
    alone, together = list[list[Outline]](), list[Outline]()
    for hole, polygon in zip(lined, polygons, strict=True):
        reach = [polygon, *(to_polygon(add) for add in linings[hole])]
        near = np.unique(tree.query(reach, predicate="dwithin", distance=REACH_MM)[1])
        if len(near) == 1:
            together.append(hole)
        else:
            alone.append([hole])
    return [together, *alone] if together else alone


def _taken_off(regions: tuple[Region, ...], cuts: list[Region]) -> tuple[Region, ...]:
    """Return the regions with card taken off."""
    if not cuts:
        return regions
    return _in_parts(regions, _reached(regions, cuts), lambda parts: difference(union(*parts), *cuts))


def _put_on(regions: tuple[Region, ...], adds: list[Region]) -> tuple[Region, ...]:
    """Return the regions with card put on."""
    if not adds:
        return regions
    reached = _reached(regions, adds)
    inside = [_is_within_holes(loops) for loops in reached]
    small = [(add, loops) for add, loops, is_inside in zip(adds, reached, inside, strict=True) if is_inside]
    large = [add for add, is_inside in zip(adds, inside, strict=True) if not is_inside]
    result = _in_holes(regions, small)
    if not large:
        return result
    return _in_parts(result, _reached(result, large), lambda parts: union(*parts, *large))


Loops = set[tuple[int, int]]
"""Outlines by the number of the part and their number in it, 0 the outer one."""


def _reached(regions: Sequence[Region], patches: Sequence[Region]) -> list[Loops]:
    """Return for each patch the outlines it comes near."""
    chords = to_chords(regions)
    names = [(i, k) for i, region in enumerate(regions) for k in range(len(region.outlines))]
    found: list[Loops] = []
    for patch in patches:
        hits = chords.tree.query(to_polygon(patch), predicate="dwithin", distance=REACH_MM)
        found.append({names[k] for k in np.unique(chords.loop[hits]).tolist()})
    return found


def _is_within_holes(loops: Loops) -> bool:
    """Return whether only holes, and of one part, are reached."""
    return bool(loops) and all(k > 0 for _, k in loops) and len({i for i, _ in loops}) == 1


def _in_holes(regions: tuple[Region, ...], adds: Sequence[tuple[Region, Loops]]) -> tuple[Region, ...]:
    """Return the regions with card put on inside holes: each hole loses it, and nothing else is touched."""
    result: list[Region] = []
    for i, region in enumerate(regions):
        holes, islands = [], []
        for k, hole in enumerate(region.holes, start=1):
            mine = [add for add, loops in adds if (i, k) in loops]
            if not mine:
                holes.append(hole)
                continue
            waste = evaluate(difference(Region(hole.reversed()), *mine)).regions
            holes += [bit.outer.reversed() for bit in waste]
            islands += [Region(island.reversed()) for bit in waste for island in bit.holes]
        result += [Region(region.outer, tuple(holes)) if adds else region, *islands]
    return tuple(result)


def _in_parts(
    regions: tuple[Region, ...],
    reached: Sequence[Loops],
    changed: Callable[[list[Region]], Expression],
) -> tuple[Region, ...]:
    """Return the regions with those parts that are reached worked out anew; holes out of reach are carried over."""
    loops: Loops = set().union(*reached)
    if not all(reached):
        # A patch that comes near no outline lies inside the card, or apart from it: any part may be meant.
        loops |= {(i, 0) for i in range(len(regions))}
    touched = {i for i, _ in loops}
    parts = [
        Region(regions[i].outer, tuple(h for k, h in enumerate(regions[i].outlines) if k and (i, k) in loops))
        for i in sorted(touched)
    ]
    carried = [h for i in sorted(touched) for k, h in enumerate(regions[i].outlines) if k and (i, k) not in loops]
    untouched = [region for i, region in enumerate(regions) if i not in touched]
    return (*untouched, *_with_holes(evaluate(changed(parts)).regions, carried))


def _with_holes(regions: tuple[Region, ...], holes: Sequence[Outline]) -> tuple[Region, ...]:
    """Return the regions with each hole put into the one it lies in."""
    if not holes or not regions:
        return regions
    owner = [0] * len(holes)
    if len(regions) > 1:
        polygons = [to_polygon(region) for region in regions]
        spots = [shapely.Point(h.segments[0].start.real, h.segments[0].start.imag) for h in holes]
        owner = [next((i for i, p in enumerate(polygons) if p.contains(spot)), -1) for spot in spots]
    return tuple(
        Region(region.outer, (*region.holes, *(h for h, i in zip(holes, owner, strict=True) if i == number)))
        for number, region in enumerate(regions)
    )


def _shares(card: Sequence[Region], patches: Sequence[Patch], total_mm2: float, *, is_added: bool) -> list[float]:
    """Return the share of each patch in ``total_mm2`` put on or taken off, by area as chords measure it.

    Where patches overlap, the earlier one counts.
    """
    working = [k for k, patch in enumerate(patches) if (patch.adds or patch.linings if is_added else patch.cuts)]
    result = [0.0] * len(patches)
    if len(working) == 1:
        result[working[0]] = total_mm2
    if len(working) < 2:
        return result
    polygons = [_reach(patches[k]) if is_added else _united(patches[k].cuts) for k in working]
    areas = _first_mm2(polygons, _united(card), is_added=is_added)
    whole = sum(areas)
    for k, area in zip(working, areas, strict=True):
        result[k] = total_mm2 * area / whole if whole else 0.0
    return result


def _first_mm2(polygons: Sequence[BaseGeometry], card: BaseGeometry, *, is_added: bool) -> list[float]:
    """Return how much of each polygon lies beside the card, or on it, and in none of those before it.

    Each is held against the card and the polygons near it only, so that many take no longer than their number.
    """
    covered = shapely.get_parts(boolean.intersection(card, boolean.union(polygons)))
    of_card, of_others = shapely.STRtree(covered), shapely.STRtree(polygons)
    areas = []
    for k, polygon in enumerate(polygons):
        within = boolean.intersection(polygon, boolean.union(covered[of_card.query(polygon)]))
        before = [polygons[j] for j in of_others.query(polygon).tolist() if j < k]
        own = boolean.difference(polygon, within) if is_added else within
        areas.append(float((boolean.difference(own, boolean.union(before)) if before else own).area))
    return areas


def _reach(patch: Patch) -> BaseGeometry:
    """Return where a patch may put card on, as chords."""
    holes = _united([Region(hole.reversed()) for hole in patch.lined])
    return boolean.union([_united(patch.adds), boolean.intersection(_united(patch.linings), holes)])


def _united(regions: Sequence[Region]) -> BaseGeometry:
    """Return regions as one polygonal area of fine chords, split into sound ones where those of near edges cross."""
    return boolean.union(boolean.repaired(np.array([to_polygon(region, FINE_MM) for region in regions], dtype=object)))
