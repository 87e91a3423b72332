"""A message taken apart: plain words, and the offers in it, which the page turns into buttons."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any, Final

from frameforge.desk.change import DESK, RECIPE_NAME
from frameforge.desk.offer_place import OfferPlace
from frameforge.recipe.fold_options import FOLD_OPTIONS
from frameforge.recipe.from_options import PIECE_OPTIONS, ROW_OPTIONS, SHEET_OPTIONS
from frameforge.recipe.text_fields import TEXT_OPTIONS

__all__ = ["has_offers", "message_parts"]

_KEYS: Final = frozenset((*PIECE_OPTIONS, *ROW_OPTIONS, *FOLD_OPTIONS, *TEXT_OPTIONS, *SHEET_OPTIONS, "hole", "layers"))
_SWITCHES: Final = frozenset(("keep_counters", "test_piece"))
_MANY: Final = frozenset(("motif", "skip", "hole"))
_VALUE: Final = r"\"[^\"]*\"|'[^']*'|(?!--)(?:[^\s\"',;:()]|,(?=\w))*[^\s\"',;:().]"
_ONE: Final = re.compile(rf"--([a-z][a-z-]*)(?: ({_VALUE}))?")
_OFFER: Final = re.compile(rf"--[a-z][a-z-]*(?: (?:{_VALUE}))?(?: --[a-z][a-z-]*(?: (?:{_VALUE}))?)*")
_SIZE: Final = re.compile(r"(?<=Make the circle )\d[\d.]* mm|(?<=Make the oval )\d[\d.]*(?: ?x ?\d[\d.]*)? mm")
"""A size told in a sentence and not as an option."""

_COUNT: Final = re.compile(r"(?<=Take )\d+(?= \(gap)|(?<= or )\d+(?= \(gap)")
"""A count told so."""

_PLACE: Final = re.compile(rf"^{DESK}, --([a-z-]+)")
_LINE: Final = re.compile(rf"^{RECIPE_NAME}(?: line \d+)?(?:, row \d+)?: ")


def message_parts(line: str, *, tells_lines: bool, at: OfferPlace | None = None) -> list[dict[str, Any]]:
    """Return a line of a message as parts: {"words"} for plain text, {"words", "options"} for an offer.

    Where the recipe was not typed by hand, ``tells_lines`` is False and its line numbers are left out. Offers are for
    the piece and the row of ``at``, else for the one that is looked at.
    """
    said = _PLACE.sub(lambda found: found[1].replace("-", "_").strip("_"), line)
    if not tells_lines:
        said = _LINE.sub("", said)
        said = said[:1].upper() + said[1:]
    parts: list[dict[str, Any]] = []
    end = 0
    for start, stop, words, options in sorted(_offers(said), key=lambda offer: offer[0]):
        if start > end:
            parts.append({"words": said[end:start]})
        parts.append({"words": words, "options": at.addressed(options) if at else options})
        end = stop
    if end < len(said):
        parts.append({"words": said[end:]})
    return parts


def has_offers(said: str) -> bool:
    """Whether there is an offer in a line of a message."""
    return next(_offers(said), None) is not None


def _offers(said: str) -> Iterator[tuple[int, int, str, dict[str, Any]]]:
    """Yield the offers of a line: where each begins and ends, its words on a button, its options."""
    for found in _OFFER.finditer(said):
        options = dict(_options(found[0]))
        if options and None not in options.values():
            yield found.start(), found.end(), _words(found[0]), options
    for key, pattern in (("size", _SIZE), ("count", _COUNT)):
        for found in pattern.finditer(said):
            yield found.start(), found.end(), found[0], {key: found[0]}


def _options(offer: str) -> Iterator[tuple[str, Any]]:
    """Yield the options of one offer; None for one that the page cannot lay over a recipe."""
    for found in _ONE.finditer(offer):
        key = found[1].replace("-", "_")
        value = found[2].strip("\"'") if found[2] else None
        if key not in _KEYS:
            yield key, None
        elif key in _SWITCHES:
            yield key, True
        else:
            yield key, [value] if key in _MANY and value is not None else value


def _words(offer: str) -> str:
    """Return an offer as it stands on its button: "gap 0, scale find"."""
    named = (
        f"{found[1].replace('-', ' ')} {(found[2] or '').strip(chr(34) + chr(39))}" for found in _ONE.finditer(offer)
    )
    return ", ".join(words.strip() for words in named)
