"""What rows do to each other and to the edges and holes of a piece, each with a way out that was tried."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from frameforge.card.preset import Preset
from frameforge.errors import FrameforgeError
from frameforge.finding import Finding
from frameforge.frame.assembly import Assembly, assemble
from frameforge.frame.chopped import Chopping, Surroundings, chopped
from frameforge.frame.piece import RowResult
from frameforge.frame.rows_apart import slits_between_rows
from frameforge.frame.spec import PieceSpec, RowSpec
from frameforge.frame.window import cut_of
from frameforge.frame.wording import down
from frameforge.geometry.region import Region

__all__ = ["encounters"]

_SCALES = (0.95, 0.9, 0.85, 0.8, 0.7, 0.6, 0.5)
_INSETS_MM = (0.5, 1.0, 1.5, 2.0, 3.0, 4.0, 6.0, 8.0, 12.0)
_MOST_LEFT_OUT = 3


def encounters(spec: PieceSpec, preset: Preset, made: Assembly, region: Region) -> tuple[Finding, ...]:
    """Return a warning for every motif of which something is chopped, and for every slit between motifs of two rows.

    ``region`` is the finished card. Each warning ends with a way out that was tried: places to be left out, or a
    smaller scale of one row.
    """
    found = [*_found(made, region, preset)]
    known: dict[tuple[int, str], str] = {}
    told = []
    for k, one in found:
        key = (k, one.code)
        if key not in known:
            mine = [other for j, other in found if (j, other.code) == key]
            known[key] = _way_out(spec, preset, made, k, mine)
        told.append(replace(one, say=f"{one.say} {known[key]}", piece=spec.name))
    return tuple(told)


def _found(made: Assembly, region: Region, preset: Preset) -> Iterator[tuple[int, Finding]]:
    """Yield what is chopped, and what slits there are in the finished card, with the number of the row to blame."""
    choppings = [
        Chopping(
            row.result,
            (model.row.on or ("opening" if model.row.place == "in" and made.opening else "base")) == "opening",
            partial(cut_of, model) if model.row.place == "window" else None,
        )
        for model, row in zip(made.models, made.rows, strict=True)
    ]
    around = Surroundings(made.base, made.opening, made.holes, tuple(row.parts for row in made.rows))
    yield from chopped(choppings, around)
    yield from slits_between_rows([row.result for row in made.rows], region, preset.least_slot_mm)


def _way_out(spec: PieceSpec, preset: Preset, made: Assembly, k: int, mine: list[Finding]) -> str:
    """Return what to do about findings of one code in one row: the first way after which there are none."""
    for words, row in _ways(spec.rows[k], made.rows[k].result, mine):
        tried = spec.with_row(k, row)
        try:
            remade = assemble(tried, preset)
        except FrameforgeError:
            continue
        regions = remade.combined.regions
        if len(regions) != 1:
            continue
        if not any(j == k and one.code == mine[0].code for j, one in _found(remade, regions[0], preset)):
            return f"Take {words}{f' in row {k + 1}' if len(spec.rows) > 1 else ''}."
    return "Leave the row out."


def _ways(row: RowSpec, result: RowResult, mine: list[Finding]) -> Iterator[tuple[str, RowSpec]]:
    """Yield ways to change a row, the smallest change first.

    A few places left out where motifs are chopped there; windows moved in or out; the row turned by half a step;
    smaller and smaller motifs; all places concerned left out.
    """
    places = sorted({int(one.where.rsplit(",", 1)[0].rsplit(" ", 1)[1]) for one in mine if one.code == "chopped"})
    left_out = f"--skip {','.join(map(str, places))}", replace(row, skip=(*row.skip, *places))
    can_skip = 0 < len(places) < result.count and not row.skip
    if can_skip and len(places) <= _MOST_LEFT_OUT:
        yield left_out
    if row.place == "window":
        for by in (*_INSETS_MM, *(-by for by in _INSETS_MM)):
            inset = round(row.inset_mm + by, 2)
            if inset > 0 < row.inset_mm:
                yield f"--inset {inset:g}mm", replace(row, inset_mm=inset)
    if not row.starts_with_gap and row.start_deg == 0:
        yield "--start half", replace(row, starts_with_gap=True)
    for factor in _SCALES:
        scale = down(result.scale * factor, 0.01)
        yield f"--scale {scale:g}", replace(row, scale=scale, foot_mm=None)
    if can_skip:
        yield left_out
