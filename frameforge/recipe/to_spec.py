"""From a recipe's piece to what is built: sizes and rows as they are, motifs fetched by name."""

from __future__ import annotations

from collections.abc import Callable

from frameforge.errors import InputError
from frameforge.frame.spec import HoleSpec, Ornament, PieceSpec, RowSpec
from frameforge.motif.motif import Motif
from frameforge.recipe.kept_motif import read_motif
from frameforge.recipe.model import RowTable
from frameforge.recipe.recipe import Recipe

__all__ = ["MotifLoader", "row_motif", "to_spec"]

MotifLoader = Callable[[RowTable], Motif]
"""Gives the motif that a row names; raises InputError or FileError."""


def to_spec(recipe: Recipe, index: int, name: str, load: MotifLoader) -> PieceSpec:
    """Return the piece at ``index`` (from 0) of a recipe as it is to be built, called ``name``.

    Raises the loader's errors; one about a name that is not known is placed where the name stands in the recipe.
    """
    piece = recipe.pieces[index]
    return PieceSpec(
        name=name,
        size=piece.size,
        opening=piece.opening,
        rim_mm=piece.rim,
        rows=tuple(_row(row, row_motif(recipe, index, place, load)) for place, row in enumerate(piece.row)),
        holes=tuple(HoleSpec(hole.size, hole.at) for hole in piece.hole),
    )


def row_motif(recipe: Recipe, index: int, place: int, load: MotifLoader) -> Motif:
    """Return the motif of a row: the one kept in the recipe under that name, otherwise what ``load`` gives."""
    row = recipe.pieces[index].row[place]
    path = ("piece", index, "row", place, "motif")
    try:
        if row.motif in recipe.tables.motif:
            return read_motif(row.motif, recipe.tables.motif[row.motif])
        return load(row)
    except InputError as fault:
        if fault.where:
            raise
        place_in_recipe = recipe.source.place(path)
        is_option = recipe.source.option_of(path) is not None
        where = f"{place_in_recipe} {row.motif}" if is_option else f"{place_in_recipe}, motif {row.motif}"
        raise InputError(fault.say, where=where, code=fault.code, **fault.numbers) from fault


def _row(row: RowTable, motif: Motif) -> RowSpec:
    """Return a row as it is to be built."""
    return RowSpec(
        pattern=(Ornament(motif),),
        count=row.count,
        gap_mm=row.gap,
        scale=row.scale,
        foot_mm=row.foot,
        place=row.place,
        on=row.on,
        inset_mm=row.inset,
        seat=row.seat,
        between=row.between,
        spread=row.spread,
        is_mirrored_every_other=row.mirror == "every-other",
        start_deg=row.start[0],
        starts_with_gap=row.start[1],
        skip=row.skip,
    )
