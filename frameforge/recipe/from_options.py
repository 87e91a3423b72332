"""The options of a command as a recipe, or laid over a recipe of one piece."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any, Final

from frameforge.errors import InputError
from frameforge.recipe.fold_fields import placed_said
from frameforge.recipe.fold_options import FOLD_OPTIONS, lay_folds
from frameforge.recipe.layer_text import layer_tables
from frameforge.recipe.lines import Path
from frameforge.recipe.open_size import with_size_to_find
from frameforge.recipe.source import Source
from frameforge.recipe.text_fields import TEXT_OPTIONS, lay_text

__all__ = [
    "FILE_OPTIONS",
    "PIECE_OPTIONS",
    "RING_OPTIONS",
    "ROW_OPTIONS",
    "SHEET_OPTIONS",
    "Options",
    "one_or_list",
    "with_options",
]

Options = Mapping[str, Any]
"""What was typed, by key: a text, True for a switch, a tuple of texts for what may be given more than once."""

PIECE_OPTIONS: Final = (
    "name", "card", "preset", "copies", "base", "size", "ratio", "grow_from", "goes_in", "opening", "rim", "kerf",
    "overcut", "lead_in", "bridges", "flip", "test_piece", "mend", "inside", "clearance", "match",
)  # fmt: skip
RING_OPTIONS: Final = ("name", "card", "preset", "copies", "clearance", "kerf", "overcut", "lead_in", "bridges", "flip")
ROW_OPTIONS: Final = (
    "motif", "count", "gap", "foot_gap", "scale", "foot", "lean", "place", "on", "inset", "seat", "between", "depth",
    "spread", "mirror", "start", "skip", "keep_free", "free", "rest", "seam", "filler", "white",
    "keep_counters", "loose",
)  # fmt: skip
SHEET_OPTIONS: Final = ("sheet", "margin", "apart", "turn", "seed", "tries", "used", "price", "stack")
FILE_OPTIONS: Final = ("formats", "dxf", "dxf_unit", "one_path", "as_cut", "hand_out", "one_file")

_REPLACES: Final = {
    "opening": ("rim",), "rim": ("opening",), "scale": ("foot",), "foot": ("scale",), "size": ("base",),
    "rest": ("filler",), "filler": ("rest",),
}  # fmt: skip
"""What an option takes away from a recipe because both say the same thing."""

_WHOLE: Final = ("count", "copies")


def with_options(raw: Mapping[str, Any], source: Source, options: Options) -> tuple[dict[str, Any], Source]:
    """Return the recipe as written with ``options`` laid over it, and its source with their places.

    ``raw`` without pieces is a recipe of options alone. Raises InputError where an option does not say which piece or
    row it means, or needs another one.
    """
    given = {key: value for key, value in options.items() if value not in (None, False, (), [])}
    result: dict[str, Any] = dict(raw)
    places: dict[Path, str] = {}
    if "units" in given:
        result["units"] = given["units"]
        places["units",] = "--units"
    _lay_files(result, given, places)
    _lay_sheets(result, given, places)
    of_piece = (*PIECE_OPTIONS, "hole", "layers", *FOLD_OPTIONS, *TEXT_OPTIONS, *ROW_OPTIONS)
    shaping = [key for key in of_piece if key in given]
    has_rings = bool(raw.get("rings")) and not raw.get("piece")
    if "rings" in given or (has_rings and shaping):
        result["rings"] = [_rings(raw, source, given, shaping, places)]
    elif shaping or not source.name:
        result["piece"] = [_piece(_only_piece(result, source, shaping), source, given, places)]
    typed = Source(source.name, source.lines, places, source.command)
    return result, typed


def _lay_files(result: dict[str, Any], given: Options, places: dict[Path, str]) -> None:
    """Put the options about files into the recipe."""
    found = {key: given[key] for key in FILE_OPTIONS if key in given}
    if found:
        if found.pop("one_file", False):
            found["split_kinds"] = False
        result["files"] = {**result.get("files", {}), **found}
        places.update({("files", key): _option("one_file" if key == "split_kinds" else key) for key in found})


def _lay_sheets(result: dict[str, Any], given: Options, places: dict[Path, str]) -> None:
    """Put the options about sheets into the recipe; what a card or a piece says of the same then gives way."""
    found = {key: one_or_list(value) for key, value in given.items() if key in SHEET_OPTIONS}
    if not found:
        return
    result["sheets"] = {**_map(result.get("sheets")), **found}
    places.update({("sheets", key): _option(key) for key in found})
    taken = {"sheets" if key == "sheet" else key for key in found}
    if isinstance(cards := result.get("card"), Mapping):
        result["card"] = {name: _without(card, taken) for name, card in cards.items()}
    if "sheet" in found and isinstance(pieces := result.get("piece"), list):
        result["piece"] = [_without(piece, {"sheet"}) for piece in pieces]


def one_or_list(value: Any) -> Any:
    """Return the one text of an option that was given once, or all of them."""
    if not isinstance(value, tuple):
        return value
    return value[0] if len(value) == 1 else list(value)


def _map(value: object) -> Mapping[str, Any]:
    return value if isinstance(value, Mapping) else {}


def _without(table: Any, keys: set[str]) -> Any:
    """Return a table without some keys; what is none as it is."""
    return {key: value for key, value in table.items() if key not in keys} if isinstance(table, Mapping) else table


def _only_piece(raw: Mapping[str, Any], source: Source, keys: Sequence[str]) -> dict[str, Any]:
    """Return the one piece of a recipe, empty for none. Raises InputError when there are several."""
    pieces = raw.get("piece", [])
    if not isinstance(pieces, list) or not all(isinstance(piece, dict) for piece in pieces):
        return {}
    if len(pieces) > 1:
        names = ", ".join(str(piece.get("name", f"piece {place}")) for place, piece in enumerate(pieces, start=1))
        say = (
            f"{source.name} has {len(pieces)} pieces: {names}. An option changes a recipe of one piece; write it there."
        )
        raise InputError(say, where=f"{source.command}, {_option(keys[0])}", code="several-pieces")
    return dict(pieces[0]) if pieces else {}


def _piece(piece: dict[str, Any], source: Source, given: Options, places: dict[Path, str]) -> dict[str, Any]:
    """Return the piece with its options laid over it."""
    for key in PIECE_OPTIONS:
        if key in given:
            _lay(piece, key, given)
            places["piece", 0, key] = _option(key)
    if "hole" in given:
        piece["hole"] = [placed_said(text, "size") for text in given["hole"]]
        places.update({("piece", 0, "hole", place): "--hole" for place in range(len(piece["hole"]))})
    lay_folds(piece, source, given, places)
    lay_text(piece, source, given, places)
    if "layers" in given:
        piece["layer"] = layer_tables(given["layers"])
        places.update({("piece", 0, "layer", place): "--layers" for place in range(len(piece["layer"]))})
    row_keys = [key for key in ROW_OPTIONS if key in given]
    if row_keys:
        piece["row"] = [_row(piece, source, given, row_keys, places)]
    piece = with_size_to_find(piece)
    if not {"size", "test_piece", "from_opening"} & piece.keys():
        say = "no size. Add --size 100mm for a circle, --size 150x100mm for an oval."
        raise InputError(say, where=source.command, code="no-size")
    return piece


def _rings(
    raw: Mapping[str, Any], source: Source, given: Options, keys: Sequence[str], places: dict[Path, str]
) -> dict[str, Any]:
    """Return the one set of rings of a recipe, or a new one, with its options laid over it."""
    if raw.get("piece"):
        say = f"{source.name} has pieces, and rings are no piece. Write [[rings]] there, or make them by themselves."
        raise InputError(say, where=f"{source.command}, --rings", code="several-pieces")
    strange = [key for key in keys if key not in (*RING_OPTIONS, *ROW_OPTIONS)]
    if strange:
        listed = " and ".join(map(_option, strange))
        say = f"this does not go with rings, whose sizes --rings states. Leave out {listed}."
        raise InputError(say, where=f"{source.command}, {_option(strange[0])}", code="not-of-rings")
    tables = raw.get("rings", [])
    if isinstance(tables, list) and len(tables) > 1:
        many = f"{source.name} has {len(tables)} sets of rings"
        say = f"{many}, and an option does not say which. Write it in the recipe."
        raise InputError(say, where=source.command, code="several-pieces")
    is_table = isinstance(tables, list) and tables and isinstance(tables[0], dict)
    rings: dict[str, Any] = dict(tables[0]) if is_table else {}
    if "rings" in given:
        rings["sizes"] = given["rings"]
        places["rings", 0, "sizes"] = "--rings"
    for key in RING_OPTIONS:
        if key in given:
            _lay(rings, key, given)
            places["rings", 0, key] = _option(key)
    row_keys = [key for key in ROW_OPTIONS if key in given]
    if row_keys:
        rings["row"] = [_row(rings, source, given, row_keys, places, ("rings", 0))]
    return rings


def _row(
    piece: Mapping[str, Any],
    source: Source,
    given: Options,
    keys: list[str],
    places: dict[Path, str],
    holder: Path = ("piece", 0),
) -> dict[str, Any]:
    """Return the one row of a piece, or of rings, with its options laid over it; ``holder`` is the path to that."""
    where = f"{source.command}, {_option(keys[0])}"
    rows = piece.get("row", [])
    if isinstance(rows, list) and len(rows) > 1:
        say = f"{source.name} has {len(rows)} rows, and an option does not say which. Write it in the recipe."
        raise InputError(say, where=where, code="several-rows")
    row: dict[str, Any] = dict(rows[0]) if isinstance(rows, list) and rows and isinstance(rows[0], dict) else {}
    if "motif" not in row and "motif" not in given:
        raise InputError("no motif to repeat. Add --motif, for example --motif arch.", where=where, code="no-motif")
    for key in keys:
        _lay(row, key, given)
        places[(*holder, "row", 0, key)] = _option(key)
    return row


def _lay(table: dict[str, Any], key: str, given: Options) -> None:
    """Put one option into a table, in the type the recipe has for it, and take away what it replaces."""
    for other in _REPLACES.get(key, ()):
        if other not in given:
            table.pop(other, None)
    value = given[key]
    if key in _WHOLE and isinstance(value, str) and value.strip().isdecimal():
        table[key] = int(value)
    elif key in ("scale", "ratio"):
        table[key] = _decimal(value)
    elif key == "motif" and not isinstance(value, str) and len(value) == 1:
        table[key] = value[0]
    elif isinstance(value, tuple):
        table[key] = list(value)
    else:
        table[key] = value


def _decimal(text: Any) -> Any:
    """Return a number for a text that is one, otherwise the text itself."""
    if isinstance(text, str) and re.fullmatch(r"\s*[-+]?\d*[.,]?\d+\s*", text):
        return float(text.replace(",", "."))
    return text


def _option(key: str) -> str:
    """Return the option for a key of the recipe."""
    return f"--{key.replace('_', '-')}"
