"""The closing gap: a stated gap leaves a rest, and three ways there are to be rid of it, each measured again."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from frameforge.frame.chain import Chain, longest_chain
from frameforge.frame.filler import Filler, closes_evenly, filled, ranked
from frameforge.frame.layout import Layout
from frameforge.frame.model import RowModel
from frameforge.frame.row_edge import closing_sizes, is_on_opening
from frameforge.frame.spec import Size
from frameforge.motif.motif import Motif

__all__ = ["Closing", "ClosingAnswer", "closing_answers", "closing_sizes", "is_on_opening"]


@dataclass(frozen=True, slots=True)
class ClosingAnswer:
    """One way to close a row: what it comes to, as measured between the true outlines (mm).

    ``model`` is the row on the piece as this answer has it, ``size`` its base and ``edge`` the size to change: the
    base, or the opening that the row stands on. ``count`` does not count the filler.
    """

    kind: Literal["spread", "size", "filler"]
    model: RowModel
    size: Size
    edge: Size
    count: int
    scale: float
    gap_mm: float
    gap_max_mm: float
    foot_gap_mm: float | None
    filler: Filler | None = None


@dataclass(frozen=True, slots=True)
class Closing:
    """A row with its stated gap stepped round, and the ways to close it; without any it closes by itself.

    First comes spreading, then the sizes, the smaller first, then the fillers, the best first.
    """

    chain: Chain
    scale: float
    answers: tuple[ClosingAnswer, ...]

    def of(self, kind: str) -> tuple[ClosingAnswer, ...]:
        """Return the answers of one kind, in their order."""
        return tuple(answer for answer in self.answers if answer.kind == kind)


def closing_answers(
    model: RowModel, size: Size, scale: float, gap_mm: float, fillers: Iterable[Motif]
) -> Closing | None:
    """Return the closing of a row with the gap stated on a base of a size; None where fewer than three go round.

    The gap is one between feet where the row states a foot gap. Raises GeometryError where the row has no edge.
    """
    chain = longest_chain(model, size, scale, gap_mm)
    if chain is None or closes_evenly(chain):
        return None if chain is None else Closing(chain, scale, ())
    answers = [_measured("spread", model, size, scale, model.layout(size, chain.count, scale))]
    for count in (chain.count, chain.count + model.unit):
        changed = closing_sizes(model, size, count, scale, gap_mm)
        if changed is not None:
            spec, base = changed
            sized = RowModel(spec, model.row, model.preset)
            answers.append(_measured("size", sized, base, scale, sized.layout(base, count, scale)))
    answers += [
        _measured("filler", model, size, scale, filled(chain, filler), filler)
        for filler in ranked(model, chain, fillers)
    ]
    return Closing(chain, scale, tuple(answers))


def _measured(
    kind: Literal["spread", "size", "filler"],
    model: RowModel,
    size: Size,
    scale: float,
    layout: Layout,
    filler: Filler | None = None,
) -> ClosingAnswer:
    """Return an answer with its gaps as they are measured."""
    gaps = model.gaps_mm(size, layout)
    opening = model.spec.opening
    edge = opening if opening is not None and is_on_opening(model) else size
    count = len(layout.seats) - (filler is not None)
    return ClosingAnswer(kind, model, size, edge, count, scale, min(gaps), max(gaps), layout.foot_gap_mm, filler)
