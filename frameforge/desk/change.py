"""A recipe changed by one blank of the sentence: what was put in is laid over it as an option of a command is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any, Final

from frameforge.desk.paths import refuse_paths
from frameforge.desk.recipe_text import recipe_text
from frameforge.errors import InputError
from frameforge.recipe.from_options import with_options
from frameforge.recipe.lines import line_numbers
from frameforge.recipe.recipe import Recipe, check_recipe, parse_toml
from frameforge.recipe.source import Source
from frameforge.units import is_in_inches, parse_size_mm

__all__ = ["DESK", "RECIPE_NAME", "Change", "changed_text", "checked"]

RECIPE_NAME: Final = "recipe"
DESK: Final = "desk"
"""What stands before a blank's name where a message says its place."""

_TABLE_OF: Final = {"layers": "layer"}
_OVAL_RATIO: Final = 1.5
_MM_PER_INCH: Final = 25.4


class Change:
    """What the page wants changed: ``options`` by key as typed, and the keys to ``leave_out``."""

    __slots__ = ("leave_out", "options")

    def __init__(self, options: Mapping[str, Any], leave_out: Iterable[str]) -> None:
        self.options = dict(options)
        self.leave_out = tuple(leave_out)

    def __bool__(self) -> bool:
        """Whether there is anything to change."""
        return bool(self.options or self.leave_out)


def changed_text(text: str, change: Change) -> str:
    """Return the recipe text with a change laid over it; without one, the text as it stands.

    Raises InputError with every fault that the change brings, said of the blank, or that stood there before, said of
    its line.
    """
    raw = parse_toml(text, RECIPE_NAME)
    refuse_paths(raw)
    if not change:
        return text
    checked(text)
    options = dict(change.options)
    raw = _left_out(raw, change.leave_out)
    if (shape := options.pop("shape", None)) is not None:
        options |= _shaped(raw, str(shape))
    result, source = with_options(raw, Source(RECIPE_NAME, command=DESK), options)
    refuse_paths(result)
    check_recipe(result, source)
    return recipe_text(result)


def checked(text: str) -> Recipe:
    """Return the checked recipe of a text. Raises InputError with every fault, said of its line."""
    raw = parse_toml(text, RECIPE_NAME)
    refuse_paths(raw)
    return check_recipe(raw, Source(RECIPE_NAME, line_numbers(text), command=DESK))


def _left_out(raw: Mapping[str, Any], keys: Iterable[str]) -> dict[str, Any]:
    """Return the recipe without some keys of its files, of its one piece, and of that piece's one row."""
    gone = {_TABLE_OF.get(key, key) for key in keys}
    if isinstance(files := raw.get("files"), dict):
        left = {key: value for key, value in files.items() if key not in gone}
        raw = {**{key: value for key, value in raw.items() if key != "files"}, **({"files": left} if left else {})}
    pieces = raw.get("piece")
    if not gone or not isinstance(pieces, list) or len(pieces) != 1 or not isinstance(pieces[0], dict):
        return dict(raw)
    piece = {key: value for key, value in pieces[0].items() if key not in gone}
    rows = piece.get("row")
    if isinstance(rows, list) and len(rows) == 1 and isinstance(rows[0], dict):
        row = {key: value for key, value in rows[0].items() if key not in gone}
        piece["row"] = [row]
    return {**raw, "piece": [piece]}


def _shaped(raw: Mapping[str, Any], shape: str) -> dict[str, Any]:
    """Return the options that make the base of the one piece a circle or an oval of about its size.

    A hole in the middle becomes a rim of its width, which fits either.
    """
    piece = raw["piece"][0] if raw.get("piece") else {}
    size, unit = piece.get("size"), raw.get("units", "mm")
    if shape not in ("circle", "oval"):
        raise InputError('a base is "circle" or "oval". Write one of them.', where=f"{DESK}, --shape", code="choice")
    if size is None or size == "find":
        raise InputError("the size is to be found. Write a size first.", where=f"{DESK}, --size", code="no-size")
    wide, high = parse_size_mm(size, unit=unit)
    if (wide == high) == (shape == "circle"):
        return {}
    in_inches = unit == "in" or (isinstance(size, str) and is_in_inches(size))
    across = max(wide, high) if shape == "circle" else wide
    sides = (across,) if shape == "circle" else (_OVAL_RATIO * wide, high)
    options: dict[str, Any] = {"size": _typed(sides, in_inches=in_inches)}
    if (opening := piece.get("opening")) is not None:
        rim = (wide - parse_size_mm(opening, unit=unit)[0]) / 2
        options["rim"] = _typed((rim,), in_inches=in_inches)
    return options


def _typed(sides_mm: tuple[float, ...], *, in_inches: bool) -> str:
    """Return lengths as they would be typed: "114x76mm"."""
    if in_inches:
        return "x".join(f"{round(side / _MM_PER_INCH, 4):g}" for side in sides_mm) + "in"
    return "x".join(f"{round(side, 2):g}" for side in sides_mm) + "mm"
