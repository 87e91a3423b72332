"""A list of names laid over a recipe: one recipe of one piece for each row, and one for everything else it asks for."""

from __future__ import annotations

import difflib
import re
import unicodedata
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from frameforge.errors import InputError
from frameforge.job.naming import file_word
from frameforge.read.names_list import NamesList, NamesRow
from frameforge.recipe.model import NamesTable
from frameforge.recipe.recipe import Recipe

__all__ = ["Batch", "Task", "batch_of"]

_CARDS: Final = ("card", "colour", "color")
_NAMES: Final = ("name", "names", "text", "words", "title")
_TOLD: Final = 6
_WORD_SIGNS: Final = 28

_SPELT: Final = str.maketrans(
    {"ø": "o", "æ": "ae", "œ": "oe", "đ": "d", "ð": "d", "þ": "th", "ł": "l", "ħ": "h", "ŧ": "t", "ı": "i", "ŋ": "n"}
)
"""Small letters that are no plain one with an accent: in names of files they are spelt out."""


@dataclass(frozen=True, slots=True)
class Task:
    """One recipe to be made: where it comes from as it is told in messages, what it is called, and its raw tables.

    ``words`` is what stands on the piece, ``kind`` what all of the list are together, ``values`` its row of the list;
    all empty for what the recipe asks for beside the list.
    """

    where: str
    name: str
    raw: Mapping[str, Any]
    words: str = ""
    kind: str = ""
    values: Mapping[str, str] | None = None


@dataclass(frozen=True, slots=True)
class Batch:
    """All tasks of a run in their order, and sentences on what was taken or counted."""

    tasks: tuple[Task, ...]
    notes: tuple[str, ...]


def batch_of(recipe: Recipe, names: NamesList, list_name: str) -> Batch:
    """Return what a recipe and a list of names ask for.

    Raises InputError where no piece, or several, could be the one that is made once a row, and for columns that are
    not there.
    """
    table = recipe.tables.names or NamesTable()
    index = _piece_of(recipe, table)
    columns = _Columns(names, recipe, index, table)
    raw_piece = recipe.raw["piece"][index]
    base = raw_piece.get("name") or "badge"
    width = max(2, len(str(len(names.rows))))
    rows = []
    for number, row in enumerate(names.rows, start=1):
        words = row.values[columns.text]
        name = "-".join(part for part in (str(base), f"{number:0{width}d}", _slug(words)) if part)
        raw = _with(recipe.raw, columns.laid(raw_piece, row, name))
        rows.append(Task(f"{list_name} line {row.line}", name, raw, words, str(base), row.values))
    others = [
        Task("", "", {**recipe.raw, "piece": [piece], "rings": []})
        for k, piece in enumerate(recipe.raw["piece"])
        if k != index
    ]
    if recipe.raw.get("rings"):
        others += [Task("", "", {**recipe.raw, "piece": [], "rings": [rings]}) for rings in recipe.raw["rings"]]
    notes = (*names.notes, *columns.notes(list_name), *_doubles([task.words for task in rows], list_name))
    return Batch((*rows, *(_without_names(task) for task in others)), notes)


def _with(raw: Mapping[str, Any], piece: Mapping[str, Any]) -> dict[str, Any]:
    """Return the recipe with this piece alone."""
    return {key: value for key, value in raw.items() if key not in ("piece", "names", "rings")} | {"piece": [piece]}


def _without_names(task: Task) -> Task:
    raw = {
        key: value
        for key, value in task.raw.items()
        if key != "names" and not (key in ("piece", "rings") and not value)
    }
    table = "piece" if "piece" in raw else "rings"
    return Task(task.where, str(raw[table][0].get("name", "")), raw)


def _piece_of(recipe: Recipe, table: NamesTable) -> int:
    """Return the piece (from 0) that is made once a row."""
    pieces = recipe.pieces
    if not pieces:
        say = "rings take no names. Write a [[piece]] with a [[piece.text]] below it."
        raise InputError(say, where=recipe.source.name, code="names")
    if table.piece is not None:
        for index, piece in enumerate(pieces):
            if piece.name == table.piece:
                return index
        near = difflib.get_close_matches(table.piece, [piece.name or "" for piece in pieces], n=1, cutoff=0.0)[0]
        where = recipe.source.label(("names", "piece"), table.piece)
        raise InputError(f"no piece is called so; the nearest is {near}.", where=where, code="names")
    with_columns = [k for k, piece in enumerate(pieces) if any(text.column for text in piece.text)]
    if len(with_columns) == 1:
        return with_columns[0]
    if len(pieces) == 1:
        return 0
    told = ", ".join(piece.name or f"piece {k + 1}" for k, piece in enumerate(pieces))
    say = f'which of its {len(pieces)} pieces is made once a name: {told}? Write piece = "NAME" below [names].'
    raise InputError(say, where=recipe.source.name or "make", code="names")


class _Columns:
    """Which column of the list sets what of the piece."""

    def __init__(self, names: NamesList, recipe: Recipe, index: int, table: NamesTable) -> None:
        self._names, self._recipe = names, recipe
        piece = recipe.pieces[index]
        self.of_text = [
            self._found(text.column, ("piece", index, "text", place, "column")) if text.column else None
            for place, text in enumerate(piece.text)
        ]
        stated = self._found(table.text, ("names", "text")) if table.text else None
        columns = [column for column in self.of_text if column]
        self.text = stated or (columns[0] if columns else self._guess(_NAMES) or names.headings[0])
        self._is_unlettered = bool(piece.text) and not columns and all(text.words for text in piece.text)
        self.adds_text = not columns and not any(text.words for text in piece.text)
        self.card = self._found(table.card, ("names", "card")) if table.card else self._guess(_CARDS)
        self.size = self._found(table.size, ("names", "size")) if table.size else self._guess(("size",))
        self.count = self._found(table.count, ("names", "count")) if table.count else self._guess(("count",))
        self.copies = self._guess(("copies",))

    def _guess(self, words: Sequence[str]) -> str | None:
        return next((word for word in words if word in self._names.headings), None)

    def _found(self, wanted: str, path: tuple[str | int, ...]) -> str:
        """Return the heading of a column. A list without headings has the one column of names."""
        if not self._names.has_headings:
            return self._names.headings[0]
        heading = wanted.strip().casefold()
        if heading in self._names.headings:
            return heading
        near = difflib.get_close_matches(heading, self._names.headings, n=1, cutoff=0.0)[0]
        say = f'no column of the list is headed so; the nearest is "{near}".'
        raise InputError(say, where=self._recipe.source.label(path, wanted), code="names")

    def laid(self, raw_piece: Mapping[str, Any], row: NamesRow, name: str) -> dict[str, Any]:
        """Return the piece of a row, as it would be written."""
        piece = {key: value for key, value in raw_piece.items() if key not in ("copies", "name")}
        piece = {"name": name, **piece}
        texts = [dict(text) for text in piece.get("text", ())]
        for text, column in zip(texts, self.of_text, strict=True):
            if column is not None:
                text.pop("column", None)
                text["words"] = row.values[column]
            elif "words" not in text:
                text["words"] = row.values[self.text]
        if self.adds_text and not texts:
            texts = [{"words": row.values[self.text]}]
        # A cell that is empty leaves its words out, but for the name itself: without it there is no piece.
        texts = [text for text in texts if text["words"] or text["words"] == row.values[self.text]]
        if texts:
            piece["text"] = texts
        for key, column in (("card", self.card), ("size", self.size)):
            if column is not None and row.values[column]:
                piece[key] = row.values[column]
        if self.copies is not None and row.values[self.copies]:
            piece["copies"] = _whole(row.values[self.copies])
        if self.count is not None and row.values[self.count] and piece.get("row"):
            first, *others = piece["row"]
            piece["row"] = [{**first, "count": _whole(row.values[self.count])}, *others]
        return piece

    def notes(self, list_name: str) -> list[str]:
        """Return what was taken without being said."""
        notes = []
        if not self._names.has_headings:
            notes.append(f"{list_name}: took its first column as the names, since it has no headings.")
        if self._is_unlettered:
            notes.append(
                "the names are in the names of the files alone; the words on the pieces are those of the recipe."
            )
        if self.adds_text:
            notes.append("took the names as words along the rim, since the recipe has no [[piece.text]].")
        return notes


def _whole(value: str) -> int | str:
    """Return a whole number as one, anything else as it stands: the recipe's own checks speak of it."""
    return int(value) if value.isdecimal() else value


def _slug(words: str) -> str:
    """Return words as a part of a file name that every system takes: "oradish-minty"."""
    plain = unicodedata.normalize("NFKD", words.casefold().translate(_SPELT))
    ascii_only = "".join(sign for sign in plain if sign.isascii())
    slug = re.sub(r"[^a-z0-9]+", "-", ascii_only.replace("'", "")).strip("-")
    return file_word(slug)[:_WORD_SIGNS].strip("-") if slug else ""


def _doubles(words: Sequence[str], list_name: str) -> list[str]:
    """Return a sentence on names that stand there more than once."""
    twice = [(word, count) for word, count in Counter(word for word in words if word).items() if count > 1]
    if not twice:
        return []
    told = ", ".join(f"{word} {count} times" for word, count in twice[:_TOLD])
    more = f" and {len(twice) - _TOLD} more" if len(twice) > _TOLD else ""
    return [f"{list_name}: {told}{more}; a piece was made for each."]
