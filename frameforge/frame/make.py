"""One piece made: settled, laid out, united, and held together."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Final

from frameforge.card.preset import Preset
from frameforge.errors import FrameforgeError, GeometryError, InputError
from frameforge.finding import Finding
from frameforge.frame.assembly import Assembly, assemble
from frameforge.frame.besides import besides
from frameforge.frame.between_asked import NOT_OF_MOTIF
from frameforge.frame.encounters import encounters
from frameforge.frame.goes_in import goes_in, refuse_too_big, settle_goes_in
from frameforge.frame.going_with import goes_with
from frameforge.frame.piece import HolePlace, Piece
from frameforge.frame.rest_size import settle_sizes
from frameforge.frame.spec import PieceSpec, Spread
from frameforge.frame.too_large import is_too_large, refuse_too_large
from frameforge.frame.trying import trying
from frameforge.frame.ways import LAST_PAIRS, RefusedError, Way, sentence_of
from frameforge.geometry.measure import area_mm2, centroid
from frameforge.geometry.region import Region

__all__ = ["Finish", "can_make", "make_piece", "with_ways_out"]


_OF_FITS: Final = (
    "folds", "inset", "no-chain", "no-equal-chord", "no-equal-gap", "no-filler", "no-rest", "no-seat", "no-size",
    "too-many",
)  # fmt: skip
"""Refusals of rows that a smaller motif or another size may put right."""

Finish = Callable[[tuple[Region, ...]], tuple[Region, ...]]
"""Gives the card as it shall be for the card as it was put together."""


def make_piece(spec: PieceSpec, preset: Preset, finish: Finish | None = None) -> Piece:
    """Return the piece that the order asks for: one region of true curves, its rows measured, its findings.

    ``finish`` is asked for the final card, before it is looked at: its parts, its size, what meets in it.
    Raises InputError for an order that contradicts itself, GeometryError, with numbers and what would work, for one
    that cannot be cut: motifs that overlap, a foot without a seat, an opening without a rim, loose parts.
    """
    asked = spec.unsettled or spec
    try:
        spec, notes = settle_sizes(settle_goes_in(spec, preset), preset)
        made = assemble(spec, preset)
    except InputError as fault:
        if fault.code != NOT_OF_MOTIF:
            raise
        from frameforge.frame.between_ways import with_between_ways  # here, as all that only a refusal needs

        raise with_between_ways(fault, asked, preset, lambda tried: _can_make(tried, preset)) from fault
    except GeometryError as fault:
        raise with_ways_out(fault, asked, spec, preset) from fault
    known = spec, made
    if finish is not None:
        made = replace(made, combined=replace(made.combined, regions=finish(made.combined.regions)))
    words = _words_off(spec, preset, made)
    region = _one_part(spec, made, preset, known)
    refuse_too_large(asked, preset, made.size, region, lambda tried: _can_make(tried, preset))
    told = (finding for row in made.rows for finding in row.findings)
    findings = (*notes, *told, *words, *encounters(spec, preset, made, region))
    fits = refuse_too_big(asked, preset, made.size, region, lambda tried: _can_make(tried, preset))
    rows = tuple(row.result for row in made.rows)
    goes = (fits,) if fits else ()
    letters = made.letters
    notes_of = (*goes, *(letters.notes if letters else ()))
    marks = letters.marks if letters else ()
    return Piece(
        spec.name, made.size, region, rows, findings, notes_of,
        made.tent, _hole_places(spec, made), made.flange, made.slots, marks, made.combined.report.inexact,
        tuple(model.row.pattern for model in made.models),
    )  # fmt: skip


def with_ways_out(fault: GeometryError, asked: PieceSpec, spec: PieceSpec, preset: Preset) -> FrameforgeError:
    """Return a refusal with ways out by which the piece as ``asked`` can be made; ``spec`` is its order so far.

    Where none will do and the motifs are of several parts, the ways are tried with those tied. Where the order
    contradicts itself, whatever else is changed, that InputError is returned.
    """
    told = _with_ways(fault, asked, spec, preset)
    if "--" in told.say or isinstance(told, InputError) or not _may_fall_apart(asked):
        return told
    tied = replace(asked, rows=tuple(replace(row, loose="tie") for row in asked.rows))
    with besides("--loose tie"):
        tied_told = _with_ways(fault, tied, spec, preset)
    return tied_told if "--" in tied_told.say else told


def _may_fall_apart(spec: PieceSpec) -> bool:
    """Whether the motifs of an only row are of several parts, of which nothing is said."""
    if len(spec.rows) != 1 or spec.rows[0].loose != "keep" or spec.rows[0].place == "window":
        return False
    from frameforge.motif.parts import parts_of  # here, as all that only a refusal needs

    return any(len(parts_of(one.motif)) > 1 for one in spec.rows[0].pattern)


def _with_ways(fault: GeometryError, asked: PieceSpec, spec: PieceSpec, preset: Preset) -> FrameforgeError:
    """Return a refusal with ways out by which the piece as ``asked`` can be made, each tried."""
    from frameforge.frame.fold_ways import with_ways  # here, as all that only a refusal needs
    from frameforge.frame.last_ways import last_ways

    contradictions: list[InputError] = []

    def can_make(tried: PieceSpec) -> bool:
        return _can_make(tried, preset, contradictions)

    if isinstance(fault, RefusedError):
        told = fault.tried(asked, can_make, lambda: last_ways(asked, preset, can_make))
        # Whatever else is changed, an order that contradicts itself cannot be made: that comes first.
        return told if "--" in told.say or not contradictions else contradictions[0]
    if fault.code == "folds":
        with trying(LAST_PAIRS):
            fault = with_ways(fault, spec, can_make)
    if fault.code == "no-equal-gap":
        numbers = fault.numbers
        fault = RefusedError(fault.say, _other_spreads(asked), where=fault.where, code=fault.code, **numbers)
        fault = fault.tried(asked, can_make)
    if fault.code not in _OF_FITS or "--" in fault.say:
        return fault
    with trying(LAST_PAIRS):
        ways = last_ways(asked, preset, can_make)
    return GeometryError(_said_with(fault.say, ways), where=fault.where, code=fault.code, **fault.numbers)


def _other_spreads(spec: PieceSpec) -> list[Way]:
    """Return the other ways to spread the rows that stand by equal gaps; they ask for none."""
    kept = [k for k, row in enumerate(spec.rows) if row.spread in (None, "equal-gap")]
    spreads: tuple[Spread, ...] = ("equal-arc", "equal-chord")
    of_row = {k: f" in row {k + 1}" if len(spec.rows) > 1 else "" for k in kept}
    return [Way(f"--spread {one}{of_row[k]}", row={"spread": one}, index=k) for k in kept for one in spreads]


def _said_with(say: str, ways: list[str]) -> str:
    """Return a refusal with ways that were tried: as an example of what it says to do, or as what to do."""
    if ". " in say or "; take" in say:
        return f"{say} For example {' or '.join(ways)}." if ways else say
    return say + (sentence_of(ways) or " Take a larger size, or a smaller motif.")


def _hole_places(spec: PieceSpec, made: Assembly) -> tuple[HolePlace, ...]:
    """Return where the round holes came to lie."""
    middles = (centroid(hole) for hole in made.holes)
    return tuple(
        HolePlace(middle, hole.diameter_mm, hole.at_deg) for hole, middle in zip(spec.holes, middles, strict=True)
    )


def _can_make(spec: PieceSpec, preset: Preset, contradictions: list[InputError] | None = None) -> bool:
    """Whether an order comes to a piece in one part that goes into what it is meant for.

    What contradicts itself in it is kept in ``contradictions``.
    """
    try:
        settled, _ = settle_sizes(settle_goes_in(spec, preset), preset)
        made = assemble(settled, preset, is_trial=True)
        _check_words(made)
        regions = made.combined.regions
        if len(regions) != 1 or is_too_large(regions[0]) or not goes_in(spec, made.size, regions[0]):
            return False
        return goes_with(settled, lambda: _bare(settled, made))
    except InputError as fault:
        if contradictions is not None:
            contradictions.append(fault)
        return False
    except FrameforgeError:
        return False


def can_make(spec: PieceSpec, preset: Preset) -> bool:
    """Return whether an order comes to a piece in one part that goes into what it is meant for, with all of its set."""
    return _can_make(spec, preset)


def _bare(spec: PieceSpec, made: Assembly) -> Piece:
    """Return a piece of which only its card and its round holes are known."""
    return Piece(spec.name, made.size, made.combined.regions[0], holes=_hole_places(spec, made))


def _words_off(spec: PieceSpec, preset: Preset, made: Assembly) -> tuple[Finding, ...]:
    """Return what of words to be marked lies where there is no card; refuse other words that do."""
    if made.letters is None:
        return ()
    from frameforge.frame.words_apart import words_off  # here, since few pieces carry words

    return words_off(spec, preset, made)


def _check_words(made: Assembly) -> None:
    """Refuse words that lie where they do not hold, as they are refused, and no way out is looked for."""
    if made.letters is not None:
        from frameforge.frame.words_apart import check_words  # here, as above

        check_words(made, are_marks_told=False)


def _one_part(spec: PieceSpec, made: Assembly, preset: Preset, known: tuple[PieceSpec, Assembly]) -> Region:
    """Return the only region; refuse a piece of none or several. ``known`` is the piece before it was finished."""
    regions = sorted(made.combined.regions, key=area_mm2, reverse=True)
    if not regions:
        raise GeometryError("nothing is left of the card. Make the opening or the windows smaller.", where=spec.name)
    if len(regions) == 1:
        return regions[0]
    from frameforge.frame.loose import falls_apart

    def parts(tried: PieceSpec) -> int:
        # What hangs together by a point is no way out: it would be refused next.
        combined = assemble(tried, preset, known=known).combined
        return len(combined.regions) + len(combined.report.touches)

    raise falls_apart(spec, regions, [row.result for row in made.rows], parts)
