"""Which segments are the same curve laid elsewhere, so that work on one serves all its copies."""

from __future__ import annotations

import math
from typing import NamedTuple

from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.direction import start_direction
from frameforge.tolerances import MIN_CHORD_MM

__all__ = ["Shape", "shape_of"]


class Shape(NamedTuple):
    """A cubic or arc laid from 0 along +x, its numbers rounded; ``is_turned``: mirrored there and run the other way.

    ``numbers`` is the key: two segments with equal numbers are one shape. ``to_place`` carries ``curve`` onto the
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
    forth, back = _laid(segment), _laid(segment.reversed().transformed(_MIRROR))
    numbers, turned = _rounded(forth[0], grain_mm), _rounded(back[0], grain_mm)
    if numbers <= turned:
        return Shape(numbers, False, forth[1])
    return Shape(turned, True, _MIRROR.after(back[1]))


_MIRROR = Affine.from_mirror(0.0)


def _laid(segment: Cubic | Arc) -> tuple[Cubic | Arc, Affine]:
    """Return the segment moved and turned to run from 0 along +x, and the map back."""
    way = segment.end - segment.start
    way = way / abs(way) if abs(way) > MIN_CHORD_MM else start_direction(segment)
    back = Affine(way, 0, segment.start)
    return segment.transformed(back.inverse()), back


def _rounded(segment: Cubic | Arc, grain_mm: float) -> tuple[float, ...]:
    """Return the numbers of a laid segment as a key: lengths to the grain, a sweep to less than that."""
    if isinstance(segment, Cubic):
        return _to_grain((segment.c1, segment.c2, segment.end), grain_mm)
    # Every point of the ellipse is u for some pair of conjugate half-axes; the start is the one that is laid.
    s, c = math.sin(segment.start_rad), math.cos(segment.start_rad)
    u, v = segment.u * c + segment.v * s, segment.v * c - segment.u * s
    # Powers of ten, so that copies whose axes differ in the last bits round their sweeps alike.
    step = 10.0 ** math.floor(math.log10(grain_mm / max(1.0, abs(u) + abs(v))))
    return (*_to_grain((u, v), grain_mm), round(segment.sweep_rad / step) * step)


def _to_grain(points: tuple[complex, ...], grain_mm: float) -> tuple[float, ...]:
    """Return x and y of all points as multiples of the grain; adding 0 makes a negative zero positive."""
    return tuple(round(v / grain_mm) * grain_mm + 0.0 for p in points for v in (p.real, p.imag))
