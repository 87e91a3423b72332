"""loose: card that nothing holds; the piece falls apart when it is lifted."""

from __future__ import annotations

from frameforge.check.survey import Survey
from frameforge.finding import Finding, Severity
from frameforge.geometry.measure import area_mm2, centroid

__all__ = ["find_loose"]


def find_loose(survey: Survey, severity: Severity = "refused") -> tuple[Finding, ...]:
    """Return a finding for each part but the largest: a piece is one part. In a file made elsewhere it is a warning."""
    parts = sorted(survey.regions, key=area_mm2, reverse=True)
    return tuple(
        Finding(
            code="loose",
            severity=severity,
            say="This part is held by nothing and falls off. Sink it deeper, tie it, or leave it out.",
            x_mm=centroid(part).real,
            y_mm=centroid(part).imag,
            measured=float(len(parts)),
            limit=1.0,
            unit="count",
        )
        for part in parts[1:]
    )
