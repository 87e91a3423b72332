"""One run of ``fit``: which sizes take how many, as a table, as a picture, and the line to type next."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final

from frameforge import __version__
from frameforge.errors import InputError
from frameforge.frame.fit import Fit
from frameforge.job.closing_answers import ClosingTold, check_asks_for_rest, closing_for
from frameforge.job.fit_answer import FitAnswer
from frameforge.job.fit_make import NextLine, make_line
from frameforge.job.fit_picture import fit_picture
from frameforge.job.fit_question import FitOrder, FitQuestion, read_question
from frameforge.job.fit_solve import answer_all, asked_gap_mm, model_for, turned_round, whole_degree_answers, within
from frameforge.job.fit_table import COLUMNS, legend_lines, table_lines
from frameforge.job.fit_words import closing_sentence, title, warning_lines
from frameforge.job.naming import file_word
from frameforge.job.seats import SeatsTold, seats_told
from frameforge.recipe.fields import as_formats
from frameforge.write.marker import marked_svg
from frameforge.write.out_folder import OutFile, OutFolder, PieceFiles
from frameforge.write.png import CSS_PX_PER_MM, to_png

__all__ = ["FitResult", "fit"]

_FORMATS: Final = ("svg", "png")
_SHARPNESS: Final = 2.0
_TRIED: Final = 3
"""Answers tried for the line to type, the best first."""
_MOST_COMPARED: Final = 400
_MOST_NAME: Final = 100


@dataclass(frozen=True, slots=True)
class FitResult:
    """What was asked and answered; ``chosen`` is the answer pointed at, ``next_line`` makes it.

    ``turned`` answers the other way round where nothing was asked for but the motif: sizes by counts. ``neighbours``
    are the gaps (mm) that the counts next to the chosen one would leave, ``closing`` the ways to close a row whose gap
    is stated, ``seats`` the chosen answer as drawn and bent. ``files`` are names in the folder ``out``, by kind.
    """

    question: FitQuestion
    answers: tuple[FitAnswer, ...]
    turned: tuple[FitAnswer, ...]
    chosen: FitAnswer | None
    next_line: NextLine | None
    neighbours: Mapping[int, float]
    closing: ClosingTold | None
    seats: SeatsTold | None
    out: Path
    files: Mapping[str, str]

    def as_json(self) -> dict[str, Any]:
        """Return the answers as a table of plain values: those asked for in their order, then the ways to close."""
        closing = self.closing.answers if self.closing else ()
        found = {
            "out": str(self.out),
            "answers": [answer.as_json() for answer in (*self.answers, *closing)],
            "files": dict(self.files),
        }
        return {**found, "seats": self.seats.as_json()} if self.seats else found

    def lines(self) -> list[str]:
        """Return what is said at the end of the run: the table, what to mind, and the line to type."""
        question, lines = self.question, list(self.question.notes)
        lines += textwrap.wrap(f"{title(question)}:", COLUMNS, break_on_hyphens=False)
        if question.stated_gap_mm is None and None in (*question.sizes, *question.counts):
            lines.append(f"Took gaps of {question.wanted_gap_mm:g} mm, since none was asked for.")
        lines += ["", *table_lines(question, self.answers, self.chosen)]
        if self.turned:
            other = turned_round(question)
            lines += ["", *textwrap.wrap(f"{title(other)}:", COLUMNS), "", *table_lines(other, self.turned, None)]
        lines += ["", *legend_lines(question, (*self.answers, *self.turned))]
        for line in warning_lines(question, self.answers, self.chosen):
            lines += textwrap.wrap(line, COLUMNS, subsequent_indent="  ", break_on_hyphens=False)
        if self.closing is not None:
            lines += ["", *(part for line in self.closing.lines() for part in _broken(line))]
        if self.seats is not None:
            lines += ["", *self.seats.lines()]
        lines += ["", *self._next_lines(), "", f"Limits of {question.preset.name}. Files in {self.out}:"]
        lines += [f"  {name}" for name in self.files.values()]
        return [line for k, line in enumerate(lines) if line or lines[k - 1]]

    def _next_lines(self) -> Iterator[str]:
        """Yield the sentence of the chosen answer and the line that makes it."""
        if self.chosen is None or self.next_line is None:
            return
        yield from textwrap.wrap(closing_sentence(self.question, self.chosen, self.neighbours), COLUMNS)
        if self.next_line.command is None:
            yield from textwrap.wrap(f"It cannot be cut so: {self.next_line.fault}", COLUMNS, break_on_hyphens=False)
            return
        stand_in = self.next_line.stand_in
        yield f"Make it, for example with the motif {stand_in}:" if stand_in else "Make it:"
        yield f"    {self.next_line.command}"


def _broken(line: str) -> list[str]:
    """Return a line in parts that a terminal takes, what follows set in below its beginning."""
    indent = line[: len(line) - len(line.lstrip())]
    return textwrap.wrap(
        line, COLUMNS, subsequent_indent=f"{indent}    ", break_on_hyphens=False, drop_whitespace=True
    ) or [line]


def fit(order: FitOrder) -> FitResult:
    """Return what was answered, after the chart was written.

    Raises InputError for what cannot be understood, GeometryError, with numbers and what would work, when nothing that
    was asked can be made, FileError when the folder refuses.
    """
    formats = _formats(order)
    question = read_question(order)
    if question.is_compared:
        # The line to type makes the row as drawn.
        order = replace(order, options={**order.options, "seat": None})
    check_asks_for_rest(question)
    answers = answer_all(question)
    chosen, next_line = _chosen(question, order, answers)
    neighbours = _neighbours(question, chosen)
    closing = closing_for(question, order.motifs)
    seats = _seats(question, chosen)
    turned = whole_degree_answers(question, answers)
    svg = fit_picture(question, answers, turned, chosen)
    files = _write(order, _stem(question), svg, formats)
    return FitResult(
        question, answers, turned, chosen, next_line, neighbours, closing, seats, order.out.resolve(), files
    )


def _formats(order: FitOrder) -> tuple[str, ...]:
    """Return the kinds of picture wanted."""
    given = order.options.get("formats")
    if given is None:
        return _FORMATS
    try:
        kinds = as_formats(given)
    except InputError:
        kinds = ()
    if not kinds or not set(kinds) <= set(_FORMATS):
        say = "a chart is drawn as svg or png. Write --formats svg, --formats png or svg,png."
        raise InputError(say, where=f'fit, --formats "{given}"', code="choice")
    return kinds


def _chosen(
    question: FitQuestion, order: FitOrder, answers: tuple[FitAnswer, ...]
) -> tuple[FitAnswer | None, NextLine | None]:
    """Return the answer nearest to what was asked of those that can be made, with the line that makes it."""
    ranked = sorted(
        (k for k, answer in enumerate(answers) if not answer.is_refused), key=lambda k: _rank(question, answers[k])
    )
    first: tuple[FitAnswer | None, NextLine | None] = (None, None)
    for k in ranked[:_TRIED]:
        line = make_line(question, order, answers[k], question.typed[k // len(question.counts)])
        if line.command is not None:
            return answers[k], line
        first = first if first[0] else (answers[k], line)
    return first


def _rank(question: FitQuestion, answer: FitAnswer) -> tuple[bool, bool, float, bool]:
    """Return what answers are sorted by: without warnings, with a gap as wide as asked for, nearest to it."""
    warned = any(remark.words for remark in answer.remarks)
    gap = asked_gap_mm(question, answer)
    surplus = math.inf if gap is None else round(abs(gap - question.wanted_gap_mm), 6)
    return warned, not within(question, gap), surplus, not answer.divides_turn


def _neighbours(question: FitQuestion, chosen: FitAnswer | None) -> Mapping[int, float]:
    """Return the gaps that the counts next to the chosen one leave on its size, where that was stated."""
    if chosen is None or chosen.size is None or chosen.count is None or chosen.scale is None:
        return {}
    is_found = chosen.size not in question.sizes or "find" in (question.row.scale, question.row.foot_mm)
    if is_found or chosen.count > _MOST_COMPARED:
        return {}
    model, size, scale = model_for(question, None), chosen.size, chosen.scale
    if not question.is_bare:
        # The sentence tells gaps between outlines, whichever gap was asked for.
        model = replace(model, row=replace(model.row, foot_gap_mm=None))
    counts = [chosen.count - model.unit, chosen.count + model.unit]
    gaps = {count: model.clearance_mm(size, count, scale) for count in counts if count > 1}
    return {count: gap for count, gap in gaps.items() if math.isfinite(gap)}


def _seats(question: FitQuestion, chosen: FitAnswer | None) -> SeatsTold | None:
    """Return the chosen answer as drawn and bent, where both were asked for."""
    if not question.is_compared or chosen is None:
        return None
    if chosen.size is None or chosen.count is None or chosen.scale is None:
        return None
    fit = Fit(chosen.size, chosen.count, chosen.scale)
    return seats_told(model_for(question, None), fit, is_bare=question.is_bare)


def _stem(question: FitQuestion) -> str:
    """Return the name of the picture without its ending: "fit-arch", "fit-foot-20mm", "fit-bean-leaf-arch"."""
    names = [ornament.motif.name for ornament in question.row.pattern]
    if question.is_bare and question.row.foot_mm != "find":
        return f"fit-foot-{question.row.pattern[0].motif.foot_mm:.4g}mm"
    stem = "-".join(("fit", *dict.fromkeys(map(file_word, names))))
    return stem if len(stem.encode()) <= _MOST_NAME else f"fit-pattern-of-{len(names)}"


def _write(order: FitOrder, stem: str, svg: str, formats: tuple[str, ...]) -> Mapping[str, str]:
    """Put the chart into the folder in the formats asked for; return its names by kind."""
    data = {
        "svg": lambda: marked_svg(svg),
        "png": lambda: to_png(svg, px_per_mm=CSS_PX_PER_MM * _SHARPNESS),
    }
    files = tuple(OutFile(f"{stem}.{kind}", data[kind]()) for kind in formats)
    folder = OutFolder.open(order.out, force=order.replaces_foreign)
    folder.finish([folder.put(PieceFiles(stem, files))], {"frameforge": __version__})
    return {kind: file.name for kind, file in zip(formats, files, strict=True)}
