"""Numbers and sentences of ``fit`` as the maker reads them, the same in the terminal and in the picture."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from frameforge.check.hard_to_hold import LEAST_HELD_MM
from frameforge.frame.offers import things
from frameforge.frame.piece import RowResult
from frameforge.frame.spec import Size
from frameforge.frame.wording import plural, up
from frameforge.job.closing import row_line
from frameforge.job.fit_answer import REFUSED, FitAnswer, Remark
from frameforge.job.fit_question import FitQuestion
from frameforge.motif.bare_foot import BARE_FOOT
from frameforge.units import format_both, format_floor, format_inches

__all__ = [
    "closing_sentence",
    "gap_text",
    "miss_text",
    "size_inches",
    "size_mm",
    "subject",
    "title",
    "turn_text",
    "warning_lines",
]

NOTHING = "-"
"""What stands where there is nothing to measure."""

HANDY = Size(LEAST_HELD_MM, LEAST_HELD_MM)


def subject(question: FitQuestion) -> str:
    """Return what goes round: "arches", "feet of 20 mm", "arch, bean leaf in turn"."""
    model = question.model
    if question.is_bare:
        foot = model.row.pattern[0].motif.foot_mm
        return "feet" if model.row.foot_mm == "find" else f"feet of {format_both(foot)}"
    names = [plural(ornament.motif.name, 1) for ornament in model.row.pattern]
    return things(model, 2) if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]} in turn"


def title(question: FitQuestion) -> str:
    """Return the heading of the chart."""
    gaps = "foot gaps" if question.row.foot_gap_mm is not None and not question.is_bare else "gaps"
    wanted = f"{question.wanted_gap_mm:.4g}"
    gap = f"{gaps} of {wanted} mm" if question.wanted_gap_mm else "touching"
    what = subject(question)
    if "find" in (question.row.scale, question.row.foot_mm):
        return f"How large {what} are that fill the edge, {gap}"
    if question.counts == (None,) and None in question.sizes:
        return f"Counts in whole degrees, and the size on which they close, {gap}"
    if None in question.sizes:
        return f"On which size {what} close, {gap}"
    if None not in question.counts:
        return f"Gaps between {what}, by size and count"
    least = f"{gap} or more" if question.wanted_gap_mm else "touching or nearly so"
    return f"How many {what} go round, {least}"


def size_mm(size: Size | None, *, is_found: bool = False) -> str:
    """Return a size in mm to a hundredth, a found one rounded up: "57.15", "150 x 100"."""
    if size is None:
        return NOTHING
    sides = [up(side, 0.01) if is_found else side for side in (size.width_mm, size.height_mm)]
    words = [f"{side:.2f}".rstrip("0").rstrip(".") for side in sides]
    return words[0] if size.is_circle else " x ".join(words)


def size_inches(size: Size | None) -> str:
    """Return a size in inches, without the unit: "2 1/4", "3.94", "5.91 x 3.94"."""
    if size is None:
        return NOTHING
    sides = (size.width_mm,) if size.is_circle else (size.width_mm, size.height_mm)
    return format_inches(*sides).removesuffix(" in")


def gap_text(gap_mm: float | None) -> str:
    """Return a gap cut to a hundredth, without the unit."""
    return NOTHING if gap_mm is None else format_floor(max(gap_mm, 0.0), in_column=True).removesuffix(" mm")


def turn_text(answer: FitAnswer) -> str:
    """Return the degrees from one spoke to the next, without the unit: "24", "27.69"."""
    if answer.turn_deg is None:
        return NOTHING
    return f"{answer.turn_deg:.0f}" if answer.divides_turn else f"{answer.turn_deg:.2f}"


def miss_text(answer: FitAnswer) -> str:
    """Return how far whole degrees put a spoke off, in mm rounded to a hundredth; nothing where they do not."""
    miss = answer.protractor_mm
    return NOTHING if not miss else f"{miss:.2f}"


def warning_lines(question: FitQuestion, answers: Sequence[FitAnswer], chosen: FitAnswer | None) -> list[str]:
    """Return a line for each kind of remark, that of the chosen answer where it has one, else the first."""
    found: dict[tuple[str, str], str] = {}
    for answer in sorted(answers, key=lambda answer: answer is not chosen):
        for remark in answer.remarks:
            kind = (remark.code, remark.words)
            found.setdefault(kind, _warning(answer, remark, is_alone=question.is_single))
    return list(found.values())


def _warning(answer: FitAnswer, remark: Remark, *, is_alone: bool) -> str:
    """Return one remark as a line."""
    if remark.code == "hard-to-hold" and not is_alone:
        return f"warning, hard-to-hold: sizes under {size_mm(HANDY)} mm ({size_inches(HANDY)} in). Lift them with care."
    if remark.code == REFUSED:
        count = "" if answer.count is None else f" with {answer.count}"
        where = f"{size_mm(answer.size)} mm{count}" if answer.size else f"a count of {answer.count}"
        return f"refused, {where}: {remark.say}"
    where = f", on {size_mm(answer.size)} mm" if not is_alone and remark.words else ""
    return f"warning, {remark.code}{where}: {remark.say}"


def closing_sentence(question: FitQuestion, answer: FitAnswer, neighbours: Mapping[int, float]) -> str:
    """Return "17 arches round 100 mm (3.94 in), gap 2.41 mm each. 16 would leave 3.56 mm."."""
    assert answer.size is not None
    assert answer.count is not None
    row, names = question.row, [ornament.motif.name for ornament in question.row.pattern]
    result = RowResult(
        motif_name=BARE_FOOT if question.is_bare else "+".join(names),
        count=answer.count,
        gap_mm=answer.gap_mm,
        foot_gap_mm=answer.foot_gap_mm,
        gap_max_mm=answer.gap_max_mm,
        pitch_deg=answer.turn_deg,
        start_deg=row.start_deg,
        seam_gap_mm=None,
        scale=answer.scale or 1.0,
        seat=row.seat,
        place=row.place,
        spread=row.spread,
    )
    return row_line(result, _edge(question, answer.size), neighbours)


def _edge(question: FitQuestion, size: Size) -> str:
    """Return which edge the row runs along; a found size is rounded up."""
    spec, row = question.model.spec, question.row
    has_opening = spec.opening is not None or spec.rim_mm is not None
    on = row.on or ("opening" if row.place == "in" and has_opening else "base")
    if on == "base":
        return f"round {size_mm(size, is_found=size not in question.sizes)} mm ({size_inches(size)} in)"
    edge = question.model.track(size, 1.0).edge.size
    return f"in an opening of {size_mm(edge)} mm ({size_inches(edge)} in)"
