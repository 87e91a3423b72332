"""Lists of names as spreadsheets save them: one row a piece, its values under headings.

RFC 4180 with the separator guessed: comma, semicolon or tab. UTF-8, with or without a byte order mark.
"""

from __future__ import annotations

import csv
import io
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from frameforge.errors import FrameforgeError, InputError

__all__ = ["MOST_ROWS", "NamesList", "NamesRow", "read_names"]

MOST_ROWS: Final = 20_000
"""More rows than this are a slip of the file's name."""

_SEPARATORS: Final = {",": "comma", ";": "semicolon", "\t": "tab"}
_HEADINGS: Final = frozenset(
    {
        "name", "names", "text", "words", "title", "table", "colour", "color", "card", "size", "count", "copies",
        "group", "class", "motif",
    }
)  # fmt: skip
"""Words that tell that a first row is one of headings."""


@dataclass(frozen=True, slots=True)
class NamesRow:
    """One row: the line of the file it begins on (from 1), and its values by heading, blanks at their ends gone."""

    line: int
    values: dict[str, str]


@dataclass(frozen=True, slots=True)
class NamesList:
    """A list of names: its headings in their order, its rows, and what was found or taken, as sentences.

    ``has_headings`` is False where the first row is a name already; the columns are then called "1", "2", ...
    """

    headings: tuple[str, ...]
    rows: tuple[NamesRow, ...]
    has_headings: bool
    notes: tuple[str, ...] = ()


def read_names(data: bytes, where: str) -> NamesList:
    """Return the list of a file's bytes.

    Raises InputError, a line a fault, for another encoding, a quote that is not closed, rows with more values than
    headings, headings twice, and a list without names.
    """
    text = _text(data, where)
    separator = _separator(text)
    records = _records(text, separator, where)
    filled = [(line, values) for line, values in records if any(values)]
    if not filled:
        raise InputError("no names in it. Write one a line.", where=where, code="no-names")
    if len(filled) > MOST_ROWS:
        say = f"{len(filled)} rows are more than the {MOST_ROWS} that one run takes. Part the list."
        raise InputError(say, where=where, code="range")
    first_line, first = filled[0]
    has_headings = any(_plain(value) in _HEADINGS for value in first)
    headings = _headings(first, first_line, where) if has_headings else tuple(str(k + 1) for k in range(len(first)))
    body = filled[1:] if has_headings else filled
    if not body:
        raise InputError("headings and no names below them. Write one a line.", where=where, code="no-names")
    _check_width(body, headings, separator, where, has_headings=has_headings)
    rows = tuple(
        NamesRow(line, dict(zip(headings, (*values, *[""] * (len(headings) - len(values))), strict=True)))
        for line, values in ((line, values[: len(headings)]) for line, values in body)
    )
    return NamesList(headings, rows, has_headings, tuple(_notes(records, filled, separator, where)))


def _text(data: bytes, where: str) -> str:
    """Return the text of the bytes."""
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = data.count(b"\n", 0, fault.start) + 1
        say = "not written in UTF-8. In your spreadsheet save it as CSV UTF-8."
        raise InputError(say, where=f"{where} line {line}", code="not-utf-8") from fault
    if "\0" in text:
        raise InputError("no text. In your spreadsheet save it as CSV UTF-8.", where=where, code="not-utf-8")
    return unicodedata.normalize("NFC", text)


def _separator(text: str) -> str:
    """Return what parts the values: the sign that most lines have outside quotes; a comma where there is none."""
    counts = dict.fromkeys(_SEPARATORS, 0)
    is_quoted = False
    for sign in text:
        if sign == '"':
            is_quoted = not is_quoted
        elif sign in counts and not is_quoted:
            counts[sign] += 1
    # A comma in a name is common, a semicolon or a tab is not.
    if counts["\t"] or counts[";"]:
        return "\t" if counts["\t"] >= counts[";"] else ";"
    return ","


def _records(text: str, separator: str, where: str) -> list[tuple[int, tuple[str, ...]]]:
    """Return the records with the lines they begin on, empty ones too."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True, skipinitialspace=True)
    found = []
    line = 1
    try:
        for values in reader:
            found.append((line, tuple(value.strip() for value in values)))
            line = reader.line_num + 1
    except csv.Error as fault:
        say = 'a quote is not closed, or stands in the middle. Put the whole name in "double quotes".'
        raise InputError(say, where=f"{where} line {line}", code="quote") from fault
    return found


def _plain(heading: str) -> str:
    return heading.strip().casefold()


def _headings(values: Sequence[str], line: int, where: str) -> tuple[str, ...]:
    """Return the headings in small letters."""
    headings = tuple(_plain(value) for value in values)
    while headings and not headings[-1]:
        headings = headings[:-1]
    for place, heading in enumerate(headings):
        if not heading:
            say = f"heading {place + 1} is empty. Write one, or take the column out."
            raise InputError(say, where=f"{where} line {line}", code="heading")
        if heading in headings[:place]:
            raise InputError(
                f'two columns are headed "{heading}". Rename one.', where=f"{where} line {line}", code="heading"
            )
    return headings


def _check_width(
    rows: Sequence[tuple[int, tuple[str, ...]]],
    headings: tuple[str, ...],
    separator: str,
    where: str,
    *,
    has_headings: bool,
) -> None:
    """Refuse rows with more values than headings, a line each."""
    faults: list[FrameforgeError] = []
    for line, values in rows:
        if len(values) <= len(headings) or not any(values[len(headings) :]):
            continue
        place = _name_place(headings)
        split = f"{values[place]}{separator} {values[place + 1]}".replace("\t ", "\t")
        under = (
            f"under {len(headings)} heading{'s' if len(headings) > 1 else ''}"
            if has_headings
            else (f"where the first row has {len(headings)}")
        )
        say = (
            f"{len(values)} values {under}; the {_SEPARATORS[separator]} in {split} splits the name. "
            'Put the name in "double quotes".'
        )
        faults.append(InputError(say, where=f"{where} line {line}", code="too-wide"))
    if faults:
        raise InputError.from_many(faults)


def _name_place(headings: tuple[str, ...]) -> int:
    """Return the column that names stand in: the one headed so, otherwise the first."""
    return next((k for k, heading in enumerate(headings) if heading in ("name", "names")), 0)


def _notes(
    records: Sequence[tuple[int, tuple[str, ...]]],
    filled: Sequence[tuple[int, tuple[str, ...]]],
    separator: str,
    where: str,
) -> list[str]:
    """Return sentences on the separator taken, and on rows left out."""
    notes = []
    if separator != ",":
        notes.append(f"{where}: took the {_SEPARATORS[separator]} as what parts the values.")
    last = filled[-1][0]
    empty = [line for line, values in records if not any(values) and line < last]
    if empty:
        lines = ", ".join(map(str, empty[:8])) + (f" and {len(empty) - 8} more" if len(empty) > 8 else "")
        notes.append(f"{where} line{'s' if len(empty) > 1 else ''} {lines}: empty, left out.")
    return notes
