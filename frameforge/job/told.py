"""What is only told, apart from what was found: choices made for the maker, and what a drawing was taken for."""

from __future__ import annotations

from collections.abc import Iterable

from frameforge.finding import CODES, Finding

__all__ = ["told_apart"]


def told_apart(findings: Iterable[Finding]) -> tuple[tuple[Finding, ...], tuple[str, ...]]:
    """Return the findings proper, in their order, and the sentences that are only told, each once."""
    every = tuple(findings)
    proper = tuple(finding for finding in every if finding.code in CODES)
    told = dict.fromkeys(f"{f.where}: {f.say}" if f.where else f.say for f in every if f.code not in CODES)
    return proper, tuple(told)
