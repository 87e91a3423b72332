"""A piece that falls apart: where its largest loose part lies, and what would keep it whole, each way tried."""

from __future__ import annotations

import cmath
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from frameforge.errors import FrameforgeError, GeometryError
from frameforge.frame.spec import PieceSpec, RowSpec
from frameforge.geometry.measure import area_mm2, centroid
from frameforge.geometry.region import Region
from frameforge.units import to_clock_deg

__all__ = ["falls_apart"]

Parts = Callable[[PieceSpec], int]
"""Into how many parts a piece made by an order falls; raises where it cannot be made."""

_SINKS_MM = (0.2, 0.5, 1.0, 1.5, 2.0, 3.0, 4.0, 6.0)
_SCALES = (0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2)


def falls_apart(spec: PieceSpec, regions: Sequence[Region], scales: Sequence[float], parts: Parts) -> GeometryError:
    """Return the refusal of a piece of several ``regions``, largest first, with ways out that hold.

    ``scales`` are those of the rows as made. Tried on the first row without which the piece is whole: its motifs sunk
    into the card, then made smaller.
    """
    largest = regions[1]
    spot = centroid(largest)
    hour = round(to_clock_deg(cmath.phase(spot)) / 30) % 12 or 12
    say = (
        f"the piece falls into {len(regions)} parts; the largest loose one is {area_mm2(largest):.1f} mm2, "
        f"at {hour} o'clock."
    )
    ways = _ways_out(spec, scales, parts)
    if ways:
        say += f" Take {' or '.join(ways)}."
    return GeometryError(say, where=spec.name, code="loose", parts=len(regions), x_mm=spot.real, y_mm=spot.imag)


def _ways_out(spec: PieceSpec, scales: Sequence[float], parts: Parts) -> list[str]:
    """Return the least sink and the least reduction that keep the piece whole."""
    index = next((k for k in range(len(spec.rows)) if _is_whole(_with_rows(spec, k, None), parts)), None)
    if index is None:
        return []
    row = spec.rows[index]
    sunk = ((f"--inset {row.inset_mm + by:g}mm", replace(row, inset_mm=row.inset_mm + by)) for by in _SINKS_MM)
    found = [_first_whole(spec, index, sunk, parts)] if row.place in ("out", "in") else []
    sizes = [round(scales[index] * factor, 2) for factor in _SCALES]
    smaller = ((f"--scale {scale:g}", replace(row, scale=scale, foot_mm=None)) for scale in sizes if scale > 0)
    found.append(_first_whole(spec, index, smaller, parts))
    return [way for way in found if way]


def _first_whole(spec: PieceSpec, index: int, ways: Iterator[tuple[str, RowSpec]], parts: Parts) -> str | None:
    return next((words for words, row in ways if _is_whole(_with_rows(spec, index, row), parts)), None)


def _with_rows(spec: PieceSpec, index: int, row: RowSpec | None) -> PieceSpec:
    """Return the order with one row replaced, or left out."""
    return replace(spec, rows=(*spec.rows[:index], *((row,) if row else ()), *spec.rows[index + 1 :]))


def _is_whole(spec: PieceSpec, parts: Parts) -> bool:
    try:
        return parts(spec) == 1
    except FrameforgeError:
        return False
