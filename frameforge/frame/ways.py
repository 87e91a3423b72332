"""Ways out of a refusal: what to type instead, each as the order it comes to, so that it can be tried."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from frameforge.errors import GeometryError
from frameforge.frame.spec import PieceSpec

__all__ = ["RefusedError", "Way", "sentence_of"]

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
    """A refusal that knows the ways out of it: ``head``, then the ways as ``phrase`` puts them into a sentence."""

    def __init__(
        self,
        head: str,
        ways: Iterable[Way] = (),
        phrase: Callable[[list[str]], str] | None = None,
        /,
        *,
        where: str = "",
        code: str = "",
        **numbers: float,
    ) -> None:
        self.head, self.ways, self.phrase = head, tuple(ways), phrase or sentence_of
        super().__init__(head + self.phrase([way.words for way in self.ways]), where=where, code=code, **numbers)

    def tried(self, spec: PieceSpec, can_make: CanMake) -> GeometryError:
        """Return the refusal with only those ways by which the order can be made."""
        good = [way.words for way in self.ways if can_make(way.applied(spec))]
        return GeometryError(self.head + self.phrase(good), where=self.where, code=self.code, **self.numbers)


def sentence_of(words: list[str]) -> str:
    """Return " Take a, b or c."; nothing where there is no way."""
    if not words:
        return ""
    return f" Take {words[0]}." if len(words) == 1 else f" Take {', '.join(words[:-1])} or {words[-1]}."
