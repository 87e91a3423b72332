"""What stands in the blanks of the page: the values of a recipe as they would be typed, a sentence for each piece."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, Final

from frameforge.desk.shape import shape_of
from frameforge.errors import InputError
from frameforge.recipe.checks import NESTED
from frameforge.recipe.lines import Path
from frameforge.recipe.open_size import with_open_sizes
from frameforge.recipe.single_tables import with_lists
from frameforge.units import LengthUnit, is_in_inches, parse_size_mm

__all__ = ["sentences_of"]

_LENGTHS: Final = frozenset(
    (
        "size", "sizes", "opening", "rim", "gap", "foot_gap", "foot", "inset", "depth", "clearance", "kerf", "overcut",
        "lead_in", "border", "flat", "dash", "dash_space", "stop", "height", "lap", "play", "inside", "grow_from",
        "goes_in", "margin", "apart", "thickness", "least_web", "least_neck", "least_finger", "least_slot",
        "least_hole", "near_miss", "on", "sheet", "sheets",
    )
)  # fmt: skip
_LISTED: Final = frozenset(("sizes", "inside", "sheet", "sheets"))
"""Lengths that stand one beside the other, not as width by height."""


def sentences_of(raw: Mapping[str, Any]) -> list[dict[str, Any]]:
    """Return a sentence for each piece and each set of rings of a checked recipe.

    ``at`` is its table ("piece.1"), ``name`` what it is called, ``blanks`` what stands in it by address, only what is
    filled; what is said of the whole recipe stands in every sentence. ``slides`` are numbers that a slider may move.
    """
    raw = with_open_sizes(with_lists(raw))
    unit: LengthUnit = raw.get("units", "mm")
    shared = dict(_of_recipe(raw, unit))
    found = []
    for kind in ("piece", "rings"):
        for number, table in enumerate(raw.get(kind) or []):
            at = f"{kind}.{number}"
            own = dict(_of_table("ring" if kind == "rings" else "piece", table, (), unit))
            if (shape := shape_of(table.get("size"), unit)) is not None:
                own["shape"] = shape
            in_inches = unit == "in" or is_in_inches(own.get("size", ""))
            found.append(
                {
                    "at": at,
                    "name": str(table.get("name", "")),
                    "blanks": {**own, **shared},
                    "slides": dict(_slides(own, unit)),
                    "unit": "in" if in_inches else "mm",
                }
            )
    return found


def _slides(blanks: Mapping[str, str], unit: LengthUnit) -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield the blanks that a slider may move, with their number and its unit.

    An oval is moved by its width; ``times`` is its height over that.
    """
    for address, typed in blanks.items():
        key = address.rpartition(".")[2]
        if address not in ("size", key) and not address.startswith("row."):
            continue
        if key == "scale" and typed != "find":
            yield address, {"now": float(typed), "unit": ""}
        if key not in ("size", "gap"):
            continue
        try:
            wide, high = parse_size_mm(typed, unit=unit)
        except InputError:
            continue
        is_inch = is_in_inches(typed)
        slide = {"now": round(wide / 25.4, 4) if is_inch else wide, "unit": "in" if is_inch else "mm"}
        yield address, slide if wide == high else {**slide, "times": round(high / wide, 9)}


def _of_recipe(raw: Mapping[str, Any], unit: LengthUnit) -> Iterator[tuple[str, str]]:
    """Yield address and text of what is said of all pieces: units, files, sheets, cards."""
    if "units" in raw:
        yield "units", str(raw["units"])
    for table in ("files", "sheets"):
        for key, value in (raw.get(table) or {}).items():
            if (table, key) not in NESTED:
                yield f"{table}.{key}", _typed(key, value, unit)
    for name, card in (raw.get("card") or {}).items():
        yield f"card.{name}", name
        for key, value in card.items():
            yield f"card.{name}.{key}", _typed(key, value, unit)
    for name in raw.get("motif") or {}:
        yield f"drawing.{name}", name


def _of_table(kind: str, table: Mapping[str, Any], way: Path, unit: LengthUnit) -> Iterator[tuple[str, str]]:
    """Yield address and text of every value of a piece, or of a table in it."""
    for key, value in table.items():
        if (kind, key) in NESTED or (kind, key) == ("ring", "row"):
            for place, entry in enumerate(value):
                yield from _of_table(key, entry, (*way, key, place), unit)
        elif key == "motif" and kind == "row":
            yield from _of_pattern(value, way, unit)
        elif key == "sheet" and kind in ("piece", "ring"):
            yield "this.sheet", _typed(key, value, unit)
        else:
            yield _address((*way, key)), _typed(key, value, unit)


def _of_pattern(value: Any, way: Path, unit: LengthUnit) -> Iterator[tuple[str, str]]:
    """Yield the names of a row's motifs together, then each motif with what differs in it where there are several."""
    entries = value if isinstance(value, list) else [value]
    names = [str(entry["motif"] if isinstance(entry, Mapping) else entry) for entry in entries]
    yield _address((*way, "motif")), ", ".join(names)
    if not isinstance(value, list):
        return
    for place, (name, entry) in enumerate(zip(names, entries, strict=True)):
        yield _address((*way, "motif", place)), name
        others = entry.items() if isinstance(entry, Mapping) else ()
        for key, held in others:
            if key != "motif":
                yield _address((*way, "motif", place, key)), _typed(key, held, unit)


def _address(way: Path) -> str:
    """Return the address of a way within a piece: keys of the first row stand alone."""
    return ".".join(str(part) for part in (way[2:] if way[:2] == ("row", 0) and len(way) > 2 else way))


def _typed(key: str, value: Any, unit: LengthUnit) -> str:
    """Return one value as it would be typed: 76 in a recipe of millimetres is "76mm"."""
    is_length = key in _LENGTHS
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (int, float)):
        return f"{value:.12g}{unit if is_length else ''}"
    if isinstance(value, list):
        if key in _LISTED and not (key in ("sheet", "sheets") and _is_pair(value)):
            return ", ".join(_typed(key, entry, unit) if isinstance(entry, list) else _bare(entry) for entry in value)
        joint = "x" if is_length else ","
        return joint.join(str(entry) for entry in value) + (unit if is_length else "")
    return str(value)


def _bare(entry: Any) -> str:
    return f"{entry:.12g}" if isinstance(entry, (int, float)) else str(entry)


def _is_pair(value: list[Any]) -> bool:
    return len(value) == 2 and all(isinstance(side, (int, float)) for side in value)
