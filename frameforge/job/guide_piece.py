"""Guides of pieces: made as ``make`` makes them, so that the marks are where the cutter would put the ornaments."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from frameforge.errors import FrameforgeError, InputError
from frameforge.frame.base import Edge
from frameforge.frame.make import make_piece
from frameforge.frame.model import RowModel, edges_of
from frameforge.frame.piece import Piece, PlacedMotif, RowResult
from frameforge.frame.spec import PieceSpec
from frameforge.frame.walk import walk_along
from frameforge.frame.wording import clock_words
from frameforge.geometry.arc import Arc
from frameforge.geometry.outline import Outline
from frameforge.job.closing import row_line
from frameforge.job.edge_words import edge_words
from frameforge.job.fillers import known_motifs
from frameforge.job.fit_question import bare_row
from frameforge.job.guide_order import GUIDE, GuideOrder, MadeGuide, PageAsked, parted
from frameforge.job.motif_source import MotifSource
from frameforge.job.naming import default_name, free_name
from frameforge.job.presets import preset_of
from frameforge.job.recipe_file import recipe_of
from frameforge.job.rests import settle_rests
from frameforge.motif.bare_foot import BARE_FOOT, bare_foot
from frameforge.motif.motif import Motif
from frameforge.picture.paper.guide_piece import GuideRow, piece_guide
from frameforge.picture.paper.guide_steps import piece_steps
from frameforge.recipe.from_options import with_options
from frameforge.recipe.model import PieceTable, RowTable
from frameforge.recipe.recipe import Recipe, check_recipe
from frameforge.recipe.source import Source
from frameforge.recipe.to_spec import to_spec
from frameforge.tolerances import TOUCH_MM
from frameforge.units import format_both, format_deg, format_mm, format_size

if TYPE_CHECKING:
    from frameforge.job.make import Progress

__all__ = ["piece_guides"]

_NO_MOTIF: Final = "neither a motif nor a foot. Add --motif, for example --motif arch, or --foot 20mm."
_FOOT_ALONE: Final = "a foot alone stands out or in; a motif is needed for this. Add --motif, for example --motif arch."

_RINGS: Final = (
    "rings are cut along one line for two, which no guide shows. Write the ring that takes the motifs as a [[piece]], "
    "its inside as the opening."
)


def piece_guides(order: GuideOrder, page: PageAsked, progress: Progress | None = None) -> list[MadeGuide]:
    """Return a guide for every piece of the recipe, ``progress`` told before each.

    Raises what was refused, of all pieces at once, InputError where there is nothing to guide round.
    """
    options = {key: value for key, value in order.options.items() if value not in (None, False, (), [])}
    is_bare = order.recipe is None and "motif" not in options
    if is_bare:
        _check_bare(options)
        options["motif"] = (BARE_FOOT,)
    if order.recipe is None:
        recipe = check_recipe(*with_options({}, Source("", command=GUIDE), options))
    else:
        recipe = recipe_of(order.recipe, options)
    source = MotifSource(order.recipe.parent if order.recipe else Path(), order.motifs, order.is_lenient)
    if recipe.tables.rings and not recipe.pieces:
        raise InputError(_RINGS, where=recipe.source.name or GUIDE, code="no-guide")
    made: list[MadeGuide] = []
    faults: list[FrameforgeError] = []
    taken: set[str] = set()
    for index, table in enumerate(recipe.pieces):
        if progress is not None:
            progress(index, len(recipe.pieces), f"guide {table.name or ''}".rstrip())
        try:
            made.append(_guide(recipe, index, source, page, taken, is_bare=is_bare))
        except FrameforgeError as fault:
            faults.append(fault)
    if faults:
        raise type(faults[0]).from_many(faults)
    return made


def _check_bare(options: Mapping[str, Any]) -> None:
    """Refuse what a foot alone cannot answer."""
    if "foot" not in options:
        raise InputError(_NO_MOTIF, where=GUIDE, code="no-motif")
    place = str(options.get("place", "out")).strip().lower()
    if place in ("window", "across"):
        raise InputError(_FOOT_ALONE, where=f'{GUIDE}, --place "{place}"', code="no-motif")


def _guide(
    recipe: Recipe, index: int, source: MotifSource, page: PageAsked, taken: set[str], *, is_bare: bool
) -> MadeGuide:
    """Return the guide of one piece."""
    table = recipe.pieces[index]
    preset = preset_of(recipe, index, source.beside).preset
    foot = table.row[0].foot if table.row else None

    def load(name: str, row: RowTable, where: str) -> Motif:
        if is_bare:
            return bare_foot(foot if isinstance(foot, int | float) else 1.0)
        return source.load(name, row, where, least_neck_mm=preset.least_neck_mm)

    def fillers(place: int) -> Iterator[Motif]:
        row = table.row[place]
        return known_motifs(source.folder, lambda name: load(name, row, name))

    spec = to_spec(recipe, index, table.name or recipe.source.place(("piece", index)), load)
    if is_bare:
        spec = replace(spec, rows=tuple(bare_row(row) for row in spec.rows))
    spec, _ = settle_rests(spec, preset, fillers)
    piece = make_piece(spec, preset)
    name = table.name or free_name(default_name(piece), taken)
    taken.add(name)
    settled = replace(spec, size=piece.size)
    base, opening = edges_of(settled, piece.size)
    inner = [*([opening.region().outer] if opening is not None else []), *_round_holes(spec, piece)]
    rows = []
    for row, result in zip(settled.rows, piece.rows, strict=True):
        edge = RowModel(settled, row, preset).track(piece.size, result.scale).edge
        rows.append(GuideRow(edge, _repeats(result), is_bare, _told(edge)))
    said = (*_said(settled, piece), *_not_shown(settled, table))
    drawing = piece_guide(base, inner, rows)
    steps = partial(
        piece_steps,
        said,
        is_oval=not piece.size.is_circle,
        is_bare=is_bare,
        faces_in=[row.place == "in" for row in settled.rows],
    )
    return parted(name, drawing, said, lambda is_tiled: steps(is_tiled=is_tiled), page)


def _round_holes(spec: PieceSpec, piece: Piece) -> Iterator[Outline]:
    """Yield the holes asked for where they came to lie."""
    radii = [hole.diameter_mm / 2 for hole in spec.holes]
    for outline in piece.region.holes:
        first = outline.segments[0]
        if isinstance(first, Arc) and any(abs(abs(first.u) - radius) < TOUCH_MM for radius in radii):
            yield outline


def _repeats(result: RowResult) -> tuple[PlacedMotif, ...]:
    """Return all repeats of a row, the filler among them."""
    return result.repeats + (result.filler.repeats if result.filler else ())


def _told(edge: Edge) -> Callable[[PlacedMotif], str]:
    """Return what tells where a repeat sits: degrees on a circle, on an oval the mm along the edge from the top."""
    if edge.is_circle:
        return lambda repeat: format_deg(round(repeat.direction_deg, 2) % 360)
    walk = walk_along(edge)

    def along(repeat: PlacedMotif) -> str:
        walked = float(walk.walked_mm(_taus(repeat.seat.tau))[0]) % walk.length_mm
        return format_mm(walked)

    return along


def _taus(tau: float) -> Any:
    """Return one place as the array that a walk takes."""
    import numpy as np  # here, since circles do without

    return np.array([tau % math.tau])


def _said(spec: PieceSpec, piece: Piece) -> tuple[str, ...]:
    """Return the sentences on the piece: what to cut, and each row."""
    size = format_size(piece.size.width_mm, piece.size.height_mm)
    lines = [f"Base {'circle' if piece.size.is_circle else 'oval'} {size}."]
    if spec.opening is not None:
        lines.append(f"Opening {format_size(spec.opening.width_mm, spec.opening.height_mm)}.")
    elif spec.rim_mm is not None:
        lines.append(f"Rim {format_both(spec.rim_mm)} wide all round.")
    for row, result in zip(spec.rows, piece.rows, strict=True):
        turn = f" One every {format_deg(result.pitch_deg)}." if result.pitch_deg and piece.size.is_circle else ""
        lines.append(f"{row_line(result, edge_words(spec, row, piece), {})}{turn}")
    return tuple(lines)


def _not_shown(spec: PieceSpec, table: PieceTable) -> Iterator[str]:
    """Yield what the guide leaves to the maker."""
    if spec.fold is not None:
        depth, where = format_mm(spec.fold.depth_mm), clock_words(spec.fold.at_deg)
        yield f"One half is shown. Fold the card double, the fold {depth} in from the edge {where}."
    if spec.flange is not None:
        yield "The teeth of the lid are not shown."
    if spec.stand is not None:
        yield "The slots for the feet are not shown."
    if table.layer:
        yield "The top card is shown; every card below it is larger by its border."
    if table.text:
        yield "Words are not shown: letter them by hand."
