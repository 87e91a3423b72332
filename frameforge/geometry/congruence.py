"""Which segments are the same curve laid elsewhere, so that work on one serves all its copies."""

from __future__ import annotations

import math
from typing import NamedTuple

from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.direction import end_direction, start_direction
from frameforge.tolerances import MIN_CHORD_MM

__all__ = ["Shape", "shape_of"]


class Shape(NamedTuple):
    """A cubic or arc laid from 0 along +x, its numbers rounded; ``is_turned``: mirrored there and run the other way.

    ``numbers`` (mm) is the key: segments with equal numbers are one shape. ``to_place`` carries ``curve`` onto the
    segment, or onto its reverse where it is turned, to the rounding. A segment and its mirror image run the other way
    (the two halves of a leaf) are one shape, since what lies to the left of the one lies to the left of the other.
    """

    numbers: tuple[float, ...]
    is_turned: bool
    to_place: Affine

    @property
    def curve(self) -> Cubic | Arc:
        """The segment that the numbers stand for."""
        n = self.numbers
        if len(n) == 6:
            return Cubic(0j, complex(n[0], n[1]), complex(n[2], n[3]), complex(n[4], n[5]))
        u, v = complex(n[0], n[1]), complex(n[2], n[3])
        return Arc.from_ellipse(-u, u, v, 0.0, n[4])


def shape_of(segment: Cubic | Arc, grain_mm: float) -> Shape:
    """Return the shape of the segment, lengths rounded to multiples of ``grain_mm``.

    Of the segment and its mirrored reverse the one with the smaller numbers is taken.
    """
    chord = segment.end - segment.start
    way = chord / abs(chord) if abs(chord) > MIN_CHORD_MM else start_direction(segment)
    back = way if abs(chord) > MIN_CHORD_MM else -end_direction(segment)
    # Mirrored in its own start line and run the other way it comes to lie from 0 along +x like the first.
    if isinstance(segment, Cubic):
        forth = [(p - segment.start) / way for p in (segment.c1, segment.c2, segment.end)]
        turned = [((p - segment.end) / -back).conjugate() for p in (segment.c2, segment.c1, segment.start)]
        numbers, others = _to_grain(forth, grain_mm), _to_grain(turned, grain_mm)
    else:
        sweep = abs(segment.sweep_rad)
        ahead, behind = segment.velocity(0) / sweep, -segment.velocity(1) / sweep
        numbers = _arc_numbers(segment.start - segment.center, ahead, way, grain_mm)
        others = _arc_numbers(segment.end - segment.center, behind, -back, grain_mm, mirrored=True)
        step = _angle_grain(segment, grain_mm)
        sweep = round(sweep / step) * step
        numbers, others = (*numbers, sweep), (*others, sweep)
    if numbers <= others:
        return Shape(numbers, False, Affine(way, 0, segment.start))
    return Shape(others, True, Affine(0, -back, segment.end))


def _arc_numbers(
    first: complex, second: complex, way: complex, grain_mm: float, *, mirrored: bool = False
) -> tuple[float, ...]:
    """Return the conjugate half-axes to the start and a quarter turn ahead, both seen along ``way``.

    Any point of an ellipse is an end of one of its pairs of conjugate half-axes, so these two give the whole curve.
    """
    axes = [first / way, second / way]
    return _to_grain([z.conjugate() for z in axes] if mirrored else axes, grain_mm)


def _angle_grain(arc: Arc, grain_mm: float) -> float:
    """Return a step of angle that moves no point of the arc by more than the grain.

    It is a power of ten, so that copies whose axes differ in the last bits round their sweeps alike.
    """
    return 10.0 ** math.floor(math.log10(grain_mm / max(1.0, abs(arc.u) + abs(arc.v))))


def _to_grain(points: list[complex], grain_mm: float) -> tuple[float, ...]:
    """Return x and y of all points as multiples of the grain; adding 0 makes a negative zero positive."""
    return tuple([round(v / grain_mm) * grain_mm + 0.0 for p in points for v in (p.real, p.imag)])
