"""point-touch: edges that meet in a single point; it holds nothing, or cuts a bridge through."""

from __future__ import annotations

from frameforge.check.survey import Survey
from frameforge.finding import Finding, Severity

__all__ = ["find_point_touches"]


def find_point_touches(survey: Survey, severity: Severity = "refused") -> tuple[Finding, ...]:
    """Return a finding for each touch in one point. In a file made elsewhere the ``severity`` is warning."""
    return tuple(
        Finding(
            code="point-touch",
            severity=severity,
            say="Edges touch here in one point, and a point holds nothing. Move them apart, or let them overlap.",
            x_mm=touch.at.real,
            y_mm=touch.at.imag,
            measured=0.0,
            limit=survey.preset.least_neck_mm,
        )
        for touch in survey.touches
    )
