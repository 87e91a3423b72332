"""Rings from one sheet, one inside another: every edge between two of them is one line, plain or with motifs.

A motif that faces out from an edge belongs to the ring inside that edge, one that faces in to the ring outside it. So
each ring is made as a piece of its own with the motifs that are its; the line of an edge is then the outside of the one
ring, or the opening of the other, and is given to both.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from frameforge.card.preset import Preset
from frameforge.errors import GeometryError
from frameforge.frame.base import Edge
from frameforge.frame.piece import Piece
from frameforge.frame.rim import least_rim_mm
from frameforge.frame.spec import PieceSpec, RowSpec, Size
from frameforge.geometry.combine import difference, evaluate
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.sets.bond import Bond, holds
from frameforge.sets.ring_limits import check_sizes, lies_within, ring_words, stays_clear

__all__ = ["EdgeRow", "Ring", "Rings", "RingsSpec", "ring_name", "ring_specs", "to_rings"]


@dataclass(frozen=True, slots=True)
class EdgeRow:
    """A row of motifs, and the number of the edge it stands on, from 0 for the smallest."""

    edge: int
    row: RowSpec


@dataclass(frozen=True, slots=True)
class RingsSpec:
    """Graduated rings: their edges, the smallest first (mm), and the rows of motifs on them."""

    name: str
    sizes: tuple[Size, ...]
    rows: tuple[EdgeRow, ...] = ()


@dataclass(frozen=True, slots=True)
class Ring:
    """One card of a set: the disc in the middle, which has no ``inside``, or a ring. Sizes are those of the edges.

    ``width_mm`` is the least width between its edges, motifs left aside; of a disc its least width across.
    """

    piece: Piece
    outside: Size
    inside: Size | None
    width_mm: float


@dataclass(frozen=True, slots=True)
class Rings:
    """All rings of a set, the innermost first, and the bond of their cards."""

    name: str
    rings: tuple[Ring, ...]
    bond: Bond


def ring_specs(spec: RingsSpec, preset: Preset) -> tuple[tuple[PieceSpec, tuple[int, ...]], ...]:
    """Return for each ring, the innermost first, its order and the numbers (from 0) of the rows that are its own.

    Raises InputError and GeometryError for edges that make no rings, and for rows with no ring to hold them.
    """
    check_sizes(spec.name, spec.sizes, preset)
    return tuple(_ring_spec(spec, k) for k in range(len(spec.sizes)))


def _ring_spec(spec: RingsSpec, k: int) -> tuple[PieceSpec, tuple[int, ...]]:
    """Return the order of the ring inside edge k, and the numbers of its rows."""
    found: list[tuple[int, RowSpec]] = []
    for number, one in enumerate(spec.rows):
        faces_in = one.row.place == "in"
        if not faces_in and one.edge == k:
            found.append((number, replace(one.row, on="base")))
        elif faces_in and one.edge == k - 1:
            found.append((number, replace(one.row, on="opening")))
    opening = spec.sizes[k - 1] if k else None
    rows = tuple(row for _, row in found)
    order = PieceSpec(ring_name(spec, k), spec.sizes[k], opening, rows=rows, is_size_fixed=True)
    return order, tuple(number for number, _ in found)


def ring_name(spec: RingsSpec, k: int) -> str:
    """Return what a ring is called in a message: "rings, ring of 100 mm"."""
    return f"{spec.name}, {ring_words(spec.sizes[k], is_disc=k == 0)}"


def to_rings(spec: RingsSpec, pieces: Sequence[Piece]) -> Rings:
    """Return the rings with every edge one line; ``pieces`` were made by the orders of ``ring_specs``.

    Raises GeometryError where the motifs of one edge meet another edge, or what is cut beside it.
    """
    plain = [_parted(piece, has_opening=k > 0) for k, piece in enumerate(pieces)]
    lines = [_line(spec, plain, k) for k in range(len(plain))]
    for k in range(1, len(plain)):
        _check_line(spec, k - 1, lines, plain)
    bond = Bond.nested(lines, [parted.holes for parted in plain])
    rings = []
    for k, (piece, part) in enumerate(zip(pieces, bond.parts, strict=True)):
        inside = spec.sizes[k - 1] if k else None
        rings.append(Ring(replace(piece, region=part), spec.sizes[k], inside, _width_mm(spec.sizes[k], inside)))
    return Rings(spec.name, tuple(rings), bond)


@dataclass(frozen=True, slots=True)
class _Parted:
    """The outlines of a ring as it was made by itself: its outside, its opening, its other holes."""

    outer: Outline
    opening: Outline | None
    holes: tuple[Outline, ...]


def _parted(piece: Piece, *, has_opening: bool) -> _Parted:
    """Return the outlines of a ring apart; its opening is the hole that holds the middle."""
    holes = piece.region.holes
    if not has_opening:
        return _Parted(piece.region.outer, None, holes)
    middle = next((hole for hole in holes if holds(hole, 0j)), None)
    if middle is None:
        say = "its motifs fill the opening up to the middle. Take smaller motifs."
        raise GeometryError(say, where=piece.name, code="no-opening")
    return _Parted(piece.region.outer, middle, tuple(hole for hole in holes if hole is not middle))


def _line(spec: RingsSpec, plain: Sequence[_Parted], k: int) -> Outline:
    """Return the line of edge k: the outside of the ring within, the opening of the ring round it, or both in one."""
    places = {one.row.place for one in spec.rows if one.edge == k and one.row.place != "window"}
    outer = plain[k].outer
    if "in" not in places:
        return outer
    opening = plain[k + 1].opening
    assert opening is not None
    inner = opening.reversed()
    if places == {"in"}:
        return inner
    disc = Edge.from_size(spec.sizes[k]).region()
    facing_in = evaluate(difference(disc, Region(inner))).regions
    regions = evaluate(difference(Region(outer), *facing_in)).regions
    if len(regions) != 1:
        say = "motifs that face out and motifs that face in part the edge between them. Take fewer, or smaller ones."
        raise GeometryError(say, where=ring_name(spec, k), code="crossing-rings")
    return regions[0].outer


def _check_line(spec: RingsSpec, k: int, lines: Sequence[Outline], plain: Sequence[_Parted]) -> None:
    """Refuse the line of edge k where it and the next edge meet, or where it runs through windows of its two rings."""
    line = lines[k]
    if not lies_within(line, lines[k + 1]):
        is_own = any(one.edge == k and one.row.place in ("out", "across") for one in spec.rows)
        blamed, other = (k, k + 1) if is_own else (k + 1, k)
        say = f"its motifs reach the next edge, that of the {ring_words(spec.sizes[other], is_disc=other == 0)}."
        raise GeometryError(say, where=_edge_name(spec, blamed), code="crossing-rings", edge=blamed)
    own, around = plain[k].holes, plain[k + 1].holes
    is_clear = stays_clear(line, (*own, *around))
    if not is_clear or not all(holds(line, z) for z in _starts(own)) or any(holds(line, z) for z in _starts(around)):
        say = "it runs through windows of the rings beside it."
        raise GeometryError(say, where=_edge_name(spec, k), code="crossing-rings", edge=k)


def _edge_name(spec: RingsSpec, k: int) -> str:
    return f"{spec.name}, edge of {ring_words(spec.sizes[k], is_disc=False).removeprefix('ring of ')}"


def _starts(outlines: Sequence[Outline]) -> list[complex]:
    return [outline.segments[0].start for outline in outlines]


def _width_mm(outside: Size, inside: Size | None) -> float:
    if inside is None:
        return min(outside.width_mm, outside.height_mm)
    return least_rim_mm(Edge.from_size(outside), Edge.from_size(inside))
