"""open-line: a cut that does not come back to its start, so that nothing drops out."""

from __future__ import annotations

import math
from collections.abc import Sequence

from frameforge.check.cut_lines import Line
from frameforge.finding import Finding
from frameforge.units import format_floor

__all__ = ["find_open_lines"]


def find_open_lines(lines: Sequence[Line]) -> tuple[Finding, ...]:
    """Return a warning at the start of each open line, with how far its end is from the nearest other end (mm)."""
    opened = [(number, line) for number, line in enumerate(lines) if line[0].start != line[-1].end]
    ends = [(number, point) for number, line in opened for point in (line[0].start, line[-1].end)]
    found = []
    for number, line in opened:
        start, end = line[0].start, line[-1].end
        own, next_one = abs(end - start), min((abs(p - end) for other, p in ends if other != number), default=math.inf)
        gap = min(own, next_one)
        away = f"its ends are {format_floor(gap)} apart"
        if next_one < own:
            away = f"its end is {format_floor(gap)} from the next one"
        say = f"This line is open; {away}. Close it in your drawing program."
        found.append(
            Finding("open-line", "warning", say, x_mm=end.real, y_mm=end.imag, measured=gap, limit=0.0)
        )  # fmt: skip
    return tuple(found)
