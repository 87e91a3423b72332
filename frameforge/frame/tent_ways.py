"""Ways out for a tent card that falls apart: its fold or its foot cuts through the ring, each way tried."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from frameforge.errors import FrameforgeError
from frameforge.frame.spec import FoldSpec, PieceSpec, Size
from frameforge.frame.wording import down, size_words

__all__ = ["tent_ways"]

_SMALLER = (0.75, 0.5, 0.25)
_DEPTHS = (0.75, 0.5, 1.25, 1.5, 2.0)
_OPENINGS = (0.9, 0.8, 0.7, 0.6, 0.5)
_SIDES = {0.0: "top", 90.0: "right", 180.0: "bottom", 270.0: "left"}


def tent_ways(spec: PieceSpec, parts: Callable[[PieceSpec], int]) -> list[str]:
    """Return what to type so that a tent card is whole: a smaller foot, another depth, a smaller opening.

    ``parts`` tells into how many parts an order falls; of each kind the first that holds is taken.
    """
    if spec.fold is None:
        return []
    kinds = (_flats(spec, spec.fold), _depths(spec, spec.fold), _openings(spec))
    found = (next((words for words, tried in ways if _is_whole(tried, parts)), None) for ways in kinds)
    return [words for words in found if words]


def _flats(spec: PieceSpec, fold: FoldSpec) -> Iterator[tuple[str, PieceSpec]]:
    for part in _SMALLER:
        flat = down(fold.flat_mm * part, 0.5)
        if flat > 0:
            yield f"--flat {flat:g}mm", replace(spec, fold=replace(fold, flat_mm=flat))
    if fold.flat_mm:
        yield "no --flat", replace(spec, fold=replace(fold, flat_mm=0.0))


def _depths(spec: PieceSpec, fold: FoldSpec) -> Iterator[tuple[str, PieceSpec]]:
    at = _SIDES.get(fold.at_deg % 360, f"{fold.at_deg:g}deg")
    for part in _DEPTHS:
        depth = down(fold.depth_mm * part, 0.5)
        if depth > 0:
            yield f'--fold "{depth:g}mm {at}"', replace(spec, fold=replace(fold, depth_mm=depth))


def _openings(spec: PieceSpec) -> Iterator[tuple[str, PieceSpec]]:
    if spec.opening is None:
        return
    for part in _OPENINGS:
        width, height = (down(side * part, 0.1) for side in (spec.opening.width_mm, spec.opening.height_mm))
        smaller = Size(width, height)
        yield f"--opening {size_words(smaller)}", replace(spec, opening=smaller)


def _is_whole(spec: PieceSpec, parts: Callable[[PieceSpec], int]) -> bool:
    try:
        return parts(spec) == 1
    except FrameforgeError:
        return False
