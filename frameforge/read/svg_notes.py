"""What the reader has to tell of a drawing: whole sentences, each once, in the order met."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final

__all__ = ["LETTERS", "Notes", "one_line"]

LETTERS: Final = (
    "lettering cannot be a cut line. Turn the letters into outlines in your drawing program and save again."
)

_MOST: Final = 12
"""Sentences told one by one; the rest is counted."""


def one_line(text: str, most: int = 40) -> str:
    """Return words of a drawing as they may stand in a message: one line, no control characters, not too long."""
    plain = " ".join("".join(letter if letter.isprintable() else " " for letter in text[: 4 * most]).split())
    return plain if len(plain) <= most else plain[: most - 1] + "…"


@dataclass(slots=True)
class Notes:
    """Gathers notes; lettering is gathered apart, and told in one sentence before all others."""

    _letters: list[str] = field(default_factory=list)
    _said: dict[str, None] = field(default_factory=dict)

    def add(self, sentence: str) -> None:
        """Add one sentence; the same one again is dropped."""
        self._said.setdefault(sentence)

    def add_letters(self, words: str) -> None:
        """Note lettering, by its words."""
        self._letters.append(one_line(words))

    @property
    def letters(self) -> str:
        """The lettering found, as ``letters "Spring" and 3 more``; empty where there is none."""
        more = f" and {len(self._letters) - 1} more" if len(self._letters) > 1 else ""
        return f'letters "{self._letters[0]}"{more}' if self._letters else ""

    def to_tuple(self) -> tuple[str, ...]:
        """Return the sentences; where there are many, the last one counts those beyond the first dozen."""
        said = ((f"{self.letters}: {LETTERS}",) if self._letters else ()) + tuple(self._said)
        if len(said) <= _MOST + 1:
            return said
        return (*said[:_MOST], f"{len(said) - _MOST} more notes of this kind.")
