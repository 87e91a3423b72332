"""near-miss: two edges that all but touch; either they were meant to join, or the cut between them tears."""

from __future__ import annotations

from frameforge.check.measured import below
from frameforge.check.survey import Survey
from frameforge.finding import Finding

__all__ = ["find_near_misses"]

REMEDY = "Mend it (joined), or move the edges apart."


def find_near_misses(survey: Survey) -> tuple[Finding, ...]:
    """Return a warning for each pair of edges with waste between them that come nearer than ``near_miss_mm``."""
    limit = survey.preset.near_miss_mm
    places = (p for p in survey.slot_places if p.kind != "tip" and not survey.is_hole(p))
    return below("near-miss", places, limit, "between two edges that all but touch", REMEDY)
