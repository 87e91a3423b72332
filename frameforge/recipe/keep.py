"""The recipe that a file keeps of itself: one piece, with nothing in it that lies elsewhere.

It is the maker's own wording of that piece. Names that were left to us are written out, motifs of the maker's own are
kept as curves, and what concerns other pieces, folders or reading a drawing is left out. Same piece, same text.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from typing import Any, Final

import tomli_w

from frameforge.card.preset import Preset
from frameforge.motif.motif import Motif
from frameforge.recipe.kept_motif import kept_motif
from frameforge.recipe.recipe import Recipe

__all__ = ["kept_text"]

_READING_ONLY: Final = ("white",)
"""Keys of a row that say how its drawing is read; the kept curves have been read already."""

_ELSEWHERE: Final = ("used",)
"""Keys of a card that name files."""


def kept_text(
    recipe: Recipe,
    index: int,
    name: str,
    own_motif: Callable[[int, str], Motif | None],
    fillers: Mapping[int, str] | None = None,
    preset: Preset | None = None,
    table: str = "piece",
    fonts: Mapping[int, str] | None = None,
) -> str:
    """Return the recipe text kept in the files of the piece (or the "rings") at ``index``, which is called ``name``.

    ``own_motif(row, motif)`` gives the motif that a row (from 0) calls so when it does not travel with frameforge,
    otherwise None. ``fillers`` are the names of those that were chosen for the maker, by row.
    ``fonts`` are the digests of the maker's own fonts, by the number (from 0) of the text that names one.
    ``preset`` holds the limits that the piece was checked by; those of the maker's own are kept too.
    """
    raw_piece = recipe.raw[table][index]
    chosen = fillers or {}
    raw_rows = [
        {**row, "filler": chosen[place]} if place in chosen and "filler" not in row else row
        for place, row in enumerate(raw_piece.get("row", ()))
    ]
    rows, motifs = _rows(raw_rows, own_motif, recipe.raw.get("motif", {}))
    piece = {"name": name, **{key: value for key, value in raw_piece.items() if key not in ("name", "row", "hole")}}
    if fonts:
        piece["text"] = [
            {**text, "digest": fonts[place]} if place in fonts else text for place, text in enumerate(piece["text"])
        ]
    if rows:
        piece["row"] = rows
    if raw_piece.get("hole"):
        piece["hole"] = [dict(hole) for hole in raw_piece["hole"]]
    kept = {key: recipe.raw[key] for key in ("units",) if key in recipe.raw}
    card = recipe.raw.get("card", {}).get(piece.get("card"))
    if card is not None:
        kept["card"] = {piece["card"]: {key: value for key, value in card.items() if key not in _ELSEWHERE}}
    if preset is not None and preset.origin:
        kept["preset"] = {preset.name: preset.as_table()}
    if recipe.raw.get("files"):
        kept["files"] = recipe.raw["files"]
    return tomli_w.dumps({**kept, table: [piece], **({"motif": motifs} if motifs else {})})


def _rows(
    raw_rows: Any, own_motif: Callable[[int, str], Motif | None], kept_before: Mapping[str, Any]
) -> tuple[list[dict[str, Any]], dict[str, Any]]:
    """Return the rows as they are kept, and the tables of the motifs they need by name."""
    rows: list[dict[str, Any]] = []
    motifs: dict[str, Any] = {}

    def renamed(place: int, given: str) -> str:
        motif = own_motif(place, given.strip())
        if motif is None:
            return given
        table = kept_before.get(motif.name) or kept_motif(motif)
        name = _free_name(motif.name, table, motifs)
        motifs[name] = table
        return name

    for place, raw_row in enumerate(raw_rows):
        row = dict(raw_row)
        row["motif"] = _renamed_pattern(row["motif"], partial(renamed, place))
        if "filler" in row:
            row["filler"] = renamed(place, row["filler"])
        rows.append({key: value for key, value in row.items() if key not in _READING_ONLY})
    return rows, motifs


def _renamed_pattern(pattern: Any, renamed: Callable[[str], str]) -> Any:
    """Return a pattern as it was written, every motif under the name that ``renamed`` gives it."""
    if isinstance(pattern, str):
        return renamed(pattern)
    if isinstance(pattern, Mapping):
        return {**pattern, "motif": renamed(pattern["motif"])}
    return [_renamed_pattern(entry, renamed) for entry in pattern]


def _free_name(name: str, table: object, taken: Mapping[str, Any]) -> str:
    """Return ``name``, numbered when another motif of the piece is called the same."""
    free, number = name, 1
    while free in taken and taken[free] != table:
        number += 1
        free = f"{name}-{number}"
    return free
