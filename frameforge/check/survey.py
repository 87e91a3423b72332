"""What all findings of one piece share: its regions, the limits, the places measured once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from frameforge.card.preset import Preset
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
    any width are touches and stand only there.
    """

    regions: tuple[Region, ...]
    preset: Preset
    card_places: tuple[ThinPlace, ...]
    slot_places: tuple[ThinPlace, ...]
    touches: tuple[Touch, ...]
    holes: tuple[Hole, ...]

    def is_hole(self, place: ThinPlace) -> bool:
        """Return whether a narrow place is the whole of a round hole, and not a slit."""
        return place.kind == "all" and any(hole.loop in place.loops and not hole.is_slit for hole in self.holes)


def to_survey(regions: Sequence[Region], preset: Preset) -> Survey:
    """Return the regions measured against the preset. No region gives an empty survey."""
    card = max(preset.least_web_mm, preset.least_neck_mm, preset.least_finger_mm)
    return Survey(
        regions=tuple(regions),
        preset=preset,
        card_places=_with_width(thin_places(regions, card, "card")),
        slot_places=_with_width(thin_places(regions, max(preset.least_slot_mm, preset.near_miss_mm), "slot")),
        touches=find_touches(regions),
        holes=find_holes(regions, preset.least_hole_mm, preset.crumb_mm2),
    )


def card_kind(place: ThinPlace) -> CardKind:
    """Return the kind of a thin place of card: a part thin all over is a web between two loops, else a finger."""
    if place.kind == "all":
        return "web" if len(place.loops) > 1 else "finger"
    return place.kind


def _with_width(places: tuple[ThinPlace, ...]) -> tuple[ThinPlace, ...]:
    return tuple(place for place in places if place.kind == "tip" or place.width_mm > TOUCH_MM)
