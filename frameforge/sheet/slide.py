"""Pieces of a sheet moved together: left and down until they meet the margin or stand apart by just the distance asked.

A group moves as one: a piece with everything in its openings. A piece that lies alone in an opening is put in the
middle of it.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

from frameforge.geometry.affine import Affine
from frameforge.geometry.measure import bounds
from frameforge.geometry.nearest import distance
from frameforge.geometry.region import Region
from frameforge.sheet.contact import DOWN, LEFT, SETTLED_MM, Body, ahead, body_of, moved_on
from frameforge.sheet.design import Design, Placed, Sheet

__all__ = ["slid"]

ROUNDS = 12
"""Rounds of moves bounded by points; most sheets settle in four."""
EXACT_ROUNDS = 3


def slid(
    placed: Sequence[Placed],
    designs: Sequence[Design],
    sheet: Sheet,
    used: Sequence[Region] = (),
    *,
    is_whole: bool = True,
) -> tuple[Placed, ...]:
    """Return the pieces of a sheet, moved; ``inside_of`` must be told. The order of the pieces is kept.

    Unless ``is_whole`` only what lies alone in openings is moved.
    """
    pieces = [place.regions(tuple(designs)) for place in placed]
    children = defaultdict(list)
    for k, place in enumerate(placed):
        children[place.inside_of].append(k)
    bodies = (
        [body_of([r.outer for r in pieces[k]], _all_inside(k, children)) for k in children[None]] if is_whole else []
    )
    fixed = [body_of(region.outlines, []) for region in used]
    _slide(bodies, fixed, sheet)
    moves = [0j] * len(placed)
    for body in bodies:
        for k in body.members:
            moves[k] = body.at
    for host, held in children.items():
        if host is not None and len(held) == 1:
            by = _to_middle(pieces[host], pieces[held[0]], sheet.apart_mm)
            for k in _all_inside(held[0], children):
                moves[k] += by
    return tuple(
        replace(place, x_mm=place.x_mm + by.real, y_mm=place.y_mm + by.imag)
        for place, by in zip(placed, moves, strict=True)
    )


def _all_inside(k: int, children: dict[int | None, list[int]]) -> list[int]:
    """Return the piece and all that lies in its openings, and in theirs."""
    return [k, *(deeper for child in children.get(k, []) for deeper in _all_inside(child, children))]


def _to_middle(host: tuple[Region, ...], child: tuple[Region, ...], apart_mm: float) -> complex:
    """Return the move that centres a lone piece in the opening round it, 0 where it would come too near."""
    middle = bounds(child).center
    holes = [hole for region in host for hole in region.holes if bounds(hole).contains(middle)]
    if not holes:
        return 0
    hole = min(holes, key=lambda h: bounds(h).width_mm)
    by = bounds(hole).center - middle
    moved = [region.outer.transformed(Affine.from_move(by)) for region in child]
    return by if distance(moved, [o for r in host for o in r.outlines]).gap_mm >= apart_mm else 0


def _slide(bodies: list[Body], fixed: list[Body], sheet: Sheet) -> None:
    """Move the bodies left and down in turn, bounded by points until nothing moves much, then exactly.

    A body that could not move is not tried again until something near it has moved.
    """
    for exact, rounds, enough in ((False, ROUNDS, 20 * SETTLED_MM), (True, EXACT_ROUNDS, SETTLED_MM)):
        moved_at: dict[Body, int] = {}
        tried_at: dict[tuple[Body, complex], int] = {}
        clock = 0
        for _ in range(rounds):
            longest = 0.0
            for way in (LEFT, DOWN):
                for body in sorted(bodies, key=_left if way == LEFT else _bottom):
                    others = ahead(body, way, [*bodies, *fixed], sheet.apart_mm)
                    last = max(moved_at.get(b, 0) for b in (body, *others))
                    if tried_at.get((body, way), -1) >= last:
                        continue
                    clock += 1
                    room = (_left(body) if way == LEFT else _bottom(body)) - sheet.margin_mm
                    moved = moved_on(body, way, others, room, sheet.apart_mm, exact=exact)
                    tried_at[body, way] = clock
                    if moved > enough:
                        moved_at[body] = clock
                    longest = max(longest, moved)
            if longest < enough:
                break


def _left(body: Body) -> float:
    return body.where().left


def _bottom(body: Body) -> float:
    return body.where().bottom
