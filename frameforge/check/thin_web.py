"""thin-web: a strip of card between two cuts that is narrower than the card can bear."""

from __future__ import annotations

from frameforge.check.measured import below
from frameforge.check.survey import Survey, card_kind
from frameforge.finding import Finding

__all__ = ["find_thin_webs"]

REMEDY = "Mend it, make the motif larger, or use stiffer card."


def find_thin_webs(survey: Survey) -> tuple[Finding, ...]:
    """Return a warning for each strip between two loops narrower than ``least_web_mm``, with its true width."""
    limit = survey.preset.least_web_mm
    places = (place for place in survey.card_places if card_kind(place) == "web")
    return below("thin-web", places, limit, "of card between two cuts", REMEDY)
