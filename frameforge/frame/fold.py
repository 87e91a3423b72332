"""How far bent motifs are squeezed, and where one would fold over itself.

Lengths along the edge are multiplied by 1 + k y (see ``bend``): on the inner side of a curve they shrink. At 0 the two
sides of a motif meet, beyond it they cross. Across the long axis of an oval they can also meet before that.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from frameforge.errors import GeometryError
from frameforge.frame.crowd import Standing
from frameforge.frame.layout import Layout
from frameforge.frame.ornament import Ready
from frameforge.frame.place import Track
from frameforge.frame.profile import Indices
from frameforge.frame.standing import standing_at
from frameforge.frame.wording import plural

__all__ = ["Squeeze", "check_folds", "has_folds", "may_fold", "squeezes"]

_PARTS = np.linspace(0, 1, 33)


@dataclass(frozen=True, slots=True)
class Squeeze:
    """The least factor 1 + k y over the outline of repeat ``k``, where it is (in the piece's place), and how far in.

    ``depth_mm`` counts from the edge towards the middle of the piece; below 0 outside the edge.
    """

    k: int
    factor: float
    spot: complex
    depth_mm: float

    @property
    def radius_mm(self) -> float:
        """The radius of the edge's curve there."""
        return self.depth_mm / (1 - self.factor)


def squeezes(layout: Layout) -> list[Squeeze]:
    """Return how far every bent repeat that is there is squeezed; none that widens all over, nothing as drawn."""
    if not layout.track.is_bent:
        return []
    kept = [k for k, there in enumerate(layout.is_there) if there]
    found = (_squeeze(k, standing_at(layout.track, layout.readies[k], layout.seats[k])) for k in kept)
    return [squeeze for squeeze in found if squeeze.factor < 1]


def check_folds(layout: Layout) -> None:
    """Refuse a layout with a bent motif that folds over itself. Raises GeometryError."""
    for squeeze in _folded(layout):
        name = plural(layout.readies[squeeze.k].motif.name, 1)
        say = (
            f"bent so far in, the {name} folds over itself: it reaches {squeeze.depth_mm:.2f} mm in, and the edge "
            f"curves round a point {squeeze.radius_mm:.2f} mm away there."
        )
        raise GeometryError(say, code="folds", factor=squeeze.factor, depth_mm=squeeze.depth_mm)


def has_folds(layout: Layout) -> bool:
    """Whether a bent motif of a layout folds over itself."""
    return any(True for _ in _folded(layout))


def _folded(layout: Layout) -> Iterator[Squeeze]:
    """Yield every repeat that folds over itself."""
    for squeeze in squeezes(layout) if may_fold(layout.track, layout.readies) else ():
        if squeeze.factor <= 0 or _meets_itself(layout, squeeze):
            yield squeeze


def may_fold(track: Track, readies: Sequence[Ready]) -> bool:
    """Whether any motif reaches as far in as the edge curves at its tightest; if none does, none can fold."""
    if not track.is_bent:
        return False
    depths = (
        max(-track.side * (end - track.drop_mm(ready)) for end in (ready.box.bottom, ready.box.top))
        for ready in dict.fromkeys(readies)
    )
    return max(depths) >= track.edge.least_radius_mm


def _squeeze(k: int, standing: Standing) -> Squeeze:
    """Return the squeeze of one repeat: the least of its chords' ends, then of points on the curves beside it."""
    bend, profile = standing.bend, standing.profile
    assert bend is not None
    at = int(bend.widening(_first(len(profile.points)), profile.points).argmin())
    chords = np.repeat([profile.preceding[at], at], len(_PARTS))
    flat = profile.curve(*profile.along(chords, np.tile(_PARTS, 2)))[0]
    factors = bend.widening(_first(len(flat)), flat)
    least = int(factors.argmin())
    depth = -bend.side * (flat[least].imag - bend.drop_mm)
    return Squeeze(k, float(factors[least]), complex(standing.carried(flat[least : least + 1])[0]), float(depth))


def _first(count: int) -> Indices:
    return np.zeros(count, dtype=np.intp)


def _meets_itself(layout: Layout, squeeze: Squeeze) -> bool:
    """Whether the outline of a repeat crosses itself. Normals of an edge meet no nearer to it than its least radius."""
    edge = layout.track.edge
    if edge.is_circle or squeeze.depth_mm < edge.least_radius_mm:
        return False
    standing = standing_at(layout.track, layout.readies[squeeze.k], layout.seats[squeeze.k])
    points, profile = standing.points, standing.profile
    last = np.flatnonzero(profile.following < np.arange(len(points)))
    rings = np.split(points, (last + 1)[:-1])
    return not all(shapely.LinearRing(np.column_stack([ring.real, ring.imag])).is_simple for ring in rings)
