"""The sizes beside the one that is looked at, with the counts that go round each: the chart of ``fit`` as the page has
it. They are sizes of the base, or of the opening where the row stands on one whose size is stated. Every cell is
answered by the code that answers the command."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Final

from frameforge.desk.address import holder_of
from frameforge.desk.change import RECIPE_NAME, checked
from frameforge.desk.question import Tell
from frameforge.errors import InputError
from frameforge.frame.model import RowModel
from frameforge.frame.solve import MOST_REPEATS
from frameforge.frame.spec import LARGEST_MM, PieceSpec, RowSpec, Size
from frameforge.job.fit_answer import FitAnswer
from frameforge.job.fit_question import FitQuestion
from frameforge.job.fit_solve import answer_all, asked_gap_mm, each_answer, within
from frameforge.job.fit_words import gap_text, size_inches, size_mm, subject, warning_lines
from frameforge.job.motif_source import MotifSource
from frameforge.job.presets import preset_of
from frameforge.recipe.model import RowTable
from frameforge.recipe.recipe import Recipe, parse_toml
from frameforge.recipe.to_spec import to_spec
from frameforge.tolerances import WIDTH_MM
from frameforge.units import is_in_inches

__all__ = ["fit_chart"]

_STEPS_MM: Final = (2.0, 5.0, 10.0)
_STEPS_IN: Final = (0.125, 0.25, 0.5)
_BESIDE: Final = 4
"""Sizes told of on either side of the present one."""
_ACROSS: Final = 13
"""Counts told of at most: more no table has room for."""
_MM_PER_INCH: Final = 25.4
_HARD: Final = "hard-to-hold"
_MOST_ROWS: Final = 1000
"""Above any number of rows; which of them there are is seen then."""


@dataclass(frozen=True, slots=True)
class _Asked:
    """The row that is charted: its piece, the size of the base, its count, and how sizes are typed and stepped."""

    spec: PieceSpec
    row: RowSpec
    base: Size
    count: int | None
    step: float
    in_inches: bool

    @property
    def opening(self) -> Size | None:
        """The opening that the row stands on, where its size is stated."""
        return _opening_of(self.spec, self.row)

    @property
    def size(self) -> Size:
        """The size now of what is charted, of the opening or of the base."""
        return self.opening or self.base

    @property
    def key(self) -> str:
        """The key of the recipe that the sizes are of."""
        return "opening" if self.opening else "size"

    @property
    def steps(self) -> tuple[float, ...]:
        """The steps between two sizes that may be chosen, mm or inches as sizes are typed."""
        return _STEPS_IN if self.in_inches else _STEPS_MM


def fit_chart(question: dict[str, Any], source: MotifSource, tell: Tell) -> dict[str, Any]:
    """Return sizes down and counts across with the gap in every cell, and what choosing a cell changes.

    ``question`` holds recipe (text), at ("piece.1"), row (from 0), step (mm, or inches where sizes are typed in them),
    size (mm, as it came out where it is to be found), count and scale (as they came out). Raises InputError where the
    size is to be found and is not told, GeometryError where nothing goes round any of the sizes.
    """
    recipe = checked(str(question["recipe"]))
    raw = parse_toml(str(question["recipe"]), RECIPE_NAME)
    kind, index = holder_of(question.get("at", ""), raw)
    place = _number(question, "row", 0, _MOST_ROWS)
    place = 0 if place is None else int(place)
    if kind == "rings" or index >= len(recipe.pieces) or place >= len(recipe.pieces[index].row):
        return {"none": "Sizes and counts are told of a piece with motifs round it."}
    asked = _asked(question, recipe, index, place, source)
    sizes = _sizes(asked)
    chart = FitQuestion(
        model=RowModel(
            replace(asked.spec, rows=(asked.row,)), asked.row, preset_of(recipe, index, source.beside).preset
        ),
        sizes=tuple(sizes),
        typed=tuple(_typed(size, in_inches=asked.in_inches) for size in sizes),
        counts=(None,),
        is_bare=False,
        in_inches=asked.in_inches,
        is_default=False,
    )
    counts = _counts(chart, asked)
    chart = replace(chart, counts=counts)
    answers: list[FitAnswer] = []
    for answer in _each(chart, asked):
        if len(answers) % len(counts) == 0:
            tell(len(answers), len(sizes) * len(counts), f"{size_mm(answer.size)} mm")
        answers.append(answer)
    return _values(chart, answers, asked, f"row.{place}.")


def _each(chart: FitQuestion, asked: _Asked) -> Iterator[FitAnswer]:
    """Yield the answer for each size and count of a chart; on an opening each size is one of it, and the base stays."""
    if asked.opening is None:
        yield from each_answer(chart)
        return
    for opening in chart.sizes:
        for answer in each_answer(replace(_on_opening(chart, opening), sizes=(asked.base,))):
            yield replace(answer, size=opening)


def _on_opening(chart: FitQuestion, opening: Size | None) -> FitQuestion:
    """Return the same question of a piece with another opening."""
    model = chart.model
    return replace(chart, model=replace(model, spec=replace(model.spec, opening=opening)))


def _asked(question: dict[str, Any], recipe: Recipe, index: int, place: int, source: MotifSource) -> _Asked:
    """Return the row that is charted, all that is to be found in it settled as it came out."""
    table = recipe.pieces[index]
    preset = preset_of(recipe, index, source.beside).preset

    def load(name: str, row: RowTable, where: str) -> Any:
        return source.load(name, row, where, least_neck_mm=preset.least_neck_mm)

    spec = to_spec(recipe, index, table.name or recipe.source.place(("piece", index)), load)
    row = spec.rows[place]
    count = row.count if isinstance(row.count, int) else int(_number(question, "count", 1, MOST_REPEATS) or 0) or None
    settled = replace(row, count=None, rest=None, filler=None, gap_mm=None if row.gap_mm == "find" else row.gap_mm)
    if "find" in (row.scale, row.foot_mm):
        settled = replace(settled, scale=_number(question, "scale", 0.01, 100.0) or 1.0, foot_mm=None)
    size = spec.size if isinstance(spec.size, Size) else _found(question)
    typed = recipe.raw["piece"][index].get("opening" if _opening_of(spec, row) else "size")
    in_inches = recipe.tables.units == "in" or (isinstance(typed, str) and is_in_inches(typed))
    steps = _STEPS_IN if in_inches else _STEPS_MM
    step = _number(question, "step", 0.0, 100.0) or 0.0
    return _Asked(spec, settled, size, count, step if step in steps else steps[1], in_inches)


def _number(question: Mapping[str, Any], key: str, least: float, most: float) -> float | None:
    """Return a number of a question within limits; None where it says none, or no such number."""
    value: Any = question.get(key)
    return float(value) if _is_within(value, least, most) else None


def _is_within(value: Any, least: float, most: float) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and least <= value <= most


def _opening_of(spec: PieceSpec, row: RowSpec) -> Size | None:
    """Return the opening of a stated size that a row stands on; None for a row on another edge."""
    is_in = (row.on or ("opening" if row.place == "in" else "base")) == "opening"
    return spec.opening if is_in else None


def _found(question: dict[str, Any]) -> Size:
    """Return the size that was found for a piece. Raises InputError where none is known yet."""
    sides = question.get("size")
    if not isinstance(sides, list) or len(sides) != 2 or not all(_is_within(side, 0.1, LARGEST_MM) for side in sides):
        raise InputError("the size is to be found. Write a size first.", where=RECIPE_NAME, code="no-size")
    return Size(float(sides[0]), float(sides[1]))


def _sizes(asked: _Asked) -> list[Size]:
    """Return the present size and those beside it on whole steps; an oval grows by the same on both axes.

    An opening stays smaller than the base.
    """
    unit = _MM_PER_INCH if asked.in_inches else 1.0
    step, wide = asked.step * unit, asked.size.width_mm
    nearest = round(wide / step)
    whole = (k * step for k in range(nearest - _BESIDE, nearest + _BESIDE + 1))
    widths = [width for width in whole if abs(width - wide) > WIDTH_MM]
    grown = asked.size.height_mm - wide
    found = [Size(width, width + grown) for width in sorted((*widths, wide)) if min(width, width + grown) > 0]
    if asked.opening is None:
        return found
    base = asked.base
    return [
        size
        for size in found
        if size == asked.size or (size.width_mm < base.width_mm and size.height_mm < base.height_mm)
    ]


def _typed(size: Size, *, in_inches: bool) -> str:
    """Return a size as it is typed: "80mm", "3.25in", "150x100mm"."""
    sides = (size.width_mm,) if size.is_circle else (size.width_mm, size.height_mm)
    shown = [f"{round(side / _MM_PER_INCH, 4) if in_inches else round(side, 4):g}" for side in sides]
    return f"{'x'.join(shown)}{'in' if in_inches else 'mm'}"


def _counts(chart: FitQuestion, asked: _Asked) -> tuple[int, ...]:
    """Return the counts that go round these sizes, as many as there is room for beside the present one.

    Raises GeometryError, with what there is to say of it, where nothing goes round any of them.
    """
    unit = chart.model.step
    answers = list(_each(chart, asked))
    if all(answer.is_refused for answer in answers):
        now = chart if asked.opening is None else replace(chart, sizes=(asked.base,), typed=(None,))
        answers = list(answer_all(now))  # says what there is to say of it
    known = [answer.count for answer in answers if answer.count]
    middle = asked.count or known[len(known) // 2]
    least, greatest = min(*known, middle) - unit, min(max(*known, middle) + unit, MOST_REPEATS)
    counts = [count for count in range(unit, greatest + 1, unit) if count >= least]
    nearest = min(range(len(counts)), key=lambda k: abs(counts[k] - middle))
    first = max(0, min(nearest - _ACROSS // 2, len(counts) - _ACROSS))
    return tuple(counts[first : first + _ACROSS])


def _values(chart: FitQuestion, answers: Sequence[FitAnswer], asked: _Asked, row: str) -> dict[str, Any]:
    """Return the chart as the page draws it; ``row`` stands before the addresses of the charted row's blanks."""
    total = len(chart.counts)
    heads = [
        {
            "words": str(count),
            "deg": f"{360 // count} deg" if count and 360 % count == 0 and asked.size.is_circle else "",
        }
        for count in chart.counts
    ]
    rows = []
    for k, size in enumerate(chart.sizes):
        assert size is not None
        across = answers[k * total : (k + 1) * total]
        cells = [_cell(chart, answer, asked, {asked.key: str(chart.typed[k])}, row) for answer in across]
        is_hard = asked.opening is None and any(remark.code == _HARD for answer in across for remark in answer.remarks)
        rows.append(
            {"words": f"{size_mm(size)} mm", "inches": f"{size_inches(size)} in", "is_hard": is_hard, "cells": cells}
        )
    chosen = next((answer for answer in answers if _is_chosen(answer, asked)), None)
    told = [
        line for line in warning_lines(chart, answers, chosen) if not line.startswith(("refused", f"warning, {_HARD}"))
    ]
    return {
        "title": f"Gaps between {subject(chart)} in mm, by {asked.key} and count",
        "of": asked.key,
        "counts": heads,
        "rows": rows,
        "told": told,
        "step": asked.step,
        "steps": [
            {"step": step, "words": f"{step:g} in" if asked.in_inches else f"{step:g} mm"} for step in asked.steps
        ],
        "leave_out": [f"{row}gap"] if chart.stated_gap_mm is not None else [],
    }


def _is_chosen(answer: FitAnswer, asked: _Asked) -> bool:
    return answer.count == asked.count and answer.size == asked.size


def _cell(chart: FitQuestion, answer: FitAnswer, asked: _Asked, size: Mapping[str, str], row: str) -> dict[str, Any]:
    """Return one cell: its gap, or why it cannot be made so, and what choosing it puts in: its ``size`` and count."""
    words = ", ".join(dict.fromkeys(remark.words for remark in answer.remarks if remark.words and remark.code != _HARD))
    options = {**size, f"{row}count": str(answer.count)}
    on = "in" if asked.opening else "on"
    return {
        "gap": "" if answer.is_refused else gap_text(answer.gap_mm),
        "words": words,
        "label": f"{answer.count} {on} {size_mm(answer.size)} mm, gap {gap_text(answer.gap_mm)} mm",
        "is_chosen": _is_chosen(answer, asked),
        "is_narrow": not within(chart, asked_gap_mm(chart, answer)),
        "options": None if answer.is_refused else options,
    }
