"""Rows on a tent card: repeats that would cross the fold or the foot are left out, the rest is spread anew."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from frameforge.errors import FrameforgeError, GeometryError, InputError
from frameforge.frame.fit import fit_row, wanted_gap_mm
from frameforge.frame.layout import Layout, measured
from frameforge.frame.model import RowModel
from frameforge.frame.offers import things
from frameforge.frame.ornament import Ready
from frameforge.frame.place import Track
from frameforge.frame.ring import solve_stretch
from frameforge.frame.spacing import arc_from_top_mm, equal_chord_between, tau_at_arc
from frameforge.frame.spec import RowSpec, Size, Spread
from frameforge.frame.standing import standing_at
from frameforge.frame.tent import StraightLine, tent_of
from frameforge.tolerances import CHORD_MM

__all__ = ["Behind", "behind_lines"]

_HALVINGS = 50
_SCALES = (0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2)


@dataclass(frozen=True, slots=True)
class Behind:
    """A row that keeps behind the lines of a tent card: its layout, and which repeats are left out of it."""

    layout: Layout
    is_out: tuple[bool, ...]
    took: tuple[str, ...] = ()


class _Wall(NamedTuple):
    line: StraightLine
    apart_mm: float


def behind_lines(model: RowModel, size: Size, layout: Layout) -> Behind:
    """Return a row as it stands on one half of a tent card; as it is on a piece without a fold.

    A repeat of which any part comes nearer to the fold than half a gap (a window: than the card's least web) or beyond
    the foot is left out: it would meet its own mirror image, or be cut through. The others are spread over each stretch
    that is free of those, from end to end, unless the row says ``free = "leave"``; one alone goes to the middle.
    Raises InputError for a row whose rest is to be filled, GeometryError where no repeat is left.
    """
    tent = tent_of(model.spec, size, model.preset)
    count = len(layout.seats)
    if tent is None:
        return Behind(layout, (False,) * count)
    if model.row.rest == "filler":
        say = "a filler closes a row all round, and a fold leaves it open. Leave out rest and filler, or the fold."
        raise InputError(say, where=model.spec.name)
    walls = [_Wall(tent.hinge, _apart_mm(model))]
    if tent.foot is not None:
        is_cut = model.row.place == "window" or any(ready.motif.cut_away for ready in layout.readies[: model.unit])
        walls.append(_Wall(tent.foot, model.preset.least_web_mm if is_cut else 0.0))
    is_out = [not _is_clear(layout.track, layout.readies[k], layout.seats[k].tau, walls) for k in range(count)]
    if not any(is_out):
        return Behind(layout, (False,) * count)
    if all(is_out):
        raise _none_left(model, size, walls)
    if model.row.free == "spread":
        layout = _spread(layout, is_out, walls)
    return Behind(layout, tuple(is_out), (_said(model, is_out, tent.foot is not None),))


def _apart_mm(model: RowModel) -> float:
    """Return how near a repeat may come to the fold: its image is as near on the other side."""
    if model.row.place == "window":
        return model.preset.least_web_mm
    return max(wanted_gap_mm(model), model.preset.least_slot_mm) / 2


def _is_clear(track: Track, ready: Ready, tau: float, walls: Sequence[_Wall]) -> bool:
    """Whether a repeat at a place keeps behind all walls; chords fall short of their curves by ``CHORD_MM``."""
    points = standing_at(track, ready, track.seat(ready, tau)).points
    return all(wall.line.furthest_mm(points) <= -wall.apart_mm - CHORD_MM for wall in walls)


def _spread(layout: Layout, is_out: Sequence[bool], walls: Sequence[_Wall]) -> Layout:
    """Return the row with every stretch of repeats that stay spread from wall to wall."""
    taus = [seat.tau for seat in layout.seats]
    for stretch in _stretches(is_out):
        before, after = (stretch[0] - 1) % len(taus), (stretch[-1] + 1) % len(taus)
        first, last = (_furthest(layout, k, to, walls) for k, to in ((stretch[0], before), (stretch[-1], after)))
        if len(stretch) > 1:
            last = first + (last - first) % math.tau
        readies = [layout.readies[k] for k in stretch]
        for k, tau in zip(stretch, _places(layout.track, readies, first, last, layout.spread), strict=True):
            taus[k] += math.remainder(tau - taus[k], math.tau)
    return measured(layout.track, layout.readies, taus, (True,) * len(taus), layout.spread, is_open=layout.is_open)


def _stretches(is_out: Sequence[bool]) -> list[list[int]]:
    """Return the runs of repeats that stay, clockwise, between those that are left out."""
    count, first = len(is_out), list(is_out).index(True)
    found: list[list[int]] = [[]]
    for k in (n % count for n in range(first, first + count)):
        if is_out[k]:
            found.append([])
        else:
            found[-1].append(k)
    return [stretch for stretch in found if stretch]


def _furthest(layout: Layout, k: int, out: int, walls: Sequence[_Wall]) -> float:
    """Return the place nearest to that of a repeat left out at which repeat k still keeps behind all walls."""
    clear, track, ready = layout.seats[k].tau, layout.track, layout.readies[k]
    turn = (layout.seats[out].tau - clear) % math.tau
    if out == (k - 1) % len(layout.seats):
        turn -= math.tau
    low, high = 0.0, 1.0
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if _is_clear(track, ready, clear + middle * turn, walls) else (low, middle)
    return clear + low * turn


def _places(
    track: Track, readies: Sequence[Ready], first: float, last: float, spread: Spread | None
) -> tuple[float, ...]:
    """Return places from the first to the last: by equal gaps, arcs or straight steps, as the row is spread."""
    arcs = arc_from_top_mm(track.edge, first), arc_from_top_mm(track.edge, last)
    if len(readies) == 1:
        return (tau_at_arc(track.edge, sum(arcs) / 2),)
    shares = [k / (len(readies) - 1) for k in range(len(readies))]
    if track.edge.is_circle:
        even = tuple(first + share * (last - first) for share in shares)
        is_even = spread != "equal-gap" or all(ready is readies[0] for ready in readies)
    else:
        inner = [tau_at_arc(track.edge, arcs[0] + share * (arcs[1] - arcs[0])) for share in shares[1:-1]]
        even, is_even = (first, *inner, last), spread != "equal-gap"
        if spread == "equal-chord" and len(readies) > 2:
            return equal_chord_between(track.edge, even)
    return even if is_even else solve_stretch(track, readies, even).taus


def _said(model: RowModel, is_out: Sequence[bool], has_foot: bool) -> str:
    """Return what was left out, and what became of the rest."""
    out, count = sum(is_out), len(is_out)
    kept = "the one that stays stands" if count - out == 1 else f"the other {count - out} are spread"
    rest = f"; {kept} over the edge left free" if model.row.free == "spread" else ""
    lines = "the fold or the foot" if has_foot else "the fold"
    return f"left out {out} of {count} {things(model, 2)}, which would cross {lines}{rest}"


def _none_left(model: RowModel, size: Size, walls: Sequence[_Wall]) -> GeometryError:
    """Return the refusal of a row of which every repeat would cross a line, with a change after which some do not."""
    lines = "between the fold and the foot" if len(walls) > 1 else "below the fold"
    say = f"no {things(model, 1)} is left {lines}: every one would cross it."
    ways = (words for words, row in _ways(model) if _leaves_some(model, size, row, walls))
    offer = next(ways, "a smaller depth")
    return GeometryError(f"{say} Take {offer}, or leave the row out.", where=model.spec.name, code="fold")


def _ways(model: RowModel) -> Iterator[tuple[str, RowSpec]]:
    """Yield changes of a row: smaller motifs; the first one beside the fold; both."""
    side = (model.spec.fold.at_deg + 90) % 360 if model.spec.fold else 90.0
    turned = replace(model.row, start_deg=side, starts_with_gap=False)
    yield from _smaller(model, model.row, "")
    yield f"--start {side:g}deg", turned
    yield from _smaller(model, turned, f"--start {side:g}deg and ")


def _smaller(model: RowModel, row: RowSpec, words: str) -> Iterator[tuple[str, RowSpec]]:
    for factor in _SCALES:
        scale = round(model.given_scale * factor, 2)
        yield f"{words}--scale {scale:g}", replace(row, scale=scale, foot_mm=None)


def _leaves_some(model: RowModel, size: Size, row: RowSpec, walls: Sequence[_Wall]) -> bool:
    """Whether a repeat of a row changed so would keep behind all walls."""
    changed = RowModel(model.spec, row, model.preset)
    try:
        fit = fit_row(changed, size)
        layout = changed.layout(size, fit.count, fit.scale)
    except FrameforgeError:
        return False
    pairs = zip(layout.readies, layout.seats, strict=True)
    return any(_is_clear(layout.track, ready, seat.tau, walls) for ready, seat in pairs)
