"""What the reader has to tell of a drawing: whole sentences, each once, in the order met."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final

__all__ = ["LETTERS", "Notes"]

LETTERS: Final = (
    "lettering cannot be a cut line. Turn the letters into outlines in your drawing program and save again."
)

_MOST: Final = 12
"""Sentences told one by one; the rest is counted."""


@dataclass(slots=True)
class Notes:
    """Gathers notes; ``letters`` keeps the words found, since a drawing of nothing else is refused with them."""

    letters: list[str] = field(default_factory=list)
    _said: dict[str, None] = field(default_factory=dict)

    def add(self, sentence: str) -> None:
        """Add one sentence; the same one again is dropped."""
        self._said.setdefault(sentence)

    def add_letters(self, words: str) -> None:
        """Note lettering, by its words."""
        self.letters.append(words)
        self.add(f'letters "{words}": {LETTERS}')

    def to_tuple(self) -> tuple[str, ...]:
        """Return the sentences, the last of them counting those beyond the first dozen."""
        said = tuple(self._said)
        if len(said) <= _MOST + 1:
            return said
        return (*said[:_MOST], f"{len(said) - _MOST} more notes of this kind.")
