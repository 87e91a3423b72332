"""A piece put together: its size settled, its rows built, all of it united, in however many parts."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import shapely

from frameforge.card.preset import Preset
from frameforge.errors import InputError
from frameforge.frame.base import Edge
from frameforge.frame.between_asked import check_between
from frameforge.frame.fit import Fit, fit_row
from frameforge.frame.model import RowModel, edges_of
from frameforge.frame.placed import placed_leaves
from frameforge.frame.rim import check_opening
from frameforge.frame.row import BuiltRow, build_row
from frameforge.frame.spec import PieceSpec, Size
from frameforge.frame.trying import spend
from frameforge.frame.unite import unite
from frameforge.frame.weight import drawn_weight
from frameforge.frame.window import check_islands, check_loose
from frameforge.geometry.combine import Combined, difference, evaluate, union
from frameforge.geometry.measure import area_mm2, bounds, centroid
from frameforge.geometry.region import Region

if TYPE_CHECKING:
    from frameforge.frame.flange import Flange
    from frameforge.frame.letters import Lettered
    from frameforge.frame.slots import Slot
    from frameforge.frame.tent import Tent

__all__ = ["Assembly", "assemble"]

_UNITED = 2
"""How many times longer uniting a motif takes than measuring a pair."""

_TANGLED = 1.5
"""How much steeper that rises with what is drawn: long outlines come near to each other in more places."""


@dataclass(frozen=True, slots=True)
class Assembly:
    """What an order came to: its rows in their order, the edges and holes of the card, and the whole united.

    Of a tent card rows, edges and holes are those of one half, and the whole is the blank of both. ``blank`` is the
    card that words are set on, before them and before round holes; of a tent card that of one half.
    """

    size: Size
    models: tuple[RowModel, ...]
    rows: tuple[BuiltRow, ...]
    base: Region
    opening: Region | None
    holes: tuple[Region, ...]
    combined: Combined
    tent: Tent | None = None
    flange: Flange | None = None
    slots: tuple[Slot, ...] = ()
    letters: Lettered | None = None
    blank: tuple[Region, ...] = ()


def assemble(
    spec: PieceSpec, preset: Preset, *, is_trial: bool = False, known: tuple[PieceSpec, Assembly] | None = None
) -> Assembly:
    """Return the piece put together, its rows without findings where it is only tried whether it can be made.

    Loose parts of motifs are tied or left out as its rows say. ``known`` is what another order came to: this one begins
    with that where it says nothing else but what becomes of loose parts. Raises InputError and GeometryError for what
    cannot be made as asked.
    """
    is_plain = all(row.loose == "keep" for row in spec.rows)
    if is_plain or known is None or known[0] != _as_drawn(spec):
        made = _assembled(spec, preset, is_trial=is_trial)
    else:
        made = known[1]
    if is_plain:
        return made
    from frameforge.frame.loose_parts import loose_parts, settled  # here, since few rows have loose parts

    while len(made.combined.regions) > 1:
        loose = loose_parts(spec.rows, made.models, made.rows, made.combined.regions)
        changed = settled(spec, loose, preset.least_neck_mm)
        if changed is None:
            break
        spec = changed
        made = _assembled(spec, preset, is_trial=is_trial)
    return made


def _as_drawn(spec: PieceSpec) -> PieceSpec:
    """Return an order that says nothing of loose parts."""
    return replace(spec, rows=tuple(replace(row, loose="keep") for row in spec.rows))


def _assembled(spec: PieceSpec, preset: Preset, *, is_trial: bool) -> Assembly:
    """Return the piece put together with its motifs as they are."""
    models = tuple(RowModel(spec, row, preset) for row in spec.rows)
    for model in models:
        check_islands(model)
        check_between(model)
        check_loose(model)
    size, fits = _settled(spec, models)
    base, opening = edges_of(spec, size)
    check_opening(spec, base, opening, preset)
    rows = tuple(build_row(model, fit, is_trial=is_trial) for model, fit in zip(models, fits, strict=True))
    spend(sum(_united(model, fit, row) for model, fit, row in zip(models, fits, rows, strict=True)))
    tent = _tent(spec, size, preset)
    blocks = tent.blocks(size) if tent else ()
    flange = _flange(spec, base, preset)
    card, middle = flange.card if flange else base.region(), opening.region() if opening else None
    letters = _letters(spec, base, opening, preset)
    parts = [row.parts for row in rows]
    combined = unite(card, middle, parts, blocks)
    slots = _slots(spec, (base, opening), combined, preset)
    if slots:
        blocks = tuple(slot.block for slot in slots)
        combined = unite(card, middle, parts, blocks)
    blank = combined.regions
    if tent is None:
        combined = _with_words(combined, letters, preset)
    holes: tuple[Region, ...] = ()
    if spec.holes:
        holes = _holes(spec, (base, opening), preset, rows, combined, tent)
        pierced = _pierced(combined, holes)
        combined = pierced or _with_words(
            unite(card, middle, parts, (*holes, *blocks)), None if tent else letters, preset
        )
    if tent is not None:
        # Words stand on the half in front alone; on the other they would be read in a mirror.
        combined = _with_words(_both_halves(combined, tent), letters, preset)
    return Assembly(size, models, rows, card, middle, holes, combined, tent, flange, slots, letters, blank)


def _united(model: RowModel, fit: Fit, row: BuiltRow) -> float:
    """Return about what it takes to unite the motifs of a row with the card, in measured pairs."""
    weight = max(drawn_weight(ready.profile, ready.profile) for ready in model.readies(model.unit, fit.scale))
    return float(_UNITED * len(row.result.repeats) * weight**_TANGLED)


def _with_words(combined: Combined, letters: Lettered | None, preset: Preset) -> Combined:
    """Return the card with what its words join on and cut out; what was not exact before stays told."""
    if letters is None or not (letters.adds or letters.pierces):
        return combined
    found = evaluate(difference(union(*combined.regions, *letters.adds), *letters.pierces))
    if letters.adds:
        from frameforge.frame.letter_feet import without_slits  # here, since few words are joined on

        found = without_slits(found, (*combined.regions, *letters.adds, *letters.pierces), preset.least_slot_mm)
    was, now = combined.report, found.report
    both = replace(
        now,
        lost=(*was.lost, *now.lost),
        patched=(*was.patched, *now.patched),
        touches=(*was.touches, *now.touches),
        crossed=(*was.crossed, *now.crossed),
    )
    return replace(found, report=both)


def _letters(spec: PieceSpec, base: Edge, opening: Edge | None, preset: Preset) -> Lettered | None:
    """Return the words of a piece in place, if it has any."""
    if not spec.texts:
        return None
    from frameforge.frame.letters import lettered  # here, since few pieces carry words

    return lettered(spec.texts, base, opening, preset, spec.name)


def _tent(spec: PieceSpec, size: Size, preset: Preset) -> Tent | None:
    """Return where a piece is folded, if it is."""
    if spec.fold is None:
        return None
    from frameforge.frame.tent import tent_of  # here, since few pieces are folded

    return tent_of(spec, size, preset)


def _flange(spec: PieceSpec, base: Edge, preset: Preset) -> Flange | None:
    """Return the base with the teeth of a flange, if it has one."""
    if spec.flange is None:
        return None
    from frameforge.frame.flange import flange_of  # here, since few pieces are lids

    return flange_of(spec.flange, base, preset, where=spec.name)


def _slots(spec: PieceSpec, edges: tuple[Edge, Edge | None], combined: Combined, preset: Preset) -> tuple[Slot, ...]:
    """Return the slots for the feet of a stand, if it has one, in the card as it is without them."""
    if spec.stand is None or not combined.regions:
        return ()
    from frameforge.frame.slots import slots_of  # here, since few pieces stand in feet

    return slots_of(spec.stand, edges, bounds(combined.regions), preset, where=spec.name)


def _both_halves(combined: Combined, tent: Tent) -> Combined:
    """Return the blank of a tent card for its one half."""
    from frameforge.frame.tent import unfolded  # here, as above

    return replace(combined, regions=unfolded(combined.regions, tent.hinge))


def _holes(
    spec: PieceSpec,
    edges: tuple[Edge, Edge | None],
    preset: Preset,
    rows: tuple[BuiltRow, ...],
    combined: Combined,
    tent: Tent | None,
) -> tuple[Region, ...]:
    """Return the round holes, for the card as it is without them."""
    from frameforge.frame.hole import Weight, hole_regions  # here, since most pieces have none

    regions = combined.regions
    weight = Weight(area_mm2(regions), centroid(regions)) if regions else None
    return hole_regions(spec, *edges, preset, _taken(rows), weight=weight, lines=tent.lines if tent else ())


def _pierced(combined: Combined, holes: tuple[Region, ...]) -> Combined | None:
    """Return the card with holes in it, where all of them are whole; None where one meets an edge."""
    from frameforge.frame.hole import set_in  # here, as above

    regions = set_in(combined.regions, holes)
    return None if regions is None else replace(combined, regions=regions)


def _taken(rows: tuple[BuiltRow, ...]) -> list[shapely.Polygon]:
    """Return what rows take of the card: of its edge before motifs are joined on, and windows in it."""
    taken = (part for row in rows for part in (*row.parts.hollow, *row.parts.clears, *row.parts.pierces))
    return [part.shape for part in placed_leaves(taken)]


def _settled(spec: PieceSpec, models: tuple[RowModel, ...]) -> tuple[Size, list[Fit]]:
    """Return the base size, found by the first row where it is open, and every row's fit on it."""
    if isinstance(spec.size, Size):
        return spec.size, [fit_row(model, spec.size) for model in models]
    if not models:
        raise InputError(
            "a size to find needs a row that decides it. Write a size, for example 100mm.", where=spec.name
        )
    first = fit_row(models[0], None)
    settled = replace(spec, size=first.size)
    rest = [fit_row(RowModel(settled, model.row, model.preset), first.size) for model in models[1:]]
    return first.size, [first, *rest]
