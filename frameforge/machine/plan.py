"""From a region to the lines that a machine runs along, with everything that was allowed for it."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from frameforge.card.preset import Preset
from frameforge.errors import GeometryError
from frameforge.geometry.line import Line
from frameforge.geometry.measure import area_mm2, bounds, centroid, length_mm
from frameforge.geometry.region import Region
from frameforge.machine.allowances import Allowances
from frameforge.machine.bridge_places import bridge_places_mm
from frameforge.machine.cut_line import CutLine, Run, bridged, plain
from frameforge.machine.kerf import with_kerf
from frameforge.machine.lead_in import Waste, lengths_tried_mm
from frameforge.machine.order import ordered
from frameforge.machine.start import starts_mm
from frameforge.machine.steady import SteadyLine, steady_lines
from frameforge.tolerances import JOINT_MM
from frameforge.units import format_floor

__all__ = ["Plan", "bridged_line", "line_notes", "plain_line", "planned", "refuse_too_long"]

MOST_LEAD_IN_MM = 20.0
"""A longer one is a slip of the unit."""
BEST = 12
"""A lead-in of full length is looked for at so many of the best places to start, then a shorter one ..."""
MOST_TRIED = 60
"""... and one of the least length at so many; where these have no room the waste is too narrow for any."""
LIKE_MM = 0.01
"""Holes whose lengths round and areas (mm, mm2) agree to this are of one form: what a file rounds is less."""


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
    none. Bridges stand in the outside line only. Raises GeometryError where kerf or bridges leave no line, and for a
    lead-in that is longer than waste is wide.
    """
    refuse_too_long(allowances, where)
    grown = with_kerf(region, allowances.kerf_mm, where=where)
    waste, middle = Waste.around(grown), centroid(grown.outer)
    steadies = tuple(steady_lines(grown, preset))
    lines = []
    for number, steady in enumerate(steadies):
        if allowances.bridges and number == 0:
            lines.append(bridged_line(steady, allowances, waste, middle, where))
        else:
            lines.append(plain_line(steady, allowances, waste, None if number else middle))
    lines[1:] = _made_alike(steadies[1:], lines[1:], allowances, waste)
    box = bounds(grown)
    chain = ordered(lines, complex(box.left, box.bottom))
    return Plan(grown, chain, line_notes(lines))


def refuse_too_long(allowances: Allowances, where: str) -> None:
    """Raise GeometryError for a lead-in that would reach over the sheet."""
    if allowances.lead_in_mm > MOST_LEAD_IN_MM:
        told, most = format_floor(allowances.lead_in_mm), format_floor(MOST_LEAD_IN_MM)
        say = f"a lead-in of {told} reaches far over the sheet; 1 to 3 mm are common. Take {most} or less."
        raise GeometryError(say, where=where, most=MOST_LEAD_IN_MM)


def plain_line(steady: SteadyLine, allowances: Allowances, waste: Waste | None, middle: complex | None) -> CutLine:
    """Return an outline cut in one run, begun at the best place that has room for the lead-in.

    ``middle`` is that of the piece for its outside, None for a hole. Without ``waste`` beside it there is no lead-in.
    """
    wanted = allowances.lead_in_mm if waste else 0.0
    places = list(itertools.islice(starts_mm(steady, middle), MOST_TRIED if wanted else 1))
    first, lead = _begun(steady, places, waste, wanted) if waste and wanted else (places[0], None)
    run = plain(steady.along, first, allowances.overcut_mm, lead)
    lengths = (abs(lead.end - lead.start) if lead else 0.0,) if wanted else ()
    return CutLine((run,), middle is None, steady.is_beside_thin_card, *_shortened(lengths, wanted))


def _made_alike(
    steadies: Sequence[SteadyLine], lines: Sequence[CutLine], allowances: Allowances, waste: Waste
) -> list[CutLine]:
    """Return the lines of holes with lead-ins as long in one hole as in the others of its form: as in the tightest.

    Which place a hole is begun at depends on how it lies, and with that how much room there is.
    """
    forms = [_form(steady) for steady in steadies]
    least: dict[tuple[int, ...], float] = {}
    for form, line in zip(forms, lines, strict=True):
        if line.short_mm:
            least[form] = min(*line.short_mm, least.get(form, math.inf))
    made = []
    for form, steady, line in zip(forms, steadies, lines, strict=True):
        mm = least.get(form, 0.0)
        if mm and not line.without_lead_in and mm < min(line.short_mm, default=allowances.lead_in_mm):
            shorter = plain_line(steady, replace(allowances, lead_in_mm=mm), waste, None)
            line = line if shorter.without_lead_in else replace(shorter, short_mm=shorter.short_mm or (mm,))
        made.append(line)
    return made


def _form(steady: SteadyLine) -> tuple[int, ...]:
    """Return what outlines of one form and size, however they lie, have alike: segments, length and area.

    Steps end off round numbers, where rounding would part what is alike.
    """
    outline = steady.along.outline
    alike = length_mm(outline.segments), area_mm2(outline)
    return len(outline.segments), *(math.floor(value / LIKE_MM + 0.317) for value in alike)


def _begun(steady: SteadyLine, places: Sequence[float], waste: Waste, lead_in_mm: float) -> tuple[float, Line | None]:
    """Return the place, one of the best, at which the waste has room for the longest lead-in, and that lead-in."""
    box = bounds(steady.along.outline)
    # Within a hole no way is longer than the hole is.
    most = math.hypot(box.width_mm, box.height_mm) if area_mm2(steady.along.outline) < 0 else math.inf
    lengths = [mm for mm in lengths_tried_mm(lead_in_mm) if mm <= most]
    spots = [(place, steady.along.point(place), steady.along.direction(place)) for place in places]
    tried = [(mm, spot) for mm in lengths for spot in spots[:BEST]]
    tried += [(mm, spot) for mm in lengths[-1:] for spot in spots[BEST:]]
    for mm, (place, point, direction) in tried:
        lead = waste.lead_in(point, direction, mm)
        if lead:
            return place, lead
    return places[0], None


def _shortened(lengths_mm: Sequence[float], wanted_mm: float) -> tuple[int, tuple[float, ...]]:
    """Return how many lead-ins found no room at all, and the lengths of those that are shorter than was wanted."""
    return sum(mm == 0 for mm in lengths_mm), tuple(mm for mm in lengths_mm if 0 < mm < wanted_mm - JOINT_MM)


def bridged_line(steady: SteadyLine, allowances: Allowances, waste: Waste, middle: complex, where: str) -> CutLine:
    """Return the outside cut in runs between bridges."""
    assert allowances.bridges
    start = next(starts_mm(steady, middle))
    places = bridge_places_mm(steady, allowances.bridges, start, where=where)
    runs, lengths = bridged(steady.along, places, allowances.bridges.width_mm, waste, allowances.lead_in_mm)
    return CutLine(runs, False, steady.is_beside_thin_card, *_shortened(lengths, allowances.lead_in_mm))


def line_notes(lines: Sequence[CutLine]) -> tuple[str, ...]:
    """Name the lead-ins that are not as long as was asked, and the lines that begin without one."""
    notes = []
    short = [mm for line in lines for mm in line.short_mm]
    if short:
        many = "1 lead-in is" if len(short) == 1 else f"{len(short)} lead-ins are"
        least, most = format_floor(min(short)), format_floor(max(short))
        long = least if least == most else f"{least.removesuffix(' mm')} to {most}"
        notes.append(f"{many} shorter, {long} long: the waste there has no room for more.")
    without = sum(line.without_lead_in for line in lines)
    if without:
        many = "1 cut begins" if without == 1 else f"{without} cuts begin"
        notes.append(f"{many} on the line: the waste there is too narrow for a lead-in.")
    return tuple(notes)
