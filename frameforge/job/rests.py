"""The rests of a piece decided before it is made: the size that closes, the motif that fills best."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from functools import partial
from itertools import islice
from typing import TYPE_CHECKING, Final

from frameforge.card.preset import Preset
from frameforge.errors import FrameforgeError, GeometryError, InputError
from frameforge.finding import Finding
from frameforge.frame.between_asked import NOT_OF_MOTIF, check_between
from frameforge.frame.fit import fit_row, wanted_gap_mm
from frameforge.frame.make import can_make, with_ways_out
from frameforge.frame.model import RowModel
from frameforge.frame.offers import gap_kind
from frameforge.frame.rest_size import settle_sizes
from frameforge.frame.row_edge import is_on_opening
from frameforge.frame.spec import PieceSpec, Size
from frameforge.frame.wording import plural, size_words
from frameforge.motif.motif import Motif
from frameforge.units import format_floor

if TYPE_CHECKING:
    from frameforge.frame.chain import Chain
    from frameforge.frame.filler import Filler

__all__ = ["filler_words", "settle_rests"]

_TOLD: Final = 3
"""Fillers told of: the one taken and the next two."""

Motifs = Callable[[int], Iterable[Motif]]
"""Gives the motifs that may fill the rest of a row (from 0)."""


def settle_rests(spec: PieceSpec, preset: Preset, motifs: Motifs) -> tuple[PieceSpec, tuple[Finding, ...]]:
    """Return the order with its size settled where a rest changes it, every filler named, and notes of what was taken.

    Raises InputError and GeometryError, with ways out of it, for rests that cannot be.
    """
    if all(row.rest in (None, "spread") for row in spec.rows):
        return spec, ()
    _check_edges(spec, preset)
    try:
        return _settled(spec, preset, motifs)
    except GeometryError as fault:
        raise with_ways_out(fault, spec, spec, preset) from fault


def _check_edges(spec: PieceSpec, preset: Preset) -> None:
    """Refuse an edge between that goes with no motif there, before rests that take long are settled for nothing."""
    for row in spec.rows:
        try:
            check_between(RowModel(spec, row, preset))
        except InputError as fault:
            if fault.code != NOT_OF_MOTIF:
                raise
            from frameforge.frame.between_ways import with_between_ways  # here, as all that only a refusal needs

            raise with_between_ways(fault, spec, preset, lambda tried: can_make(tried, preset)) from fault


def _settled(spec: PieceSpec, preset: Preset, motifs: Motifs) -> tuple[PieceSpec, tuple[Finding, ...]]:
    asked = spec
    spec, notes = settle_sizes(spec, preset)
    found = list(notes)
    for place, row in enumerate(spec.rows):
        if row.rest == "filler" and row.filler is None:
            filler, note = _best(RowModel(spec, row, preset), _base(spec, preset), partial(motifs, place))
            chosen = replace(row, filler=filler.drawn if filler else None)
            spec, asked = spec.with_row(place, chosen), asked.with_row(place, chosen)
            found += note
    return replace(spec, unsettled=asked), tuple(found)


def filler_words(filler: Filler) -> str:
    """Return a filler as it is spoken of: "scallop at scale 0.85"."""
    return f"{plural(filler.drawn.name, 1)} at scale {filler.scale:.2f}"


def _base(spec: PieceSpec, preset: Preset) -> Size:
    """Return the size of the base, found by the first row where it is open."""
    if isinstance(spec.size, Size):
        return spec.size
    return fit_row(RowModel(spec, spec.rows[0], preset), None).size


def _best(model: RowModel, size: Size, motifs: Callable[[], Iterable[Motif]]) -> tuple[Filler | None, list[Finding]]:
    """Return the filler nearest in height that holds, with a note on it; None where there is nothing to fill."""
    from frameforge.frame.chain import chain_of  # here, since few rows leave a rest to fill
    from frameforge.frame.filler import closes_evenly, ranked
    from frameforge.job.fillers import fault_of

    fit = fit_row(model, size)
    chain = chain_of(model, size, fit.count, fit.scale, wanted_gap_mm(model))
    if closes_evenly(chain):
        return None, []
    holding = (filler for filler in ranked(model, chain, motifs()) if fault_of(model, chain, filler) is None)
    told = list(islice(holding, _TOLD))
    if not told:
        raise _none_holds(model, size, chain, fit.scale)
    best, *others = map(filler_words, told)
    say = f"took {best} to fill the {format_floor(chain.seam_gap_mm)} at the seam"
    say += f"; {' and '.join(others)} would do too." if others else "."
    return told[0], [Finding("took", "note", say, piece=model.spec.name)]


def _none_holds(model: RowModel, size: Size, chain: Chain, scale: float) -> GeometryError:
    """Return the refusal where no motif fills the rest, with what the other ways come to."""
    say = (
        f"no motif goes into the {format_floor(chain.seam_gap_mm)} at the seam with {gap_kind(model)}s of "
        f"{chain.gap_mm:g} mm and keeps its details as wide as this card needs. Take --rest spread"
    )
    spread = model.clearance_mm(size, chain.count, scale)
    say += f" ({chain.count} with {gap_kind(model)}s of {format_floor(spread)}){_other_size(model, size)}."
    return GeometryError(say, where=model.spec.name, code="no-filler", seam_gap_mm=chain.seam_gap_mm)


def _other_size(model: RowModel, size: Size) -> str:
    """Return what another size comes to, as words to go on with; empty where none closes."""
    row = replace(model.row, rest="size", filler=None, seam_deg=None)
    try:
        settled, _ = settle_sizes(replace(model.spec, size=size, rows=(row,)), model.preset)
    except FrameforgeError:
        return ""
    edge = settled.opening if settled.opening is not None and is_on_opening(model) else settled.size
    if not isinstance(edge, Size):
        return ""
    return f" or --rest size ({settled.rows[0].count} on {size_words(edge).removesuffix('mm')} mm)"
