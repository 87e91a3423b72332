"""On which line of a recipe a key stands."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final

__all__ = ["Path", "line_numbers", "line_of"]

Path = tuple[str | int, ...]
"""The way to a value: keys, and positions from 0 in arrays of tables, as in ("piece", 0, "row", 1, "count")."""

_KEY: Final = r"""(?:[A-Za-z0-9_-]+|"(?:[^"\\]|\\.)*"|'[^']*')"""
_DOTTED: Final = rf"{_KEY}(?:\s*\.\s*{_KEY})*"
_HEADER: Final = re.compile(rf"\s*(?P<array>\[)?\[\s*(?P<keys>{_DOTTED})\s*\]")
_ASSIGNED: Final = re.compile(rf"\s*(?P<keys>{_DOTTED})\s*=")
_OPENERS: Final = re.compile(r'"""|\'\'\'|"(?:[^"\\]|\\.)*"|\'[^\']*\'|#.*|[\[\]{}]')


def line_numbers(text: str) -> dict[Path, int]:
    """Return, for each table and key of a TOML text that is sound, the line (from 1) on which it stands.

    Keys inside inline tables and arrays are not listed: they stand on their holder's line or just below it.
    """
    found: dict[Path, int] = {}
    counts: dict[Path, int] = {}
    table: Path = ()
    depth, closing = 0, ""
    for number, line in enumerate(text.splitlines(), start=1):
        is_fresh = not depth and not closing
        if is_fresh and (header := _HEADER.match(line)):
            table = _table_path(_keys(header["keys"]), counts, is_array=header["array"] is not None)
            found.setdefault(table, number)
            continue
        if is_fresh and (assigned := _ASSIGNED.match(line)):
            path: Path = (*table, *_keys(assigned["keys"]))
            found.setdefault(path, number)
            line = line[assigned.end() :]
        depth, closing = _still_open(line, depth, closing)
    return found


def line_of(path: Path, numbers: Mapping[Path, int]) -> int | None:
    """Return the line of a path, or of the nearest holder of it that has a line; None where nothing is known."""
    for length in range(len(path), 0, -1):
        if path[:length] in numbers:
            return numbers[path[:length]]
    return None


def _keys(dotted: str) -> tuple[str, ...]:
    """Return the keys of a dotted name, quotes taken off."""
    return tuple(key[1:-1] if key[0] in "\"'" else key for key in re.findall(_KEY, dotted))


def _table_path(keys: tuple[str, ...], counts: dict[Path, int], *, is_array: bool) -> Path:
    """Return the path of a table header; names of arrays of tables are followed by the position of their last one."""
    path: Path = ()
    for depth, key in enumerate(keys, start=1):
        path = (*path, key)
        if is_array and depth == len(keys):
            counts[path] = counts.get(path, -1) + 1
        if path in counts:
            path = (*path, counts[path])
    return path


def _still_open(line: str, depth: int, closing: str) -> tuple[int, str]:
    """Return how many brackets are open after a line, and the quotes that would close an open long text."""
    while line:
        if closing:
            end = line.find(closing)
            if end < 0:
                return depth, closing
            line, closing = line[end + 3 :], ""
        token = _OPENERS.search(line)
        if not token:
            return depth, ""
        if token[0] in ('"""', "'''"):
            closing = token[0]
        else:
            depth += token[0] in ("[", "{")
            depth -= token[0] in ("]", "}")
        line = line[token.end() :]
    return depth, closing
