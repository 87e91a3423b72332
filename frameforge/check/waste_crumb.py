"""waste-crumb: a bit to pick out that is so small that it is lost, or clogs the board."""

from __future__ import annotations

from frameforge.check.survey import Survey
from frameforge.finding import Finding
from frameforge.units import format_floor_mm2

__all__ = ["find_waste_crumbs"]


def find_waste_crumbs(survey: Survey) -> tuple[Finding, ...]:
    """Return a note for each hole whose waste is under ``crumb_mm2``."""
    limit = survey.preset.crumb_mm2
    return tuple(
        Finding(
            code="waste-crumb",
            severity="note",
            say=f"A bit of {format_floor_mm2(hole.area_mm2)} to pick out. "
            "Leave it on the sticky board, or use a needle.",
            x_mm=hole.disc.centre.real,
            y_mm=hole.disc.centre.imag,
            measured=hole.area_mm2,
            limit=limit,
            unit="mm2",
        )
        for hole in survey.holes
        if hole.disc and hole.area_mm2 < limit
    )
