"""For every key of every table: what turns its value as written into ours, and which keys must be there."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from typing import Any, Final

from frameforge.errors import InputError
from frameforge.frame.spec import Size
from frameforge.recipe import (
    fields,
    fold_fields,
    limit_fields,
    machine_fields,
    ring_fields,
    row_fields,
    sheet_fields,
    text_fields,
)
from frameforge.recipe.mend_fields import as_mend
from frameforge.recipe.model import (
    CardTable,
    FilesTable,
    FoldTable,
    HoleTable,
    LaidTable,
    LayerTable,
    LidTable,
    MotifTable,
    NamesTable,
    PieceTable,
    PresetTable,
    RecipeTable,
    RingRowTable,
    RingsTable,
    RowTable,
    SheetsTable,
    StandTable,
    Table,
    TextTable,
)
from frameforge.units import LengthUnit, parse_deg, parse_direction_deg

__all__ = ["CHECKS", "NEEDED", "NESTED", "TABLES", "Check"]

Check = Callable[[Any, LengthUnit], object]
"""Takes a value as written and the unit of bare numbers; raises InputError with the sentence for the maker."""


def _plain(convert: Callable[[Any], object]) -> Check:
    """Return the check of a value that has no unit."""
    return lambda value, unit: convert(value)


def _choice(*words: str) -> Check:
    """Return the check that takes one of some words."""

    def choose(value: Any, unit: LengthUnit) -> str:
        word = value.strip().lower() if isinstance(value, str) else value
        if word not in words:
            raise InputError("no such choice.", code="choice")
        return str(word)

    return choose


def _text(value: Any, unit: LengthUnit) -> str:
    if not isinstance(value, str) or not value.strip():
        raise InputError("not a text.", code="text")
    return value.strip()


def _switch(value: Any, unit: LengthUnit) -> bool:
    if not isinstance(value, bool):
        raise InputError("neither true nor false.", code="choice")
    return value


def _kept_mm(value: Any, unit: LengthUnit) -> float:
    """Return a length of a kept motif: a plain number of mm, whatever the recipe's unit is."""
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not math.isfinite(value):
        raise InputError("not a plain number.", code="number")
    return float(value)


def _outlines(value: Any, unit: LengthUnit) -> tuple[tuple[str, ...], ...]:
    """Return the regions of a kept motif, each a list of outlines."""
    is_list = isinstance(value, list) and all(isinstance(region, list) for region in value)
    if not is_list or not all(isinstance(outline, str) for region in value for outline in region):
        raise InputError("not a list of outlines.", code="text")
    return tuple(tuple(region) for region in value)


_LIMITS: Final[Mapping[str, Check]] = {
    "thickness": fields.as_length,
    "least_web": fields.as_length,
    "least_neck": fields.as_length,
    "least_finger": fields.as_length,
    "least_slot": fields.as_length,
    "least_hole": fields.as_length,
    "crumb": _plain(limit_fields.as_area),
    "tip": _plain(limit_fields.as_tip),
    "near_miss": fields.as_length_or_0,
    "speed": _plain(limit_fields.as_speed),
    "passes": _plain(limit_fields.as_passes),
    "lift_time": _plain(limit_fields.as_seconds),
    "dash": fields.as_length,
    "dash_space": fields.as_length,
}
"""Limits of a card, whether they stand in a preset or in place of a preset's."""

_CREASE: Final[Mapping[str, Check]] = {
    "crease": _choice("full", "dashed"),
    "dash": fields.as_length,
    "dash_space": fields.as_length,
    "stop": fields.as_length_or_0,
}
"""How a crease is drawn."""

_ROW: Final[Mapping[str, Check]] = {
    "motif": _plain(row_fields.as_pattern),
    "count": _plain(row_fields.as_count),
    "gap": row_fields.as_gap,
    "foot_gap": fields.as_length_or_0,
    "scale": _plain(row_fields.as_scale),
    "foot": row_fields.as_foot,
    "lean": _plain(parse_deg),
    "place": _choice("out", "in", "window", "across"),
    "on": _choice("base", "opening"),
    "inset": fields.as_length_or_0,
    "seat": _choice("as-drawn", "bent"),
    "between": _choice("keep", "flat", "level", "hollow", "raised"),
    "depth": fields.as_length,
    "spread": _choice("equal-gap", "equal-arc", "equal-chord"),
    "mirror": _choice("every-other"),
    "start": _plain(row_fields.as_start),
    "skip": _plain(row_fields.as_skip),
    "keep_free": _plain(row_fields.as_zone),
    "free": _choice("spread", "leave"),
    "rest": _choice("spread", "size", "filler"),
    "seam": _plain(parse_direction_deg),
    "filler": _text,
    "white": _choice("keep", "cuts"),
    "keep_counters": _switch,
    "loose": _choice("keep", "tie", "drop"),
}
"""A row of a piece."""

_OF_SHEETS: Final[Mapping[str, Check]] = {
    "margin": fields.as_length_or_0,
    "apart": fields.as_length_or_0,
    "price": _plain(sheet_fields.as_price),
    "stack": sheet_fields.as_stack,
    "used": _plain(sheet_fields.as_used),
}
"""What is known of sheets, whether it stands with one card or for all."""

CHECKS: Final[Mapping[str, Mapping[str, Check]]] = {
    "recipe": {"units": _plain(fields.as_units)},
    "card": {
        "preset": _text,
        **_LIMITS,
        "kerf": machine_fields.as_kerf,
        "overcut": machine_fields.as_overcut,
        "lead_in": fields.as_length_or_0,
        "sheets": sheet_fields.as_sheets,
        **_OF_SHEETS,
    },
    "sheets": {
        "sheet": sheet_fields.as_sheets,
        **_OF_SHEETS,
        "turn": _choice("free", "quarter", "half", "none"),
        "seed": _plain(sheet_fields.as_seed),
        "tries": _plain(sheet_fields.as_tries),
    },
    "laid": {
        "piece": _text,
        "sheet": _plain(fields.as_whole),
        "size": _text,
        "from_left": fields.as_length_or_0,
        "from_bottom": fields.as_length_or_0,
        "turn": _plain(parse_deg),
    },
    "names": {"file": _text, "piece": _text, "text": _text, "card": _text, "size": _text, "count": _text},
    "preset": {
        "like": _text,
        **_LIMITS,
        "kerf": fields.as_length_or_0,
        "overcut": fields.as_length_or_0,
    },
    "motif": {
        "foot": _kept_mm,
        "sink": _kept_mm,
        "stated": _switch,
        "join": _outlines,
        "cut_away": _outlines,
        "window": _outlines,
    },
    "files": {
        "formats": _plain(fields.as_formats),
        "dxf": _choice("bulges", "r12", "splines", "lines"),
        "dxf_unit": _choice("mm", "in"),
        "one_path": _switch,
        "as_cut": _switch,
        "hand_out": _switch,
        "split_kinds": _switch,
    },
    "piece": {
        "name": _plain(fields.as_name),
        "card": _text,
        "preset": _text,
        "copies": _plain(fields.as_whole),
        "sheet": sheet_fields.as_sheets,
        "base": _choice("circle", "oval"),
        "size": fields.as_size_or_find,
        "ratio": _plain(fields.as_ratio),
        "grow_from": fields.as_size,
        "goes_in": fields.as_envelope,
        "opening": fields.as_size,
        "rim": fields.as_length,
        "kerf": machine_fields.as_kerf,
        "overcut": machine_fields.as_overcut,
        "lead_in": fields.as_length_or_0,
        "bridges": machine_fields.as_bridges,
        "flip": _switch,
        "test_piece": _switch,
        "mend": _plain(as_mend),
        "inside": ring_fields.as_inside,
        "clearance": fields.as_length_or_0,
        "from_opening": _text,
        "match": _choice("holes", "notches"),
    },
    "row": _ROW,
    "layer": {
        "card": _text,
        "border": fields.as_border,
        "opening": _choice("follow", "same", "closed"),
    },
    "rings": {
        "name": _plain(fields.as_name),
        "card": _text,
        "preset": _text,
        "copies": _plain(fields.as_whole),
        "sheet": sheet_fields.as_sheets,
        "sizes": ring_fields.as_ring_sizes,
        "clearance": fields.as_length_or_0,
        "kerf": machine_fields.as_kerf,
        "overcut": machine_fields.as_overcut,
        "lead_in": fields.as_length_or_0,
        "bridges": machine_fields.as_bridges,
        "flip": _switch,
    },
    "ring_row": {**_ROW, "on": fields.as_size},
    "hole": {"size": fields.as_length, "at": _plain(parse_direction_deg)},
    "fold": {
        "depth": fields.as_length,
        "at": _plain(parse_direction_deg),
        "flat": fields.as_length_or_0,
        **_CREASE,
    },
    "lid": {
        "height": fields.as_length,
        "wall": _choice("strip", "flange"),
        "lap": fields.as_length_or_0,
        "parts": _plain(fields.as_whole),
        "teeth": _plain(fold_fields.as_teeth),
        **_CREASE,
    },
    "text": {
        "words": _plain(text_fields.as_words),
        "column": _text,
        "along": _choice("rim", "middle"),
        "as": _choice("mark", "window", "join"),
        "reads": _choice("outside", "inside"),
        "size": fields.as_length,
        "at": _plain(parse_direction_deg),
        "limit": _plain(text_fields.as_limit),
        "inset": fields.as_length_or_0,
        "font": _text,
        "digest": _text,
    },
    "stand": {
        "size": fields.as_length,
        "feet": _plain(fold_fields.as_feet),
        "layers": _plain(fold_fields.as_layers),
        "play": fold_fields.as_play,
    },
}
"""The check of every key that holds a value."""

NESTED: Final[Mapping[tuple[str, str], str]] = {
    ("recipe", "piece"): "array",
    ("recipe", "card"): "named",
    ("recipe", "motif"): "named",
    ("recipe", "preset"): "named",
    ("recipe", "files"): "one",
    ("recipe", "sheets"): "one",
    ("recipe", "names"): "one",
    ("sheets", "laid"): "array",
    ("piece", "row"): "array",
    ("piece", "hole"): "array",
    ("piece", "layer"): "array",
    ("recipe", "rings"): "array",
    ("rings", "row"): "array",
    ("piece", "fold"): "array",
    ("piece", "lid"): "array",
    ("piece", "stand"): "array",
    ("piece", "text"): "array",
}
"""The keys that hold tables, and how: an array of them, one under each name, or one."""

NEEDED: Final[Mapping[str, tuple[str, ...]]] = {
    "motif": ("foot",),
    "piece": ("size",),
    "row": ("motif",),
    "hole": ("size",),
    "layer": ("card", "border"),
    "rings": ("sizes",),
    "ring_row": ("motif",),
    "fold": ("depth",),
    "lid": ("height",),
    "stand": ("size",),
    "laid": ("piece", "from_left", "from_bottom"),
}
"""The keys that must be there."""


def _ring_row(on: Size | None = None, **row: Any) -> RingRowTable:
    """Return a row of rings, whose edge goes by its size."""
    return RingRowTable(on, RowTable(**row))


def _text_table(**text: Any) -> TextTable:
    """Return words; what they are cut "as" is their style."""
    return TextTable(**{"style" if key == "as" else key: value for key, value in text.items()})


TABLES: Final[Mapping[str, Callable[..., Table]]] = {
    "recipe": RecipeTable,
    "card": CardTable,
    "motif": MotifTable,
    "preset": PresetTable,
    "files": FilesTable,
    "sheets": SheetsTable,
    "laid": LaidTable,
    "names": NamesTable,
    "piece": PieceTable,
    "row": RowTable,
    "hole": HoleTable,
    "layer": LayerTable,
    "rings": RingsTable,
    "ring_row": _ring_row,
    "fold": FoldTable,
    "lid": LidTable,
    "stand": StandTable,
    "text": _text_table,
}
"""What each table comes to."""
