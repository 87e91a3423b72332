"""spike: a tip of card so sharp that it curls, chars or tears off."""

from __future__ import annotations

from frameforge.check.measured import sharper
from frameforge.check.survey import Survey
from frameforge.finding import Finding

__all__ = ["find_spikes"]


def find_spikes(survey: Survey) -> tuple[Finding, ...]:
    """Return a warning for each tip of card sharper than ``tip_deg``, with its angle in degrees."""
    return sharper("spike", survey.card_places, survey.preset.tip_deg, "A tip", "Mend it: the tip is blunted.")
