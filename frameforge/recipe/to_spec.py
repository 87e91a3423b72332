"""From a recipe's piece to what is built: sizes and rows as they are, motifs fetched by name."""

from __future__ import annotations

from collections.abc import Callable

from frameforge.frame.spec import HoleSpec, Ornament, PieceSpec, RowSpec
from frameforge.motif.motif import Motif
from frameforge.recipe.kept_motif import read_motif
from frameforge.recipe.model import RowTable
from frameforge.recipe.recipe import Recipe
from frameforge.recipe.row_fields import Entry

__all__ = ["MotifLoader", "entry_motif", "to_spec"]

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
        rows=tuple(_row(recipe, index, place, load) for place in range(len(piece.row))),
        holes=tuple(HoleSpec(hole.size, hole.at) for hole in piece.hole),
        ratio=piece.ratio,
        grow_from=piece.grow_from,
        goes_in=piece.goes_in,
    )


def entry_motif(recipe: Recipe, index: int, place: int, entry: Entry, load: MotifLoader, key: str = "motif") -> Motif:
    """Return the motif of an entry: the one kept in the recipe under that name, otherwise what ``load`` gives.

    ``key`` is the key of the row that names it.
    """
    name = entry.motif
    if name in recipe.tables.motif:
        return read_motif(name, recipe.tables.motif[name], recipe.source.name)
    path = ("piece", index, "row", place, key)
    is_option = recipe.source.option_of(path) is not None
    where = f"{recipe.source.place(path)}{' ' if is_option else f', {key} '}{name}"
    return load(name, recipe.pieces[index].row[place], where)


def _row(recipe: Recipe, index: int, place: int, load: MotifLoader) -> RowSpec:
    """Return a row as it is to be built."""
    row = recipe.pieces[index].row[place]
    return RowSpec(
        pattern=tuple(
            Ornament(
                entry_motif(recipe, index, place, entry, load),
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
        filler=None if row.filler is None else entry_motif(recipe, index, place, Entry(row.filler), load, "filler"),
        keeps_counters=row.keep_counters,
    )
