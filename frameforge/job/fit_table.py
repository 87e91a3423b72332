"""The chart of ``fit`` in the terminal: a plain table of at most 80 columns, readable without colour."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

from frameforge.job.fit_answer import FitAnswer
from frameforge.job.fit_question import FitQuestion
from frameforge.job.fit_words import gap_text, miss_text, size_inches, size_mm, turn_text

__all__ = ["COLUMNS", "is_grid", "legend_lines", "table_lines"]

COLUMNS: Final = 80
"""Width of a terminal that nobody changed."""

_CHOSEN: Final = ">"
_WHOLE: Final = "*"
_GRID_COLUMNS: Final = 6
_GRID_WIDTH: Final = 9

Column = tuple[str, Callable[[FitAnswer], str]]


def is_grid(question: FitQuestion) -> bool:
    """Whether several sizes meet several counts."""
    return len(question.sizes) > 1 and len(question.counts) > 1


def table_lines(question: FitQuestion, answers: Sequence[FitAnswer], chosen: FitAnswer | None) -> list[str]:
    """Return the lines of the table, the chosen answer marked at the left."""
    if is_grid(question):
        return _grid_lines(question, answers, chosen)
    columns = _columns(question, answers)
    rows = [[name for name, _ in columns], *([cell(answer) for _, cell in columns] for answer in answers)]
    widths = [max(len(row[k]) for row in rows) for k in range(len(columns))]
    lines = ["  ".join(word.rjust(width) for word, width in zip(row, widths, strict=True)) for row in rows]
    marked = [f"  {lines[0]}"]
    for answer, line in zip(answers, lines[1:], strict=True):
        mark = _CHOSEN if answer is chosen else " "
        marked.append(f"{mark} {line}  {answer.words}".rstrip())
    return marked


def _columns(question: FitQuestion, answers: Sequence[FitAnswer]) -> list[Column]:
    """Return the columns that have something to tell, each with its heading."""
    is_found = None in question.sizes
    size: list[Column] = [
        ("size mm", lambda answer: size_mm(answer.size, is_found=is_found)),
        ("in", lambda answer: size_inches(answer.size)),
    ]
    count: list[Column] = [("count", lambda answer: "-" if answer.count is None else str(answer.count))]
    columns = count + size if is_found else size + count
    columns.append(("gap mm", lambda answer: gap_text(answer.gap_mm)))
    if any(gap_text(answer.gap_max_mm) != gap_text(answer.gap_mm) for answer in answers):
        columns.append(("up to", lambda answer: gap_text(answer.gap_max_mm)))
    if any(gap_text(answer.foot_gap_mm) != gap_text(answer.gap_mm) for answer in answers):
        columns.append(("foot gap", lambda answer: gap_text(answer.foot_gap_mm)))
    if any(answer.turn_deg is not None for answer in answers):
        columns.append(("turn deg", _turn))
    if any(answer.protractor_mm for answer in answers):
        columns.append(("off mm", miss_text))
    if "find" in (question.row.scale, question.row.foot_mm):
        columns.append(("foot mm", lambda answer: _foot(question, answer)) if question.is_bare else _SCALE)
    return columns


def _turn(answer: FitAnswer) -> str:
    """Return the turn with a star for whole degrees; the others leave its place free."""
    if answer.turn_deg is None:
        return f"{turn_text(answer)} "
    return f"{turn_text(answer)}{_WHOLE if answer.divides_turn else ' '}"


def _scale(answer: FitAnswer) -> str:
    return "-" if answer.scale is None else f"{answer.scale:.4f}"


_SCALE: Final[Column] = ("scale", _scale)


def _foot(question: FitQuestion, answer: FitAnswer) -> str:
    foot = question.row.pattern[0].motif.foot_mm
    return "-" if answer.scale is None else gap_text(foot * answer.scale)


def legend_lines(question: FitQuestion, answers: Sequence[FitAnswer]) -> list[str]:
    """Return what the signs mean that stand in the tables of some answers."""
    if is_grid(question):
        return [f"  Gaps in mm. Counts with a star divide 360. {_CHOSEN} is nearest to the gap wished for."]
    lines = [f"  {_CHOSEN} is nearest to the gap wished for."] if len(answers) > 1 else []
    if any(answer.turn_deg is not None for answer in answers):
        lines.append("  turn: from one spoke to the next; * in whole degrees.")
    if any(answer.protractor_mm for answer in answers):
        lines.append("  off: how far a spoke lands off when a protractor of whole degrees sets it.")
    return lines


def _grid_lines(question: FitQuestion, answers: Sequence[FitAnswer], chosen: FitAnswer | None) -> list[str]:
    """Return sizes down and counts across, the gap in every cell; wide ones in several blocks."""
    lines: list[str] = []
    across, total = question.counts, len(question.counts)
    names = [f"{size_mm(size)}" for size in question.sizes]
    inches = [size_inches(size) for size in question.sizes]
    wide, narrow = max(map(len, [*names, "size mm"])), max(map(len, [*inches, "in"]))
    for first in range(0, total, _GRID_COLUMNS):
        shown = range(first, min(first + _GRID_COLUMNS, total))
        lines.append(f"  {'size mm':>{wide}}  {'in':>{narrow}}" + "".join(_heading(across[k]) for k in shown))
        for row, (name, inch) in enumerate(zip(names, inches, strict=True)):
            cells = [_cell(answers[row * total + k], chosen) for k in shown]
            lines.append(f"  {name:>{wide}}  {inch:>{narrow}}{''.join(cells)}".rstrip())
        lines.append("")
    return lines[:-1]


def _heading(count: int | None) -> str:
    star = _WHOLE if count and 360 % count == 0 else " "
    return f"{count}{star}".rjust(_GRID_WIDTH + 1)


def _cell(answer: FitAnswer, chosen: FitAnswer | None) -> str:
    """Return the gap of a cell, marked where it is chosen; a refused one in a word."""
    if answer.is_refused:
        return answer.words.rjust(_GRID_WIDTH) + " "
    mark = _CHOSEN if answer is chosen else ""
    return f"{mark}{gap_text(answer.gap_mm)}".rjust(_GRID_WIDTH) + " "
