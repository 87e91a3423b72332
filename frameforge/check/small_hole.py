"""small-hole: a hole too small for the blade to turn in."""

from __future__ import annotations

from frameforge.check.holes import Disc
from frameforge.check.survey import Survey
from frameforge.finding import Finding
from frameforge.tolerances import WIDTH_MM
from frameforge.units import format_floor

__all__ = ["find_small_holes"]


def find_small_holes(survey: Survey) -> tuple[Finding, ...]:
    """Return a warning for each hole whose largest disc is under ``least_hole_mm`` (a diameter); slits are slots."""
    limit = survey.preset.least_hole_mm
    return tuple(
        _finding(hole.disc, limit)
        for hole in survey.holes
        if hole.disc and not hole.is_slit and hole.disc.diameter_mm < limit - WIDTH_MM
    )


def _finding(disc: Disc, limit: float) -> Finding:
    across, least = format_floor(disc.diameter_mm), format_floor(limit)
    return Finding(
        code="small-hole",
        severity="warning",
        say=f"A hole of {across}, this card needs {least}. Make it larger, punch it by hand, or leave it out.",
        x_mm=disc.centre.real,
        y_mm=disc.centre.imag,
        measured=disc.diameter_mm,
        limit=limit,
    )
