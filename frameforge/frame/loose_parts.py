"""The parts of motifs that nothing holds in a piece put together: which they are, and the order without them or tied.

A part that falls off at one place of a row counts for all its repeats, so that they stay alike.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

import shapely

from frameforge.frame.lean import lean_map
from frameforge.frame.model import RowModel
from frameforge.frame.ornament import Ready, upright
from frameforge.frame.ornament import ready as ready_of
from frameforge.frame.piece import PlacedMotif
from frameforge.frame.row import BuiltRow
from frameforge.frame.spec import Ornament, PieceSpec, RowSpec
from frameforge.geometry.affine import Affine
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import area_mm2
from frameforge.geometry.region import Region
from frameforge.motif.parts import parts_of, without_parts

__all__ = ["Loose", "loose_parts", "settled"]

Loose = Mapping[tuple[int, int], frozenset[int]]
"""The numbers of the loose parts (from 0, as ``motif.parts`` counts them), by row and entry of its pattern."""


def loose_parts(
    asked: Sequence[RowSpec], models: Sequence[RowModel], rows: Sequence[BuiltRow], regions: Sequence[Region]
) -> Loose:
    """Return the parts that nothing holds of motifs whose rows, as ``asked`` for, are to tie or drop them.

    ``regions`` is the piece; its largest region is what holds.
    """
    found: dict[tuple[int, int], frozenset[int]] = {}
    largest = to_polygon(max(regions, key=area_mm2))
    shapely.prepare(largest)
    others = shapely.STRtree([to_polygon(region) for region in regions])
    for k, (one, model, row) in enumerate(zip(asked, models, rows, strict=True)):
        if one.loose == "keep" or one.place == "window":
            continue
        for entry, ready, repeat in _repeats(model, row):
            numbers = _fallen(repeat, largest, others)
            if numbers:
                own = _numbers_in(model.row.pattern[entry], model, ready, numbers)
                found[k, entry] = found.get((k, entry), frozenset()) | own
    return {key: numbers for key, numbers in found.items() if numbers}


def _repeats(model: RowModel, row: BuiltRow) -> Iterator[tuple[int, Ready, PlacedMotif]]:
    """Yield every repeat of a row with the number of its entry in the pattern, but for a filler."""
    if not row.readies:
        return
    kinds = model.readies(model.unit, row.result.scale)
    entries = {ready: k % len(model.row.pattern) for k, ready in reversed([*enumerate(kinds)])}
    for ready, repeat in zip(row.readies, row.result.repeats, strict=False):
        if ready in entries:
            yield entries[ready], ready, repeat


def _fallen(repeat: PlacedMotif, held: shapely.Polygon, regions: shapely.STRtree) -> list[int]:
    """Return the numbers of the parts of a repeat that lie in another region than the one that holds."""
    placed = [repeat.placement.apply(part.spot) for part in parts_of(repeat.motif)]
    points = [shapely.Point(at.real, at.imag) for at in placed]
    within = set(regions.query(points, predicate="within")[0].tolist())
    return [k for k, point in enumerate(points) if k in within and not held.contains(point)]


def _numbers_in(ornament: Ornament, model: RowModel, ready: Ready, numbers: Sequence[int]) -> frozenset[int]:
    """Return the numbers that parts of a motif as it was placed have in the motif of its ornament.

    A motif that leans or is tied is of other regions than it was drawn of: there points tell.
    """
    drawn = upright(ornament, ready.scale / ornament.scale, least_neck_mm=model.neck_mm)
    parts = parts_of(ready.motif)
    back = _back(ornament, model, ready)
    spots = [back.apply(parts[k].spot) for k in numbers]
    shapes = [part.shape for part in parts_of(drawn)]
    tree = shapely.STRtree(shapes)
    found = tree.query([shapely.Point(at.real, at.imag) for at in spots], predicate="within")
    return frozenset(found[1].tolist())


def _back(ornament: Ornament, model: RowModel, ready: Ready) -> Affine:
    """Return the map from a motif as it was placed to the upright one that it was made of."""
    back = Affine(1)
    factor = ready.scale / ornament.scale
    if ready_of(ornament, factor, is_flipped=False, least_neck_mm=model.neck_mm) is not ready:
        back = Affine.from_mirror()
    if not ornament.lean_deg:
        return back
    drawn = upright(ornament, factor, least_neck_mm=model.neck_mm)
    return lean_map(drawn, ornament.lean_deg).inverse().after(back)


def settled(spec: PieceSpec, loose: Loose, tie_mm: float) -> PieceSpec | None:
    """Return an order with loose parts tied by strips ``tie_mm`` wide, or left out, as its rows say.

    None where that changes nothing: parts that are tied already, a motif of which nothing would stay.
    """
    rows = list(spec.rows)
    for (k, entry), numbers in loose.items():
        rows[k] = _row_without(rows[k], entry, numbers, tie_mm)
    changed = replace(spec, rows=tuple(rows))
    return None if changed == spec else changed


def _row_without(row: RowSpec, entry: int, numbers: frozenset[int], tie_mm: float) -> RowSpec:
    one = row.pattern[entry]
    if row.loose == "tie":
        one = replace(one, tied=one.tied | numbers, tie_mm=tie_mm)
    elif not numbers >= frozenset(range(len(one.motif.join))):
        left_out = one.left_out + len(numbers)
        one = replace(one, motif=without_parts(one.motif, numbers), left_out=left_out)
    return replace(row, pattern=(*row.pattern[:entry], one, *row.pattern[entry + 1 :]))
