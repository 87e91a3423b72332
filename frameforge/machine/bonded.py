"""Cards that share their lines, as the machine cuts them: every line once, the innermost card first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from frameforge.card.preset import Preset
from frameforge.errors import GeometryError
from frameforge.geometry.measure import bounds, centroid
from frameforge.geometry.outline import Outline
from frameforge.geometry.parallel import parallel
from frameforge.machine.allowances import Allowances
from frameforge.machine.cut_line import CutLine
from frameforge.machine.kerf import with_kerf
from frameforge.machine.lead_in import Waste
from frameforge.machine.order import ordered
from frameforge.machine.plan import Plan, bridged_line, line_notes, plain_line, refuse_too_long
from frameforge.machine.steady import SteadyLine, steady_lines
from frameforge.sets.bond import Bond, holds
from frameforge.units import format_floor, format_mm

__all__ = ["planned_bond"]


def planned_bond(bond: Bond, allowances: Allowances, preset: Preset, *, where: str = "") -> Plan:
    """Return how cards with shared lines are cut: card by card from the innermost, each its holes first.

    Kerf is allowed for where there is waste: in holes, and outside the outermost card. A shared line has card on both
    sides and stays where it is, so that the beam takes half its width from each. It has no lead-in either.
    Raises GeometryError where kerf or bridges leave no line, and where the beam would part a card or leave none of it.
    """
    refuse_too_long(allowances, where)
    grown = with_kerf(bond.whole, allowances.kerf_mm, where=where)
    _check_parts(bond, allowances.kerf_mm, where)
    waste, middle = Waste.around(grown), centroid(grown.outer)
    outside, *holes = steady_lines(grown, preset)
    of_card = _cards_of(bond, grown.holes)
    last = len(bond.parts) - 1
    chain: list[CutLine] = []
    box = bounds(grown)
    for k, part in enumerate(bond.parts):
        own = [
            plain_line(hole, allowances, waste, None) for hole, card in zip(holes, of_card, strict=True) if card == k
        ]
        if k < last:
            edge = _shared(steady_lines(part, preset)[0], allowances)
        elif allowances.bridges:
            edge = bridged_line(outside, allowances, waste, middle, where)
        else:
            edge = plain_line(outside, allowances, waste, middle)
        is_turned = (last - k) % 2 and not allowances.lead_in_mm
        begin = chain[-1].end if chain else complex(box.left, box.bottom)
        chain += [_turned(line) if is_turned else line for line in (*ordered(own, begin), edge)]
    return Plan(grown, tuple(chain), line_notes(chain))


def _check_parts(bond: Bond, kerf_mm: float, where: str) -> None:
    """Refuse a kerf that parts a card: of shared lines it takes half from each side."""
    if not kerf_mm:
        return
    for part in bond.parts:
        if len(parallel(part, -kerf_mm / 2)) != 1:
            across = format_mm(bounds(part).width_mm)
            say = (
                f"the laser burns {format_floor(kerf_mm)} away, and the card of {across} does not hold together then. "
                "Make it wider, or take a smaller kerf."
            )
            raise GeometryError(say, where=where, code="kerf", kerf_mm=kerf_mm)


def _shared(steady: SteadyLine, allowances: Allowances) -> CutLine:
    """Return a line with card on both sides: no waste to begin in. It lies within the outside, as holes do."""
    plain = Allowances(overcut_mm=allowances.overcut_mm)
    return replace(plain_line(steady, plain, None, 0j), is_hole=True)


def _turned(line: CutLine) -> CutLine:
    """Return a line run the other way, as lines within lines are for both fill rules to see the same."""
    runs = tuple(tuple(segment.reversed() for segment in reversed(run)) for run in reversed(line.runs))
    return replace(line, runs=runs)


def _cards_of(bond: Bond, holes: Sequence[Outline]) -> list[int]:
    """Return for each hole the number of the card that it lies in: the first whose outside holds it."""
    return [next(k for k, part in enumerate(bond.parts) if holds(part.outer, hole.segments[0].start)) for hole in holes]
