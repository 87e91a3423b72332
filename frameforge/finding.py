"""What a check found: plain data, never an error and never an edit; and equal findings told as one."""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final, Literal

from frameforge.units import to_clock_deg

__all__ = ["CODES", "SEVERITIES", "Finding", "FindingGroup", "Severity", "Unit", "grouped", "more_kinds"]

Severity = Literal["note", "warning", "refused"]
Unit = Literal["mm", "mm2", "deg", "count"]

SEVERITIES: Final[tuple[Severity, ...]] = ("refused", "warning", "note")
"""Worst first."""

CODES: Final = (
    "thin-web", "thin-neck", "thin-finger", "spike", "narrow-slot", "small-hole", "card-crumb", "waste-crumb", "loose",
    "point-touch", "near-miss", "chopped", "double-line", "open-line", "crossing", "hard-to-hold", "too-big-for-sheet",
    "too-big-for-envelope", "many-points", "white-box", "rough-outline", "steep-seat", "squeezed", "uneven-spokes",
)  # fmt: skip
"""All that can be found, by the words in which it is told and mended. A note under another word is only told."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One finding: a code of the word list, where it is, and what was measured against which limit.

    ``where`` is the place in the maker's words ("leaf 4, at 2 o'clock"); ``x_mm`` and ``y_mm`` are the same place
    in the piece's own millimetres, y up, or None where a place makes no sense. ``measured`` and ``limit`` carry
    ``unit`` and may both be None for a plain note. ``say`` is the whole sentence for the maker.
    """

    code: str
    severity: Severity
    say: str
    where: str = ""
    piece: str = ""
    x_mm: float | None = None
    y_mm: float | None = None
    measured: float | None = None
    limit: float | None = None
    unit: Unit = "mm"

    def __post_init__(self) -> None:
        """Refuse values that are not finite: they would end up in JSON and pictures."""
        for value in (self.x_mm, self.y_mm, self.measured, self.limit):
            if value is not None and not math.isfinite(value):
                raise ValueError(f"finding {self.code}: {value} is not finite")

    @property
    def place(self) -> complex | None:
        """The place as a point in mm, y up; None where a place makes no sense."""
        return None if self.x_mm is None or self.y_mm is None else complex(self.x_mm, self.y_mm)


@dataclass(frozen=True, slots=True)
class FindingGroup:
    """Findings that say the same, at least one, clockwise from the top.

    ``number`` is what they carry in tables and on pictures, from 1; None where there is no place to point at.
    """

    number: int | None
    findings: tuple[Finding, ...]

    @property
    def first(self) -> Finding:
        """The one that speaks for all."""
        return self.findings[0]

    @property
    def label(self) -> str:
        """The number with how many there are, as on the picture: "3" or "3 x8"; empty without a number."""
        if self.number is None:
            return ""
        return f"{self.number} x{len(self.findings)}" if len(self.findings) > 1 else f"{self.number}"

    @property
    def where(self) -> str:
        """The place of the first one and how many more there are: "leaf 4, at 2 o'clock, and 7 more"."""
        more = len(self.findings) - 1
        return f"{self.first.where}, and {more} more" if more and self.first.where else self.first.where

    @property
    def sentence(self) -> str:
        """Where and what: "leaf 4, at 2 o'clock, and 7 more: a hole of 1.5 mm, ..."."""
        say = self.first.say
        return f"{self.where}: {say[0].lower()}{say[1:]}" if self.where else say


def grouped(findings: Iterable[Finding]) -> tuple[FindingGroup, ...]:
    """Return the findings, equal ones together, worst first, then code by code, the least measure first.

    Equal are those of one code and severity whose sentences agree: widths are cut to .01 mm in them. The order of the
    codes is that of their first finding.
    """
    together: dict[tuple[str, str, str], list[Finding]] = {}
    codes: dict[str, int] = {}
    for finding in findings:
        codes.setdefault(finding.code, len(codes))
        together.setdefault((finding.severity, finding.code, finding.say), []).append(finding)
    ordered = sorted(
        together.values(), key=lambda same: (SEVERITIES.index(same[0].severity), codes[same[0].code], _least(same))
    )
    groups, number = [], 0
    for same in ordered:
        has_place = any(finding.place is not None for finding in same)
        number += has_place
        groups.append(FindingGroup(number if has_place else None, tuple(sorted(same, key=_clock_deg))))
    return tuple(groups)


def _least(same: list[Finding]) -> tuple[str, float]:
    """Return what kinds of findings of one code are ordered by."""
    return same[0].unit, min(finding.measured or 0.0 for finding in same)


def _clock_deg(finding: Finding) -> float:
    """Return the direction of a finding; those without a place come first."""
    if finding.place is None:
        return -1.0
    return round(to_clock_deg(cmath.phase(finding.place)), 6) % 360.0


def more_kinds(count: int) -> str:
    """Return how many kinds of place are left over: "1 more kind of place"."""
    return f"{count} more kind{'s' if count > 1 else ''} of place"
