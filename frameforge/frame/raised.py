"""Arches between two motifs: as high as asked for, or as high as leaves no slit beside the motifs."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
import shapely

from frameforge.frame.edge_line import EdgeLine
from frameforge.frame.layout import Layout
from frameforge.frame.ornament import Ready
from frameforge.frame.profile import Complexes, Floats
from frameforge.frame.seat import FootSeat
from frameforge.frame.standing import standing_at
from frameforge.frame.wording import down, up
from frameforge.geometry.arc import Arc
from frameforge.geometry.flatten import sample
from frameforge.tolerances import CHORD_MM, TOUCH_MM

__all__ = ["Arch", "Side", "find_arch"]

_OPEN_DEG = 60.0
"""A corner that opens by this much is no slit: a space narrower than s is then no longer than .87 s."""

_SLIT_DEG = 33.0
"""Straight sides that open by less run side by side and leave a slit: a little more than where the checks see one."""

_STEP_MM = 0.01
"""Rises and places that are chosen for the maker go by this, so that both halves of a piece get the same."""

_LEAST_RISE_MM = 0.2
"""A lower arch is not seen (two thirds of 240 g card's thickness)."""

_LOOK_MM = 0.1
_CLOSE_SLOTS = 5.0
"""An arch is looked at every tenth of a millimetre as far from its ends as so many slots are wide."""

_HALVINGS = 14


@dataclass(frozen=True, slots=True)
class Side:
    """One of the two motifs an arch stands between: its outlines where it stands, and the end of its foot."""

    outlines: shapely.MultiLineString
    foot_end: complex

    @classmethod
    def of(cls, layout: Layout, ready: Ready, seat: FootSeat, foot_end: complex) -> Side:
        """Return the side that a motif of a row makes, its outlines as chords."""
        ends = np.stack(standing_at(layout.track, ready, seat).chords, axis=1)
        lines = shapely.MultiLineString(list(np.stack([ends.real, ends.imag], axis=2)))
        shapely.prepare(lines)
        return cls(lines, foot_end)

    def keeps_clear(self, points: Complexes, slot_mm: float, corner_deg: float | None = None) -> bool:
        """Whether points of an edge (mm, in order) leave no slit beside the motif.

        They are a slot's width away from it, or, with ``corner_deg``, up to that width at least as far away as in a
        corner at the foot's end that opens so far.
        """
        away = shapely.distance(shapely.points(points.real, points.imag), self.outlines)
        # The outlines are chords: so much nearer the motif itself may be.
        wanted = np.full(len(points), slot_mm + 2 * CHORD_MM)
        if corner_deg is not None:
            corner = np.abs(points - self.foot_end) * math.sin(math.radians(corner_deg)) - CHORD_MM
            wanted = np.minimum(wanted, corner)
        return bool((away >= wanted).all())


@dataclass(frozen=True, slots=True)
class Arch:
    """An arch over the line from foot to foot: its rise over that line (above 0), and how far from the feet it begins.

    ``sign`` is the number 1 where it stands outwards from the middle of the piece, -1 where inwards.
    """

    rise_mm: float
    aside_mm: float
    sign: float

    def over(self, straight: EdgeLine) -> EdgeLine:
        """Return the finished edge from foot to foot."""
        return replace(straight, rise_mm=self.sign * self.rise_mm, aside_mm=self.aside_mm)


def find_arch(straight: EdgeLine, sides: tuple[Side, Side], rise_mm: float, slot_mm: float) -> Arch | None:
    """Return the arch over a line from foot to foot that leaves no slit narrower than ``slot_mm`` beside the motifs.

    ``rise_mm`` is above 0 outwards, below 0 inwards. The arch runs from foot to foot; where that would make a slit it
    begins a slot's width or more beside the feet; where even the narrowest arch of that height does not go (a half
    circle, or one as wide as two slots), the rise is as much as does. None where no rise worth cutting is left.
    """
    sign, wanted = math.copysign(1.0, rise_mm), abs(rise_mm)

    def clear(arch: Arch) -> bool:
        line = arch.over(straight)
        arc = line.arc
        if arc is None or abs(line.rise_mm) > abs(arc.end - arc.start) / 2 + TOUCH_MM:
            return arc is None
        points = sample(arc, _places(arc, slot_mm))
        if not arch.aside_mm:
            return all(side.keeps_clear(points, slot_mm, _OPEN_DEG) for side in sides)
        return all(side.keeps_clear(points, slot_mm) for side in sides) and (sign > 0 or _is_open(line, sides, slot_mm))

    def narrow(rise: float) -> Arch | None:
        """Return the narrowest arch of a rise, or that from foot to foot, if it leaves no slit."""
        whole = Arch(rise, 0.0, sign)
        if clear(whole):
            return whole
        furthest = straight.chord_mm / 2 - max(rise, slot_mm)
        aside = replace(whole, aside_mm=furthest)
        return aside if furthest >= slot_mm and clear(aside) else None

    arch = narrow(wanted)
    if arch is None:
        rise = down(_greatest(lambda rise: narrow(rise) is not None, 0.0, wanted), _STEP_MM)
        arch = narrow(rise) if rise >= _LEAST_RISE_MM else None
    if arch is None or not arch.aside_mm:
        return arch
    widest, furthest = arch, arch.aside_mm
    least = _least(lambda aside: clear(replace(widest, aside_mm=aside)), slot_mm, furthest)
    return replace(arch, aside_mm=min(up(least, _STEP_MM), furthest))


def _is_open(line: EdgeLine, sides: tuple[Side, Side], slot_mm: float) -> bool:
    """Whether the straight bits beside an arch in an opening, nearer to the motifs than its edge was, make no slit."""
    reach = np.linspace(0.0, line.aside_mm, 2 + math.ceil(line.aside_mm / _LOOK_MM))
    bits = np.asarray([line.start + reach * line.along, line.end - reach * line.along], dtype=np.complex128)
    return all(side.keeps_clear(bit, slot_mm, _SLIT_DEG) for side, bit in zip(sides, bits, strict=True))


def _places(arc: Arc, slot_mm: float) -> Floats:
    """Return where on an arch to look: closely where it is near its ends, by a slot's width further on."""
    length = abs(arc.sweep_rad) * abs(arc.u)
    close = np.arange(0.0, min(_CLOSE_SLOTS * slot_mm, length / 2), _LOOK_MM) / length
    return np.unique(np.concatenate([close, 1 - close, np.linspace(0, 1, 3 + math.ceil(length / slot_mm))]))


def _least(holds: Callable[[float], bool], low: float, high: float) -> float:
    """Return the least value at which something holds; it holds at ``high`` and from some value on."""
    if holds(low):
        return low
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (low, middle) if holds(middle) else (middle, high)
    return high


def _greatest(holds: Callable[[float], bool], low: float, high: float) -> float:
    """Return the greatest value at which something holds; it holds at ``low`` and up to some value."""
    return -_least(lambda value: holds(-value), -high, -low)
