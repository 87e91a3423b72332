"""The edge between repeats, finished: straight from foot to foot, hollowed by an arc, or raised by one."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from frameforge.errors import GeometryError
from frameforge.frame.base import Edge
from frameforge.frame.layout import Layout
from frameforge.frame.model import RowModel
from frameforge.frame.offers import things
from frameforge.frame.spec import Between, Size
from frameforge.geometry.region import Region
from frameforge.tolerances import TOUCH_MM
from frameforge.units import format_floor

if TYPE_CHECKING:
    from frameforge.frame.edge_line import EdgeLine
    from frameforge.frame.raised import Arch

__all__ = ["Finished", "edge_between"]

_SAMPLES = 32
_HEM_MM = 0.05
"""Many times what a fitted edge may be off (FIT_MM), a sixth of what a foot is sunk in."""


@dataclass(frozen=True, slots=True)
class Finished:
    """What finishing the edge does to a piece, in its place, and what was chosen for the maker.

    ``taken`` goes from the base and ``raised`` is joined to it; ``filled`` goes from the opening. ``lines`` are the
    finished edges themselves.
    """

    taken: tuple[Region, ...] = ()
    raised: tuple[Region, ...] = ()
    filled: tuple[Region, ...] = ()
    lines: tuple[EdgeLine, ...] = ()
    took: tuple[str, ...] = ()


def edge_between(model: RowModel, size: Size, layout: Layout, is_cut: Sequence[bool] = ()) -> Finished:
    """Return what finishes the edge from every motif that is there to the next one that is; nothing for ``keep``.

    Where motifs are left out the edge runs on to the next one; only where one is that would cross a fold or a slot
    (``is_cut``) the edge stays, since the card is cut there. Flat: straight from foot to foot, between corner motifs
    from tip to tip. Level: straight over each bit of edge left between two cut-aways. Hollow: an arc that
    goes from that line into the card by ``depth``, of radius (c^2/4 + d^2) / 2d over a chord c. Raised: an arc that
    stands out of it by ``depth``, less where it would make a slit beside a motif. In an opening the card lies on the
    outer side, and so does the hollow.

    Row and edge go together (``check_edge_words``). Raises GeometryError, with what would do, where too little card
    would stay or an arc would cut in under a foot.
    """
    row = model.row
    if row.between == "keep":
        return Finished()
    pairs = [pair for pair in _pairs(layout) if not _is_parted(layout, pair, is_cut)]
    if not pairs:
        alone = sum(layout.is_there) < 2
        why = "one alone has no edge between" if alone else "the feet touch"
        why = why if alone or not any(is_cut) else "no two stand beside each other"
        return Finished(took=(f"took the edge as it is, since {why}",))
    from frameforge.frame.between_limits import check_card, check_reach  # here, as all that finished edges need

    edge = model.own_edge(size, layout)
    lines = tuple(_line(model, layout, edge, pair) for pair in pairs)
    took: tuple[str, ...] = ()
    if row.between == "raised":
        flat = lines
        check_reach(model, layout, lambda rise: _raised(model, layout, pairs, flat, rise)[0])
        lines, pairs, took = _raised(model, layout, pairs, flat, row.depth_mm or 0.0)
    else:
        deepest = math.inf if _has_corners(layout) else _deepest_mm(layout, pairs, lines)
        check_card(model, size, layout, lines, deepest)
    return replace(_parts(model, layout, lines, pairs), took=took)


def _has_corners(layout: Layout) -> bool:
    return any(ready.is_corner for ready in layout.readies)


def _pairs(layout: Layout) -> list[tuple[int, int]]:
    """Return every repeat that is there with the next one that is, clockwise, where their feet stand apart."""
    kept = [k for k, there in enumerate(layout.is_there) if there]
    if len(kept) < 2:
        return []
    found = []
    for k, after in zip(kept, [*kept[1:], kept[0]], strict=True):
        gap = layout.foot_gaps[k] if after == (k + 1) % len(layout.seats) else None
        if gap is None or gap > TOUCH_MM:
            found.append((k, after))
    return found


def _is_parted(layout: Layout, pair: tuple[int, int], is_cut: Sequence[bool]) -> bool:
    """Whether a repeat that would be cut stands between two."""
    k, after = pair
    count = len(layout.seats)
    return bool(is_cut) and any(is_cut[n % count] for n in range(k + 1, k + (after - k) % count))


def _line(model: RowModel, layout: Layout, edge: Edge, pair: tuple[int, int]) -> EdgeLine:
    """Return the line between two feet with the arc that the row asks for. Raises GeometryError where none goes."""
    from frameforge.frame.edge_line import EdgeLine

    row, where = model.row, model.spec.name
    start, end = (_end(layout, k, edge, row.between, side) for side, k in enumerate(pair))
    directions = [layout.track.edge.direction_rad(layout.track.edge.tau_towards(_clock(z))) for z in (start, end)]
    if (directions[1] - directions[0]) % math.tau >= math.pi - 1e-9:
        motif, keep = things(model, 1), f"--between keep{' without a depth' if row.depth_mm else ''}"
        say = f"between {row.between} goes straight from foot to foot, and from {motif} to {motif} there is half of "
        say += f"the edge or more. Take {keep}, or leave out fewer."
        raise GeometryError(say, where=where, code="half-round")
    rise = -layout.track.side * (row.depth_mm or 0.0) if row.between == "hollow" else 0.0
    return EdgeLine(start, end, rise)


def _end(layout: Layout, k: int, edge: Edge, between: Between, side: int) -> complex:
    """Return where the edge beside a repeat begins (side 0) or ends (side 1): at its foot, its tip or its mouth."""
    ready, seat = layout.readies[k], layout.seats[k]
    if not ready.is_corner:
        return seat.left if side else seat.right
    if between == "flat":
        return layout.track.placement(ready, seat).apply(0j)
    from frameforge.frame.mouth import mouth_ends

    left, right = mouth_ends(edge, seat, ready.foot_mm)
    return left if side else right


def _deepest_mm(layout: Layout, pairs: Sequence[tuple[int, int]], lines: Sequence[EdgeLine]) -> float:
    """Return the depth at which the first hollow goes straight down beside a foot."""
    from frameforge.frame.edge_line import steepest_mm

    side = layout.track.side
    turns = (math.pi / 2 - side * _turn(layout, pair, line) for pair, line in zip(pairs, lines, strict=True))
    return min(steepest_mm(line.chord_mm, turn) for turn, line in zip(turns, lines, strict=True))


def _clock(z: complex) -> float:
    return math.atan2(z.real, z.imag)


def _turn(layout: Layout, pair: tuple[int, int], line: EdgeLine) -> float:
    """Return the turn between foot and line that limits a hollow: the greater one on a base, the less in an opening."""
    seat, after = (layout.seats[k] for k in pair)
    turns = (seat.end_ways[1].conjugate() * line.along, line.along.conjugate() * after.end_ways[0])
    angles = [abs(math.atan2(z.imag, z.real)) for z in turns]
    return max(angles) if layout.track.side > 0 else min(angles)


def _raised(
    model: RowModel, layout: Layout, pairs: Sequence[tuple[int, int]], lines: Sequence[EdgeLine], wanted: float
) -> tuple[tuple[EdgeLine, ...], list[tuple[int, int]], tuple[str, ...]]:
    """Return the lines that could be raised, between which repeats, and what was taken in place of what was asked."""
    from frameforge.frame.raised import Side, find_arch

    slot = model.preset.least_slot_mm
    known: dict[object, Arch | None] = {}
    found, arches, ends_of = [], [], []
    for pair, line in zip(pairs, lines, strict=True):
        key = _view(layout, pair, line)
        if key not in known:
            ends = zip(pair, (line.start, line.end), strict=True)
            sides = [Side.of(layout, layout.readies[k], layout.seats[k], end) for k, end in ends]
            known[key] = find_arch(line, (sides[0], sides[1]), layout.track.side * wanted, slot)
        arch = known[key]
        if arch is not None:
            found.append(arch.over(line))
            arches.append(arch)
            ends_of.append(pair)
    return tuple(found), ends_of, (*_took(model, arches, len(lines)), *_flatter(layout, found))


def _view(layout: Layout, pair: tuple[int, int], line: EdgeLine) -> object:
    """Return what is equal for pairs that look alike but for a turn of the whole."""
    seats = [layout.seats[k] for k in pair]
    back = line.along.conjugate()
    seen = [back * seat.tangent for seat in seats] + [back * (seat.middle - line.start) for seat in seats]
    rounded = tuple((round(z.real, 9), round(z.imag, 9)) for z in seen)
    return (id(layout.readies[pair[0]]), id(layout.readies[pair[1]]), round(line.chord_mm, 9), rounded)


def _took(model: RowModel, arches: Sequence[Arch], asked: int) -> tuple[str, ...]:
    """Return what is said of arches that came out otherwise than asked for."""
    wanted, slot = model.row.depth_mm or 0.0, f"{model.preset.least_slot_mm:g} mm"
    why = f"so that no slit under {slot} stays beside the {things(model, 2)}"
    took = []
    low = [arch.rise_mm for arch in arches if arch.rise_mm < wanted]
    if low:
        rises = format_floor(min(low))
        if format_floor(max(low)) != rises:
            rises = f"{rises.removesuffix(' mm')} to {format_floor(max(low))}"
        count = "a rise" if len(low) == len(arches) else f"at {len(low)} of {len(arches)} edges a rise"
        took.append(f"took {count} of {rises} in place of {wanted:g} mm, {why}")
    aside = [arch.aside_mm for arch in arches if arch.aside_mm]
    if aside:
        took.append(f"took arches that begin {format_floor(min(aside))} or more beside the feet, {why}")
    if missing := asked - len(arches):
        count = "all edges between" if missing == asked else f"{missing} of {asked} edges between"
        took.append(f"took {count} as they are, since an arch there would leave slits under {slot} beside the motifs")
    return tuple(took)


def _flatter(layout: Layout, lines: Sequence[EdgeLine]) -> tuple[str, ...]:
    """Return what is said where an arch comes out lower than the edge of the base already rises there."""
    if layout.track.side < 0:
        return ()
    lower = [(line, bulge) for line in lines if (bulge := _bulge_mm(layout.track.edge, line)) > line.rise_mm + TOUCH_MM]
    if not lower:
        return ()
    most = max(bulge for _, bulge in lower)
    count = "the edge" if len(lower) == len(lines) else f"{len(lower)} of {len(lines)} edges"
    return (f"took {count} flatter than it was: kept as it is it rises up to {format_floor(most)} over the feet",)


def _bulge_mm(edge: Edge, line: EdgeLine) -> float:
    """Return how far an edge rises over the line between two points of it, mm, from samples."""
    first, last = (edge.tau_towards(_clock(z)) for z in (line.start, line.end))
    span = (last - first) % math.tau
    points = (edge.point(first + span * k / _SAMPLES) for k in range(_SAMPLES + 1))
    return max(((point - line.start).conjugate() * line.outward).real for point in points)


def _parts(model: RowModel, layout: Layout, lines: Sequence[EdgeLine], ends: Sequence[tuple[int, int]]) -> Finished:
    """Return what the finished lines take from the card and add to it."""
    size = layout.track.edge.size
    sunk = model.row.inset_mm + (layout.track.sink_mm if _has_corners(layout) else 0.0)
    reach = max(size.width_mm, size.height_mm) / 2 + sunk
    is_inset = sunk > 0 and model.row.between != "level"
    is_fitted = layout.track.meets == "opening" and layout.track.edge.offset_mm != 0
    blocks, caps, trims = [], [], list[Region]()
    for line, pair in zip(lines, ends, strict=True):
        first, last = (layout.seats[k].tangent for k in pair)
        # An opening that is fitted passes a foot's end by a hair: what is cut and filled begins under the foot then.
        hems = (line.start - _HEM_MM * first, line.end + _HEM_MM * last) if is_fitted else None
        blocks.append(line.outside(reach, (1j * first, 1j * last) if is_inset or is_fitted else None, hems))
        cap = line.cap(hems) if line.rise_mm > 0 else None
        caps += [cap] if cap else []
        if hems and line.rise_mm <= 0:
            trims += line.corners(hems, 2 * _HEM_MM)
    if layout.track.meets != "opening":
        return Finished(taken=tuple(blocks), raised=tuple(caps), lines=tuple(lines))
    # An arc that goes outwards goes into the card there; feet sunk into the card have card before them to take.
    taken = tuple(line.inside() for line in lines) if is_inset else (*caps, *trims)
    return Finished(taken=taken, filled=tuple(blocks), lines=tuple(lines))
