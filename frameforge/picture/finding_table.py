"""The table of findings below a picture: number, severity, what is there, what to do."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import Final

from frameforge.finding import FindingGroup, more_kinds
from frameforge.picture.elements import line, text
from frameforge.picture.letter_widths import text_width
from frameforge.picture.look import DEW, DRY_SLATE, LINE_STEP_PX, TEXT_PX, WET_SLATE

__all__ = ["finding_table", "wrapped"]

_MOST: Final = 24
"""Rows at most; the report holds the rest."""
_SEVERITY_PX: Final = 62.0
_WORDS_PX: Final = 132.0
"""Columns, from the left edge of the table."""
_SENTENCE: Final = re.compile(r"(?<=[^A-Z.])\.\s+(?=[A-Z])")


def finding_table(groups: Sequence[FindingGroup], left: float, right: float, top: float) -> tuple[list[str], float]:
    """Return the rows as SVG between ``left`` and ``right`` (px) from ``top`` on, and where they end."""
    body: list[str] = []
    y = top
    for group in groups[:_MOST]:
        body.append(line(complex(left, y), complex(right, y), stroke=DEW, width_px=1))
        rows, y = _row(group, left, right, y)
        body += rows
    if len(groups) > _MOST:
        say = f"{more_kinds(len(groups) - _MOST)}."
        body.append(text(complex(left + _WORDS_PX, y + LINE_STEP_PX), say, fill=DRY_SLATE))
        y += LINE_STEP_PX + 8
    return body, y


def _row(group: FindingGroup, left: float, right: float, top: float) -> tuple[list[str], float]:
    """Return one row, and where it ends."""
    what, *remedy = _SENTENCE.split(group.sentence, maxsplit=1)
    width = right - left - _WORDS_PX
    what = f"{what[0].upper()}{what[1:]}{'.' if remedy else ''}"
    told = [(words, WET_SLATE) for words in wrapped(what, width)]
    told += [(words, DRY_SLATE) for sentence in remedy for words in wrapped(sentence, width)]
    y = top + LINE_STEP_PX
    body = [
        text(complex(left + 4, y), group.label, is_bold=True),
        text(complex(left + _SEVERITY_PX, y), group.first.severity, fill=DRY_SLATE),
    ]
    for words, fill in told:
        body.append(text(complex(left + _WORDS_PX, y), words, fill=fill))
        y += LINE_STEP_PX
    return body, y - LINE_STEP_PX + 10


def wrapped(words: str, width_px: float, size_px: float = TEXT_PX) -> Iterable[str]:
    """Yield lines of the words that are no wider than ``width_px``; a word wider than that stands alone."""
    current = ""
    for word in words.split():
        longer = f"{current} {word}" if current else word
        if current and text_width(longer, size_px) > width_px:
            yield current
            current = word
        else:
            current = longer
    if current:
        yield current
