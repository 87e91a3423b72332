"""The closing gap: a stated gap leaves a rest, and three ways there are to be rid of it, each measured again."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

from frameforge.frame.base import Edge
from frameforge.frame.chain import Chain, longest_chain
from frameforge.frame.filler import Filler, closes_evenly, filled, ranked
from frameforge.frame.layout import Layout
from frameforge.frame.model import RowModel
from frameforge.frame.rising import rising_zero
from frameforge.frame.solve import growth_of, size_for
from frameforge.frame.spacing import edge_length_mm
from frameforge.frame.spec import PieceSpec, Size
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
    assert layout.gap_mm is not None
    assert layout.gap_max_mm is not None
    opening = model.spec.opening
    edge = opening if opening is not None and is_on_opening(model) else size
    count = len(layout.seats) - (filler is not None)
    return ClosingAnswer(
        kind, model, size, edge, count, scale, layout.gap_mm, layout.gap_max_mm, layout.foot_gap_mm, filler
    )


def is_on_opening(model: RowModel) -> bool:
    """Whether the row stands on an opening whose size is stated (one that a rim leaves goes with the base)."""
    row = model.row
    return model.spec.opening is not None and (row.on or ("opening" if row.place == "in" else "base")) == "opening"


def closing_sizes(
    model: RowModel, size: Size, count: int, scale: float, gap_mm: float
) -> tuple[PieceSpec, Size] | None:
    """Return the piece's order and base size at which ``count`` repeats close with exactly the gap; None if none.

    The edge that the row stands on changes in its proportion: the base, or the opening where its size is stated.
    """
    opening = model.spec.opening
    if opening is None or not is_on_opening(model):
        growth = growth_of(PieceSpec(model.spec.name, "find"), size)
        base = size_for(model, growth, count, scale, gap_mm)
        return None if base is None else (replace(model.spec, size=base), base)
    changed = _opening_for(model, size, opening, count, scale, gap_mm)
    return None if changed is None else (replace(model.spec, opening=changed), size)


def _opening_for(model: RowModel, size: Size, given: Size, count: int, scale: float, gap_mm: float) -> Size | None:
    """Return the opening, in the proportion of the given one, at which the row closes with exactly the gap."""
    ratio = given.width_mm / given.height_mm

    def excess(width: float) -> float:
        spec = replace(model.spec, opening=Size(width, width / ratio))
        return RowModel(spec, model.row, model.preset).clearance_mm(size, count, scale) - gap_mm

    widths = [max(ready.foot_mm, ready.box.width_mm / 2, 1e-3) for ready in model.readies(count, scale)]
    around = edge_length_mm(Edge.from_size(given)) / given.width_mm
    guess = (sum(widths) + count * max(gap_mm, 0.0)) / around
    width = rising_zero(excess, guess)
    return None if width is None or not math.isfinite(width) else Size(width, width / ratio)
