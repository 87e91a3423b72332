"""What is to be said of an answer of ``fit``: sizes hard to hold, steep seats, narrow slits, uneven spokes."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace

from frameforge.check.hard_to_hold import LEAST_HELD_MM
from frameforge.finding import Finding
from frameforge.frame.fit import Fit
from frameforge.frame.layout import Layout
from frameforge.frame.model import RowModel
from frameforge.frame.row_findings import row_findings
from frameforge.frame.spec import Size
from frameforge.frame.steep_seat import STEEP_DEG
from frameforge.job.fit_answer import Remark
from frameforge.job.fit_question import FitQuestion
from frameforge.job.uneven_spokes import uneven_spokes
from frameforge.tolerances import TOUCH_MM, WIDTH_MM
from frameforge.units import format_both, format_floor, to_clock_deg

__all__ = ["remarks_of"]

_SHORT = {"steep-seat": "steep seats", "squeezed": "squeezed"}


def remarks_of(
    question: FitQuestion, model: RowModel, fit: Fit, layout: Layout, gap_mm: float | None
) -> tuple[Remark, ...]:
    """Return what is to be said of a settled row; ``gap_mm`` is the least gap it is told with."""
    found = [_hard_to_hold(fit.size), *_seats(question, model, fit, layout), _narrow(model, gap_mm)]
    if not layout.track.edge.is_circle:
        found.append(uneven_spokes(layout))
    return tuple(remark for remark in found if remark)


def _hard_to_hold(size: Size) -> Remark | None:
    across = max(size.width_mm, size.height_mm)
    if across >= LEAST_HELD_MM - WIDTH_MM:
        return None
    say = f"{format_both(across)} is hard to hold; {format_both(LEAST_HELD_MM)} is handy."
    return Remark("hard-to-hold", "hard to hold", say)


def _seats(question: FitQuestion, model: RowModel, fit: Fit, layout: Layout) -> list[Remark]:
    """Return what the row finds wrong with its seats, each kind once; a bare foot has a slope and no height."""
    if question.is_bare:
        slope = math.degrees(max(seat.slope_rad for seat in layout.seats))
        say = f"the edge falls away by {slope:.0f} degrees at the foot ends. Take a narrower foot."
        return [Remark("steep-seat", _SHORT["steep-seat"], say)] if slope > STEEP_DEG else []
    # Gaps are told below in few words: here no slot is too narrow, so that no way out is looked for.
    easy = replace(model, preset=model.preset.with_values({"least_slot_mm": 0.0, "least_web_mm": 0.0}))
    positions = range(1, len(layout.seats) + 1)
    directions = [to_clock_deg(cmath.phase(seat.middle)) for seat in layout.seats]
    first: dict[str, Finding] = {}
    for finding in row_findings(easy, replace(fit, took=()), layout, positions, directions):
        if finding.severity == "warning":
            first.setdefault(finding.code, finding)
    return [Remark(code, _SHORT.get(code, code.replace("-", " ")), finding.say) for code, finding in first.items()]


def _narrow(model: RowModel, gap_mm: float | None) -> Remark | None:
    """Return the remark on gaps that the card cannot have: slits, or webs between windows."""
    is_window = model.row.place == "window"
    limit = model.preset.least_web_mm if is_window else model.preset.least_slot_mm
    if gap_mm is None or not TOUCH_MM < gap_mm < limit - TOUCH_MM:
        return None
    what, code = ("web", "thin-web") if is_window else ("slit", "narrow-slot")
    say = f"{what}s of {format_floor(gap_mm)}, this card needs {limit:.1f} mm."
    return Remark(code, "thin webs" if is_window else "narrow slits", say)
