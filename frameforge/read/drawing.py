"""What a drawing file holds for frameforge: parts as regions, foot, axis, and what was noticed on the way."""

from __future__ import annotations

from dataclasses import dataclass

from frameforge.finding import Finding
from frameforge.geometry.region import Region

__all__ = ["Drawing"]


@dataclass(frozen=True, slots=True)
class Drawing:
    """One drawing in millimetres, y up, with true curves.

    ``width_mm`` and ``height_mm`` are the page as stated in the file, None where it states no size (a user unit then
    counts as a pixel, 96 an inch). ``join`` is the union of all that is painted and has no other part; ``cut_away``
    and ``window`` are the parts so labelled. ``foot`` runs from the left to the right foot end, ``axis`` from the
    foot outward, as drawn; None where the file does not state them. ``notes`` are whole sentences for the maker.
    """

    width_mm: float | None
    height_mm: float | None
    join: tuple[Region, ...]
    cut_away: tuple[Region, ...] = ()
    window: tuple[Region, ...] = ()
    foot: tuple[complex, complex] | None = None
    axis: tuple[complex, complex] | None = None
    notes: tuple[str, ...] = ()
    findings: tuple[Finding, ...] = ()
