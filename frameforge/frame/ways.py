"""Ways out of a refusal: what to type instead, each as the order it comes to, so that it can be tried."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from frameforge.errors import GeometryError
from frameforge.frame.besides import with_besides
from frameforge.frame.spec import PieceSpec
from frameforge.frame.trying import SPENT, trying

__all__ = ["LAST_PAIRS", "RefusedError", "Way", "sentence_of"]

_THOUGHT_PAIRS = 4000
_TRIED_PAIRS = 2500
LAST_PAIRS = 3500
"""What may be spent on thinking ways out, on trying each, and on all of the last ones, in measured pairs: a second or
two each."""

CanMake = Callable[[PieceSpec], bool]
"""Whether a piece can be made as ordered."""


@dataclass(frozen=True, slots=True)
class Way:
    """What to type ("--count 17 (gap 2.41 mm)"), and what it changes: fields of the piece, and of one of its rows."""

    words: str
    piece: Mapping[str, Any] = field(default_factory=dict)
    row: Mapping[str, Any] = field(default_factory=dict)
    index: int = 0

    def applied(self, spec: PieceSpec) -> PieceSpec:
        """Return the order with the change made."""
        rows = tuple(replace(row, **self.row) if k == self.index else row for k, row in enumerate(spec.rows))
        return replace(spec, **self.piece, rows=rows)


class RefusedError(GeometryError):
    """A refusal that knows the ways out of it: ``head``, then the ways as ``phrase`` puts them into a sentence.

    Ways may come from a function: they take longest to work out, and nobody reads the refusal of an order that was
    only tried. It is asked when the sentence is.
    """

    def __init__(
        self,
        head: str,
        ways: Iterable[Way] | Callable[[], Iterable[Way]] = (),
        phrase: Callable[[list[str]], str] | None = None,
        /,
        *,
        where: str = "",
        code: str = "",
        **numbers: float,
    ) -> None:
        self.head, self._ways, self.phrase = head, ways, phrase or sentence_of
        self._lines: tuple[str, ...] | None = None
        super().__init__(head, where=where, code=code, **numbers)
        self._lines = None

    @property
    def ways(self) -> tuple[Way, ...]:
        """All ways out that were thought of."""
        if callable(self._ways):
            self._ways = self._ways()
        self._ways = tuple(self._ways)
        return self._ways

    @property
    def say(self) -> str:
        """The whole sentence."""
        return self.head + self.phrase([way.words for way in self.ways])

    @say.setter
    def say(self, text: str) -> None:
        """Take the sentence as it is set at the start, which is the head alone."""

    @property
    def lines(self) -> tuple[str, ...]:
        """The whole line, and what was added to it."""
        if self._lines is None:
            self._lines = (f"{self.where}: {self.say}" if self.where else self.say,)
        return self._lines

    @lines.setter
    def lines(self, lines: tuple[str, ...]) -> None:
        """Take the lines as they shall stand."""
        self._lines = lines

    def _found(self) -> tuple[Way, ...]:
        """Return the ways that are thought of before that takes too long."""
        found: list[Way] = []
        try:
            with trying(_THOUGHT_PAIRS):
                found.extend(self._ways() if callable(self._ways) else self._ways)
        except GeometryError as fault:
            if fault.code != SPENT:
                raise
        self._ways = tuple(found)
        return self._ways

    @staticmethod
    def _holds(spec: PieceSpec, can_make: CanMake) -> bool:
        with trying(_TRIED_PAIRS):
            return can_make(spec)

    def tried(self, spec: PieceSpec, can_make: CanMake, last: Callable[[], list[str]] | None = None) -> GeometryError:
        """Return the refusal with only those ways by which the order can be made; where none can, with the last ones.

        ``last`` gives the words of such ways that were tried already.
        """
        phrase = self.phrase
        ways = (way for way in self._found() if not (spec.is_size_fixed and way.piece))
        good = [with_besides(way.words) for way in ways if self._holds(way.applied(spec), can_make)]
        if not good and last is not None:
            with trying(LAST_PAIRS):
                good = last()
            if good and self.head.endswith("."):
                phrase = sentence_of
        return GeometryError(self.head + phrase(good), where=self.where, code=self.code, **self.numbers)


def sentence_of(words: list[str]) -> str:
    """Return " Take a, b or c."; nothing where there is no way."""
    if not words:
        return ""
    return f" Take {words[0]}." if len(words) == 1 else f" Take {', '.join(words[:-1])} or {words[-1]}."
