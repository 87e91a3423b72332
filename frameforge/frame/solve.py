"""Of base size, count, gap and scale, the one that is not known."""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import pairwise

from frameforge.errors import GeometryError
from frameforge.frame.base import Edge
from frameforge.frame.layout import measured
from frameforge.frame.model import RowModel
from frameforge.frame.ornament import Ready
from frameforge.frame.place import Track
from frameforge.frame.remembering import remembering
from frameforge.frame.rising import rising_zero
from frameforge.frame.spacing import edge_length_mm
from frameforge.frame.spec import MOST_REPEATS, PieceSpec, Size
from frameforge.frame.trying import spend
from frameforge.tolerances import AGREE_MM, GAP_SLACK_MM

__all__ = ["MOST_REPEATS", "SETTLED_MM", "Growth", "count_for", "growth_of", "scale_for", "size_for"]

_FEW = 12

_FAR = 1.6
_NEAR = 1.04
_NEXT_OVAL = 1.005
_NEXT = 1.0005
"""Factors by which a width is widened or narrowed until the one looked for lies between: from a width by feet alone,
from a circle as long as an oval, from the same corrected, from a circle that neighbours alone close."""

_CLOSES_RAD = 1e-5
_FAR_OFF_MM = 0.01

_NEARLY_MM = 1e-2
"""A gap this near on a circle tells where to begin on an oval."""

SETTLED_MM = 1e-11
"""A gap this near the wanted one is it: rings are solved to no less."""

_SPECK_MM = 0.05
"""Motifs no wider than this are too small for any card: where even they stand too near, none do not."""

_LEANED = 40.0
"""What it takes to lean a motif at another scale, in measured pairs."""

_ABOUT = 0.02
"""Edges that differ in length by a smaller share close at nearly the same scale."""

_TURN_STEPS = 12
_TURN_SLACK = 1e-6

Growth = Callable[[float], Size]
"""How a base grows: from its width in mm to its size."""


def growth_of(spec: PieceSpec, given: Size | None) -> tuple[Growth, float]:
    """Return how the piece's base grows with its width, and the width that it cannot fall to.

    A given size keeps its proportion; else ``grow_from`` adds the same to both axes, ``ratio`` is width over height,
    and without either the base is a circle.
    """
    if given is None and spec.grow_from is not None:
        extra = spec.grow_from.width_mm - spec.grow_from.height_mm
        return lambda width: Size(width, width - extra), max(extra, 0.0)
    ratio = given.width_mm / given.height_mm if given else (spec.ratio or 1.0)
    return lambda width: Size(width, width / ratio), 0.0


def count_for(model: RowModel, size: Size, scale: float, gap_mm: float) -> int:
    """Return the largest count of repeats whose gap is at least ``gap_mm``, a multiple of the pattern; 0 if none.

    Two neighbours on a circle as long as the edge give the start; the real gap decides, with ``GAP_SLACK_MM`` forgiven
    so that a ring that just closes keeps its last repeat. The gap falls as the count grows.
    """
    unit = model.step
    known: dict[int, bool] = {0: True}

    def fits(groups: int) -> bool:
        if groups not in known:
            known[groups] = model.clearance_mm(size, groups * unit, scale) >= gap_mm - GAP_SLACK_MM
        return known[groups]

    # One pattern past the greatest count can be found too, so that whoever asks sees that there are more.
    low, high = 0, MOST_REPEATS // unit + 2
    groups = max(1, min(high - 1, _guess(model, size, scale, gap_mm) // unit))
    # Step out from the guess, then halve what is left.
    step = 1
    while low < groups < high:
        if fits(groups):
            low, groups = groups, groups + step
        else:
            high, groups = groups, groups - step
        step *= 2
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if fits(middle) else (low, middle)
    return _without_folds(model, size, low, scale) * unit


def _without_folds(model: RowModel, size: Size, groups: int, scale: float) -> int:
    """Return the greatest number of patterns up to ``groups`` that goes round without a motif folded over itself.

    On an oval that hangs on where the motifs nearest to its ends come to stand: the next few are tried one by one.
    """
    tries = 0
    while groups and model.folds(size, groups * model.step, scale):
        tries += 1
        groups = groups - 1 if tries < _FEW else groups // 2
    return groups


def size_for(
    model: RowModel,
    growth: tuple[Growth, float],
    count: int,
    scale: float,
    gap_mm: float,
    *,
    settled_mm: float = SETTLED_MM,
) -> Size | None:
    """Return the base size at which ``count`` repeats have exactly the gap ``gap_mm``; None when there is none.

    ``growth`` makes a size of a width in mm, from the least width on. On an oval a gap within ``settled_mm`` will do.
    """
    grow, least = growth

    def excess(width: float) -> float:
        try:
            return model.clearance_mm(grow(width), count, scale) - gap_mm
        except ValueError:
            return -math.inf

    widths = [max(r.foot_mm, r.box.width_mm / 2) for r in model.readies(count, scale)]
    guess = max(least * 1.01, (sum(widths) + count * max(gap_mm, 0.0)) / math.pi)
    if model.zone:
        guess, factor = guess / (1 - model.zone[0] / 360), _FAR
    elif grow(guess).is_circle:
        guess, factor = _near_width(model, guess, count, scale, gap_mm)
        if factor == _NEXT and abs(excess(guess)) > _FAR_OFF_MM:
            # Others than neighbours are nearest to each other.
            factor = _NEAR
    else:
        # A ring on an oval costs many times one on a circle, and closes at nearly the same length of edge.
        near = size_for(model, (_circle, 0.0), count, scale, gap_mm)
        guess, factor = (guess, _FAR) if near is None else _corrected(excess, _as_long(growth, near, guess), count)
    settled = SETTLED_MM if grow(guess).is_circle else settled_mm
    with remembering():
        width = rising_zero(excess, guess, least=least, factor=factor, settled=settled)
    return None if width is None or (model.row.foot_gap_mm is not None and _jumps(excess(width))) else grow(width)


def _jumps(miss_mm: float) -> bool:
    """Whether motifs touch before their feet stand as near as is wanted, so that nothing has just that foot gap."""
    return abs(miss_mm) > AGREE_MM


def _corrected(excess: Callable[[float], float], width: float, count: int) -> tuple[float, float]:
    """Return a width nearer to the zero of ``excess``, and the factor by which to look further.

    The edge of an oval is nearly as much longer as the oval is wider; what it grows by is shared by the gaps.
    """
    miss = excess(width)
    if not math.isfinite(miss):
        return width, _NEAR
    better = width - miss * count / math.pi
    return (better, _NEXT_OVAL) if width / _NEAR < better < width * _NEAR else (width, _NEAR)


def _circle(width_mm: float) -> Size:
    return Size(width_mm, width_mm)


def _near_width(model: RowModel, guess: float, count: int, scale: float, gap_mm: float) -> tuple[float, float]:
    """Return a width about which a circle closes, and the factor by which to look further; ``guess`` where none shows.

    The turns of one whole pattern, each as its two neighbours alone have it, come to their share of a full one.
    """
    try:
        track = model.track(_circle(guess), scale)
        inside = guess / 2 - track.edge.half_width_mm
        before: tuple[float, float] | None = None
        radius = track.edge.half_width_mm
        for _ in range(_TURN_STEPS):
            around = sum(_turns_rad(model, track.on(Edge(radius, radius)), scale, gap_mm)) * count / model.unit
            if abs(around - math.tau) <= _CLOSES_RAD:
                width = 2 * (radius + inside)
                # An edge with a size of its own closes where it will: no base is so much smaller than that.
                return (width, _NEXT) if width > 0 else (guess, _FAR)
            # Lengths of edge stay nearly the same: the turn falls as one over the radius. Then the secant.
            step = radius * (around / math.tau - 1)
            if before and around != before[1]:
                step = (math.tau - around) * (radius - before[0]) / (around - before[1])
            before = (radius, around)
            radius = max(radius + step, radius / 2)
    except GeometryError:
        pass
    return guess, _FAR


def _as_long(growth: tuple[Growth, float], circle: Size, guess: float) -> float:
    """Return the width at which a base is as long round as a circle; ``guess`` where there is none."""
    grow, least = growth

    def longer(width: float) -> float:
        return edge_length_mm(Edge.from_size(grow(width))) - math.pi * circle.width_mm

    width = rising_zero(longer, guess, least=least)
    return guess if width is None else max(width, least * 1.01)


def scale_for(
    model: RowModel, size: Size, count: int, gap_mm: float, *, settled_mm: float = SETTLED_MM
) -> float | None:
    """Return the scale at which ``count`` repeats have exactly the gap ``gap_mm``; None when there is none.

    On an oval a gap within ``settled_mm`` of that will do.
    """
    try:
        length = edge_length_mm(model.track(size, 1.0).edge)
    except GeometryError:
        length = edge_length_mm(Edge.from_size(size))
    if count * gap_mm >= length:
        # Even motifs of no width would stand nearer: straight lines between their places are shorter than the edge.
        return None
    readies = model.readies(count, 1.0)
    speck = _SPECK_MM / max(_SPECK_MM, *(ready.box.width_mm for ready in readies))
    if -math.inf < model.clearance_mm(size, count, speck) < gap_mm - GAP_SLACK_MM:
        # The gap falls as the scale rises: no more need be tried.
        return None
    widths = [max(r.foot_mm, r.box.width_mm / 2) for r in readies]
    guess = max(0.05, (length - count * max(gap_mm, 0.0)) / sum(widths))

    made_anew = _LEANED * sum(bool(ornament.lean_deg) for ornament in model.row.pattern)

    def found(on: Size, near: float, factor: float, settled: float) -> float | None:
        # The gap falls as the scale rises: look for the zero of its opposite in 1/scale.
        def excess(inverse: float) -> float:
            spend(made_anew)
            return model.clearance_mm(on, count, 1 / inverse) - gap_mm

        with remembering():
            inverse = rising_zero(excess, 1 / near, factor=factor, settled=settled)
        return None if inverse is None else 1 / inverse

    around = _circle(length / math.pi)
    # A ring on an oval costs many times one on a circle, and closes at nearly the same length of edge.
    near = None if size.is_circle or not _is_round(model, around, length) else found(around, guess, _FAR, _NEARLY_MM)
    settled = SETTLED_MM if size.is_circle else settled_mm
    scale = found(size, guess, _FAR, settled) if near is None else found(size, near, _NEAR, settled)
    if scale is None or model.row.foot_gap_mm is None:
        return scale
    return None if _jumps(model.clearance_mm(size, count, scale) - gap_mm) else scale


def _is_round(model: RowModel, size: Size, length_mm: float) -> bool:
    """Whether the row stands on a circle about so long where the base is one: on an opening it need not."""
    try:
        edge = model.track(size, 1.0).edge
    except GeometryError:
        return False
    return edge.is_circle and math.isclose(edge_length_mm(edge), length_mm, rel_tol=_ABOUT)


def _guess(model: RowModel, size: Size, scale: float, gap_mm: float) -> int:
    """Return about how many repeats go round: right on a circle but for rounding, one off or so on an oval.

    On a circle as long as the edge, the turn between two neighbours that keep the gap hangs on nothing but the two of
    them. The turns of one whole pattern tell how many patterns go round.
    """
    try:
        track = model.track(size, scale)
        radius = edge_length_mm(track.edge) / math.tau
        round_track = track.on(Edge(radius, radius))
        turns = _turns_rad(model, round_track, scale, gap_mm)
    except GeometryError:
        return model.unit
    share = 1 - model.zone[0] / 360 if model.zone else 1.0
    return min(MOST_REPEATS, int(model.unit * math.tau * share / sum(turns) * (1 + _TURN_SLACK)))


def _turns_rad(model: RowModel, track: Track, scale: float, gap_mm: float) -> list[float]:
    """Return the turns from each motif of a pattern to the next, on a circle, radians."""
    return [_turn_rad(model, track, pair, gap_mm) for pair in pairwise(model.readies(model.unit + 1, scale))]


def _turn_rad(model: RowModel, track: Track, pair: tuple[Ready, Ready], gap_mm: float) -> float:
    """Return the turn on a circle between two neighbours that stand ``gap_mm`` apart, radians, pi at most.

    The gap grows nearly in proportion to the turn, so a few steps of the secant are enough. Raises GeometryError where
    there is no seat.
    """
    reach = max(pair[0].box.right, 1e-3) + max(-pair[1].box.left, 1e-3) + max(gap_mm, 0.0)
    turn, rate = min(math.pi, reach / track.edge.half_width_mm), track.edge.half_width_mm
    before: tuple[float, float] | None = None
    for _ in range(_TURN_STEPS):
        layout = measured(track, pair, (0.0, turn), (True, True), None, is_open=True)
        gap, foot_gap = min(gap.gap_mm for gap in layout.gaps if gap), layout.foot_gap_mm
        excess = gap - gap_mm
        if model.row.foot_gap_mm is not None and foot_gap is not None:
            # Between their feet there may be room for more, and none between what stands out beyond these.
            excess = min(foot_gap - gap_mm, gap)
        if abs(excess) <= _TURN_SLACK * reach:
            break
        if before and turn != before[0]:
            rate = (excess - before[1]) / (turn - before[0])
        before = (turn, excess)
        turn = min(math.pi, max(turn / 4, turn - excess / rate if rate > 0 else turn * 2))
    return turn
