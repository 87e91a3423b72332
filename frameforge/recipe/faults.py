"""What is wrong with a recipe's tables: keys that are unknown, misplaced, missing or against each other."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final, NamedTuple

from frameforge.recipe.lines import Path
from frameforge.recipe.words import KEYS, SYNONYMS, nearest

__all__ = ["Fault", "clashes", "unknown_say"]


class Fault(NamedTuple):
    """One fault: the path it is about, the sentence, and what was found there where that helps."""

    path: Path
    say: str
    found: object = None
    has_found: bool = False


_KEY_SHOWN: Final = 56
_INNER: Final = ("row", "layer", "hole", "fold", "lid", "stand")
_PIECE_ONLY: Final = set(KEYS["piece"])
_EXCLUSIVE: Final = (
    ("piece", "opening", "rim", "the opening and the rim both say how large the hole in the middle is"),
    ("row", "foot", "scale", "the foot and the scale both say how large the motif is"),
    ("row", "gap", "foot_gap", "the gap and the foot gap both say how far apart the repeats stand"),
    ("piece", "ratio", "grow_from", "both say which oval the size to be found belongs to"),
)


def unknown_say(table: str, key: str) -> str:
    """Return the sentence for a key that its table does not know."""
    if len(key) > _KEY_SHOWN:
        key = f"{key[:_KEY_SHOWN]}..."
    if table in _INNER and key in _PIECE_ONLY:
        return f'"{key}" belongs to the piece, not to its {table}. Move it above [[piece.{table}]].'
    if table == "ring_row" and key in KEYS["rings"]:
        return f'"{key}" belongs to the rings, not to their row. Move it above [[rings.row]].'
    if table == "rings" and key in KEYS["ring_row"]:
        return f'"{key}" belongs to a row. Move it below [[rings.row]].'
    for inner in _INNER:
        if table != inner and table in ("piece", *_INNER) and key in KEYS[inner]:
            return f'"{key}" belongs to a {inner}. Move it below [[piece.{inner}]].'
    if table == "recipe" and key in _PIECE_ONLY:
        return f'"{key}" belongs to a piece. Move it below [[piece]].'
    near = nearest(key, KEYS[table])
    if not near:
        return f'"{key}" is not known here. Known are: {", ".join(KEYS[table])}.'
    if key.lower() in SYNONYMS:
        return f'"{key}" is not known here. It is called {" or ".join(near)}.'
    return f'"{key}" is not known here; the nearest is {near[0]}.'


def clashes(raw: Mapping[str, object]) -> list[Fault]:
    """Return the keys that say the same thing twice, of a recipe as it stands in its file."""
    found = []
    for table, path, content in _tables(raw):
        for where, one, other, say in _EXCLUSIVE:
            if table == where and one in content and other in content:
                found.append(Fault((*path, other), f"{say}. Leave out one of them."))
    return found


def _tables(raw: Mapping[str, object]) -> Iterator[tuple[str, Path, Mapping[str, object]]]:
    """Yield every piece and row with its path, as far as they have the shape of tables."""
    for index, piece in enumerate(_maps(raw.get("piece"))):
        yield "piece", ("piece", index), piece
        for place, row in enumerate(_maps(piece.get("row"))):
            yield "row", ("piece", index, "row", place), row


def _maps(value: object) -> list[Mapping[str, object]]:
    """Return the tables of an array; a place that holds something else counts as an empty table."""
    if not isinstance(value, Sequence) or isinstance(value, str):
        return []
    return [entry if isinstance(entry, Mapping) else {} for entry in value]
