"""What would work where no way near what was asked does: larger steps of one thing, then of two, each tried."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import chain, product
from typing import Any

from frameforge.card.preset import Preset
from frameforge.frame.besides import with_besides
from frameforge.frame.model import RowModel
from frameforge.frame.offers import foot_holds, scale_way
from frameforge.frame.row_edge import is_on_opening
from frameforge.frame.spec import LARGEST_MM, PieceSpec, Size
from frameforge.frame.trying import trying
from frameforge.frame.ways import Way
from frameforge.frame.wording import down, size_words, up

__all__ = ["last_ways"]

_SMALLER = (0.8, 0.6, 0.4, 0.25)
_LARGER = (1.25, 1.6, 2.5, 4.0)
_ROUNDER = (0.5, 0.75, 1.0)
"""Height over width of an oval, or width over height."""
_ENOUGH = 2
_PAIRS = 1500
"""What may be spent on one way, in measured pairs, so that others are tried as well."""

CanMake = Callable[[PieceSpec], bool]
"""Whether a piece can be made as ordered."""


def last_ways(spec: PieceSpec, preset: Preset, can_make: CanMake) -> list[str]:
    """Return at most two ways by which an order can be made, of different kinds; none where none of the steps will do.

    First one thing is changed: the count, the scale, the size, its proportion. Where that is not enough, several are;
    not in pieces of more than one row. A size shared with other pieces stays.
    """
    single = (_counts(spec), _scales(spec, preset), _sizes(spec, preset), _rounder(spec))
    found = [way for kind in single if (way := _first(spec, kind, can_make))]
    if found:
        return found[:_ENOUGH]
    together = _first(spec, _together(spec, preset), can_make) if len(spec.rows) == 1 else None
    return [together] if together else []


def _first(spec: PieceSpec, ways: Iterable[Way], can_make: CanMake) -> str | None:
    def holds(way: Way) -> bool:
        with trying(_PAIRS):
            return can_make(way.applied(spec))

    return next((with_besides(way.words) for way in ways if holds(way)), None)


def _counts(spec: PieceSpec) -> Iterator[Way]:
    """Yield the count left to be found, where it goes with the rest of the order."""
    for k, row in enumerate(spec.rows):
        if isinstance(row.count, int) and isinstance(spec.size, Size) and "find" not in (row.scale, row.foot_mm):
            yield Way("--count most", row={"count": "most"}, index=k)


def _scales(spec: PieceSpec, preset: Preset) -> Iterator[Way]:
    """Yield smaller motifs."""
    for row in spec.rows:
        model = RowModel(spec, row, preset)
        given = 1.0 if "find" in (row.scale, row.foot_mm) else model.given_scale
        for factor in _SMALLER:
            scale = down(given * factor, 0.01)
            if scale > 0 and foot_holds(model, scale):
                way = scale_way(model, scale)
                yield replace(way, row={**way.row, **({} if "foot_mm" in way.row else {"foot_mm": None})})


def _sizes(spec: PieceSpec, preset: Preset) -> Iterator[Way]:
    """Yield larger bases of the same proportion, with the opening where a row stands on it."""
    if not isinstance(spec.size, Size) or spec.is_size_fixed:
        return
    for factor in _LARGER:
        size = _times(spec.size, factor)
        if max(size.width_mm, size.height_mm) > LARGEST_MM:
            return
        if spec.opening is not None and any(is_on_opening(RowModel(spec, row, preset)) for row in spec.rows):
            opening = _times(spec.opening, factor)
            words = f"--size {size_words(size)} --opening {size_words(opening)}"
            yield Way(words, piece={"size": size, "opening": opening})
        else:
            yield Way(f"--size {size_words(size)}", piece={"size": size})


def _times(size: Size, factor: float) -> Size:
    return Size(up(size.width_mm * factor, 0.1), up(size.height_mm * factor, 0.1))


def _rounder(spec: PieceSpec) -> Iterator[Way]:
    """Yield rounder ovals as long as the one asked for, and the circle."""
    if not isinstance(spec.size, Size) or spec.is_size_fixed or spec.opening is not None:
        return
    width, height = spec.size.width_mm, spec.size.height_mm
    long = down(max(width, height), 0.1)
    for part in _ROUNDER:
        short = up(long * part, 0.1)
        if short > min(width, height):
            size = Size(long, short) if width > height else Size(short, long)
            yield Way(f"--size {size_words(size)}", piece={"size": size})


def _rims(spec: PieceSpec, preset: Preset) -> Iterator[Way]:
    """Yield the narrowest rim that the card bears, where a rim is asked for."""
    least = up(2 * preset.least_neck_mm, 0.1)
    if spec.rim_mm is not None and spec.rim_mm > least:
        yield Way(f"--rim {least:g}mm", piece={"rim_mm": least})


def _together(spec: PieceSpec, preset: Preset) -> Iterator[Way]:
    """Yield several changes at once, more and more of them: the count left to be found, scale, size, rim."""
    count, rim = [*_counts(spec)][:1], [*_rims(spec, preset)]
    scales, sizes = [*_scales(spec, preset)][1::2], [*_sizes(spec, preset)][1::2]
    rounder = [*_rounder(spec)][-1:]
    several = ([*count, scale] for scale in scales) if count else iter(())
    for ways in chain(several, ([*count, size] for size in (*sizes, *rounder)), ([*rim, *count, s] for s in scales)):
        yield _joined(ways)
    for size, scale in product((*sizes, *rounder), scales):
        yield _joined([size, *rim, *count, scale])


def _joined(ways: Sequence[Way]) -> Way:
    """Return ways of one row taken at once."""
    piece, row = ({key: v for way in ways for key, v in part(way).items()} for part in (_piece, _row))
    return Way(" ".join(way.words for way in ways), piece, row, max(way.index for way in ways))


def _piece(way: Way) -> Mapping[str, Any]:
    return way.piece


def _row(way: Way) -> Mapping[str, Any]:
    return way.row
