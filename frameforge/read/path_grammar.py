"""Path data scanned into commands, with the position of the first fault.

Grammar: SVG 1.1 (second edition, 2011) section 8.3.9 and SVG 2 section 9.3.9. A fault ends the reading; the commands
before it stand (SVG 2 section 9.5.4), which is what a renderer draws.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import Final

__all__ = ["ARGUMENTS", "GREATEST_NUMBER", "Command", "Fault", "Scan", "scan_numbers", "scan_path"]

GREATEST_NUMBER: Final = 1e9
"""Numbers beyond this are refused: a kilometre in micrometres, and products of four still are finite."""

ARGUMENTS: Final = {"M": "nn", "L": "nn", "H": "n", "V": "n", "C": "n" * 6, "S": "n" * 4, "Q": "n" * 4, "T": "nn",
                    "A": "nnnffnn", "Z": ""}  # fmt: skip
"""What one command takes: ``n`` a number, ``f`` a flag of exactly one character."""

# Possessive quantifiers (++, *+, ?+): no text can make these step back and search again.
_SPACE = r"[ \t\r\n\f]*+"
_NUMBER = r"([+-]?+(?:[0-9]++(?:\.[0-9]*+)?+|\.[0-9]++)(?:[eE][+-]?+[0-9]++)?+)"
_BLANK = re.compile(_SPACE)
_COMMA = re.compile(_SPACE + ",?+")
_LETTER = re.compile(_SPACE + r"([A-Za-z])")
_FIRST = {"n": re.compile(_SPACE + _NUMBER), "f": re.compile(_SPACE + "([01])")}
_NEXT = {kind: re.compile(_SPACE + r",?+" + pattern.pattern) for kind, pattern in _FIRST.items()}
_WANTED = {"n": "a number", "f": "a flag 0 or 1"}


@dataclass(frozen=True, slots=True)
class Command:
    """One drawing command with its own arguments, in user units or degrees.

    ``letter`` is upper case for absolute, lower case for relative.
    """

    letter: str
    numbers: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Fault:
    """Where the data stops being path data (characters counted from 1) and what stands there, as a sentence part.

    A harmless fault leaves no doubt about what was meant: everything before it is taken, and it is only noted.
    """

    position: int
    say: str
    is_harmless: bool = False


@dataclass(frozen=True, slots=True)
class Scan:
    """The commands before the first fault, and the fault, or None for good data."""

    commands: tuple[Command, ...]
    fault: Fault | None = None


def scan_path(data: str) -> Scan:
    """Return the commands of path data; pairs after a move are lines, repeated arguments repeated commands.

    Empty data is good and gives no command. Never raises: what cannot be read is the scan's ``fault``.
    """
    commands: list[Command] = []
    position = _end(_BLANK, data, 0)
    while position < len(data):
        match = _LETTER.match(data, position)
        if match is None or match[1].upper() not in ARGUMENTS:
            return Scan(tuple(commands), _fault(data, position, "a drawing command"))
        letter, position = match[1], match.end()
        if not commands and letter not in "Mm":
            return Scan((), Fault(match.start(1) + 1, f'"{letter}" stands where the first command must be M'))
        position, fault = _scan_run(data, position, letter, commands)
        if fault is not None:
            return Scan(tuple(commands), fault)
        position = _end(_BLANK, data, position)
    return Scan(tuple(commands))


def scan_numbers(data: str) -> tuple[tuple[float, ...], Fault | None]:
    """Return the numbers of a list separated by blanks or single commas, and the first fault (None where good)."""
    numbers: list[float] = []
    position = 0
    while _end(_BLANK, data, position) < len(data):
        position, number, fault = _scan_argument(data, position, "n", is_first=not numbers)
        if fault is not None:
            return tuple(numbers), fault
        numbers.append(number)
    return tuple(numbers), None


def _scan_run(data: str, position: int, letter: str, commands: list[Command]) -> tuple[int, Fault | None]:
    """Append one command and its repeats; return where the next letter may stand, or the fault."""
    kinds = ARGUMENTS[letter.upper()]
    if not kinds:
        commands.append(Command(letter, ()))
        return position, None
    is_first = True
    while is_first or _NEXT[kinds[0]].match(data, position) or data.startswith(",", _end(_BLANK, data, position)):
        numbers: list[float] = []
        for kind in kinds:
            position, number, fault = _scan_argument(data, position, kind, is_first=is_first)
            if fault is not None:
                return position, fault
            numbers.append(number)
            is_first = False
        commands.append(Command(letter, tuple(numbers)))
        letter = {"M": "L", "m": "l"}.get(letter, letter)
    return position, None


def _scan_argument(data: str, position: int, kind: str, *, is_first: bool) -> tuple[int, float, Fault | None]:
    """Return the position behind one argument and its value, or a fault."""
    match = (_FIRST if is_first else _NEXT)[kind].match(data, position)
    if match is None:
        return position, 0.0, _fault(data, position if is_first else _end(_COMMA, data, position), _WANTED[kind])
    number = float(match[1])
    if not math.isfinite(number) or abs(number) > GREATEST_NUMBER:
        return position, 0.0, Fault(match.start(1) + 1, f"the number {match[1][:20]} is too large")
    return match.end(), number, None


def _fault(data: str, position: int, wanted: str) -> Fault:
    """Return the fault at the next character that is not blank."""
    position = _end(_BLANK, data, position)
    if position >= len(data):
        return Fault(len(data) + 1, f"it ends where {wanted} is needed")
    found = re.match(r"[^\s,]{1,12}|.", data[position : position + 12], re.DOTALL)
    shown = "".join(letter if letter.isprintable() else " " for letter in found[0]) if found else ""
    return Fault(position + 1, f'"{shown}" stands where {wanted} is needed')


def _end(pattern: re.Pattern[str], data: str, position: int) -> int:
    """Return the end of a match that cannot be missing."""
    match = pattern.match(data, position)
    return match.end() if match else position
