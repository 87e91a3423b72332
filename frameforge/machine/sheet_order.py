"""The order in which the pieces of a sheet are cut: what lies in an opening before what it lies in, neighbours next."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from frameforge.geometry.box import Box

__all__ = ["LaidBox", "sheet_order"]


@dataclass(frozen=True, slots=True)
class LaidBox:
    """The box of one piece on the sheet (mm), and the number of the piece whose opening holds it, or None."""

    box: Box
    inside_of: int | None = None


def sheet_order(pieces: Sequence[LaidBox], begin: complex = 0) -> tuple[int, ...]:
    """Return the numbers of the pieces in cutting order, from ``begin`` on (mm, the sheet's lower left corner).

    A piece in an opening is cut before its host: once the host's opening is cut, the card in it lies loose. A host
    with all that lies in it stays together; of equally near ones the first given comes first.
    Raises ValueError when pieces lie in one another's openings in a circle.
    """
    inner: dict[int | None, list[int]] = {}
    for number, piece in enumerate(pieces):
        inner.setdefault(piece.inside_of, []).append(number)
    found: list[int] = []
    _walk(pieces, inner, None, begin, found)
    if len(found) != len(pieces):
        raise ValueError("pieces lie in one another's openings in a circle")
    return tuple(found)


def _walk(
    pieces: Sequence[LaidBox], inner: dict[int | None, list[int]], host: int | None, at: complex, found: list[int]
) -> complex:
    """Add what lies in ``host`` (None: on the bare sheet), each time the nearest, and return where that ended."""
    rest = list(inner.get(host, ()))
    while rest:
        place = min(range(len(rest)), key=lambda k: round(abs(_middle(pieces[rest[k]]) - at), 6))
        number = rest.pop(place)
        _walk(pieces, inner, number, at, found)
        found.append(number)
        at = _middle(pieces[number])
    return at


def _middle(piece: LaidBox) -> complex:
    return piece.box.center
