"""The order of cutting: what lies inside first, flimsy lines last among them, and little travel between."""

from __future__ import annotations

from collections.abc import Sequence

import shapely

from frameforge.machine.cut_line import CutLine

__all__ = ["ordered", "travel_mm"]

LOOKS = 8
"""Points of a segment by which the hull of its line is found."""
MOST_ROUNDS = 20
MOST_IMPROVED = 300
"""Beyond this many lines the nearest next one is taken and left so."""


def ordered(lines: Sequence[CutLine], begin: complex) -> tuple[CutLine, ...]:
    """Return the lines of a piece in cutting order: holes, holes beside thin card, holes that others reach into, the
    outside.

    The card is held by what is not yet cut, so the outside comes last, and what is thin is cut when nothing beside
    it is cut any more. An opening with tongues of card in it comes after the holes in these, since cut out they are
    held at their foot only. Within each of the four the way between lines is shortened from ``begin`` (mm): the nearest
    next line, then stretches turned round while that helps (2-opt: G. A. Croes, 1958, Operations Research 6, 791-812).
    """
    found: list[CutLine] = []
    at = begin
    holes = [line for line in lines if line.is_hole]
    late = _freeing(holes)
    for group in (
        [line for k, line in enumerate(holes) if k not in late and not line.is_flimsy],
        [line for k, line in enumerate(holes) if k not in late and line.is_flimsy],
        *([holes[k]] for k in late),
        [line for line in lines if not line.is_hole],
    ):
        chain = _improved(_nearest_next(group, at), at)
        found += chain
        at = chain[-1].end if chain else at
    return tuple(found)


def _freeing(holes: Sequence[CutLine]) -> list[int]:
    """Return the numbers of the holes into whose hull other holes reach, the smaller hulls first."""
    if len(holes) < 2:
        return []
    hulls = [shapely.convex_hull(shapely.multipoints(_points(hole))) for hole in holes]
    tree = shapely.STRtree(hulls)
    around, inside = tree.query(hulls, predicate="contains_properly")
    freeing = set(around[around != inside].tolist())
    return sorted(freeing, key=lambda k: (round(float(shapely.area(hulls[k])), 6), k))


def _points(line: CutLine) -> list[tuple[float, float]]:
    """Return points all along a line; enough for its hull but for a hundredth of its size."""
    points = [segment.point(k / LOOKS) for run in line.runs for segment in run for k in range(LOOKS + 1)]
    return [(z.real, z.imag) for z in points]


def travel_mm(lines: Sequence[CutLine], begin: complex) -> float:
    """Return the length of the way in the air: to each line from the end of the one before."""
    ends = [begin, *(line.end for line in lines)]
    return sum(abs(line.start - end) for end, line in zip(ends, lines, strict=False))


def _nearest_next(lines: Sequence[CutLine], begin: complex) -> list[CutLine]:
    """Return the lines, each the nearest to the end of the one before; of equally near ones the first given."""
    rest, chain, at = list(lines), [], begin
    while rest:
        nearest = min(range(len(rest)), key=lambda number: round(abs(rest[number].start - at), 6))
        chain.append(rest.pop(nearest))
        at = chain[-1].end
    return chain


def _improved(chain: list[CutLine], begin: complex) -> list[CutLine]:
    """Return the chain with stretches turned round while that shortens the way."""
    if len(chain) > MOST_IMPROVED:
        return chain
    length = travel_mm(chain, begin)
    for _ in range(MOST_ROUNDS):
        best = chain
        for i in range(len(chain) - 1):
            for j in range(i + 1, len(chain)):
                gain = _gain_mm(best, begin, i, j)
                if gain > 1e-6:
                    best = [*best[:i], *reversed(best[i : j + 1]), *best[j + 1 :]]
        shorter = travel_mm(best, begin)
        if shorter >= length - 1e-6:
            return chain
        chain, length = best, shorter
    return chain


def _gain_mm(chain: list[CutLine], begin: complex, i: int, j: int) -> float:
    """Return how much shorter the way gets when lines i to j are taken in the opposite order.

    Closed lines end where they start, so the way within the stretch stays the same but for overcuts; only its two
    ends count here, and the whole is measured again by the caller.
    """
    before = chain[i - 1].end if i else begin
    old = abs(chain[i].start - before) + (abs(chain[j + 1].start - chain[j].end) if j + 1 < len(chain) else 0.0)
    new = abs(chain[j].start - before) + (abs(chain[j + 1].start - chain[i].end) if j + 1 < len(chain) else 0.0)
    return old - new
