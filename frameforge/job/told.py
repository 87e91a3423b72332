"""What is only told, apart from what was found: choices made for the maker, and what a drawing was taken for."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from frameforge.finding import Finding

__all__ = ["CODES", "told_apart"]

CODES: Final = (
    "thin-web", "thin-neck", "thin-finger", "spike", "narrow-slot", "small-hole", "card-crumb", "waste-crumb", "loose",
    "point-touch", "near-miss", "chopped", "double-line", "open-line", "crossing", "hard-to-hold", "too-big-for-sheet",
    "too-big-for-envelope", "many-points", "white-box", "rough-outline", "steep-seat", "squeezed", "uneven-spokes",
)  # fmt: skip
"""All that can be found, by the words in which it is told and mended. A note under another word is only told."""


def told_apart(findings: Iterable[Finding]) -> tuple[tuple[Finding, ...], tuple[str, ...]]:
    """Return the findings proper, in their order, and the sentences that are only told, each once."""
    every = tuple(findings)
    proper = tuple(finding for finding in every if finding.code in CODES)
    told = dict.fromkeys(f"{f.where}: {f.say}" if f.where else f.say for f in every if f.code not in CODES)
    return proper, tuple(told)
