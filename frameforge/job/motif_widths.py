"""How thin a motif is: its narrowest card as it stands on an edge, and its narrowest slit."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from frameforge.motif.motif import Motif

__all__ = ["WIDEST_SLIT_MM", "MotifWidths", "widths_of"]

WIDEST_SLIT_MM: Final = 3.0
"""Spaces this wide and wider come out of any card easily and are not looked for; three times the usual slot limit."""


@dataclass(frozen=True, slots=True)
class MotifWidths:
    """Widths in mm; ``thinnest_mm`` is None for a motif without card, ``slit_mm`` for one without a slit."""

    thinnest_mm: float | None
    slit_mm: float | None


@lru_cache(maxsize=64)
def widths_of(motif: Motif) -> MotifWidths:
    """Return the widths of a motif that stands on a straight edge; it is nowhere held by more than its foot."""
    # Here, since the measuring loads more than a run needs that only reads names.
    from frameforge.check.thinnest import narrowest_slit_mm, thinnest_mm
    from frameforge.motif.standing import standing_card

    card = standing_card(motif)
    slit = narrowest_slit_mm(card, WIDEST_SLIT_MM)
    if not motif.join:
        return MotifWidths(None, slit)
    found = thinnest_mm(card, motif.foot_mm) if motif.foot_mm else None
    return MotifWidths(motif.foot_mm if found is None else found, slit)
