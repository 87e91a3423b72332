"""One outline as the machine runs along it."""

from __future__ import annotations

from dataclasses import dataclass

from frameforge.geometry.along import Along
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.machine.lead_in import Waste, lengths_tried_mm

__all__ = ["CutLine", "Run", "bridged", "plain"]

Run = tuple[Segment, ...]
"""A line cut in one go; neighbours share their joint to the bit."""


@dataclass(frozen=True, slots=True)
class CutLine:
    """The runs that cut one outline, in their order; ``is_flimsy`` where the card beside it is thin.

    ``without_lead_in`` counts the runs for which the waste had no room for one, and ``short_mm`` are the lengths of
    lead-ins that it had no room for as they were asked.
    """

    runs: tuple[Run, ...]
    is_hole: bool
    is_flimsy: bool = False
    without_lead_in: int = 0
    short_mm: tuple[float, ...] = ()

    @property
    def start(self) -> complex:
        """Where the first run begins."""
        return self.runs[0][0].start

    @property
    def end(self) -> complex:
        """Where the last run ends."""
        return self.runs[-1][-1].end


def plain(along: Along, start_mm: float, overcut_mm: float, lead_in: Segment | None) -> Run:
    """Return the whole outline from its start, and on beyond it by the overcut; closed when there is neither."""
    run = along.part(start_mm, start_mm + along.length_mm + overcut_mm)
    return (lead_in.with_ends(lead_in.start, run[0].start), *run) if lead_in else run


def bridged(
    along: Along, places_mm: tuple[float, ...], width_mm: float, waste: Waste, lead_in_mm: float
) -> tuple[tuple[Run, ...], tuple[float, ...]]:
    """Return the runs between bridges, and how long the lead-in of each came to be, mm: 0 where there is no room."""
    runs, lengths = [], []
    following = (*places_mm[1:], places_mm[0] + along.length_mm)
    for place, after in zip(places_mm, following, strict=True):
        run = along.part(place + width_mm / 2, after - width_mm / 2)
        if lead_in_mm:
            direction = run[0].velocity(0.0)
            lead = _longest(waste, run[0].start, direction, lead_in_mm) if direction else None
            run = (lead, *run) if lead else run
            lengths.append(abs(lead.end - lead.start) if lead else 0.0)
        runs.append(run)
    return tuple(runs), tuple(lengths)


def _longest(waste: Waste, point: complex, direction: complex, lead_in_mm: float) -> Line | None:
    """Return the longest lead-in that the waste has room for."""
    tried = (waste.lead_in(point, direction / abs(direction), mm) for mm in lengths_tried_mm(lead_in_mm))
    return next((lead for lead in tried if lead), None)
