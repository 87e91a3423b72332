"""narrow-slot: waste between two edges that is too narrow to come out, notches and slits included."""

from __future__ import annotations

from frameforge.check.measured import below, sharper
from frameforge.check.survey import Survey
from frameforge.finding import Finding

__all__ = ["find_narrow_slots"]

REMEDY = "Mend it (widened or joined), or leave a larger gap."


def find_narrow_slots(survey: Survey) -> tuple[Finding, ...]:
    """Return a warning for each space narrower than ``least_slot_mm`` that is neither a hole nor a near miss.

    A sharp notch counts when its angle is under ``tip_deg``: it starts a tear.
    """
    preset = survey.preset
    wide = (p for p in survey.slot_places if p.kind != "tip" and p.width_mm >= preset.near_miss_mm)
    slots = (place for place in wide if not survey.is_hole(place))
    return (
        *below("narrow-slot", slots, preset.least_slot_mm, "of space between two edges", REMEDY),
        *sharper("narrow-slot", survey.slot_places, preset.tip_deg, "A notch", REMEDY),
    )
