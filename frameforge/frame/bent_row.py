"""A bent row's motifs as curves: each fitted once for all repeats that are alike.

On a circle all repeats of a motif are alike but for a turn. On an oval what stands at one place is, turned by half a
turn, what stands opposite; mirrored, it is what the mirrored motif makes at the mirrored place. The copies are exact:
their numbers are those of the first but for signs.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from frameforge.frame.layout import Layout
from frameforge.frame.ornament import Ready
from frameforge.geometry.affine import IDENTITY, Affine
from frameforge.geometry.combine import Copies, Expression
from frameforge.geometry.mirror_twin import are_mirrored
from frameforge.geometry.region import Region
from frameforge.geometry.warp import warped
from frameforge.motif.motif import Motif
from frameforge.tolerances import BEND_FIT_MM, SAME_ANGLE_RAD

__all__ = ["bent_copies", "bent_motifs", "bent_regions"]

Regions = tuple[Region, ...]
Drawings = Mapping[Ready, Regions]

_HALF_TURN = Affine(-1)
_LEFT_RIGHT = Affine(0, -1)
_TOP_BOTTOM = Affine(0, 1)


@dataclass(slots=True)
class _Kind:
    """Repeats that are alike: the motif and the tau that are fitted, and the map from there onto each repeat."""

    ready: Ready
    tau: float
    maps: dict[int, Affine] = field(default_factory=dict)


def bent_copies(layout: Layout, regions_of: Callable[[Ready], Regions]) -> tuple[Expression, ...]:
    """Return what ``regions_of`` draws of every repeat that is there, bent, in the piece's place."""
    drawings = {ready: regions_of(ready) for ready in layout.readies}
    found: list[Expression] = []
    for kind, images in _fitted(layout, drawings):
        turned = tuple(place for place in kind.maps.values() if not place.b)
        mirrors = [place for place in kind.maps.values() if place.b]
        for region in images:
            found += [Copies(region, turned)] if turned else []
            # Maps that mirror are taken apart into one mirrored region and turns of it.
            if mirrors:
                back = mirrors[0]
                turns = tuple(IDENTITY if place == back else _HALF_TURN for place in mirrors)
                found.append(Copies(region.transformed(back), turns))
    return tuple(found)


def bent_regions(layout: Layout, k: int, regions: Regions) -> Regions:
    """Return regions drawn about the foot of repeat k as they are bent there, in the piece's place."""
    bends = layout.track.bends(layout.readies[k], [layout.seats[k].tau])
    return warped([regions], bends, BEND_FIT_MM)[0][0]


def bent_motifs(layout: Layout) -> list[Motif]:
    """Return every repeat's motif as it is bent, about the middle of its foot; those left out as drawn."""
    made = [ready.motif for ready in layout.readies]
    drawings = {ready: ready.motif.regions for ready in layout.readies}
    for kind, images in _fitted(layout, drawings):
        shared: Motif | None = None
        for k, place in kind.maps.items():
            if shared is None or not layout.track.edge.is_circle:
                back = layout.track.placement(layout.readies[k], layout.seats[k]).inverse().after(place)
                shared = layout.readies[k].motif.with_regions(region.transformed(back) for region in images)
            made[k] = shared
    return made


def _fitted(layout: Layout, drawings: Drawings) -> list[tuple[_Kind, Regions]]:
    """Return every kind of repeat with its drawing bent, in the piece's place at the kind's own tau."""
    kinds = _on_a_circle(layout) if layout.track.edge.is_circle else _on_an_oval(layout, drawings)
    found: list[tuple[_Kind, Regions]] = []
    for ready in dict.fromkeys(kind.ready for kind in kinds):
        own = [kind for kind in kinds if kind.ready is ready]
        bends = layout.track.bends(ready, [kind.tau for kind in own])
        images = warped([drawings[ready]], bends, BEND_FIT_MM) if drawings[ready] else [((),)] * len(own)
        found += [(kind, image[0]) for kind, image in zip(own, images, strict=True)]
    return found


def _on_a_circle(layout: Layout) -> list[_Kind]:
    """Return the kinds on a circle, each fitted at the top and turned about the middle."""
    kinds: dict[Ready, _Kind] = {}
    for k, ready in enumerate(layout.readies):
        if layout.is_there[k]:
            kinds.setdefault(ready, _Kind(ready, 0.0)).maps[k] = Affine(layout.seats[k].tangent)
    return list(kinds.values())


def _on_an_oval(layout: Layout, drawings: Drawings) -> list[_Kind]:
    """Return the kinds on an oval: places that differ by half a turn or by a mirror, and motifs that do."""
    twins = {ready: _twin(ready, drawings) for ready in dict.fromkeys(layout.readies)}
    kinds: list[_Kind] = []
    for k, ready in enumerate(layout.readies):
        if not layout.is_there[k]:
            continue
        ready, tau, place = _reduced(ready, twins[ready], layout.seats[k].tau)
        for kind in kinds:
            if kind.ready is ready and abs(kind.tau - tau) <= SAME_ANGLE_RAD:
                break
        else:
            kind = _Kind(ready, tau)
            kinds.append(kind)
        kind.maps[k] = place
    return kinds


def _twin(ready: Ready, drawings: Drawings) -> Ready | None:
    """Return the motif of the row whose drawing is the mirror image of this one's: often the very same."""
    alike = (other for other in drawings if other.foot_mm == ready.foot_mm)
    return next((other for other in alike if are_mirrored(drawings[ready], drawings[other])), None)


def _reduced(ready: Ready, twin: Ready | None, tau: float) -> tuple[Ready, float, Affine]:
    """Return motif and tau of the place that stands for this one, and the map from there to here.

    With a twin that is in the first quarter, else in the first half; ends of axes are taken to the bit.
    """
    quarter = math.pi / 2
    number = math.floor(tau / quarter)
    # Just before the end of an axis is at it.
    if (number + 1) * quarter - tau <= SAME_ANGLE_RAD:
        number, rest = number + 1, 0.0
    else:
        rest = tau - number * quarter
        rest = 0.0 if rest <= SAME_ANGLE_RAD else rest
    number %= 4
    half_turned = _HALF_TURN if number >= 2 else IDENTITY
    if number % 2 == 0:
        return ready, rest, half_turned
    if twin is None or rest == 0.0:
        return ready, quarter + rest, half_turned
    return twin, quarter - rest, _LEFT_RIGHT if number == 3 else _TOP_BOTTOM
