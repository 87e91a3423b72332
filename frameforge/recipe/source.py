"""Where a recipe came from, so that every fault can name its place: a file's lines, or options of a command."""

from __future__ import annotations

import itertools
from collections.abc import Mapping
from dataclasses import dataclass, field

from frameforge.recipe.lines import Path, line_of

__all__ = ["Source"]


@dataclass(frozen=True, slots=True)
class Source:
    """What the maker gave: ``name`` is a file's name or the command's, ``lines`` tells on which line a path stands.

    ``options`` holds the option behind each path that was typed instead of written. ``piece_names`` are the names as
    far as they are known, for recipes of several pieces.
    """

    name: str
    lines: Mapping[Path, int] = field(default_factory=dict)
    options: Mapping[Path, str] = field(default_factory=dict)
    command: str = "make"
    piece_names: tuple[str, ...] = ()

    def place(self, path: Path) -> str:
        """Return where a value stands: "badge.toml line 14, row 1", or "make, --size" for an option."""
        option = self.option_of(path)
        if option is not None:
            return f"{self.command}, {option}"
        if not self.name:
            return ", ".join([self.command, *self._tables(path)])
        line = line_of(path, self.lines)
        return ", ".join([f"{self.name} line {line}" if line else self.name, *self._tables(path)])

    def label(self, path: Path, found: object) -> str:
        """Return the place with the key and what was found there: 'make, --size "100 milimeters"'."""
        if self.option_of(path) is not None:
            return f"{self.place(path)} {_quoted(found)}"
        key = next((str(part) for part in reversed(path) if isinstance(part, str)), "")
        return f"{self.place(path)}, {key} {_quoted(found)}"

    def option_of(self, path: Path) -> str | None:
        """Return the option that gave a path, or the nearest holder of it that an option gave; None for none."""
        for length in range(len(path), 0, -1):
            if path[:length] in self.options:
                return self.options[path[:length]]
        return None

    def _tables(self, path: Path) -> list[str]:
        """Return the names of the tables on the way: the piece where there are several, then "row 1"."""
        names = []
        for key, position in itertools.pairwise(path):
            if not isinstance(key, str) or not isinstance(position, int):
                continue
            if key != "piece":
                names.append(f"{key} {position + 1}")
            elif len(self.piece_names) > 1:
                names.append(self.piece_names[position] or f"piece {position + 1}")
        return names


def _quoted(found: object) -> str:
    """Return a value as it would be typed, cut to a length that fits a line."""
    if isinstance(found, str):
        text = f'"{found}"'
    elif isinstance(found, bool):
        text = str(found).lower()
    elif isinstance(found, (list, tuple)):
        text = f"[{', '.join(_quoted(entry) for entry in found)}]"
    else:
        text = str(found)
    text = "".join(sign if sign.isprintable() else "?" for sign in text)
    return text if len(text) <= 60 else f"{text[:57]}..."
