"""From a region to the lines that a machine runs along, with everything that was allowed for it."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

from frameforge.card.preset import Preset
from frameforge.geometry.measure import bounds, centroid
from frameforge.geometry.region import Region
from frameforge.machine.allowances import Allowances
from frameforge.machine.bridge_places import bridge_places_mm
from frameforge.machine.cut_line import CutLine, Run, bridged, plain
from frameforge.machine.kerf import with_kerf
from frameforge.machine.lead_in import Waste
from frameforge.machine.order import ordered
from frameforge.machine.start import starts_mm
from frameforge.machine.steady import SteadyLine, steady_lines

__all__ = ["Plan", "bridged_line", "line_notes", "plain_line", "planned"]

MOST_TRIED = 60
"""Where the best of so many places have no room for a lead-in, the waste is too narrow for one."""


@dataclass(frozen=True, slots=True)
class Plan:
    """The region after kerf, its lines in cutting order, and what could not be done as asked (a sentence each)."""

    region: Region
    lines: tuple[CutLine, ...]
    notes: tuple[str, ...] = ()

    @property
    def runs(self) -> tuple[Run, ...]:
        """Every line cut in one go, in cutting order: as many as the machine lifts."""
        return tuple(run for line in self.lines for run in line.runs)


def planned(region: Region, allowances: Allowances, preset: Preset, *, where: str = "") -> Plan:
    """Return how a piece is cut: kerf first, then starts, lead-ins, overcuts or bridges, then the order.

    An overcut closes the cut where the line began; between bridges nothing is to be closed, so bridged lines have
    none. Bridges stand in the outside line only. Raises GeometryError where kerf or bridges leave no line.
    """
    grown = with_kerf(region, allowances.kerf_mm, where=where)
    waste, middle = Waste.around(grown), centroid(grown.outer)
    lines = []
    for number, steady in enumerate(steady_lines(grown, preset)):
        if allowances.bridges and number == 0:
            lines.append(bridged_line(steady, allowances, waste, middle, where))
        else:
            lines.append(plain_line(steady, allowances, waste, None if number else middle))
    box = bounds(grown)
    chain = ordered(lines, complex(box.left, box.bottom))
    return Plan(grown, chain, line_notes(lines))


def plain_line(steady: SteadyLine, allowances: Allowances, waste: Waste | None, middle: complex | None) -> CutLine:
    """Return an outline cut in one run, begun at the best place that has room for the lead-in.

    ``middle`` is that of the piece for its outside, None for a hole. Without ``waste`` beside it there is no lead-in.
    """
    first, lead = None, None
    for place in itertools.islice(starts_mm(steady, middle), MOST_TRIED):
        first = place if first is None else first
        if not allowances.lead_in_mm or waste is None:
            break
        lead = waste.lead_in(steady.along.point(place), steady.along.direction(place), allowances.lead_in_mm)
        if lead:
            first = place
            break
    assert first is not None
    run = plain(steady.along, first, allowances.overcut_mm, lead)
    return CutLine((run,), middle is None, steady.is_beside_thin_card, int(bool(allowances.lead_in_mm and not lead)))


def bridged_line(steady: SteadyLine, allowances: Allowances, waste: Waste, middle: complex, where: str) -> CutLine:
    """Return the outside cut in runs between bridges."""
    assert allowances.bridges
    start = next(starts_mm(steady, middle))
    places = bridge_places_mm(steady, allowances.bridges, start, where=where)
    runs, without = bridged(steady.along, places, allowances.bridges.width_mm, waste, allowances.lead_in_mm)
    return CutLine(runs, is_hole=False, is_flimsy=steady.is_beside_thin_card, without_lead_in=without)


def line_notes(lines: Sequence[CutLine]) -> tuple[str, ...]:
    """Name the lines that begin without the lead-in that was asked for."""
    without = sum(line.without_lead_in for line in lines)
    many = "1 cut begins" if without == 1 else f"{without} cuts begin"
    return (f"{many} on the line: the waste there is too narrow for a lead-in.",) if without else ()
