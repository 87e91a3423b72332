"""The closing gap as ``fit`` tells it: what a stated gap leaves over, and the ways to close the row side by side."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import Final

from frameforge.errors import GeometryError, InputError
from frameforge.frame.closing import Closing, ClosingAnswer, closing_answers
from frameforge.frame.model import RowModel
from frameforge.frame.offers import gap_kind, things
from frameforge.frame.rest_limits import check_rest
from frameforge.frame.spec import Size
from frameforge.frame.wording import clock_words, plural, round_outer, up
from frameforge.job.fillers import fault_of, known_motifs
from frameforge.job.fit_answer import FitAnswer
from frameforge.job.fit_question import FitQuestion
from frameforge.job.rests import filler_words
from frameforge.motif.bare_foot import BARE_FOOT
from frameforge.motif.catalogue import load_motif
from frameforge.motif.motif import Motif
from frameforge.units import format_floor

__all__ = ["ClosingTold", "check_asks_for_rest", "closing_for", "closing_told"]

_TOLD: Final = 3
"""Fillers named in a line; the others stand in JSON."""


_KINDS: Final = ("spread", "size", "filler")


@dataclass(frozen=True, slots=True)
class ClosingTold:
    """What a gap leaves over in a row, and the ways of some kinds to close it.

    ``faults`` tells, by name, of the motifs that would go in and not hold. They are no ways, but for one that the row
    names itself.
    """

    model: RowModel
    closing: Closing
    ways: tuple[ClosingAnswer, ...]
    faults: Mapping[str, str]
    kinds: tuple[str, ...] = _KINDS

    @property
    def answers(self) -> tuple[FitAnswer, ...]:
        """The ways as answers: spread, the sizes, the fillers, the best first."""
        return tuple(_answer(way) for way in self.ways)

    def lines(self) -> list[str]:
        """Return the lines for the terminal: the rest, then a line for each way, each with what to type for it."""
        chain = self.closing.chain
        row = f"With {gap_kind(self.model)}s of {chain.gap_mm:g} mm {chain.count} {things(self.model, chain.count)}"
        if not self.closing.answers:
            return [f"{row} close the row; nothing is left over."]
        seam = f"{format_floor(chain.seam_gap_mm)} {clock_words(math.degrees(chain.seam_rad))}"
        told = {
            "spread": [f"{chain.count} with gaps of {_gaps(way)}" for way in self._of("spread")],
            "size": [f"{_edge_words(way.edge)} closes with {way.count}" for way in self._of("size")] or ["none"],
            "filler": [_filler_words(way) for way in self._of("filler")] or ["none that this card can bear"],
        }
        if len(told["filler"]) > _TOLD:
            told["filler"][_TOLD:] = [f"{len(told['filler']) - _TOLD} more"]
        lines = [f"{row} leave {seam}. Ways to close it:"]
        lines += [f"  --rest {kind:6}  {', '.join(told[kind])}" for kind in self.kinds]
        return [*lines, *self._fault_lines()] if "filler" in self.kinds else lines

    def _of(self, kind: str) -> list[ClosingAnswer]:
        return [way for way in self.ways if way.kind == kind]

    def _fault_lines(self) -> list[str]:
        """Return what is wrong with the filler that was named, or which ones were left out."""
        named = self.model.row.filler
        if named is not None:
            say = f"take care, {plural(named.name, 1)}: {self.faults[named.name]}" if named.name in self.faults else ""
        else:
            names = ", ".join(plural(name, 1) for name in self.faults)
            say = f"left out, too small for this card: {names}" if names else ""
        return textwrap.wrap(say, 78, initial_indent="  ", subsequent_indent="    ", break_on_hyphens=False)


def closing_told(
    model: RowModel, size: Size, scale: float, gap_mm: float, motifs: Iterable[Motif]
) -> ClosingTold | None:
    """Return what a stated gap leaves over and the ways to close the row; None where fewer than three go round.

    ``motifs`` are those that may fill; the ones whose details would fall under the card's limits are left out, unless
    the row names them. A bare foot is filled by a bare foot. Raises GeometryError where the row has no edge.
    """
    closing = closing_answers(model, size, scale, gap_mm, motifs)
    if closing is None:
        return None
    faults: dict[str, str] = {}
    for way in closing.of("filler"):
        assert way.filler is not None
        name = way.filler.drawn.name
        fault = fault_of(model, closing.chain, way.filler) if name != BARE_FOOT else None
        if fault is not None:
            faults[name] = fault
    named = model.row.filler.name if model.row.filler else None
    left_out = faults.keys() - {named}
    ways = tuple(way for way in closing.answers if way.filler is None or way.filler.drawn.name not in left_out)
    return ClosingTold(model, closing, ways, faults)


def check_asks_for_rest(question: FitQuestion) -> None:
    """Raise InputError for a rest in a question that is not for one size and one gap with the count left open."""
    if question.row.rest is not None and not _leaves_a_rest(question):
        say = "a rest is told for one size with one gap, the count left open. Leave out rest, or the others."
        raise InputError(say, where=question.model.spec.name, code="no-rest")


def closing_for(question: FitQuestion, folder: Path | None) -> ClosingTold | None:
    """Return what is left over in a question for one size and one gap, count and scale settled or left open; else None.

    ``folder`` holds the maker's own motifs. Where the row asks for one way, or names a filler, only that is told.
    Raises InputError in a row that leaves no rest.
    """
    row = question.row
    if not _leaves_a_rest(question):
        return None
    if row.rest is None and (row.keep_free is not None or row.skip or question.model.spread != "equal-gap"):
        return None
    size = check_rest(question.model, question.sizes[0])
    neck = question.preset.least_neck_mm
    named = (row.pattern[0].motif,) if question.is_bare else (row.filler,) if row.filler else None
    motifs = named or known_motifs(folder, partial(load_motif, folder=folder, least_neck_mm=neck))
    try:
        told = closing_told(question.model, size, question.model.given_scale, question.wanted_gap_mm, motifs)
    except GeometryError:
        if row.rest is not None:
            raise
        return None
    if told is None or row.rest is None:
        return told
    return replace(told, ways=tuple(way for way in told.ways if way.kind == row.rest), kinds=(row.rest,))


def _leaves_a_rest(question: FitQuestion) -> bool:
    """Whether one size and one gap are asked, with a scale and without a count."""
    is_open = "find" in (question.row.scale, question.row.foot_mm, question.row.gap_mm)
    gap_is_told = question.stated_gap_mm is not None or question.row.rest is not None
    return (
        question.is_single and None not in question.sizes and question.counts == (None,) and gap_is_told and not is_open
    )


def _answer(way: ClosingAnswer) -> FitAnswer:
    """Return one way as an answer."""
    filler = way.filler
    is_bare = any(ornament.motif.name == BARE_FOOT for ornament in way.model.row.pattern)
    return FitAnswer(
        size=way.edge,
        count=way.count,
        scale=way.scale,
        spread=way.model.spread,
        gap_mm=way.foot_gap_mm if is_bare else way.gap_mm,
        gap_max_mm=way.gap_max_mm,
        foot_gap_mm=way.foot_gap_mm,
        is_even=filler is None and way.size.is_circle and len(way.model.row.pattern) == 1,
        kind=way.kind,
        filler=filler.drawn.name if filler else None,
        filler_scale=filler.scale if filler else None,
    )


def _gaps(way: ClosingAnswer) -> str:
    """Return the gap of a spread row, or the least and the greatest."""
    least, most = format_floor(way.gap_mm), format_floor(way.gap_max_mm)
    return least if least == most else f"{least.removesuffix(' mm')} to {most}"


def _edge_words(edge: Size) -> str:
    """Return a size in steps of .1 mm at which the gap is no narrower: "102.4 mm"."""
    width, height = (round_outer(up(side, 0.1)) for side in (edge.width_mm, edge.height_mm))
    return f"{width} mm" if edge.is_circle else f"{width}x{height} mm"


def _filler_words(way: ClosingAnswer) -> str:
    """Return a filler by its scale, a bare foot by its width."""
    assert way.filler is not None
    if way.filler.drawn.name == BARE_FOOT:
        return f"a foot of up to {format_floor(way.filler.ready.foot_mm)}"
    return filler_words(way.filler)
