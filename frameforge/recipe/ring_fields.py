"""What the sizes of rings come to: a list of them, or the first, the last and the step between.

Each function takes the value as it stands in the recipe and returns it in our units, or raises InputError with the
sentence for the maker and without a place; the model adds the place.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence
from typing import Final

from frameforge.errors import InputError
from frameforge.frame.spec import Size
from frameforge.recipe.fields import as_size
from frameforge.units import LengthUnit, format_mm

__all__ = ["MOST_RINGS", "as_inside", "as_ring_sizes", "typed_size"]

MOST_RINGS: Final = 200
"""More rings than this no sheet has room for: a step that was mistyped is likelier."""

_SAY: Final = 'Write "60-140 by 20", or the sizes one by one: "44, 61, 78 mm".'
_STEP: Final = re.compile(r"(?P<span>.+?)\s*(?:\bby\b|\bstep\b|\bin steps of\b)\s*(?P<step>.+)", re.IGNORECASE)
_TO: Final = re.compile(r"\s*(?:-|–|—|−|\.\.+|\bto\b)\s*", re.IGNORECASE)
_UNIT: Final = re.compile(r"[a-zA-Z\"″']+\s*$")
_SLACK: Final = 1e-9


def as_ring_sizes(value: object, unit: LengthUnit) -> tuple[Size, ...]:
    """Return the edges of rings, the smallest first, of [60, 80, 100], "44, 61, 78 mm" or "60-140 by 20".

    Both a list and a span may hold ovals: "60x40 - 140x120 by 20". A unit behind the last length holds for all that
    have none. Raises InputError for fewer than two, for sizes that stand there twice, and for a step that misses the
    last size.
    """
    if isinstance(value, str):
        found = _STEP.fullmatch(value.strip())
        sizes = _span(found["span"], found["step"], unit) if found else _listed(value, unit)
    elif isinstance(value, Sequence):
        sizes = [as_size(entry, unit) for entry in value]
    else:
        raise InputError(f"not the sizes of rings. {_SAY}", code="sizes")
    if len(sizes) < 2:
        raise InputError(f"rings need two sizes or more. {_SAY}", code="sizes")
    if len(sizes) > MOST_RINGS:
        raise InputError(f"{len(sizes)} rings; {MOST_RINGS} at most can be made. Write a larger step.", code="sizes")
    ordered = sorted(sizes, key=lambda size: (size.width_mm, size.height_mm))
    twice = [size for size, after in itertools.pairwise(ordered) if size == after]
    if twice:
        raise InputError(f"{typed_size(twice[0])} stands there twice. Leave one of the two out.", code="sizes")
    return tuple(ordered)


def as_inside(value: object, unit: LengthUnit) -> tuple[Size, ...]:
    """Return the sizes cut within what comes out of an opening, the smallest first; none for "keep", all of it.

    Raises InputError otherwise.
    """
    if isinstance(value, str) and value.strip().lower() == "keep":
        return ()
    if isinstance(value, str):
        sizes = _listed(value, unit)
    elif isinstance(value, Sequence):
        sizes = [as_size(entry, unit) for entry in value]
    else:
        sizes = [as_size(value, unit)]
    return tuple(sorted(set(sizes), key=lambda size: (size.width_mm, size.height_mm)))


def _listed(text: str, unit: LengthUnit) -> list[Size]:
    """Return the sizes of a list; where a semicolon parts them, a comma is a decimal comma."""
    parts = [part.strip() for part in re.split(";" if ";" in text else ",", text) if part.strip()]
    if len(parts) == 1 and _TO.search(parts[0]) and len([*filter(None, _TO.split(parts[0]))]) == 2:
        raise InputError("from one size to another, in which steps? Write for example 60-140 by 20.", code="sizes")
    return [as_size(part, unit) for part in _with_unit(parts)]


def _span(span: str, step: str, unit: LengthUnit) -> list[Size]:
    """Return the sizes from the first to the last, in steps of which each widens both sides by the same."""
    first, last, by = _ends(span, step, unit)
    if by <= 0:
        raise InputError("a step must be above 0. Write for example 60-140 by 20.", code="sizes")
    if first.width_mm > last.width_mm:
        first, last = last, first
    grown = (last.width_mm - first.width_mm, last.height_mm - first.height_mm)
    if abs(grown[0] - grown[1]) > _SLACK:
        say = f"from {typed_size(first)} to {typed_size(last)} width and height do not grow by the same. "
        raise InputError(f"{say}Write all sizes, one by one.", code="sizes")
    count = round(grown[0] / by)
    if count > MOST_RINGS:
        raise InputError(f"{count + 1} rings; {MOST_RINGS} at most can be made. Write a larger step.", code="sizes")
    if abs(count * by - grown[0]) > _SLACK * max(1.0, grown[0]):
        raise InputError(_missed(first, last, by), code="sizes")
    return [Size(first.width_mm + k * by, first.height_mm + k * by) for k in range(count)] + [last]


def _missed(first: Size, last: Size, by: float) -> str:
    """Return the sentence for a step that goes past the last size, with the ends that it does meet."""
    count = int((last.width_mm - first.width_mm) / by)
    below, above = (Size(first.width_mm + k * by, first.height_mm + k * by) for k in (count, count + 1))
    step = format_mm(by).removesuffix(" mm")
    offers = [f"{typed_size(first)} - {typed_size(end)} by {step}mm" for end in ((below, above) if count else (above,))]
    return f"steps of {step} mm from {typed_size(first)} do not meet {typed_size(last)}. Write {' or '.join(offers)}."


def _ends(span: str, step: str, unit: LengthUnit) -> tuple[Size, Size, float]:
    """Return first and last size and the step, in mm, of the one way in which a span can be read."""
    for found in _TO.finditer(span):
        parts = [span[: found.start()], span[found.end() :], step]
        if not all(part.strip() for part in parts):
            continue
        try:
            first, last, by = (as_size(part, unit) for part in _with_unit(parts))
        except InputError:
            continue
        if by.is_circle:
            return first, last, by.width_mm
    raise InputError(f"not from one size to another. {_SAY}", code="sizes")


def _with_unit(parts: Sequence[str]) -> list[str]:
    """Return the parts with a unit where they have none: the next one that is written behind them."""
    known, found = "", []
    for part in reversed(parts):
        unit = _UNIT.search(part)
        known = unit[0] if unit else known
        found.append(part if unit else part + known)
    # What stands behind the last unit written has that one too: "60mm-140 by 20".
    last = next((unit[0] for part in reversed(parts) if (unit := _UNIT.search(part))), "")
    return [part if _UNIT.search(part) else part + last for part in reversed(found)]


def typed_size(size: Size) -> str:
    """Return a size as it is typed, to the last digit: "61.5mm", "60x40mm"."""
    sides = (size.width_mm,) if size.is_circle else (size.width_mm, size.height_mm)
    return f"{'x'.join(f'{round(side, 4):g}' for side in sides)}mm"
