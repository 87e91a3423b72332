"""A piece that falls apart: what falls off and where, and what would keep it whole, each way tried."""

from __future__ import annotations

import cmath
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

import shapely

from frameforge.errors import FrameforgeError, GeometryError
from frameforge.frame.piece import RowResult
from frameforge.frame.spec import Loose, PieceSpec, RowSpec
from frameforge.frame.trying import trying
from frameforge.frame.wording import clock_words, place_words, plural
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import area_mm2, bounds, centroid
from frameforge.geometry.region import Region
from frameforge.motif.foot import DEEPEST_PART
from frameforge.motif.parts import parts_of
from frameforge.units import to_clock_deg

__all__ = ["FallsApartError", "falls_apart"]

Parts = Callable[[PieceSpec], int]
"""Into how many parts a piece made by an order falls; raises where it cannot be made."""

Way = tuple[str, RowSpec | None]
"""What to type, and the row that comes of it; None: without the row."""

_SINKS_MM = (0.2, 0.5, 1.0, 1.5, 2.0, 3.0, 4.0, 6.0)
_SCALES = (0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2)

_OF_PARTS: tuple[tuple[str, Loose], ...] = (("held by ties", "tie"), ("left out", "drop"))

_WITHOUT = "the piece without this row"

_AS_LARGE = 1e-6
"""Parts are as large as each other whose areas differ by less than this share."""

_APART_MM = 2.0
"""A gap that every card takes."""

_PAIRS_HELD = 20_000
"""What may be spent on tying or leaving out loose parts: some times as much as most pieces take to be made."""

_PAIRS = 3000
"""What may be spent on all ways of a kind, in measured pairs: some seconds."""


class FallsApartError(GeometryError):
    """A piece falls into several parts; ``apart`` holds the name of its order and its parts, the largest first."""

    default_code = "loose"

    def __init__(
        self,
        say: str,
        apart: Sequence[tuple[str, Sequence[Region]]] = (),
        *,
        where: str = "",
        code: str = "",
        **numbers: float,
    ) -> None:
        super().__init__(say, where=where, code=code, **numbers)
        self.apart = tuple(apart)

    @classmethod
    def from_many(cls, faults: list[FrameforgeError]) -> FallsApartError:
        """Return one error that says all ``faults``, a line each, and holds the parts of all pieces that fall apart."""
        first = faults[0]
        apart = [one for fault in faults if isinstance(fault, FallsApartError) for one in fault.apart]
        whole = cls(first.say, apart, where=first.where, code=first.code, **first.numbers)
        whole.lines = tuple(line for fault in faults for line in fault.lines)
        return whole


def falls_apart(spec: PieceSpec, regions: Sequence[Region], rows: Sequence[RowResult], parts: Parts) -> FallsApartError:
    """Return the refusal of a piece of several ``regions``, largest first, with ways out that hold.

    ``rows`` are as made. Named is the largest loose part: a bit of a motif where a motif covers it, else the card.
    Tried on the first row without which the piece is whole: its loose parts tied, or left out; else its motifs sunk
    into the card, or made smaller; then its edge kept as it is, its motifs cut as windows, the row left out.
    """
    largest = _largest_loose(regions)
    spot = centroid(largest)
    what, motif = _named(rows, largest, spot)
    say = (
        f"the piece falls into {len(regions)} parts; the largest that falls off is {area_mm2(largest):.1f} mm2 {what}."
    )
    with trying(_PAIRS):
        index = next((k for k in range(len(spec.rows)) if _is_whole(spec.with_row(k, None), parts)), None)
    if index is None and len(spec.rows) == 1 and spec.size == "find":
        index = 0  # without its only row nothing decides the size, so that nobody can tell
    scales = [row.scale for row in rows]
    if index is None:
        ways = _all_smaller(spec, scales, parts)
    else:
        tops = [bounds(repeat.motif.join).top for repeat in rows[index].repeats if repeat.motif.join]
        ways = _ways_out(spec, index, scales, min(tops, default=0.0) * DEEPEST_PART, parts)
    if not ways and spec.fold is not None:
        from frameforge.frame.tent_ways import tent_ways  # here, since few pieces are folded

        ways = tent_ways(spec, parts)
    if ways:
        say += f" Take {' or '.join(ways)}."
    elif motif:
        say += f" Draw the parts of the {plural(motif, 1)} so that they hang together, or take another motif."
    else:
        say += " Make the piece without its rows, or with fewer motifs."
    apart = [(spec.name, regions)]
    return FallsApartError(say, apart, where=spec.name, parts=len(regions), x_mm=spot.real, y_mm=spot.imag)


def _largest_loose(regions: Sequence[Region]) -> Region:
    """Return the largest of all but the first; of those as large the first from the top, clockwise."""
    least = area_mm2(regions[1]) * (1 - _AS_LARGE)
    alike = [region for region in regions[1:] if area_mm2(region) >= least]
    return min(alike, key=lambda region: round(to_clock_deg(cmath.phase(centroid(region))), 6) % 360)


def _named(rows: Sequence[RowResult], loose: Region, spot: complex) -> tuple[str, str]:
    """Return where a loose part lies, as a bit of a motif if a motif covers it, and that motif's name."""
    point = shapely.point_on_surface(to_polygon(loose))
    for row in rows:
        for repeat in row.repeats if row.place != "window" else ():
            local = repeat.placement.inverse().apply(complex(point.x, point.y))
            if any(shapely.contains_xy(to_polygon(region), local.real, local.imag) for region in repeat.motif.join):
                name = repeat.motif.name
                return f"of {place_words(name, repeat.position, repeat.direction_deg)}", name
    return f"of card, {clock_words(to_clock_deg(cmath.phase(spot)))}", ""


def _ways_out(spec: PieceSpec, index: int, scales: Sequence[float], deepest_mm: float, parts: Parts) -> list[str]:
    """Return what of tying and leaving out loose parts keeps the piece whole.

    Else the least sink and the least reduction that do; failing both, the first other way. Sunk deeper than
    ``deepest_mm`` a motif would not be seen for what it is.
    """
    row = spec.rows[index]
    of_row = f" in row {index + 1}" if len(spec.rows) > 1 else ""
    held = [_whole_by(spec, index, way, parts) for way in _parts_held(row)]
    if any(held):
        return [f"{way}{of_row}" for way in held if way]
    sunk: Iterator[Way] = (
        (f"--inset {row.inset_mm + by:g}mm", replace(row, inset_mm=row.inset_mm + by))
        for by in _SINKS_MM
        if by <= deepest_mm
    )
    found = [_first_whole(spec, index, sunk, parts)] if row.place in ("out", "in") else []
    sizes = [round(scales[index] * factor, 2) for factor in _SCALES]
    smaller: Iterator[Way] = (
        (f"--scale {scale:g}", replace(row, scale=scale, foot_mm=None)) for scale in sizes if scale > 0
    )
    found.append(_first_whole(spec, index, smaller, parts))
    if not any(found):
        others = (way for way in _others(row) if way[1] is not None or spec.size != "find")
        found = [_first_whole(spec, index, others, parts)]
    if found == [_WITHOUT]:
        return [f"the piece without row {index + 1}" if of_row else _WITHOUT]
    return [f"{way}{of_row}" for way in found if way]


def _parts_held(row: RowSpec) -> Iterator[Way]:
    """Yield what can be done about loose parts of a row's motifs: strips of card to hold them, or the motif without."""
    if row.place != "window" and any(len(parts_of(one.motif)) > 1 for one in row.pattern):
        for words, loose in _OF_PARTS:
            if row.loose != loose:
                yield f"--loose {loose} ({words})", replace(row, loose=loose)
        if row.gap_mm == 0 and row.loose == "keep":
            # Motifs that touch in a point would be refused next.
            yield f"--loose tie --gap {_APART_MM:g}mm", replace(row, loose="tie", gap_mm=_APART_MM)


def _all_smaller(spec: PieceSpec, scales: Sequence[float], parts: Parts) -> list[str]:
    """Return the least reduction of all rows together that keeps the piece whole."""
    for factor in _SCALES:
        rows = [
            replace(row, scale=round(s * factor, 2), foot_mm=None) for row, s in zip(spec.rows, scales, strict=True)
        ]
        with trying(_PAIRS / len(_SCALES)):
            is_whole = bool(rows) and _is_whole(replace(spec, rows=tuple(rows)), parts)
        if is_whole:
            return [" and ".join(f"scale {row.scale:g} in row {k}" for k, row in enumerate(rows, start=1))]
    return []


def _others(row: RowSpec) -> Iterator[Way]:
    """Yield other ways to change a row, the last to leave it out."""
    if row.between != "keep":
        idle = " without a depth" if row.depth_mm is not None else ""
        yield f"--between keep{idle}", replace(row, between="keep", depth_mm=None)
    if row.place != "window":
        keep = "" if row.between == "keep" else " --between keep"
        idle = "" if row.depth_mm is None else " without a depth"
        yield f"--place window{keep}{idle}", replace(row, place="window", between="keep", depth_mm=None)
    if row.gap_mm is None and isinstance(row.count, int):
        for count in range(row.count - 1, 0, -1):
            yield f"--count {count}", replace(row, count=count)
    yield _WITHOUT, None


def _whole_by(spec: PieceSpec, index: int, way: Way, parts: Parts) -> str | None:
    """Return a way that leaves the row as it was solved, all but its loose parts, where the piece is whole by it."""
    words, row = way
    with trying(_PAIRS_HELD, is_patient=True):
        return words if _is_whole(spec.with_row(index, row), parts) else None


def _first_whole(spec: PieceSpec, index: int, ways: Iterator[Way], parts: Parts) -> str | None:
    """Return the first way by which the piece is whole; without the row it is, as was seen before."""
    with trying(_PAIRS):
        return next((words for words, row in ways if row is None or _is_whole(spec.with_row(index, row), parts)), None)


def _is_whole(spec: PieceSpec, parts: Parts) -> bool:
    try:
        return parts(spec) == 1
    except FrameforgeError:
        return False
