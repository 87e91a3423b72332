"""hard-to-hold: a piece smaller than fingers like."""

from __future__ import annotations

from frameforge.check.survey import Survey
from frameforge.finding import Finding
from frameforge.geometry.measure import bounds
from frameforge.tolerances import WIDTH_MM
from frameforge.units import format_both

__all__ = ["LEAST_HELD_MM", "find_hard_to_hold"]

LEAST_HELD_MM = 57.15
"""2 1/4 inches (common practice, no source): below, a piece is hard to hold while it is picked out."""


def find_hard_to_hold(survey: Survey) -> tuple[Finding, ...]:
    """Return a warning when the whole piece is under 57.15 mm both ways, measured over its outline."""
    if not survey.regions:
        return ()
    box = bounds(survey.regions)
    across = max(box.width_mm, box.height_mm)
    if across >= LEAST_HELD_MM - WIDTH_MM:
        return ()
    return (
        Finding(
            code="hard-to-hold",
            severity="warning",
            say=f"{format_both(across)} is hard to hold, {format_both(LEAST_HELD_MM)} is handy. Lift it with care.",
            x_mm=box.center.real,
            y_mm=box.center.imag,
            measured=across,
            limit=LEAST_HELD_MM,
        ),
    )
