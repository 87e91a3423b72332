"""thin-finger: a narrow strip of card with a free end; it bends, drags and tears."""

from __future__ import annotations

from frameforge.check.measured import below
from frameforge.check.survey import Survey, card_kind
from frameforge.finding import Finding

__all__ = ["find_thin_fingers"]

REMEDY = "Mend it, or make the motif larger."


def find_thin_fingers(survey: Survey) -> tuple[Finding, ...]:
    """Return a warning for each dangling strip, or part thin all over, narrower than ``least_finger_mm``."""
    limit = survey.preset.least_finger_mm
    places = (place for place in survey.card_places if card_kind(place) == "finger")
    return below("thin-finger", places, limit, "of card sticks out here", REMEDY)
