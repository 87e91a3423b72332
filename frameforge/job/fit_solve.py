"""The answers to what ``fit`` is asked: every size with every count settled by the one solver, and measured."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from itertools import pairwise

from frameforge.errors import FrameforgeError, GeometryError
from frameforge.frame.fit import Fit, check_scale, fit_row
from frameforge.frame.hand_spokes import FULL_TURN_DEG
from frameforge.frame.layout import Layout
from frameforge.frame.model import RowModel, edges_of
from frameforge.frame.narrow_base import check_ends
from frameforge.frame.offers import things
from frameforge.frame.rim import check_opening
from frameforge.frame.row_limits import standing_in_each_other
from frameforge.frame.solve import MOST_REPEATS, count_for
from frameforge.frame.spec import PieceSpec, Size
from frameforge.frame.ways import RefusedError
from frameforge.frame.wording import round_words
from frameforge.job.fit_answer import REFUSED, FitAnswer, Remark
from frameforge.job.fit_question import FitQuestion
from frameforge.job.fit_remarks import remarks_of
from frameforge.tolerances import GAP_SLACK_MM, SAME_ANGLE_RAD
from frameforge.units import format_floor

__all__ = ["answer_all", "asked_gap_mm", "each_answer", "model_for", "turned_round", "whole_degree_answers", "within"]

_WORDS = {
    "no-seat": "no seat",
    "no-rim": "no rim",
    "pattern-open": "open end",
    "too-many": "too many",
    "tips-meet": "tips meet",
    "folds": "folds over",
    "no-equal-gap": "uneven",
}
"""A refusal in words that a narrow cell takes, by its code."""

_OTHER = "not so"

_MOST_FAULTS = 3


def answer_all(question: FitQuestion) -> tuple[FitAnswer, ...]:
    """Return one answer for each size and count asked, size by size.

    In a chart of several, those that cannot be made so say why. Raises GeometryError, with numbers and what would
    work, when there is only one and it is refused, or when all are; InputError where the question leaves too much open.
    """
    _check_bare_foot(question)
    cells = [(size, count) for size in question.sizes for count in question.counts]
    if question.is_single:
        return (_measured(question, _stated(question, *cells[0])),)
    answers = tuple(each_answer(question))
    if all(answer.is_refused for answer in answers):
        raise _none_holds(question, cells, answers)
    return answers


def each_answer(question: FitQuestion) -> Iterator[FitAnswer]:
    """Yield the answer for each size and count asked, size by size; those that cannot be made so say why."""
    for size in question.sizes:
        for count in question.counts:
            yield _told(question, size, count)


def whole_degree_answers(question: FitQuestion, answers: tuple[FitAnswer, ...]) -> tuple[FitAnswer, ...]:
    """Return the other way round: the sizes on which counts close that divide 360, from the least to the most answered.

    None where the counts were asked for, or something else is to be found.
    """
    found = [answer.count for answer in answers if answer.count is not None]
    if not (question.is_default and found) or "find" in (question.row.scale, question.row.foot_mm):
        return ()
    unit = question.model.unit
    counts = [n for n in range(min(found), max(found) + 1) if FULL_TURN_DEG % n == 0 and n % unit == 0]
    turned = turned_round(question)
    told = (_told(turned, None, count) for count in counts)
    return tuple(answer for answer in told if not answer.is_refused)


def _check_bare_foot(question: FitQuestion) -> None:
    """Refuse a foot, stated without a motif, that is narrower than card can be that carries something."""
    foot, least = question.row.foot_mm, question.preset.least_neck_mm
    if question.is_bare and isinstance(foot, float | int) and foot < least:
        say = f"a foot of {format_floor(foot)}, this card needs {least:g} mm. Take --foot {least:g}mm or more."
        raise GeometryError(say, where=question.model.spec.name, foot_mm=foot, limit_mm=least)


def turned_round(question: FitQuestion) -> FitQuestion:
    """Return the question with its sizes to be found instead of its counts."""
    return replace(question, sizes=(None,), typed=(None,), counts=(None,), is_default=False)


def model_for(question: FitQuestion, count: int | None) -> RowModel:
    """Return the row with its count."""
    row = replace(question.row, count=count)
    if isinstance(count, int) and row.foot_gap_mm is None and row.gap_mm is None and None in question.sizes:
        # A size to find needs a gap, and a chart takes the usual one where none is asked.
        row = replace(row, gap_mm=question.wanted_gap_mm)
    return RowModel(replace(question.model.spec, rows=(row,)), row, question.preset)


def asked_gap_mm(question: FitQuestion, answer: FitAnswer) -> float | None:
    """Return the gap of an answer that is of the kind asked for: between feet or between outlines."""
    return answer.gap_mm if question.row.foot_gap_mm is None else answer.foot_gap_mm


def within(question: FitQuestion, gap_mm: float | None) -> bool:
    """Whether a gap is at least as wide as the one asked for; so is that of a single repeat, which has none."""
    return gap_mm is None or gap_mm >= question.wanted_gap_mm - GAP_SLACK_MM


def _stated(question: FitQuestion, size: Size | None, count: int | None) -> Fit:
    """Return the fit of one statement. Raises what the solver refuses, with ways out."""
    model = model_for(question, count)
    try:
        return _settled_by(model, size)
    except RefusedError as fault:
        from frameforge.frame.last_ways import last_ways  # here, since only a refusal needs them

        asked, can_settle = replace(model.spec, size=size or "find"), partial(_can_settle, model)
        raise fault.tried(asked, can_settle, lambda: last_ways(asked, model.preset, can_settle)) from fault


def _settled_by(model: RowModel, size: Size | None) -> Fit:
    fit = fit_row(model, size)
    check_opening(model.spec, *edges_of(model.spec, fit.size), model.preset)
    return fit


def _can_settle(model: RowModel, spec: PieceSpec) -> bool:
    """Whether another order comes to a fit."""
    try:
        _settled_by(RowModel(spec, spec.rows[0], model.preset), spec.size if isinstance(spec.size, Size) else None)
    except FrameforgeError:
        return False
    return True


def _told(question: FitQuestion, size: Size | None, count: int | None) -> FitAnswer:
    """Return the answer for one of several; a refused one tells why in words."""
    try:
        return _measured(question, _settled(question, size, count))
    except GeometryError as fault:
        words = _WORDS.get(fault.code, _OTHER)
        refusal = Remark(REFUSED, words, fault.say)
        return FitAnswer(size, count, None, question.model.spread, remarks=(refusal,))


def _settled(question: FitQuestion, size: Size | None, count: int | None) -> Fit:
    """Return the fit for one of several: as the solver has it, but without its ways out, which take longest.

    A stated gap is the least that is wished where size, count and scale are stated too: a chart tells the real one.
    """
    model = model_for(question, count)
    if count is not None and count % model.unit:
        say = f"{count} repeats do not close a pattern of {model.unit}."
        raise GeometryError(say, code="pattern-open", count=count)
    if size is None or "find" in (model.row.scale, model.row.foot_mm):
        return fit_row(model, size)
    check_opening(model.spec, *edges_of(model.spec, size), model.preset)
    scale = model.given_scale
    check_scale(model, scale)
    check_ends(model, size, scale)
    if count is None:
        count = count_for(model, size, scale, question.wanted_gap_mm)
        if not 0 < count <= MOST_REPEATS:
            model.layout(size, model.unit, scale)  # raises what there is to say of a seat
            say = f"{_how_many(count)} {things(model, 2)} go round {round_words(size)}."
            raise GeometryError(say, code="too-many", count=count)
    elif (crowded := model.crowded_mm(size, count, scale)) is not None:
        raise _too_many(model, Fit(size, count, scale), crowded)
    return Fit(size, count, scale)


def _too_many(model: RowModel, fit: Fit, gap_mm: float) -> GeometryError:
    """Return the refusal of repeats that overlap."""
    say = f"{fit.count} {things(model, fit.count)} do not go round {round_words(fit.size)}; they overlap by "
    return GeometryError(f"{say}{format_floor(-gap_mm)}.", code="too-many", gap_mm=gap_mm)


def _how_many(count: int) -> str:
    return "no" if count == 0 else f"more than {MOST_REPEATS}"


def _measured(question: FitQuestion, fit: Fit) -> FitAnswer:
    """Return the answer of a settled fit, its gaps measured. Raises GeometryError where repeats meet."""
    model = model_for(question, fit.count)
    layout = model.layout(fit.size, fit.count, fit.scale)
    foot_gap = layout.foot_gap_mm
    gaps = [g for g in layout.foot_gaps if g is not None] if question.is_bare else model.gaps_mm(fit.size, layout)
    gap, most = min(gaps, default=None), max(gaps, default=None)
    gap, most, foot_gap = (_or_touching(found) for found in (gap, most, foot_gap))
    if gap is not None and gap < -GAP_SLACK_MM:
        raise _too_many(model, fit, gap)
    if standing_in_each_other(layout):
        raise GeometryError(f"the {things(model, 2)} reach into each other.", code="tips-meet")
    return FitAnswer(
        size=fit.size,
        count=fit.count,
        scale=fit.scale,
        spread=model.spread,
        gap_mm=gap,
        gap_max_mm=most,
        foot_gap_mm=foot_gap,
        is_even=_is_even(layout),
        remarks=remarks_of(question, model, fit, layout, gap),
    )


def _or_touching(gap_mm: float | None) -> float | None:
    """Return a gap, 0 where only rounding keeps it from that."""
    return 0.0 if gap_mm is not None and abs(gap_mm) <= GAP_SLACK_MM else gap_mm


def _is_even(layout: Layout) -> bool:
    """Whether all repeats stand at equal turns of a circle."""
    taus = [seat.tau for seat in layout.seats]
    turns = [b - a for a, b in pairwise(taus)]
    return layout.track.edge.is_circle and all(abs(turn - turns[0]) <= SAME_ANGLE_RAD for turn in turns)


def _none_holds(
    question: FitQuestion, cells: list[tuple[Size | None, int | None]], answers: tuple[FitAnswer, ...]
) -> FrameforgeError:
    """Return the refusal of a chart in which nothing holds: what the solver says of the first, or of our largest."""
    faults: list[FrameforgeError] = []
    for size, count in cells[-1:] if question.is_default else cells[:_MOST_FAULTS]:
        try:
            _measured(question, _stated(question, size, count))
        except FrameforgeError as fault:
            faults.append(fault)
    if not faults:
        say = next(remark.say for remark in answers[0].remarks if remark.code == REFUSED)
        faults = [GeometryError(say, where=question.model.spec.name)]
    return type(faults[0]).from_many(faults)
