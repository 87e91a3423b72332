"""From a recipe's piece to what is built: sizes and rows as they are, motifs fetched by name."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from frameforge.frame.spec import HoleSpec, Ornament, PieceSpec, RowSpec
from frameforge.motif.motif import Motif
from frameforge.recipe.fold_specs import flange_spec, fold_spec, stand_spec
from frameforge.recipe.kept_motif import read_motif
from frameforge.recipe.model import RingRowTable, RowTable
from frameforge.recipe.recipe import Recipe
from frameforge.recipe.row_fields import Entry
from frameforge.recipe.set_faults import edge_of

if TYPE_CHECKING:
    from frameforge.sets.rings import RingsSpec

__all__ = ["MotifLoader", "entry_motif", "rings_spec", "row_at", "to_spec"]

MotifLoader = Callable[[str, RowTable, str], Motif]
"""Gives the motif of a name in a row; raises InputError or FileError, said of the place that comes third."""


def to_spec(recipe: Recipe, index: int, name: str, load: MotifLoader) -> PieceSpec:
    """Return the piece at ``index`` (from 0) of a recipe as it is to be built, called ``name``.

    Raises the loader's errors, and InputError for a kept motif that was changed.
    """
    piece = recipe.pieces[index]
    return PieceSpec(
        name=name,
        size=piece.size,
        opening=piece.opening,
        rim_mm=piece.rim,
        rows=tuple(_row(recipe, ("piece", index), place, row, load) for place, row in enumerate(piece.row)),
        holes=tuple(HoleSpec(hole.size, hole.at) for hole in piece.hole),
        ratio=piece.ratio,
        grow_from=piece.grow_from,
        goes_in=piece.goes_in,
        fold=fold_spec(piece),
        flange=flange_spec(piece),
        stand=stand_spec(piece),
    )


def rings_spec(recipe: Recipe, index: int, name: str, load: MotifLoader) -> RingsSpec:
    """Return the rings at ``index`` (from 0) of a recipe as they are to be built, called ``name``.

    Raises as ``to_spec`` does.
    """
    from frameforge.sets.rings import EdgeRow, RingsSpec  # here, since few recipes have rings

    rings = recipe.tables.rings[index]
    rows = []
    for place, row in enumerate(rings.row):
        edge = edge_of(rings, row)
        assert edge is not None  # the recipe was checked
        rows.append(EdgeRow(edge, _row(recipe, ("rings", index), place, row.row, load)))
    return RingsSpec(name, rings.sizes, tuple(rows))


def row_at(recipe: Recipe, origin: tuple[str, int], place: int) -> RowTable:
    """Return a row (from 0) of the table that asks for pieces."""
    row = recipe.asked(origin).row[place]
    return row.row if isinstance(row, RingRowTable) else row


def entry_motif(
    recipe: Recipe, origin: tuple[str, int], place: int, entry: Entry, load: MotifLoader, key: str = "motif"
) -> Motif:
    """Return the motif of an entry: the one kept in the recipe under that name, otherwise what ``load`` gives.

    ``origin`` is the table that asks for pieces, ``place`` its row, ``key`` the key of the row that names the motif.
    """
    name = entry.motif
    if name in recipe.tables.motif:
        return read_motif(name, recipe.tables.motif[name], recipe.source.name)
    path = (*origin, "row", place, key)
    is_option = recipe.source.option_of(path) is not None
    where = f"{recipe.source.place(path)}{' ' if is_option else f', {key} '}{name}"
    return load(name, row_at(recipe, origin, place), where)


def _row(recipe: Recipe, origin: tuple[str, int], place: int, row: RowTable, load: MotifLoader) -> RowSpec:
    """Return a row as it is to be built."""
    return RowSpec(
        pattern=tuple(
            Ornament(
                entry_motif(recipe, origin, place, entry, load),
                entry.scale,
                row.lean if entry.lean_deg is None else entry.lean_deg,
                entry.is_mirrored,
            )
            for entry in row.motif
        ),
        count=row.count,
        gap_mm=row.gap,
        foot_gap_mm=row.foot_gap,
        scale=row.scale,
        foot_mm=row.foot,
        place=row.place,
        on=row.on,
        inset_mm=row.inset,
        seat=row.seat,
        between=row.between,
        depth_mm=row.depth,
        spread=row.spread,
        is_mirrored_every_other=row.mirror == "every-other",
        start_deg=row.start[0],
        starts_with_gap=row.start[1],
        skip=row.skip,
        keep_free=row.keep_free,
        free=row.free,
        rest="filler" if row.filler is not None else row.rest,
        seam_deg=row.seam,
        filler=None if row.filler is None else entry_motif(recipe, origin, place, Entry(row.filler), load, "filler"),
        keeps_counters=row.keep_counters,
        loose=row.loose,
    )
