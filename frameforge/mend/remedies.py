"""What can be done about each finding: for every place the ways to mend it, the one that changes least first."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass
from functools import partial

from frameforge.check.holes import Hole
from frameforge.check.survey import card_kind
from frameforge.check.thickness import ThinPlace
from frameforge.geometry.measure import area_mm2, centroid
from frameforge.geometry.region import Region
from frameforge.mend.fuse import fuse
from frameforge.mend.inner_side import thicken_inwards
from frameforge.mend.patch import Patch
from frameforge.mend.round_tip import blunt, round_notch
from frameforge.mend.small_hole import enlarge, enlarge_away, fill
from frameforge.mend.snip import snip
from frameforge.mend.thicken import thicken
from frameforge.mend.tie import join_at, part_at, strip, tie
from frameforge.mend.view import View
from frameforge.mend.widen import widen
from frameforge.tolerances import WIDTH_MM

__all__ = ["STEPS", "Remedy", "Step"]

Way = Callable[[], Patch | None]
"""Works out a patch; None where this way does not go."""


@dataclass(frozen=True, slots=True)
class Remedy:
    """The finding at a place (mm, y up), and the ways to mend it, to be tried in their order."""

    code: str
    at: complex
    ways: tuple[Way, ...]


Step = Callable[[View, Collection[str], bool], list[Remedy]]
"""Gives the remedies for what a view holds of some codes; the last tells whether parts may be joined."""


def _crumbs(view: View, codes: Collection[str], joins_parts: bool) -> list[Remedy]:
    """Crumbs of card are left out, crumbs of waste filled."""
    limit, found = view.preset.crumb_mm2, []
    if "card-crumb" in codes and len(view.regions) > 1:
        crumbs = [region for region in view.regions if area_mm2(region) < limit]
        found += [
            Remedy("card-crumb", centroid(r), (partial(_drop, r),)) for r in crumbs if len(crumbs) < len(view.regions)
        ]
    if "waste-crumb" in codes:
        small = [hole for hole in view.survey.holes if hole.area_mm2 < limit and hole.disc is not None]
        found += [Remedy("waste-crumb", _centre(h), (partial(fill, h.outline),)) for h in small]
    return found


def _drop(region: Region) -> Patch:
    return Patch(drops=(region,))


def _centre(hole: Hole) -> complex:
    return centroid(hole.outline) if hole.disc is None else hole.disc.centre


def _touches(view: View, codes: Collection[str], joins_parts: bool) -> list[Remedy]:
    """Edges that touch in a point are joined, or parted where they belong to two parts that shall stay two."""
    if "point-touch" not in codes:
        return []
    neck, slot, found = view.preset.least_neck_mm, view.preset.least_slot_mm, []
    for touch in view.survey.touches:
        join, part = partial(join_at, view, touch, neck), partial(part_at, view, touch, slot)
        is_two = view.chords.part[touch.loops[0]] != view.chords.part[touch.loops[1]]
        found.append(Remedy("point-touch", touch.at, (part,) if is_two and not joins_parts else (join, part)))
    return found


def _near_misses(view: View, codes: Collection[str], joins_parts: bool) -> list[Remedy]:
    """Edges that all but touch are joined, or parted where they belong to two parts that shall stay two."""
    if "near-miss" not in codes:
        return []
    least, found = view.preset.least_slot_mm, []
    for place in _narrower(view.survey.slot_places, view.preset.near_miss_mm):
        if view.survey.is_hole(place):
            continue
        apart, joined = partial(widen, view, place, least), partial(_joined, view, place)
        ways: tuple[Way, ...] = (partial(fuse, view, place, least), joined, apart)
        if place.kind == "finger":
            ways = partial(snip, view, place, least, "slot"), *ways
        keeps_two = len(view.parts_of(place)) > 1 and not joins_parts
        found.append(Remedy("near-miss", place.middle, (apart,) if keeps_two else ways))
    return found


def _joined(view: View, place: ThinPlace) -> Patch | None:
    """Return a narrow space closed, and a strip across it as wide as the least neck."""
    closed = fuse(view, place, view.preset.least_slot_mm)
    if closed is None or closed.fills:
        return closed
    return Patch(adds=(*closed.adds, *strip(view, place.a, place.b, view.preset.least_neck_mm)))


def _ties(view: View, codes: Collection[str], joins_parts: bool) -> list[Remedy]:
    """Loose parts are tied, each to the nearest of the larger ones."""
    if "loose" not in codes or len(view.regions) < 2:
        return []
    parts = sorted(view.regions, key=area_mm2, reverse=True)
    least = view.preset.least_neck_mm
    return [
        Remedy("loose", centroid(part), (partial(tie, view, part, tuple(parts[:k]), least),))
        for k, part in enumerate(parts)
        if k
    ]


def _tips(view: View, codes: Collection[str], joins_parts: bool) -> list[Remedy]:
    """Spikes are blunted, sharp notches rounded; slivers cut off, others thickened, or closed."""
    preset, found = view.preset, []
    if "spike" in codes:
        least = preset.least_finger_mm
        for tip in _sharper(view.survey.card_places, preset.tip_deg):
            off, thick = partial(snip, view, tip, least, "card"), partial(thicken, view, tip, least)
            found.append(Remedy("spike", tip.middle, (partial(blunt, view, tip, least / 2), off, thick)))
    if "narrow-slot" in codes:
        least = preset.least_slot_mm
        for notch in _sharper(view.survey.slot_places, preset.tip_deg):
            off, closed = partial(snip, view, notch, least, "slot"), partial(fuse, view, notch, least)
            found.append(
                Remedy("narrow-slot", notch.middle, (partial(round_notch, view, notch, least / 2), off, closed))
            )
    return found


def _sharper(places: Iterable[ThinPlace], limit_deg: float) -> list[ThinPlace]:
    """Return the tips that are sharper than a limit."""
    return [p for p in places if p.kind == "tip" and p.angle_deg is not None and p.angle_deg < limit_deg]


def _thin(view: View, codes: Collection[str], joins_parts: bool) -> list[Remedy]:
    """Thin card is thickened: inwards where the other side is the outside edge, else alike to both sides."""
    preset, found = view.preset, []
    limits = {"web": preset.least_web_mm, "neck": preset.least_neck_mm, "finger": preset.least_finger_mm}
    for kind, limit in limits.items():
        if f"thin-{kind}" not in codes:
            continue
        for place in _narrower(view.survey.card_places, limit):
            if card_kind(place) == kind:
                alike = partial(thicken, view, place, limit)
                other = (
                    partial(thicken_inwards, view, place, limit)
                    if kind == "web"
                    else partial(snip, view, place, limit, "card")
                )
                found.append(Remedy(f"thin-{kind}", place.middle, (alike,) if kind == "neck" else (other, alike)))
    return found


def _holes(view: View, codes: Collection[str], joins_parts: bool) -> list[Remedy]:
    """Small holes are made larger, or filled where that changes less."""
    if "small-hole" not in codes:
        return []
    limit, found = view.preset.least_hole_mm, []
    for hole in view.survey.holes:
        if hole.is_slit or hole.disc is None or hole.disc.diameter_mm >= limit - WIDTH_MM:
            continue
        larger: tuple[Way, ...] = (partial(enlarge, hole, limit), partial(enlarge_away, view, hole, limit))
        filled = partial(fill, hole.outline)
        # Areas grow with the square of the scale: (limit / across)^2 - 1 holes are added, or 1 taken.
        is_less = limit * limit < 2 * hole.disc.diameter_mm**2
        found.append(Remedy("small-hole", hole.disc.centre, (*larger, filled) if is_less else (filled, *larger)))
    return found


def _slots(view: View, codes: Collection[str], joins_parts: bool) -> list[Remedy]:
    """Narrow slots are widened or closed, whichever changes less; two parts are not joined by that."""
    if "narrow-slot" not in codes:
        return []
    limit, found = view.preset.least_slot_mm, []
    for place in _narrower(view.survey.slot_places, limit):
        if place.width_mm < view.preset.near_miss_mm or view.survey.is_hole(place):
            continue
        wider, closed = partial(widen, view, place, limit), partial(fuse, view, place, limit)
        ways: tuple[Way, ...] = (closed, wider) if place.width_mm < limit / 2 else (wider, closed)
        if place.kind == "finger":
            ways = partial(snip, view, place, limit, "slot"), *ways
        found.append(Remedy("narrow-slot", place.middle, (wider,) if len(view.parts_of(place)) > 1 else ways))
    return found


def _narrower(places: Iterable[ThinPlace], limit_mm: float) -> list[ThinPlace]:
    """Return the places that are no tips and narrower than a limit."""
    return [place for place in places if place.kind != "tip" and place.width_mm < limit_mm - WIDTH_MM]


STEPS: tuple[Step, ...] = (_crumbs, _touches, _near_misses, _ties, _tips, _thin, _holes, _slots, _thin)
"""One round: what falls off or falls apart, tips, thin card, holes and slots, and thin card that these left."""
