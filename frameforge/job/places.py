"""Places as the maker sees them: which repeat of which motif, between which two, at which hour."""

from __future__ import annotations

import cmath
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

import numpy as np
import numpy.typing as npt
import shapely

from frameforge.finding import Finding
from frameforge.frame.piece import Piece, PlacedMotif, RowResult
from frameforge.frame.wording import clock_words, plural
from frameforge.geometry.flatten import to_polygon
from frameforge.motif.motif import Motif
from frameforge.units import to_clock_deg

if TYPE_CHECKING:
    from frameforge.frame.tent import Tent

__all__ = ["NamedPlace", "is_ambiguous", "name_places", "row_near", "words_at"]

_NEAR_MM: Final = 1.0
"""A place further from every motif than this belongs to the card between or inside them."""
_EVEN_MM: Final = 0.1
"""A place is between two repeats when it is as near to the one as to the other within this, or a tenth of the way."""
_OUTLINE_MM: Final = 0.05
"""How true the motifs' outlines need to be to tell which one is nearest."""
_COMPARED: Final = 3
"""Repeats looked at for each place: its own and the two beside it."""


@dataclass(frozen=True, slots=True)
class NamedPlace:
    """A finding with its place in words; ``row`` is the row whose gap it lies in, None where it lies in none."""

    finding: Finding
    row: int | None = None


def name_places(piece: Piece, findings: Iterable[Finding]) -> tuple[NamedPlace, ...]:
    """Return the findings with ``where`` filled in wherever they have a place, in their order."""
    found = tuple(findings)
    placed = [k for k, finding in enumerate(found) if finding.place is not None]
    spots = np.array([found[k].place for k in placed], dtype=np.complex128)
    result = [NamedPlace(finding) for finding in found]
    if not placed:
        return tuple(result)
    for k, (where, row) in zip(placed, _described(piece, spots), strict=True):
        result[k] = NamedPlace(replace(found[k], where=where), row)
    return tuple(result)


def words_at(piece: Piece, spots: Iterable[complex]) -> list[str]:
    """Return each spot of a piece (mm, y up) in words: "bean leaf 4, at 3 o'clock"."""
    return [words for words, _ in _described(piece, np.array(list(spots), dtype=np.complex128))]


def row_near(piece: Piece, spot: complex) -> int | None:
    """Return the row (from 0) one of whose repeats is the nearest to a spot (mm, y up); None where there are none."""
    if piece.tent is not None and piece.tent.hinge.beyond_mm(spot) > 0:
        spot = complex(piece.tent.hinge.mirror.apply(spot))
    spots = np.array([spot], dtype=np.complex128)
    away = {k: _nearest(row, spots)[0][0][0] for k, row in enumerate(map(_with_filler, piece.rows)) if row.repeats}
    return min(away, key=lambda k: away[k], default=None)


def _described(piece: Piece, spots: npt.NDArray[np.complex128]) -> list[tuple[str, int | None]]:
    """Return for each spot the words, and the row between whose repeats it lies."""
    if piece.tent is not None:
        return _on_halves(piece, piece.tent, spots)
    filled = [_with_filler(row) for row in piece.rows]
    near = [_nearest(row, spots) for row in filled if row.repeats]
    rows = [number for number, row in enumerate(filled) if row.repeats]
    result: list[tuple[str, int | None]] = []
    for k, spot in enumerate(spots.tolist()):
        best = min(range(len(near)), key=lambda n: near[n][k][0][0], default=None)
        if best is None or near[best][k][0][0] > _NEAR_MM:
            result.append((_hour(spot), None))
            continue
        row = filled[rows[best]]
        words, is_between = _words(row, near[best][k], spot)
        prefix = f"row {rows[best] + 1}, " if is_ambiguous(filled, row) else ""
        result.append((prefix + words, rows[best] if is_between else None))
    return result


def _on_halves(piece: Piece, tent: Tent, spots: npt.NDArray[np.complex128]) -> list[tuple[str, int | None]]:
    """Return the same for a tent card: on the other half a spot is named as its image on this one."""
    is_beyond = [tent.hinge.beyond_mm(spot) > 0 for spot in spots.tolist()]
    near = np.where(is_beyond, tent.hinge.mirror.apply(spots), spots)
    told = _described(replace(piece, tent=None), near)
    return [
        (f"other half, {where}" if beyond else where, row) for (where, row), beyond in zip(told, is_beyond, strict=True)
    ]


def _with_filler(row: RowResult) -> RowResult:
    """Return the row with its filler among its repeats."""
    return row if row.filler is None else replace(row, repeats=(*row.repeats, *row.filler.repeats))


def is_ambiguous(rows: Sequence[RowResult], row: RowResult) -> bool:
    """Return whether another row holds a motif of the same name."""
    names = set(row.motif_name.split("+"))
    return any(names & set(other.motif_name.split("+")) for other in rows if other is not row)


def _words(row: RowResult, near: list[tuple[float, int]], spot: complex) -> tuple[str, bool]:
    """Return the words for a spot near a repeat, and whether it lies between two."""
    (distance, k), *others = near
    repeat = row.repeats[k]
    if distance > 0 and others and others[0][0] - distance <= _EVEN_MM + 0.1 * distance:
        first, second = _in_order(repeat, row.repeats[others[0][1]], len(row.repeats))
        after = f"{second.position}" if _name(first) == _name(second) else f"{_name(second)} {second.position}"
        return f"between {_name(first)} {first.position} and {after}, {_hour(spot)}", True
    return f"{_name(repeat)} {repeat.position}, {_hour(spot)}", False


def _in_order(one: PlacedMotif, other: PlacedMotif, count: int) -> tuple[PlacedMotif, PlacedMotif]:
    """Return two neighbours clockwise: the last stands before the first."""
    low, high = sorted((one, other), key=lambda repeat: repeat.position)
    return (high, low) if count > 2 and high.position - low.position > 1 and low.position == 1 else (low, high)


def _name(repeat: PlacedMotif) -> str:
    return plural(repeat.motif.name, 1)


def _hour(spot: complex) -> str:
    """Return the hour at which a spot lies, seen from the middle."""
    return clock_words(to_clock_deg(cmath.phase(spot))) if abs(spot) > _NEAR_MM else "in the middle"


def _nearest(row: RowResult, spots: npt.NDArray[np.complex128]) -> list[list[tuple[float, int]]]:
    """Return for each spot the distances (mm, 0 inside) and numbers of the repeats nearest to it, nearest first."""
    motifs = {id(repeat.motif): repeat.motif for repeat in row.repeats}
    shapes = {key: _shape(motif) for key, motif in motifs.items()}
    boxes = {key: shapely.bounds(shape).tolist() for key, shape in shapes.items()}
    middles = np.array([repeat.placement.apply(_middle(boxes[id(repeat.motif)])) for repeat in row.repeats])
    count = min(_COMPARED, len(middles))
    near = [np.argsort(np.abs(middles - spot), kind="stable")[:count].tolist() for spot in spots.tolist()]
    pairs = [(spot, row.repeats[k]) for spot, numbers in zip(spots.tolist(), near, strict=True) for k in numbers]
    local = np.array([repeat.placement.inverse().apply(spot) for spot, repeat in pairs], dtype=np.complex128)
    drawn = np.array([shapes[id(repeat.motif)] for _, repeat in pairs], dtype=object)
    away = iter(shapely.distance(drawn, shapely.points(local.real, local.imag)).tolist())
    stretch = [repeat.placement.greatest_stretch for repeat in row.repeats]
    return [sorted((next(away) * stretch[k], k) for k in numbers) for numbers in near]


def _middle(box: list[float]) -> complex:
    """Return the middle of left, bottom, right, top."""
    left, bottom, right, top = box
    return complex(left + right, bottom + top) / 2


def _shape(motif: Motif) -> shapely.MultiPolygon:
    """Return the motif's outlines filled."""
    return shapely.MultiPolygon([shapely.Polygon(to_polygon(region, _OUTLINE_MM).exterior) for region in motif.drawn])
