"""many-points: a file with so many short bits that cutters stutter along them."""

from __future__ import annotations

from collections.abc import Sequence

from frameforge.check.cut_lines import Line
from frameforge.finding import Finding
from frameforge.geometry.measure import lengths_mm
from frameforge.units import format_floor

__all__ = ["find_many_points"]

MANY = 2000
"""So many lines and curves are more than a piece needs; a frame of 24 leaves has 300 (common practice, no source)."""
SHORT_MM = 0.4
"""Bits shorter than this on average are the points of a scan, not of a drawing (common practice, no source)."""
TINY_MM = 0.02
"""Bits shorter than this are nothing that a cutter can follow: its steps are as long (common practice, no source)."""

FEW = 9
"""As many of those do no harm: a cutter passes them over (common practice, no source)."""


def find_many_points(lines: Sequence[Line]) -> tuple[Finding, ...]:
    """Return a note for a file of very many short lines and curves, and one for bits too short to be followed."""
    lengths = lengths_mm([segment for line in lines for segment in line])
    found = []
    if len(lengths) > MANY and lengths.mean() < SHORT_MM:
        mean = format_floor(float(lengths.mean()))
        say = f"{len(lengths)} points, one every {mean}: cutters stutter along them. Simplify the outline."
        found.append(Finding("many-points", "note", say, measured=len(lengths), limit=MANY, unit="count"))
    tiny = int((lengths < TINY_MM).sum())
    if tiny > FEW:
        say = f"{tiny} bits of line are shorter than {format_floor(TINY_MM)}, too short to be followed. Simplify them."
        found.append(Finding("many-points", "note", say, measured=tiny, limit=FEW, unit="count"))
    return tuple(found)
