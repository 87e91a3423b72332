"""The chart of ``fit`` as a picture: what stands in which cell, and the motif beside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from frameforge.frame.ornament import Ready
from frameforge.geometry.affine import Affine
from frameforge.geometry.region import Region
from frameforge.job.fit_answer import FitAnswer
from frameforge.job.fit_question import FitQuestion
from frameforge.job.fit_solve import turned_round
from frameforge.job.fit_table import is_grid
from frameforge.job.fit_words import gap_text, miss_text, size_inches, size_mm, title, turn_text, warning_lines
from frameforge.motif.describe import card_of
from frameforge.picture.fit_chart import ChartCell, ChartRow, ChartTable, FitChart, fit_chart
from frameforge.units import format_both

__all__ = ["fit_picture"]

_APART_MM: Final = 4.0
_HARD: Final = "hard-to-hold"


def fit_picture(
    question: FitQuestion, answers: Sequence[FitAnswer], turned: Sequence[FitAnswer], chosen: FitAnswer | None
) -> str:
    """Return the chart as SVG text; ``turned`` are answers the other way round, in a table of their own."""
    scale = next((answer.scale for answer in (chosen, *answers) if answer and answer.scale), 1.0)
    readies = question.model.readies(question.model.unit, scale)
    tables = [(_grid if is_grid(question) else _rows)(question, answers, chosen)]
    if turned:
        other = turned_round(question)
        tables.append(replace(_rows(other, turned, None), title=title(other)))
    return fit_chart(
        FitChart(
            title=title(question),
            lines=(*_motif_lines(question, readies), f"Limits of {question.preset.name}."),
            tables=tuple(tables),
            legend=tuple(_legend(question, answers, chosen)),
            motif=_side_by_side(readies),
            foot_mm=readies[0].foot_mm if len(readies) == 1 else None,
        )
    )


def _motif_lines(question: FitQuestion, readies: Sequence[Ready]) -> tuple[str, ...]:
    """Return what the motifs are, "arch, foot 16 mm (0.63 in)"; a bare foot stands in the title unless it was found."""
    if question.is_bare:
        return (f"foot {format_both(readies[0].foot_mm)}",) if question.row.foot_mm == "find" else ()
    told = dict.fromkeys(f"{ready.motif.name}, foot {format_both(ready.foot_mm)}" for ready in readies)
    return ("; ".join(told),)


def _side_by_side(readies: Sequence[Ready]) -> tuple[Region, ...]:
    """Return the card of one whole pattern, its motifs next to each other on one foot line."""
    placed: list[Region] = []
    right = 0.0
    for k, ready in enumerate(readies):
        move = Affine.from_move(0 if k == 0 else right - ready.box.left + _APART_MM)
        placed += [region.transformed(move) for region in card_of(ready.motif)]
        right = ready.box.right if k == 0 else right - ready.box.left + _APART_MM + ready.box.right
    return tuple(placed)


def _rows(question: FitQuestion, answers: Sequence[FitAnswer], chosen: FitAnswer | None) -> ChartTable:
    """Return one row for each answer: size, count, gaps."""
    is_found = None in question.sizes
    has_foot = any(gap_text(answer.foot_gap_mm) != gap_text(answer.gap_mm) for answer in answers)
    has_most = any(gap_text(answer.gap_max_mm) != gap_text(answer.gap_mm) for answer in answers)
    has_miss = any(answer.protractor_mm for answer in answers)
    is_scaled = "find" in (question.row.scale, question.row.foot_mm)
    sizes, counts = ("closes on", "count") if is_found else ("size", "go round")
    names = [*((counts, sizes) if is_found else (sizes, counts)), "gap mm"]
    names += [name for name, told in (("up to", has_most), ("foot gap", has_foot), ("scale", is_scaled)) if told]
    names += ["1 deg off"] if has_miss else []
    rows = []
    for answer in answers:
        size = ChartCell(
            f"{size_mm(answer.size, is_found=is_found)} mm" if answer.size else "-",
            f"{size_inches(answer.size)} in" if answer.size else "",
            is_chosen=is_found and answer is chosen,
            is_bold=True,
        )
        count = _count(answer, is_chosen=not is_found and answer is chosen)
        cells = [count, size] if is_found else [size, count]
        cells.append(ChartCell(gap_text(answer.gap_mm)))
        cells += [ChartCell(gap_text(answer.gap_max_mm))] if has_most else []
        cells += [ChartCell(gap_text(answer.foot_gap_mm))] if has_foot else []
        cells += [ChartCell(f"{answer.scale:.4f}" if answer.scale else "-")] if is_scaled else []
        cells += [ChartCell(miss_text(answer))] if has_miss else []
        rows.append(ChartRow(tuple(cells), answer.words, is_hatched=_is_hard(answer)))
    return ChartTable(tuple(ChartCell(name) for name in names), tuple(rows))


def _count(answer: FitAnswer, *, is_chosen: bool) -> ChartCell:
    """Return the cell of a count; one that divides 360 shows its degrees small."""
    words = "-" if answer.count is None else str(answer.count)
    small = f"{turn_text(answer)} deg" if answer.divides_turn and answer.turn_deg is not None else ""
    return ChartCell(words, small, is_chosen=is_chosen, is_bold=True)


def _is_hard(answer: FitAnswer) -> bool:
    return any(remark.code == _HARD for remark in answer.remarks)


def _grid(question: FitQuestion, answers: Sequence[FitAnswer], chosen: FitAnswer | None) -> ChartTable:
    """Return a row for each size and a column for each count, gaps in the cells."""
    total = len(question.counts)
    headings = [ChartCell("gap mm")]
    for count in question.counts:
        small = f"{360 // count} deg" if count and 360 % count == 0 else ""
        headings.append(ChartCell(str(count), small, is_bold=True))
    rows = []
    for first in range(0, len(answers), total):
        across = answers[first : first + total]
        size = across[0].size
        cells = [ChartCell(f"{size_mm(size)} mm", f"{size_inches(size)} in", is_bold=True)]
        for answer in across:
            words = answer.words if answer.is_refused else gap_text(answer.gap_mm)
            cells.append(ChartCell(words, is_chosen=answer is chosen))
        rows.append(ChartRow(tuple(cells), is_hatched=any(map(_is_hard, across))))
    return ChartTable(tuple(headings), tuple(rows))


def _legend(question: FitQuestion, answers: Sequence[FitAnswer], chosen: FitAnswer | None) -> list[str]:
    """Return the lines below the table."""
    lines = []
    if any(answer.divides_turn and answer.turn_deg is not None for answer in answers):
        lines.append("Counts that divide 360 show the degrees from one spoke to the next.")
    if any(answer.protractor_mm for answer in answers) and not is_grid(question):
        lines.append("1 deg off: how far a spoke lands off, in mm, when a protractor of whole degrees sets it.")
    if any(map(_is_hard, answers)):
        lines.append("Hatched: hard to hold.")
    told = warning_lines(question, answers, chosen)
    return [*lines, *(line for line in told if not line.startswith(f"warning, {_HARD}"))]
