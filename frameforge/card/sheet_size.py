"""Sheets of card by name, or by their two sides."""

from __future__ import annotations

import difflib
import re
import tomllib
from dataclasses import dataclass, replace
from functools import cache
from importlib import resources
from typing import Final

from frameforge.errors import InputError
from frameforge.units import LengthUnit, format_inches, format_mm, is_in_inches, parse_size_mm

__all__ = ["A4", "LEAST_SIDE_MM", "SheetSize", "larger_sheets", "named_sheet", "parse_sheet", "sheet_names"]

LEAST_SIDE_MM: Final = 20.0
"""A smaller sheet is a slip of the unit."""

GREATEST_SIDE_MM: Final = 5000.0

_DECIMALS: Final = 9
"""Sides in inches come out as the decimals they are: 12 in is 304.8 mm."""

_TWO_SIDES: Final = "Write A4, for example, or two sides: 12x12in, 300x200mm."
_TURNED: Final = re.compile(r"\b(landscape|portrait|upright|lying)\b")


@dataclass(frozen=True, slots=True)
class SheetSize:
    """A size of sheet: what it is called, its sides as it lies (mm), and who says so ("" for one given by its sides).

    ``family`` is the list that the name stands in.
    """

    name: str
    width_mm: float
    height_mm: float
    source: str = ""
    family: str = ""

    @property
    def words(self) -> str:
        """What it is called in a sentence: "an A4 sheet", "a 12 x 12 in sheet"."""
        is_an = re.match(r"A(?:\d|NSI|rch)|8|11|18", self.name) is not None
        return f"{'an' if is_an else 'a'} {self.name} sheet"

    @property
    def typed(self) -> str:
        """The name as it is typed on a command line, in quotes where it has blanks."""
        plain = self.name.replace(" x ", "x").replace(" in", "in").replace(" mm", "mm")
        return f'"{plain}"' if " " in plain else plain

    def landscape(self) -> SheetSize:
        """Return the sheet with its longer side across."""
        return self if self.width_mm >= self.height_mm else self._turned("landscape")

    def portrait(self) -> SheetSize:
        """Return the sheet with its longer side upright."""
        return self if self.width_mm <= self.height_mm else self._turned("portrait")

    def _turned(self, how: str) -> SheetSize:
        bare = _TURNED.sub("", self.name).strip()
        return replace(self, name=f"{bare} {how}", width_mm=self.height_mm, height_mm=self.width_mm)


def sheet_names() -> tuple[str, ...]:
    """Return the names of all sheets that are known."""
    return tuple(size.name for size in _table().values())


def named_sheet(name: str) -> SheetSize:
    """Return the sheet of a name such as "A4", "a4 landscape", "US letter" or "ANSI B".

    Raises InputError with the nearest name for one that is not known.
    """
    known = _table()
    words = name.strip().lower()
    turned = _TURNED.search(words)
    plain = _plain(_TURNED.sub(" ", words))
    if plain not in known:
        alike = [other for other in known if plain and other[0] == plain[0]]
        near = difflib.get_close_matches(plain, alike or known, n=1, cutoff=0.5)
        offer = f"the nearest is {known[near[0]].name}" if near else "there are A0 to A10, B0 to B10, Letter and more"
        say = f"no sheet of that name; {offer}. {_TWO_SIDES}"
        raise InputError(say, code="name")
    size = known[plain]
    if turned is None:
        return size
    return size.landscape() if turned[1] in ("landscape", "lying") else size.portrait()


def parse_sheet(value: object, unit: LengthUnit = "mm") -> SheetSize:
    """Return the sheet of a name, of "12x12in", "300 x 200 mm" or of [304.8, 304.8] in ``unit``.

    Raises InputError (without a place) for an unknown name, one side alone, and sides that no sheet has.
    """
    if isinstance(value, str) and re.match(r"\s*[a-z]", value, re.IGNORECASE):
        return named_sheet(value)
    is_pair = (isinstance(value, (list, tuple)) and len(value) == 2) or (
        isinstance(value, str) and re.search(r"[xX×✕*]", value) is not None
    )
    if not is_pair:
        raise InputError(f"not a sheet. {_TWO_SIDES}", code="length")
    width, height = (round(side, _DECIMALS) for side in parse_size_mm(value, unit=unit))
    _refuse_sides(width, height, unit if not isinstance(value, str) else "mm")
    in_inches = is_in_inches(value) if isinstance(value, str) else unit == "in"
    return SheetSize(_size_name(width, height, in_inches=in_inches), width, height)


def larger_sheets(than: SheetSize) -> tuple[SheetSize, ...]:
    """Return the named sheets of greater area than another, the least first, those of its own family before others."""
    area = than.width_mm * than.height_mm
    found = [size for size in dict.fromkeys(_table().values()) if size.width_mm * size.height_mm > area + 1]
    family = than.family or ("craft" if than.name.endswith(" in") else "iso-a")
    return tuple(sorted(found, key=lambda size: (size.family != family, size.width_mm * size.height_mm)))


def _refuse_sides(width: float, height: float, unit: LengthUnit) -> None:
    """Raise InputError for sides that no sheet of card has."""
    if min(width, height) < LEAST_SIDE_MM:
        sides = f"{width:g}x{height:g}"
        say = f"{sides} mm is no sheet of card. Write {sides}in for inches."
        raise InputError(say if unit == "mm" else f"that is no sheet of card. {_TWO_SIDES}", code="range")
    if max(width, height) > GREATEST_SIDE_MM:
        say = f"{format_mm(max(width, height))} is longer than any sheet of card. {_TWO_SIDES}"
        raise InputError(say, code="range")


def _size_name(width: float, height: float, *, in_inches: bool) -> str:
    """Return what a sheet given by its sides is called."""
    if in_inches:
        return format_inches(width, height)
    return f"{format_mm(width).removesuffix(' mm')} x {format_mm(height)}"


def _plain(name: str) -> str:
    """Return a name without spaces, case and needless words."""
    words = re.sub(r"\b(sheets?|iso|din|us|paper|card)\b", " ", name.lower())
    return re.sub(r"[^0-9a-z.]", "", words)


@cache
def _table() -> dict[str, SheetSize]:
    """Return all that have a name, by that name made plain."""
    text = resources.files("frameforge.card").joinpath("sheets.toml").read_text(encoding="utf-8")
    found = {}
    for family, sizes in tomllib.loads(text).items():
        source = sizes.pop("source")
        for name, (width, height) in sizes.items():
            told = name.replace("x", " x ").replace("in", " in") if family == "craft" else name
            found[_plain(name)] = SheetSize(told, float(width), float(height), source, family)
    return found


A4: Final = SheetSize("A4", 210.0, 297.0, "ISO 216", "iso-a")
"""The sheet taken where none is named."""
