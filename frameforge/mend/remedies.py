"""What can be done about each finding: for every place the ways to mend it, the one that changes least first."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass
from functools import partial

from frameforge.check.survey import card_kind
from frameforge.check.thickness import ThinPlace
from frameforge.geometry.measure import area_mm2, centroid
from frameforge.geometry.region import Region
from frameforge.mend.fuse import fuse
from frameforge.mend.grow import grow, is_less_than_filling, slit_of
from frameforge.mend.inner_side import thicken_inwards
from frameforge.mend.patch import Patch
from frameforge.mend.round_tip import blunt, round_notch
from frameforge.mend.small_hole import enlarged, fill
from frameforge.mend.snip import snip
from frameforge.mend.thicken import thicken
from frameforge.mend.tie import is_joined_round, join_at, part_at, strip, tie
from frameforge.mend.view import View
from frameforge.mend.widen import widen
from frameforge.tolerances import WIDTH_MM

__all__ = ["STEPS", "Remedy", "Step"]

JOINT_WIDTHS = (1.0, 1.5, 2.2, 3.3, 5.0)
"""What touches in a point is joined as wide as so many least necks: beside a narrow joint of wide curves the space
between them may be too narrow to be cut."""

Way = Callable[[], Patch | None]
"""Works out a patch; None where this way does not go."""


@dataclass(frozen=True, slots=True)
class Remedy:
    """The finding at a place (mm, y up), its measure, and the ways to mend it, to be tried in their order.

    Findings of one code and one measure are alike: they are all mended in the same way, as a pattern wants it.
    """

    code: str
    at: complex
    measured: float
    ways: tuple[Way, ...]


Step = Callable[[View, Collection[str], bool], list[Remedy]]
"""Gives the remedies for what a view holds of some codes; the last tells whether parts may be joined."""


def _crumbs(view: View, codes: Collection[str], joins_parts: bool) -> list[Remedy]:
    """Crumbs of card are left out, but for the largest part; crumbs of waste are filled."""
    limit, found = view.preset.crumb_mm2, []
    if "card-crumb" in codes:
        areas = sorted(((area_mm2(region), region) for region in view.regions), key=lambda pair: pair[0])
        found += [Remedy("card-crumb", centroid(r), mm2, (partial(_drop, r),)) for mm2, r in areas[:-1] if mm2 < limit]
    if "waste-crumb" in codes:
        small = [hole for hole in view.survey.holes if hole.area_mm2 < limit]
        found += [Remedy("waste-crumb", centroid(h.outline), h.area_mm2, (partial(fill, h.outline),)) for h in small]
    return found


def _drop(region: Region) -> Patch:
    return Patch(drops=(region,))


def _touches(view: View, codes: Collection[str], joins_parts: bool) -> list[Remedy]:
    """Edges that touch in a point are joined, or parted where they belong to two parts that shall stay two."""
    if "point-touch" not in codes:
        return []
    neck, slot, found = view.preset.least_neck_mm, view.preset.least_slot_mm, []
    for touch in view.survey.touches:
        joins = tuple(partial(join_at, view, touch, neck * wide) for wide in JOINT_WIDTHS)
        part = partial(part_at, view, touch, slot)
        is_two = view.chords.part[touch.loops[0]] != view.chords.part[touch.loops[1]]
        found.append(Remedy("point-touch", touch.at, 0.0, (part,) if is_two and not joins_parts else (*joins, part)))
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
        found.append(Remedy("near-miss", place.middle, place.width_mm, (apart,) if keeps_two else ways))
    return found


def _joined(view: View, place: ThinPlace) -> Patch | None:
    """Return a narrow space closed, and a strip across it as wide as the least neck."""
    closed = fuse(view, place, view.preset.least_slot_mm)
    if closed is None or closed.fills:
        return closed
    return Patch(adds=(*closed.adds, *strip(view, place.a, place.b, view.preset.least_neck_mm)))


def _ties(view: View, codes: Collection[str], joins_parts: bool) -> list[Remedy]:
    """Loose parts are tied, each to the nearest of the larger ones; of parts that shall stay apart, islands only."""
    if "loose" not in codes or len(view.regions) < 2:
        return []
    parts = sorted(view.regions, key=area_mm2, reverse=True)
    least, found = view.preset.least_neck_mm, []
    for k, part in enumerate(parts):
        to = tuple(parts[:k]) if joins_parts else tuple(other for other in parts[:k] if is_joined_round(part, other))
        if to:
            found.append(Remedy("loose", centroid(part), area_mm2(part), (partial(tie, view, part, to, least),)))
    return found


def _tips(view: View, codes: Collection[str], joins_parts: bool) -> list[Remedy]:
    """Spikes are blunted, sharp notches rounded; slivers cut off, others thickened, or closed."""
    preset, found = view.preset, []
    if "spike" in codes:
        least = preset.least_finger_mm
        for tip in _sharper(view.survey.card_places, preset.tip_deg):
            off, thick = partial(snip, view, tip, least, "card"), partial(thicken, view, tip, least)
            found.append(
                Remedy("spike", tip.middle, tip.angle_deg or 0.0, (partial(blunt, view, tip, least / 2), off, thick))
            )
    if "narrow-slot" in codes:
        least = preset.least_slot_mm
        for notch in _sharper(view.survey.slot_places, preset.tip_deg):
            off, closed = partial(snip, view, notch, least, "slot"), partial(fuse, view, notch, least)
            found.append(
                Remedy(
                    "narrow-slot",
                    notch.middle,
                    notch.angle_deg or 0.0,
                    (partial(round_notch, view, notch, least / 2), off, closed),
                )
            )
    return found


def _sharper(places: Iterable[ThinPlace], limit_deg: float) -> list[ThinPlace]:
    """Return the tips that are sharper than a limit."""
    return [p for p in places if p.kind == "tip" and p.angle_deg is not None and p.angle_deg < limit_deg]


def _thin(view: View, codes: Collection[str], joins_parts: bool) -> list[Remedy]:
    """Thin card is thickened: inwards where the other side is the outside edge, else alike to both sides."""
    preset, found = view.preset, []
    limits = {"web": preset.least_web_mm, "neck": preset.least_neck_mm, "finger": preset.least_finger_mm}
    for place in view.survey.card_places:
        kind = card_kind(place)
        if kind == "tip" or f"thin-{kind}" not in codes or not _narrower([place], limits[kind]):
            continue
        least = limits[kind]
        ways: tuple[Way, ...] = (
            partial(thicken, view, place, least),
            partial(thicken, view, place, least, has_bits=True),
        )
        if kind == "web":
            ways = partial(thicken_inwards, view, place, least), *ways
        elif kind == "finger":
            ways = partial(snip, view, place, least, "card"), *ways
        found.append(Remedy(f"thin-{kind}", place.middle, place.width_mm, ways))
    return found


def _holes(view: View, codes: Collection[str], joins_parts: bool) -> list[Remedy]:
    """Small holes are made larger, or filled where that changes less."""
    if "small-hole" not in codes:
        return []
    limit = view.preset.least_hole_mm
    small = [
        (hole, hole.disc)
        for hole in view.survey.holes
        if not hole.is_slit and hole.disc is not None and hole.disc.diameter_mm < limit - WIDTH_MM
    ]
    # Areas grow with the square of the scale: (limit / across)^2 - 1 holes are added, or 1 taken.
    grown = [hole for hole, disc in small if limit * limit < 2 * disc.diameter_mm**2]
    larger = enlarged(view, grown, limit, view.preset.least_web_mm)
    return [
        Remedy(
            "small-hole", disc.centre, disc.diameter_mm, (partial(larger.get, hole.loop), partial(fill, hole.outline))
        )
        for hole, disc in small
    ]


def _slots(view: View, codes: Collection[str], joins_parts: bool) -> list[Remedy]:
    """Narrow slots are widened or closed, whichever changes less; two parts are not joined by that."""
    if "narrow-slot" not in codes:
        return []
    limit = view.preset.least_slot_mm
    return [
        Remedy("narrow-slot", place.middle, place.width_mm, _slot_ways(view, place, limit))
        for place in _narrower(view.survey.slot_places, limit)
        if place.width_mm >= view.preset.near_miss_mm and not view.survey.is_hole(place)
    ]


def _slot_ways(view: View, place: ThinPlace, limit: float) -> tuple[Way, ...]:
    """Return the ways to mend one slot."""
    wider, closed = partial(widen, view, place, limit), partial(fuse, view, place, limit)
    if len(view.parts_of(place)) > 1:
        return (wider,)
    slit = slit_of(view, place)
    if slit is not None:
        larger = partial(grow, view, place, limit)
        return (larger, wider, closed) if is_less_than_filling(slit, place, limit) else (closed, larger, wider)
    ways = (closed, wider) if place.width_mm < limit / 2 else (wider, closed)
    return (partial(snip, view, place, limit, "slot"), *ways) if place.kind == "finger" else ways


def _narrower(places: Iterable[ThinPlace], limit_mm: float) -> list[ThinPlace]:
    """Return the places that are no tips and narrower than a limit."""
    return [place for place in places if place.kind != "tip" and place.width_mm < limit_mm - WIDTH_MM]


STEPS: tuple[Step, ...] = (_crumbs, _touches, _near_misses, _ties, _tips, _holes, _thin, _slots, _thin)
"""One round: what falls off or falls apart, tips, holes, thin card, slots, and thin card that these left."""
