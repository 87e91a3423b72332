"""card-crumb: a part of card too small to handle."""

from __future__ import annotations

from frameforge.check.survey import Survey
from frameforge.finding import Finding
from frameforge.geometry.measure import area_mm2, centroid
from frameforge.units import format_floor_mm2

__all__ = ["find_card_crumbs"]


def find_card_crumbs(survey: Survey) -> tuple[Finding, ...]:
    """Return a warning for each separate part whose card is under ``crumb_mm2``."""
    limit = survey.preset.crumb_mm2
    sizes = [(region, area_mm2(region)) for region in survey.regions]
    return tuple(
        Finding(
            code="card-crumb",
            severity="warning",
            say=f"A loose crumb of {format_floor_mm2(area)} of card, smaller than {limit:g} mm2. "
            "Mend it: it is left out.",
            x_mm=centroid(region).real,
            y_mm=centroid(region).imag,
            measured=area,
            limit=limit,
            unit="mm2",
        )
        for region, area in sizes
        if area < limit and len(sizes) > 1
    )
