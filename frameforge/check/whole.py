"""All findings of one piece, in a fixed order."""

from __future__ import annotations

from collections.abc import Sequence

from frameforge.card.preset import Preset
from frameforge.check.card_crumb import find_card_crumbs
from frameforge.check.hard_to_hold import find_hard_to_hold
from frameforge.check.loose import find_loose
from frameforge.check.narrow_slot import find_narrow_slots
from frameforge.check.near_miss import find_near_misses
from frameforge.check.point_touch import find_point_touches
from frameforge.check.small_hole import find_small_holes
from frameforge.check.spike import find_spikes
from frameforge.check.survey import Survey, to_survey
from frameforge.check.thin_finger import find_thin_fingers
from frameforge.check.thin_neck import find_thin_necks
from frameforge.check.thin_web import find_thin_webs
from frameforge.check.too_big import Allowed, find_too_big
from frameforge.check.waste_crumb import find_waste_crumbs
from frameforge.finding import SEVERITIES, Finding, Severity
from frameforge.geometry.region import Region

__all__ = ["check_piece", "findings_of"]


def check_piece(
    regions: Sequence[Region],
    preset: Preset,
    *,
    falls_apart: Severity = "refused",
    allowed: Sequence[Allowed] = (),
) -> tuple[Finding, ...]:
    """Return what is found in a piece (mm, y up) under the limits of ``preset``, worst first.

    ``falls_apart`` is the severity of loose parts, of point touches and of what is too big: "refused" for our own
    pieces, "warning" for a file made elsewhere, where several pieces may lie side by side. ``allowed`` are the rooms
    that the whole must go into.
    """
    return findings_of(to_survey(regions, preset), falls_apart=falls_apart, allowed=allowed)


def findings_of(
    survey: Survey, *, falls_apart: Severity = "refused", allowed: Sequence[Allowed] = ()
) -> tuple[Finding, ...]:
    """Return the same of a piece that was measured before."""
    found = (
        *find_loose(survey, falls_apart),
        *find_point_touches(survey, falls_apart),
        *find_too_big(survey, allowed, falls_apart),
        *find_thin_webs(survey),
        *find_thin_necks(survey),
        *find_thin_fingers(survey),
        *find_spikes(survey),
        *find_near_misses(survey),
        *find_narrow_slots(survey),
        *find_small_holes(survey),
        *find_card_crumbs(survey),
        *find_hard_to_hold(survey),
        *find_waste_crumbs(survey),
    )
    return tuple(sorted(found, key=lambda finding: SEVERITIES.index(finding.severity)))
