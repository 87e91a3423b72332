"""What all findings of one piece share: its regions, the limits, the places measured once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from frameforge.card.preset import Preset
from frameforge.check.chords import to_chords
from frameforge.check.holes import Hole, find_holes
from frameforge.check.thickness import ThinPlace, thin_places
from frameforge.check.touches import Touch, find_touches
from frameforge.geometry.region import Region
from frameforge.tolerances import TOUCH_MM

__all__ = ["CardKind", "Survey", "card_kind", "to_survey"]

CardKind = Literal["web", "neck", "finger", "tip"]


@dataclass(frozen=True, slots=True)
class Survey:
    """Regions (mm, y up), the preset's limits, places of thin card, places of narrow space, and touches.

    ``card_places`` reach up to the largest of the limits for card, ``slot_places`` up to the slot limit; places without
    any width are touches and stand only there. ``round_loops`` are the loops of holes that are no slits.
    """

    regions: tuple[Region, ...]
    preset: Preset
    card_places: tuple[ThinPlace, ...]
    slot_places: tuple[ThinPlace, ...]
    touches: tuple[Touch, ...]
    holes: tuple[Hole, ...]
    round_loops: frozenset[int]

    def is_hole(self, place: ThinPlace) -> bool:
        """Return whether a narrow place is the whole of a round hole, and not a slit."""
        return place.kind == "all" and not self.round_loops.isdisjoint(place.loops)


def to_survey(regions: Sequence[Region], preset: Preset) -> Survey:
    """Return the regions measured against the preset. No region gives an empty survey."""
    card = max(preset.least_web_mm, preset.least_neck_mm, preset.least_finger_mm)
    slot = max(preset.least_slot_mm, preset.near_miss_mm)
    chords = to_chords(regions) if regions else None
    holes = find_holes(regions, preset.least_hole_mm, preset.crumb_mm2)
    return Survey(
        regions=tuple(regions),
        preset=preset,
        card_places=_with_width(thin_places(regions, card, "card", chords=chords, tip_deg=preset.tip_deg)),
        slot_places=_with_width(thin_places(regions, slot, "slot", chords=chords, tip_deg=preset.tip_deg)),
        touches=find_touches(regions, chords=chords),
        holes=holes,
        round_loops=frozenset(hole.loop for hole in holes if not hole.is_slit),
    )


def card_kind(place: ThinPlace) -> CardKind:
    """Return the kind of a thin place of card: a part thin all over is a web between two loops, else a finger."""
    if place.kind == "all":
        return "web" if len(place.loops) > 1 else "finger"
    return place.kind


def _with_width(places: tuple[ThinPlace, ...]) -> tuple[ThinPlace, ...]:
    return tuple(place for place in places if place.kind == "tip" or place.width_mm > TOUCH_MM)
