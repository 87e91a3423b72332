"""A piece that has to go into an envelope, a box or a lid: the largest base that does, and what is too large."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial
from itertools import islice
from typing import TYPE_CHECKING

import numpy as np

from frameforge.card.envelope import EACH_SIDE_MM, Envelope
from frameforge.card.preset import Preset
from frameforge.errors import GeometryError, InputError
from frameforge.frame.assembly import assemble
from frameforge.frame.extent import hull_of, outline_points, room_taken, round_mm
from frameforge.frame.fit import wanted_gap_mm
from frameforge.frame.model import RowModel
from frameforge.frame.profile import Complexes
from frameforge.frame.rising import rising_zero
from frameforge.frame.solve import Growth, growth_of
from frameforge.frame.spacing import edge_length_mm, equal_arc
from frameforge.frame.spec import PieceSpec, RowSpec, Size
from frameforge.frame.standing import stand
from frameforge.frame.ways import RefusedError, Way
from frameforge.frame.wording import down, size_words
from frameforge.geometry.measure import bounds
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import ellipse
from frameforge.tolerances import EXTENT_MM
from frameforge.units import format_floor, format_mm

if TYPE_CHECKING:
    from frameforge.frame.tent import Tent

__all__ = ["goes_in", "refuse_too_big", "settle_goes_in"]

_NEAR = 1.002
_ROUGH = 1e-4
_SETTLED = 1e-10
_BESIDE = 1e-9
_NOTHING_MM = 0.1
"""A base no wider than this is none: nobody looks for what goes in by smaller ones."""
_TRIES = 8
_SHRINKS = 60
"""How often a base that is still too large by a little is made smaller by that."""
_SCALES = tuple(k / 20 for k in range(19, 3, -1))

CanMake = Callable[[PieceSpec], bool]
"""Whether a piece can be made as ordered, and goes in."""


def settle_goes_in(spec: PieceSpec, preset: Preset) -> PieceSpec:
    """Return the order with the largest base that goes in, where its size is to be found and no row decides it.

    A row that states both count and gap decides the size; otherwise the gap follows from the size. An oval grows as
    ``ratio`` or ``grow_from`` tell. Raises InputError where another number is to be found as well, GeometryError where
    the piece cannot be made at that size or where nothing goes in.
    """
    if spec.goes_in is None or spec.size != "find" or any(_decides(row) for row in spec.rows[:1]):
        return spec
    for row in spec.rows:
        if "find" in (row.scale, row.foot_mm):
            raise InputError("size and scale cannot both be found. Write one of them as a number.", where=spec.name)
    growth = growth_of(spec, None)
    return replace(spec, size=_largest(spec, growth, preset))


def _decides(row: RowSpec) -> bool:
    """Whether a row states all but the size."""
    return isinstance(row.count, int) and (isinstance(row.gap_mm, int | float) or row.foot_gap_mm is not None)


def refuse_too_big(spec: PieceSpec, preset: Preset, size: Size, region: Region, can_make: CanMake) -> str | None:
    """Return the sentence that says how a piece goes in; None where it has to go into nothing.

    Raises GeometryError for a piece that is too large, with the largest size of its proportion that goes in, in steps
    of .1 mm, or what else would do; every way is tried by ``can_make``.
    """
    if spec.goes_in is None:
        return None
    points, envelope = outline_points([region.outer]), spec.goes_in
    hull = hull_of(points)
    is_round = size.is_circle and spec.fold is None
    around = round_mm(hull) if is_round else None
    taken = room_taken(hull, envelope, on_circle=is_round)
    if _fits(taken, envelope):
        words = _goes_in_words(envelope, taken)
        return f"{words.removesuffix('.')}, before it is folded." if spec.fold else words
    across = _across(region, around)
    takes = _takes(envelope, is_round=around is not None or envelope.kind == "circle")
    if across == takes:
        across = format_floor(taken * envelope.short_mm + 0.01)
    say = f"{across} across, {envelope.words} takes {takes} with {EACH_SIDE_MM:g} mm each side."
    ways = _ways(spec, preset, size, can_make)
    larger = f"name a larger {envelope.kind}" if envelope.kind in ("envelope", "sheet") else "write a larger one"
    if (tent := _tent(spec, size, preset)) and _fits(_folded(tent, points, envelope), envelope):
        larger += ", or leave --goes-in out and fold it first: folded it goes in"
    hint = f" {', '.join(ways)}, or {larger}." if ways else f" {larger[0].upper()}{larger[1:]}."
    numbers = {"across_mm": around or taken * envelope.short_mm, "limit_mm": envelope.short_mm}
    raise GeometryError(say + hint, where=spec.name, code="too-big-for-envelope", **numbers)


def goes_in(spec: PieceSpec, size: Size, region: Region) -> bool:
    """Whether a piece goes into what it is meant for, with the room kept on each side."""
    if spec.goes_in is None:
        return True
    is_round = size.is_circle and spec.fold is None
    taken = room_taken(hull_of(outline_points([region.outer])), spec.goes_in, on_circle=is_round)
    return _fits(taken, spec.goes_in)


def _fits(taken: float, envelope: Envelope) -> bool:
    return taken <= 1 + EXTENT_MM / envelope.short_mm


def _folded(tent: Tent, points: Complexes, envelope: Envelope) -> float:
    """Return how much of the room a folded piece takes, of all its points: the half reaches into dents of the blank."""
    return room_taken(hull_of(tent.half(points)), envelope, on_circle=False)


def _goes_in_words(envelope: Envelope, taken: float) -> str:
    spare = EACH_SIDE_MM + envelope.short_mm * (1 - min(taken, 1.0)) / 2
    return f"goes into {envelope.words} with {format_floor(spare)} to spare each side."


def _across(region: Region, around: float | None) -> str:
    """Return how wide a piece is: across where it is round, else width and height."""
    if around is not None:
        return format_mm(around)
    box = bounds(region)
    return f"{format_mm(box.width_mm).removesuffix(' mm')} x {format_mm(box.height_mm)}"


def _takes(envelope: Envelope, *, is_round: bool) -> str:
    if is_round or envelope.long_mm == envelope.short_mm:
        return format_floor(envelope.short_mm)
    return f"{format_floor(envelope.long_mm).removesuffix(' mm')} x {format_floor(envelope.short_mm)}"


def _ways(spec: PieceSpec, preset: Preset, size: Size, can_make: CanMake) -> list[str]:
    """Return what to do so that the piece goes in: a smaller base, else smaller motifs; of a size found, other rows."""
    if spec.size == "find":
        row = spec.rows[0]
        fewer = range(row.count - 1, 0, -1) if isinstance(row.count, int) else range(0)
        counts = (Way(f"Take --count {n}", row={"count": n}) for n in fewer)
        free = Way("leave out the gap", row={"gap_mm": None, "foot_gap_mm": None})
        found = next((way.words for way in counts if can_make(way.applied(spec))), None)
        ways = [found] if found else []
        if can_make(free.applied(spec)):
            ways.append(free.words if ways else free.words.capitalize())
        return ways
    smaller = next((way.words for way in _smaller_bases(spec, preset, size) if can_make(way.applied(spec))), None)
    if smaller:
        return [smaller]
    scaled = (Way(f"Take --scale {s:g}", row={"scale": s, "foot_mm": None}) for s in _SCALES) if spec.rows else ()
    return [way.words for way in scaled if can_make(way.applied(spec))][:1]


def _smaller_bases(spec: PieceSpec, preset: Preset, size: Size) -> Iterator[Way]:
    """Yield the largest base of the same proportion that goes in, in steps of .1 mm, and some a step smaller each."""
    rough = _rough_width(spec, growth_of(spec, size), preset)
    if rough is None:
        return
    ratio, what = size.width_mm / size.height_mm, "circle" if size.is_circle else "oval"
    width = down(min(rough + 0.2, size.width_mm), 0.1)
    for k in range(_TRIES):
        tried = Size(round(width - 0.1 * k, 1), down((width - 0.1 * k) / ratio, 0.1))
        words = f"Make the {what} {size_words(tried).removesuffix('mm').replace('x', ' x ')} mm or less"
        yield Way(words, piece={"size": tried})


def _largest(spec: PieceSpec, growth: tuple[Growth, float], preset: Preset) -> Size:
    """Return the largest base whose piece, made in full, goes in."""
    grow, least = growth
    rough = _rough_width(spec, growth, preset)

    def taken(width: float) -> float:
        made = assemble(replace(spec, size=grow(width)), preset, is_trial=True)
        hull = hull_of(outline_points(region.outer for region in made.combined.regions))
        return room_taken(hull, _envelope(spec), on_circle=made.size.is_circle and made.tent is None)

    def excess(width: float) -> float:
        try:
            return taken(width) - 1
        except (GeometryError, ValueError):
            return -math.inf

    nothing = RefusedError(
        f"nothing goes into {_envelope(spec).words} with these motifs.",
        partial(_smaller_motifs, spec, growth, preset), _or_larger, where=spec.name, code="too-big-for-envelope",
    )  # fmt: skip
    if rough is None:
        raise nothing
    try:
        taken(rough)
    except RefusedError as fault:
        head = f"{fault.head} That is about the largest that goes into {_envelope(spec).words}."
        raise RefusedError(head, fault.ways, where=fault.where, code=fault.code, **fault.numbers) from fault
    width = rising_zero(excess, rough, least=least, factor=_NEAR, settled=_SETTLED) or rough
    for _ in range(_SHRINKS):
        if (over := excess(width)) <= _SETTLED:
            return grow(width)
        width /= 1 + over
    raise nothing


def _smaller_motifs(spec: PieceSpec, growth: tuple[Growth, float], preset: Preset) -> Iterator[Way]:
    """Yield the two largest reductions of a single row by which a base goes in, as far as can be seen in the rough."""
    if len(spec.rows) != 1:
        return
    given = RowModel(spec, spec.rows[0], preset).given_scale
    scales = (down(given * part, 0.01) for part in _SCALES)
    ways = (Way(f"--scale {s:g}", row={"scale": s, "foot_mm": None}) for s in scales if s > 0)
    yield from islice((way for way in ways if _rough_width(way.applied(spec), growth, preset) is not None), 2)


def _or_larger(words: list[str]) -> str:
    return f" Name a larger one, or take {words[0]}." if words else " Name a larger one, or take other motifs."


def _envelope(spec: PieceSpec) -> Envelope:
    assert spec.goes_in is not None
    return spec.goes_in


def _rough_width(spec: PieceSpec, growth: tuple[Growth, float], preset: Preset) -> float | None:
    """Return about the width of the largest base whose piece goes in, its rows spread by equal arcs.

    None where none goes in: not even the smallest that its motifs find a seat on.
    """
    grow, least = growth

    def excess(width: float) -> float:
        if width <= _NOTHING_MM:
            return -math.inf
        try:
            size = grow(width)
            points = [_oval_points(size), *(_row_points(RowModel(spec, row, preset), size) for row in spec.rows)]
        except (GeometryError, ValueError):
            return -math.inf
        if tent := _tent(spec, size, preset):
            both = tent.mirrored(np.concatenate(points))
            return room_taken(hull_of(both), _envelope(spec), on_circle=False) - 1
        return room_taken(hull_of(np.concatenate(points)), _envelope(spec), on_circle=size.is_circle) - 1

    found = rising_zero(excess, max(_envelope(spec).short_mm / 2, least * 1.01), least=least, settled=_ROUGH)
    if found is None or (excess(found) > _ROUGH and excess(found * (1 - _BESIDE)) == -math.inf):
        return None
    return found


def _tent(spec: PieceSpec, size: Size, preset: Preset) -> Tent | None:
    """Return where a piece is folded, if it is; what lies beyond the fold is as large."""
    if spec.fold is None:
        return None
    from frameforge.frame.tent import tent_of  # here, since few pieces are folded

    return tent_of(spec, size, preset)


def _oval_points(size: Size) -> Complexes:
    return outline_points([ellipse(0, size.width_mm / 2, size.height_mm / 2)])


def _row_points(model: RowModel, size: Size) -> Complexes:
    """Return points of a row's motifs where they stand about, those that are cut through the card left out."""
    if model.row.place == "window":
        return np.empty(0, dtype=np.complex128)
    scale, count = model.given_scale, model.row.count
    track = model.track(size, scale)
    if not isinstance(count, int):
        widths = [max(ready.box.width_mm, ready.foot_mm) for ready in model.readies(model.unit, scale)]
        mean = sum(widths) / len(widths) + wanted_gap_mm(model)
        count = max(1, int(edge_length_mm(track.edge) / mean))
    readies = model.readies(count, scale)
    taus = equal_arc(track.edge, count, track.edge.tau_towards(model.start().direction_rad))
    _, standing = stand(track, readies, taus)
    return np.concatenate([one.points for one in standing])
