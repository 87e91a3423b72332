"""What is said of words in a recipe or in an option."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from frameforge.errors import InputError
from frameforge.recipe.lines import Path
from frameforge.recipe.source import Source
from frameforge.units import parse_deg

__all__ = ["MOST_SIGNS", "TEXT_OPTIONS", "as_limit", "as_words", "lay_text"]

MOST_SIGNS: Final = 400
"""More than this goes round no rim."""

_OF_TEXT: Final = {"along": "along", "as_": "as", "reads": "reads", "letter_size": "size", "font": "font"}
"""The options that are a key of the words, and of which."""

TEXT_OPTIONS: Final = ("text", *_OF_TEXT)
"""All options about words, by key."""


def as_words(value: object) -> str:
    """Return words to letter. Raises InputError for anything else."""
    if not isinstance(value, str) or not value.strip():
        raise InputError("no words.", code="text")
    if len(value) > MOST_SIGNS:
        raise InputError(f"{len(value)} signs are more than the {MOST_SIGNS} that one text takes.", code="range")
    return value.strip()


def as_limit(value: object) -> float:
    """Return how much of a round edge words take at most: above 0 up to 360 degrees. Raises InputError otherwise."""
    degrees = parse_deg(value)
    if not 0 < degrees <= 360:
        raise InputError(f"{degrees:g} deg is no part of a round. It goes up to 360.", code="range")
    return degrees


def lay_text(piece: dict[str, Any], source: Source, given: Mapping[str, Any], places: dict[Path, str]) -> None:
    """Put the options about words into ``piece``, and where they come from into ``places``.

    Raises InputError where a recipe has several texts, or an option has no words to go with.
    """
    found = [key for key in TEXT_OPTIONS if key in given]
    if not found:
        return
    texts = piece.get("text", [])
    first = _option(found[0])
    if isinstance(texts, list) and len(texts) > 1:
        say = f"{source.name} has {len(texts)} texts, and an option does not say which. Write it in the recipe."
        raise InputError(say, where=f"{source.command}, {first}", code="several-texts")
    text = dict(texts[0]) if isinstance(texts, list) and texts and isinstance(texts[0], Mapping) else {}
    if "text" in given:
        text.pop("column", None)
        text["words"] = given["text"]
        places["piece", 0, "text", 0, "words"] = "--text"
    elif not text:
        say = 'there are no words that it could be of. Add --text, for example --text "Seed swap".'
        raise InputError(say, where=f"{source.command}, {first}", code="no-words")
    if "font" in given:
        text.pop("digest", None)
    for option, key in _OF_TEXT.items():
        if option in given:
            text[key] = given[option]
            places["piece", 0, "text", 0, key] = _option(option)
    piece["text"] = [text]
    places["piece", 0, "text", 0] = first


def _option(key: str) -> str:
    return f"--{key.strip('_').replace('_', '-')}"
