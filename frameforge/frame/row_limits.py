"""What a row may not do: stand in itself, or come out at the other side of a narrow rim."""

from __future__ import annotations

import math

import numpy as np
import shapely

from frameforge.errors import GeometryError
from frameforge.frame.crowd import Standing
from frameforge.frame.fit import Fit
from frameforge.frame.fold import check_folds
from frameforge.frame.layout import Layout
from frameforge.frame.model import RowModel, edges_of
from frameforge.frame.offers import things
from frameforge.frame.spec import Size
from frameforge.frame.standing import standing_at
from frameforge.frame.teeth import check_floors, check_teeth
from frameforge.frame.wording import down, gap_words, size_words
from frameforge.tolerances import ROOT_MM

__all__ = ["check_row", "standing_in_each_other"]

_ROOT_SAMPLES = 33
_STEPS = 90


def check_row(model: RowModel, fit: Fit, layout: Layout) -> None:
    """Refuse a row whose motifs that are no neighbours meet, or whose roots come out at the opening."""
    check_folds(layout)
    met = standing_in_each_other(layout)
    if met:
        raise _tips_meet(model, fit, layout, met[0])
    if layout.track.meets != "none":
        check_teeth(model, fit, layout)
        check_floors(model, fit, layout)
    if layout.track.meets == "base":
        _check_roots(model, fit, layout)


def standing_in_each_other(layout: Layout) -> list[tuple[int, int]]:
    """Return the pairs of repeats, no neighbours on the ring, whose outlines cross."""
    kept = [k for k, there in enumerate(layout.is_there) if there]
    count = len(layout.seats)
    if len(kept) < 3:
        return []
    shapes = [_polygon(standing_at(layout.track, layout.readies[k], layout.seats[k])) for k in kept]
    tree = shapely.STRtree(shapes)
    first, second = tree.query(shapes, predicate="intersects")
    pairs = [(kept[a], kept[b]) for a, b in zip(first.tolist(), second.tolist(), strict=True) if a < b]
    return sorted((a, b) for a, b in pairs if (b - a) % count not in (1, count - 1))


def _polygon(standing: Standing) -> shapely.LineString:
    """Return the first outline of a profile as a closed line."""
    last = int(np.flatnonzero(standing.profile.following == 0)[0])
    points = standing.points[: last + 1]
    ring = np.concatenate([points, points[:1]])
    return shapely.LineString(np.column_stack([ring.real, ring.imag]))


def _tips_meet(model: RowModel, fit: Fit, layout: Layout, pair: tuple[int, int]) -> GeometryError:
    from frameforge.frame.rest_fill import relaid  # here, since only a refusal tries other scales

    words = things(model, 2)
    say = f"the {words} reach into each other across the middle (1 and {(pair[1] - pair[0]) % fit.count + 1} on)."
    scale = fit.scale
    for step in range(1, _STEPS):
        scale = round(down(fit.scale, 0.01) - 0.01 * step, 2)
        if scale <= 0:
            break
        smaller = relaid(model, fit, scale)
        if smaller and not standing_in_each_other(smaller):
            return GeometryError(f"{say} Take --scale {scale:g}.", where=model.spec.name, code="tips-meet", scale=scale)
    return GeometryError(f"{say} Take a smaller motif.", where=model.spec.name, code="tips-meet")


def _root_depth_over(model: RowModel, fit: Fit, layout: Layout, *, below: float) -> bool:
    """Whether any foot line, lowered by ``below``, comes out at the opening."""
    _, opening = edges_of(model.spec, fit.size)
    if opening is None:
        return False
    for ready, seat, there in zip(layout.readies, layout.seats, layout.is_there, strict=True):
        if not there:
            continue
        half = ready.foot_mm / 2
        foot = np.linspace(-half, half, _ROOT_SAMPLES).astype(np.complex128) - 1j * below
        for point in standing_at(layout.track, ready, seat).carried(foot).tolist():
            edge = opening.point(opening.tau_towards(math.atan2(point.real, point.imag)))
            if abs(point) < abs(edge):
                return True
    return False


def _check_roots(model: RowModel, fit: Fit, layout: Layout) -> None:
    """Refuse feet whose roots come out at the inner side of the rim, with openings and scales that hold."""
    if not _root_depth_over(model, fit, layout, below=ROOT_MM):
        return
    from frameforge.frame.rest_fill import relaid  # here, as above

    deepest = max(seat.sagitta_mm for seat in layout.seats) + ROOT_MM
    say = f"the roots of the {things(model, 2)} go {gap_words(deepest)} into the rim and come out at the opening."
    ways = []
    base, _ = edges_of(model.spec, fit.size)
    if model.spec.opening is not None:
        width = down(2 * (base.half_width_mm - deepest), 0.1)
        height = down(2 * (base.half_height_mm - deepest), 0.1)
        if min(width, height) > 0:
            ways.append(f"--opening {size_words(Size(round(width, 1), round(height, 1)))}")
    elif model.spec.rim_mm is not None:
        ways.append(f"--rim {math.ceil(deepest * 10) / 10:g}mm")
    for step in range(1, _STEPS):
        scale = round(down(fit.scale, 0.01) - 0.01 * step, 2)
        if scale <= 0:
            break
        smaller = relaid(model, fit, scale)
        if smaller and not _root_depth_over(model, fit, smaller, below=ROOT_MM):
            ways.append(f"--scale {scale:g}")
            break
    hint = f" Take {' or '.join(ways)}." if ways else ""
    raise GeometryError(say + hint, where=model.spec.name, code="root-through-rim", depth_mm=deepest)
