"""What stands in the blanks of the sentence: the values of a recipe of one piece, as they would be typed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from frameforge.errors import InputError
from frameforge.recipe.from_options import PIECE_OPTIONS, ROW_OPTIONS
from frameforge.units import parse_size_mm

__all__ = ["blanks_of"]

_PIECE: Final = tuple(key for key in PIECE_OPTIONS if key not in ("base", "test_piece", "match", "bridges"))


def blanks_of(raw: Mapping[str, Any]) -> dict[str, str] | None:
    """Return the blanks by key, only those that are filled; None where a recipe is more than one sentence says.

    That is: several pieces, rings, several rows, or a pattern of several motifs.
    """
    pieces = raw.get("piece")
    if raw.get("rings") or not isinstance(pieces, list) or len(pieces) != 1:
        return None
    piece, unit = pieces[0], str(raw.get("units", "mm"))
    rows = piece.get("row", [])
    if len(rows) > 1 or any(not isinstance(row.get("motif"), str) for row in rows):
        return None
    row = rows[0] if rows else {}
    found = {key: _typed(piece[key], unit, is_length=key in _LENGTHS) for key in _PIECE if key in piece}
    found |= {key: _typed(row[key], unit, is_length=key in _LENGTHS) for key in ROW_OPTIONS if key in row}
    found |= _listed(piece, unit)
    found |= {key: "yes" for key in _EXTRAS if raw.get("files", {}).get(key)}
    if (shape := _shape(piece.get("size"), unit)) is not None:
        found["shape"] = shape
    return found


_EXTRAS: Final = ("hand_out", "as_cut")
"""Files that are written beside those to cut, where they are asked for."""

_LENGTHS: Final = frozenset(
    ("size", "opening", "rim", "gap", "foot_gap", "foot", "inset", "depth", "clearance", "kerf", "overcut", "lead_in")
)


def _typed(value: Any, unit: str, *, is_length: bool) -> str:
    """Return one value as it would be typed: 76 in a recipe of millimetres is "76mm"."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (int, float)):
        return f"{value:.12g}{unit if is_length else ''}"
    if isinstance(value, list):
        joint = "x" if is_length else ","
        return joint.join(str(entry) for entry in value) + (unit if is_length else "")
    return str(value)


def _listed(piece: Mapping[str, Any], unit: str) -> dict[str, str]:
    """Return the blanks that a recipe keeps as tables: a hole, a text, layers. Two holes or texts are not told."""
    found: dict[str, str] = {}
    holes, texts, layers = (piece.get(key, []) for key in ("hole", "text", "layer"))
    if len(holes) == 1:
        size = _typed(holes[0].get("size", ""), unit, is_length=True)
        found["hole"] = f"{size} {holes[0].get('at', '')}".strip()
    if len(texts) == 1 and "words" in texts[0]:
        found["text"] = str(texts[0]["words"])
        found |= {key: str(texts[0][key]) for key in ("along", "as") if key in texts[0]}
    if layers and all({"card", "border"} <= layer.keys() for layer in layers):
        found["layers"] = ", ".join(
            f"{layer['card']} {_typed(layer['border'], unit, is_length=True)}" for layer in layers
        )
    return found


def _shape(size: Any, unit: str) -> str | None:
    """Return whether a size is a circle or an oval; None for one that is to be found."""
    if size is None or size == "find":
        return None
    try:
        wide, high = parse_size_mm(size, unit=unit)  # type: ignore[arg-type]  # a checked recipe holds a known unit
    except InputError:
        return None
    return "circle" if wide == high else "oval"
