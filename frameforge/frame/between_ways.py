"""What to do about an edge between that does not go with its motifs: each other edge tried, with or without a depth."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Final

from frameforge.card.preset import Preset
from frameforge.errors import InputError
from frameforge.frame.last_ways import last_ways
from frameforge.frame.model import RowModel
from frameforge.frame.spec import Between, PieceSpec, RowSpec
from frameforge.frame.trying import trying
from frameforge.frame.ways import LAST_PAIRS

__all__ = ["with_between_ways"]

_OTHERS: Final[tuple[Between, ...]] = ("flat", "level", "keep")
_MOST: Final = 2
_MORE_PAIRS: Final = LAST_PAIRS / 3
"""What may be spent on changing more than the edge, in measured pairs: there are two edges to be tried so."""

CanMake = Callable[[PieceSpec], bool]
"""Whether a piece can be made as ordered."""


def with_between_ways(fault: InputError, spec: PieceSpec, preset: Preset, can_make: CanMake) -> InputError:
    """Return the refusal of an edge that does not go with a row's motifs, with the edges that do.

    Where no other edge alone will do, one is told together with what else would have to be changed.
    """
    found: list[str] = []
    for k, row in enumerate(spec.rows):
        if not _goes_wrong(RowModel(spec, row, preset)):
            continue
        of_row = f" in row {k + 1}" if len(spec.rows) > 1 else ""
        for words, changed in _edges(row):
            tried = spec.with_row(k, changed)
            with trying(LAST_PAIRS):
                if can_make(tried):
                    found.append(words + of_row)
        if not found:
            found = _with_more(spec, k, preset, can_make, of_row)
        break
    head = fault.say.partition(". ")[0]
    told = " or ".join(found[:_MOST]) if found else "another motif"
    return InputError(f"{head}. Take {told}.", where=fault.where, code=fault.code)


def _with_more(spec: PieceSpec, index: int, preset: Preset, can_make: CanMake, of_row: str) -> list[str]:
    """Return another edge together with what else would have to be changed; the edge kept as it is goes last."""
    row = spec.rows[index]
    first = next(_edges(row))
    kept = ("--between keep" + _idle(row), replace(row, between="keep", depth_mm=None))
    for words, changed in (first, kept):
        with trying(_MORE_PAIRS):
            ways = last_ways(spec.with_row(index, changed), preset, can_make)
        if ways:
            return [f"{words}{of_row} {way}" for way in ways]
    words, changed = kept
    window = replace(changed, place="window")
    with trying(LAST_PAIRS):
        return [f"{words} --place window{of_row}"] if can_make(spec.with_row(index, window)) else []


def _idle(row: RowSpec) -> str:
    return "" if row.depth_mm is None else " without a depth"


def _goes_wrong(model: RowModel) -> bool:
    """Whether the edge between does not go with the motifs of a row."""
    is_corner = any(ready.is_corner for ready in model.readies(model.unit, 1.0))
    return model.row.between not in (("flat", "level", "keep") if is_corner else ("flat", "hollow", "raised", "keep"))


def _edges(row: RowSpec) -> Iterator[tuple[str, RowSpec]]:
    """Yield the other edges, first with the depth that is asked for."""
    for between in _OTHERS:
        if between != row.between:
            yield f"--between {between}", replace(row, between=between)
    if row.depth_mm is not None:
        for between in _OTHERS:
            if between != row.between:
                yield f"--between {between} without a depth", replace(row, between=between, depth_mm=None)
