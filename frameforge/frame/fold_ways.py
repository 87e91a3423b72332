"""What to do about motifs that are bent too far in: each way is made as if it had been typed."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from frameforge.errors import GeometryError
from frameforge.frame.spec import PieceSpec, RowSpec
from frameforge.frame.wording import down

__all__ = ["with_ways"]

_TRIES = 12

Makes = Callable[[PieceSpec], bool]
"""Whether a piece can be made by an order."""


def with_ways(fault: GeometryError, spec: PieceSpec, makes: Makes) -> GeometryError:
    """Return the refusal of a motif that folds, with the piece's name and the ways out of it that can be made."""
    ways = [next((words for words, order in kind if makes(order)), None) for kind in _kinds(spec, fault)]
    found = [way for way in ways if way]
    say = f"{fault.say} Take {' or '.join(found)}." if found else f"{fault.say} Take a smaller motif."
    return GeometryError(say, where=spec.name, code=fault.code, **fault.numbers)


def _kinds(spec: PieceSpec, fault: GeometryError) -> Iterator[Iterator[tuple[str, PieceSpec]]]:
    """Yield, for each kind of way, the words and orders to try in turn."""
    for k, row in enumerate(spec.rows):
        if row.seat == "bent":
            yield ((words, spec.with_row(k, tried)) for words, tried in _smaller(row, fault))
            yield iter([("--seat as-drawn", spec.with_row(k, replace(row, seat="as-drawn")))])


def _smaller(row: RowSpec, fault: GeometryError) -> Iterator[tuple[str, RowSpec]]:
    """Yield smaller motifs, by scale or by foot as the row says it; how far in it reaches falls with its size."""
    part = min(1.0, 1 / (1 - fault.numbers["factor"]))
    if isinstance(row.foot_mm, int | float):
        for step in range(_TRIES):
            foot = round(down(row.foot_mm * part, 0.1) - 0.1 * _taken(step), 1)
            if foot > 0:
                yield f"--foot {foot:g}mm", replace(row, foot_mm=foot)
    elif row.foot_mm is None and row.scale != "find":
        for step in range(_TRIES):
            scale = round(down((row.scale or 1.0) * part, 0.01) - 0.01 * _taken(step), 2)
            if scale > 0:
                yield f"--scale {scale:g}", replace(row, scale=scale)


def _taken(step: int) -> int:
    """Return how many units less are tried: 1, 2, 4, 7, ..."""
    return 1 + step * (step + 1) // 2
