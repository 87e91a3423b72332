"""thin-neck: a place where card that carries something grows narrow."""

from __future__ import annotations

from frameforge.check.measured import below
from frameforge.check.survey import Survey, card_kind
from frameforge.finding import Finding

__all__ = ["find_thin_necks"]

REMEDY = "Mend it, make the motif larger, or sink its root deeper."


def find_thin_necks(survey: Survey) -> tuple[Finding, ...]:
    """Return a warning for each neck within one loop narrower than ``least_neck_mm``, with its true width."""
    limit = survey.preset.least_neck_mm
    places = (place for place in survey.card_places if card_kind(place) == "neck")
    return below("thin-neck", places, limit, "of card holds what is beyond", REMEDY)
