"""Between the maker's numbers and ours: lengths, sizes, directions on the clock, angles of mathematics.

A length is written "57mm", "8.2 cm", "3 1/4 in", or as a bare number in the recipe's ``units``; inside it is a float
in mm. A recipe, an option and a report count degrees clockwise from the top. Inside functions angles are radians,
counter-clockwise from +x. Only this module converts.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from typing import Final, Literal

from frameforge.errors import InputError

__all__ = [
    "DIRECTIONS",
    "INCH_MM",
    "LengthUnit",
    "format_both",
    "format_deg",
    "format_floor",
    "format_floor_both",
    "format_floor_deg",
    "format_floor_mm2",
    "format_inches",
    "format_mm",
    "format_seconds",
    "format_size",
    "is_in_inches",
    "is_lone_unit",
    "parse_deg",
    "parse_direction_deg",
    "parse_length_mm",
    "parse_size_mm",
    "to_clock_deg",
    "to_math_rad",
]

LengthUnit = Literal["mm", "cm", "in"]

INCH_MM: Final = 25.4
"""Millimetres in an inch (exact: international yard and pound agreement, 1959)."""

DIRECTIONS: Final = {"top": 0.0, "right": 90.0, "bottom": 180.0, "left": 270.0}
"""The four named directions, degrees clockwise from the top."""

_MM: Final[dict[str, float]] = {
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), 1.0),
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), 10.0),
    **dict.fromkeys(("in", "inch", "inches", '"', "''"), INCH_MM),
}
_SIGNS: Final = str.maketrans(
    {"″": '"', "“": '"', "”": '"', "‟": '"', "′": "'", "’": "'", "⁄": "/", "∕": "/", "×": "x", "✕": "x",
     "−": "-", "–": "-", "º": "°", "\u00a0": " ", "\u2009": " ", "\u202f": " "}
)  # fmt: skip
_VULGAR: Final = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
    "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5", "⅙": "1/6", "⅚": "5/6", "⅐": "1/7", "⅑": "1/9", "⅒": "1/10",
}  # fmt: skip
_NUMBER: Final = re.compile(
    r"(?P<sign>[-+]?)\s*(?:"
    r"(?P<whole>\d+)(?:\s+|\s*-\s*)(?P<top>\d+)\s*/\s*(?P<below>\d+)"
    r"|(?P<top_only>\d+)\s*/\s*(?P<below_only>\d+)"
    r"|(?P<decimal>\d+(?:[.,]\d*)?|[.,]\d+)"
    r")"
)
_UNITS_SAY: Final = 'Write mm, cm or in, for example 100mm, 4in, "3 1/4 in".'
_LENGTH_SAY: Final = 'Write a length, for example 100mm, 4in, "3 1/4 in".'
_ANGLE_SAY: Final = "Write degrees, for example 22.5deg."


def parse_length_mm(value: object, *, unit: LengthUnit = "mm") -> float:
    """Return the length in mm of a number in ``unit``, or of a text such as "57mm", "2 1/4 in", '3¼"', "57,5".

    A comma is a decimal comma where it stands alone; followed by exactly three digits it could part thousands and
    is refused. The sign is kept: the caller knows whether a length below 0 makes sense.
    Raises InputError (without a place) when the value is no length, not finite, or its unit is unknown.
    """
    if isinstance(value, bool) or not isinstance(value, (int, float, str)):
        raise InputError(f"not a length. {_LENGTH_SAY}", code="length")
    if not isinstance(value, str):
        return _finite(float(value) * _MM[unit])
    number, word = _number_and_rest(value, _LENGTH_SAY)
    if word and word not in _MM:
        raise InputError(f"no such unit. {_UNITS_SAY}", code="unit")
    return _finite(number * _MM[word or unit])


def parse_size_mm(value: object, *, unit: LengthUnit = "mm") -> tuple[float, float]:
    """Return (width, height) in mm of "100mm", "150x100", "12 x 12 in", "150mm x 10cm", a number or [150, 100].

    One length is a circle: both are equal. A unit behind the last length holds for the first one too when that has
    none. Raises InputError as ``parse_length_mm`` does, and unless there are one or two lengths above 0.
    """
    if isinstance(value, Sequence) and not isinstance(value, str):
        sides = [parse_length_mm(side, unit=unit) for side in value]
    elif isinstance(value, str):
        sides = _sides(value, unit)
    else:
        sides = [parse_length_mm(value, unit=unit)]
    if len(sides) not in (1, 2):
        raise InputError("not a size. Write one length for a circle or two for an oval, 150x100mm.", code="length")
    if min(sides) <= 0:
        raise InputError("a size must be above 0. Write 100mm for a circle, 150x100mm for an oval.", code="length")
    return sides[0], sides[-1]


def _sides(text: str, unit: LengthUnit) -> list[float]:
    """Return the lengths in mm of a size text, split at the sign between width and height."""
    parts = re.split(r"[x*](?=\s*[\d.,])", _plain(text))
    word = re.search(r"[a-z\"']+$", parts[-1].strip())
    sides = []
    for part in parts:
        has_unit = re.search(r"[a-z\"']$", part.strip()) is not None
        sides.append(parse_length_mm(part + word[0] if word and part.strip() and not has_unit else part, unit=unit))
    return sides


def parse_deg(value: object) -> float:
    """Return degrees of a number or of a text such as "22.5deg", "330 deg", "-15°".

    Raises InputError (without a place) when the value is no angle.
    """
    if isinstance(value, bool) or not isinstance(value, (int, float, str)):
        raise InputError(f"not an angle. {_ANGLE_SAY}", code="angle")
    if not isinstance(value, str):
        return _finite(float(value))
    number, word = _number_and_rest(value, _ANGLE_SAY)
    if word not in ("", "deg", "degree", "degrees", "°"):
        raise InputError(f"no such unit for an angle. {_ANGLE_SAY}", code="unit")
    return _finite(number)


def parse_direction_deg(value: object) -> float:
    """Return a direction in degrees clockwise from the top: a word of DIRECTIONS or an angle.

    Raises InputError for anything else.
    """
    if isinstance(value, str) and value.strip().lower() in DIRECTIONS:
        return DIRECTIONS[value.strip().lower()]
    try:
        return parse_deg(value)
    except InputError as fault:
        say = "Write top, right, bottom, left, or degrees clockwise from the top, for example 30deg."
        raise InputError(f"not a direction. {say}", code="angle") from fault


def is_lone_unit(word: str) -> bool:
    """Whether a word is a unit of length and nothing else, as in ``--size 100 mm`` without quotes."""
    return word.translate(_SIGNS).strip().lower() in _MM


def is_in_inches(text: str) -> bool:
    """Whether a length or a size is typed in inches, as its last unit says."""
    found = re.search(r"(?:[a-z]+|[\"']+)$", _plain(text))
    return found is not None and _MM.get(found[0]) == INCH_MM


def _plain(text: str) -> str:
    """Return the text with pasted signs replaced by typed ones, vulgar fractions written out, in small letters."""
    for sign, fraction in _VULGAR.items():
        text = text.replace(sign, f" {fraction}")
    return text.translate(_SIGNS).strip().lower()


def _number_and_rest(text: str, say: str) -> tuple[float, str]:
    """Return the number a text begins with, and the word behind it. Raises InputError with ``say`` when none."""
    plain = _plain(text)
    found = _NUMBER.match(plain)
    if not found:
        raise InputError(f"no number. {say}", code="number")
    number, rest = _value(found), plain[found.end() :].strip()
    if rest and (rest[0].isdigit() or rest[0] in "./,-+"):
        raise InputError(f"more than one number. {say}", code="number")
    return number, rest


def _value(found: re.Match[str]) -> float:
    """Return the number matched: a mixed number, a fraction, or a decimal with point or comma."""
    sign = -1.0 if found["sign"] == "-" else 1.0
    if found["decimal"]:
        if re.search(r",\d{3}$", found["decimal"]):
            dot = found["decimal"].replace(",", ".")
            both = f"{found['decimal'].replace(',', '')} or {dot}"
            raise InputError(f"a comma with three digits can be read two ways. Write {both}.", code="number")
        return sign * float(found["decimal"].replace(",", "."))
    below = int(found["below"] or found["below_only"])
    if not below:
        raise InputError(f"a fraction over 0. {_LENGTH_SAY}", code="number")
    return sign * (int(found["whole"] or 0) + int(found["top"] or found["top_only"]) / below)


def _finite(value: float) -> float:
    """Return the value. Raises InputError when it is infinite or not a number."""
    if not math.isfinite(value):
        raise InputError(f"not a number that can be measured. {_LENGTH_SAY}", code="number")
    return value


def format_mm(mm: float) -> str:
    """Return an outer size rounded to a tenth, halves up: "107.9 mm", "100 mm"."""
    return f"{_trimmed(f'{math.floor(mm * 10 + 0.5 + 1e-9) / 10:.1f}')} mm"


def format_floor(mm: float, *, in_column: bool = False) -> str:
    """Return a gap, slit or width cut to a hundredth, never rounded up: "2.41 mm", "2 mm".

    ``in_column``: its hundredths are always written, so that points stand below one another: "2.00 mm".
    A value a millionth under a hundredth counts as that hundredth: 2 computed as 1.9999999 is 2 mm.
    """
    return f"{_hundredths(mm) if in_column else _cut(mm)} mm"


def format_floor_mm2(mm2: float) -> str:
    """Return an area in mm2 cut to a hundredth, never rounded up, so that what is below a limit reads below it."""
    return f"{_cut(mm2)} mm2"


def format_inches(*lengths_mm: float) -> str:
    """Return inches: to eighths where that is true within 1/200 in ("4 1/4 in"), otherwise "3.94 in".

    Several lengths, joined by an x, all go by eighths or none does.
    """
    eighths = [_eighths(mm / INCH_MM) for mm in lengths_mm]
    if all(eighths):
        return f"{' x '.join(word for word in eighths if word)} in"
    return f"{' x '.join(f'{mm / INCH_MM:.2f}' for mm in lengths_mm)} in"


def _eighths(inches: float) -> str | None:
    """Return inches as whole and fraction; None where that would be off by more than 1/200 in, or nothing is left."""
    eighths = round(inches * 8)
    if abs(inches - eighths / 8) > 0.005 or eighths <= 0:
        return None
    whole, rest = divmod(eighths, 8)
    divisor = math.gcd(rest, 8)
    parts = [str(whole)] if whole else []
    return " ".join([*parts, *([f"{rest // divisor}/{8 // divisor}"] if rest else [])])


def format_both(mm: float) -> str:
    """Return a length in mm and inches: "107.9 mm (4 1/4 in)"."""
    return f"{format_mm(mm)} ({format_inches(mm)})"


def format_floor_both(mm: float) -> str:
    """Return a width in mm and inches, both cut to a hundredth, never rounded up: "13 mm (0.51 in)".

    Inches go by eighths where that is true to a millionth of an inch: "12.7 mm (1/2 in)".
    """
    eighths = mm / INCH_MM * 8
    words = _eighths(mm / INCH_MM) if abs(eighths - round(eighths)) < 8e-6 else None
    return f"{format_floor(mm)} ({words or f'{math.floor(mm / INCH_MM * 100 + 1e-4) / 100:.2f}'} in)"


def format_size(width_mm: float, height_mm: float) -> str:
    """Return a circle's width, or an oval's two, in mm and inches: "150 x 100 mm (5.91 x 3.94 in)"."""
    if width_mm == height_mm:
        return format_both(width_mm)
    return f"{format_mm(width_mm).removesuffix(' mm')} x {format_mm(height_mm)} ({format_inches(width_mm, height_mm)})"


def format_seconds(seconds: float) -> str:
    """Return a time in seconds as it is waited for: "31 s", "1 min 42 s"."""
    minutes, rest = divmod(round(seconds), 60)
    return f"{minutes} min {rest} s" if minutes else f"{rest} s"


def format_deg(deg: float) -> str:
    """Return degrees to a hundredth: "22.5 deg"."""
    return f"{_trimmed(f'{deg:.2f}')} deg"


def format_floor_deg(deg: float) -> str:
    """Return an angle in degrees cut to a hundredth, never rounded up: "19.99 deg" for 19.996."""
    return f"{_cut(deg)} deg"


def _cut(value: float) -> str:
    """Return a number cut to a hundredth, a millionth under one counting as that hundredth."""
    return _trimmed(_hundredths(value))


def _hundredths(value: float) -> str:
    """Return the same with both places: "2.00"."""
    return f"{math.floor(value * 100 + 1e-4) / 100:.2f}"


def _trimmed(number: str) -> str:
    """Return a decimal text without trailing zeros and without a minus before zero."""
    short = number.rstrip("0").rstrip(".") if "." in number else number
    return "0" if short == "-0" else short


def to_math_rad(clock_deg: float) -> float:
    """Return the angle counter-clockwise from +x, in radians, of a direction clockwise from the top, in degrees.

    Quarter turns are not rounded to exact sines: ``to_math_rad(0)`` is pi/2. Nothing is reduced to one turn.
    """
    return math.radians(90.0 - clock_deg)


def to_clock_deg(math_rad: float) -> float:
    """Return the direction clockwise from the top, 0 <= deg < 360, of an angle counter-clockwise from +x."""
    deg = (90.0 - math.degrees(math_rad)) % 360.0
    return 0.0 if deg == 360.0 else deg
