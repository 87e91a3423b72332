"""Many segments as one table of arrays, so that thousands are evaluated, moved and cut in a few numpy calls.

One row is one segment. Lines and cubics are Bernstein polynomials of degree 3 (a line's handles stand at its thirds);
an arc is held in its **principal frame**: ``k1`` the centre, ``k2`` the long half-axis, ``k3`` the short one, a
quarter turn counter-clockwise from it, so that P(t) = k1 + k2 cos q + k3 sin q with q = q0 + t sweep. For a circle
k2 = r and k3 = i r. Any arc of one and the same circle or ellipse therefore has the same k1, k2, k3 to rounding.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment

__all__ = ["ARC", "CUBIC", "LINE", "Bools", "Complexes", "Curves", "Floats", "Ints", "SegmentTable"]

# numpy's own types tell complex128 from "complexfloating" and the like; the names below say what is meant instead.
Complexes = npt.NDArray[Any]
Floats = npt.NDArray[Any]
Ints = npt.NDArray[Any]
Bools = npt.NDArray[Any]

LINE, ARC, CUBIC = 0, 1, 2

_ROUND_ENOUGH = 1e-12  # below this ratio of the counter-turning part an ellipse is a circle, as in Arc.is_circular


@dataclass(frozen=True, slots=True, eq=False)
class SegmentTable:
    """N segments as arrays of N: kind, stored ends, and three more points with two angles (see the module)."""

    kind: npt.NDArray[np.uint8]
    start: Complexes
    end: Complexes
    k1: Complexes
    k2: Complexes
    k3: Complexes
    q0: Floats
    sweep: Floats

    def __len__(self) -> int:
        """Return the number of segments."""
        return len(self.kind)

    @classmethod
    def from_segments(cls, segments: Sequence[Segment]) -> SegmentTable:
        """Return the rows of the given segments, in their order."""
        kind = np.array([_KINDS[type(segment)] for segment in segments], dtype=np.uint8)
        points = np.array([_row(segment) for segment in segments], dtype=np.complex128).reshape(-1, 7)
        start, end, k1, k2, k3, q0, sweep = points.T.copy()
        return cls(kind, start, end, k1, k2, k3, q0.real.copy(), sweep.real.copy())._with_principal_frames()

    @classmethod
    def joined(cls, parts: Iterable[SegmentTable]) -> SegmentTable:
        """Return the rows of all ``parts`` (at least one), one part after another."""
        kept = list(parts)
        return cls(*(np.concatenate([getattr(part, name) for part in kept]) for name in cls.__slots__))

    def taken(self, rows: Ints) -> SegmentTable:
        """Return the rows with the given numbers."""
        return SegmentTable(*(getattr(self, name)[rows] for name in self.__slots__))

    def moved(self, placements: Sequence[Affine]) -> SegmentTable:
        """Return the images under each map: all rows under the first, then all under the second, and so on."""
        a, b, c = (np.array([getattr(m, name) for m in placements], dtype=np.complex128)[:, None] for name in "abc")
        start, end, k1, k2, k3 = (a * z + b * z.conj() for z in (self.start, self.end, self.k1, self.k2, self.k3))
        k2 = np.where(self.kind == ARC, k2, k2 + c)
        points = [z.ravel() for z in (start + c, end + c, k1 + c, k2, k3)]
        kind, q0, sweep = (np.tile(column, len(placements)) for column in (self.kind, self.q0, self.sweep))
        start, end, k1, k2, k3 = points
        return SegmentTable(kind, start, end, k1, k2, k3, q0, sweep)._with_principal_frames()

    def turned(self, turn: Complexes) -> SegmentTable:
        """Return the rows each turned about 0 by its own factor (of size 1)."""
        start, end, k1, k2, k3 = (turn * z for z in (self.start, self.end, self.k1, self.k2, self.k3))
        return SegmentTable(self.kind, start, end, k1, k2, k3, self.q0, self.sweep)._with_principal_frames()

    def to_segments(self) -> list[Segment]:
        """Return one segment a row, ends to the bit; arcs in their principal frame."""
        columns = (self.kind, self.start, self.end, self.k1, self.k2, self.k3, self.q0, self.sweep)
        result: list[Segment] = []
        for kind, start, end, k1, k2, k3, q0, sweep in zip(*(column.tolist() for column in columns), strict=True):
            if kind == CUBIC:
                result.append(Cubic(start, k1, k2, end))
            elif kind == ARC:
                result.append(Arc(start, end, k1, k2, k3, q0, sweep))
            else:
                result.append(Line(start, end))
        return result

    def point(self, rows: Ints, t: Floats) -> Complexes:
        """Return P(t) in mm for pairs of a row number and a t; stored ends are not used."""
        s = 1 - t
        k1, k2 = self.k1[rows], self.k2[rows]
        result = s * s * s * self.start[rows] + t * t * t * self.end[rows] + 3 * s * t * (s * k1 + t * k2)
        arcs = self.kind[rows] == ARC
        if arcs.any():
            cosine, sine = self._cosine_and_sine(rows[arcs], t[arcs])
            result[arcs] = k1[arcs] + k2[arcs] * cosine + self.k3[rows[arcs]] * sine
        return np.asarray(result)

    def velocity(self, rows: Ints, t: Floats) -> Complexes:
        """Return P'(t), mm per unit of t."""
        s = 1 - t
        start, k1, k2, end = self.start[rows], self.k1[rows], self.k2[rows], self.end[rows]
        result = 3 * (s * s * (k1 - start) + 2 * s * t * (k2 - k1) + t * t * (end - k2))
        arcs = self.kind[rows] == ARC
        if arcs.any():
            cosine, sine = self._cosine_and_sine(rows[arcs], t[arcs])
            result[arcs] = self.sweep[rows[arcs]] * (self.k3[rows[arcs]] * cosine - k2[arcs] * sine)
        return np.asarray(result)

    def acceleration(self, rows: Ints, t: Floats) -> Complexes:
        """Return P''(t), mm per squared unit of t."""
        start, k1, k2, end = self.start[rows], self.k1[rows], self.k2[rows], self.end[rows]
        result = 6 * ((1 - t) * (start - 2 * k1 + k2) + t * (k1 - 2 * k2 + end))
        arcs = self.kind[rows] == ARC
        if arcs.any():
            cosine, sine = self._cosine_and_sine(rows[arcs], t[arcs])
            result[arcs] = -(self.sweep[rows[arcs]] ** 2) * (k2[arcs] * cosine + self.k3[rows[arcs]] * sine)
        return np.asarray(result)

    def curves(self, rows: Ints) -> Curves:
        """Return the curves of some rows, to be asked again and again for points at other t."""
        arcs = np.flatnonzero(self.kind[rows] == ARC)
        start, k1, k2, end = (column[rows] for column in (self.start, self.k1, self.k2, self.end))
        of_arcs = rows[arcs]
        return Curves(start, k1, k2, end, arcs, self.k3[of_arcs], self.q0[of_arcs], self.sweep[of_arcs])

    def chord_counts(self, chord_mm: float | Floats) -> Ints:
        """Return into how many equal steps of t each segment is cut so that chords stay within ``chord_mm`` of it
        (one distance for all, or one a row).

        Arc of long half-axis r: a chord over the angle q lies at most r (1 - cos(q/2)) away (exact for circles).
        Cubic: linear interpolation over a step h errs by at most h^2/8 max|P''|, and P'' is linear in t, so its
        greatest value stands at an end (de Boor, A Practical Guide to Splines, ch. III).
        """
        step = self.arc_steps(chord_mm)
        bend = 6 * np.maximum(abs(self.start - 2 * self.k1 + self.k2), abs(self.k1 - 2 * self.k2 + self.end))
        counts = np.where(self.kind == ARC, np.abs(self.sweep) / step, np.sqrt(bend / (8 * chord_mm)))
        return np.asarray(np.maximum(np.ceil(counts * (1 - 1e-12)), 1).astype(np.intp))

    def arc_steps(self, chord_mm: float | Floats) -> Floats:
        """Return the angle (radians) one chord of each arc may span; a half turn for what is no arc."""
        radius = np.where(self.kind == ARC, np.abs(self.k2), 1e-300)
        return np.asarray(2 * np.arccos(1 - np.minimum(chord_mm / radius, 1.0)))

    def _cosine_and_sine(self, rows: Ints, t: Floats) -> tuple[Floats, Floats]:
        """Return cosine and sine of the parameter angle at t of rows that are arcs."""
        q = self.q0[rows] + t * self.sweep[rows]
        return np.cos(q), np.sin(q)

    def _with_principal_frames(self) -> SegmentTable:
        """Return the rows with every arc's half-axes made principal."""
        arcs = np.flatnonzero(self.kind == ARC)
        if not len(arcs):
            return self
        k2, k3, q0, sweep = self.k2.copy(), self.k3.copy(), self.q0.copy(), self.sweep.copy()
        k2[arcs], k3[arcs], q0[arcs], sweep[arcs] = _principal_frame(k2[arcs], k3[arcs], q0[arcs], sweep[arcs])
        return SegmentTable(self.kind, self.start, self.end, self.k1, k2, k3, q0, sweep)


@dataclass(frozen=True, slots=True, eq=False)
class Curves:
    """Rows of a table taken out once, for solving on them: columns of all, and of the arcs among them (``arcs``)."""

    start: Complexes
    k1: Complexes
    k2: Complexes
    end: Complexes
    arcs: Ints
    k3: Complexes
    q0: Floats
    sweep: Floats

    def motion(self, t: Floats) -> tuple[Complexes, Complexes, Complexes]:
        """Return P(t) in mm, P'(t) and P''(t) at one t a row; the bits are those of the table."""
        s = 1 - t
        start, k1, k2, end = self.start, self.k1, self.k2, self.end
        point = s * s * s * start + t * t * t * end + 3 * s * t * (s * k1 + t * k2)
        velocity = 3 * (s * s * (k1 - start) + 2 * s * t * (k2 - k1) + t * t * (end - k2))
        acceleration = 6 * (s * (start - 2 * k1 + k2) + t * (k1 - 2 * k2 + end))
        if len(self.arcs):
            arcs, k1, k2, k3, sweep = self.arcs, k1[self.arcs], k2[self.arcs], self.k3, self.sweep
            q = self.q0 + t[arcs] * sweep
            cosine, sine = np.cos(q), np.sin(q)
            reach = k2 * cosine + k3 * sine
            point[arcs] = k1 + k2 * cosine + k3 * sine
            velocity[arcs] = sweep * (k3 * cosine - k2 * sine)
            acceleration[arcs] = -(sweep**2) * reach
        return point, velocity, acceleration


def _principal_frame(
    u: Complexes, v: Complexes, q0: Floats, sweep: Floats
) -> tuple[Complexes, Complexes, Floats, Floats]:
    """Return half-axes, start angle and sweep of the same arcs: axes perpendicular, right-handed, the long one first.

    Derivation: u cos q + v sin q = p e^iq + m e^-iq with p = (u - iv)/2, m = (u + iv)/2. If |p| < |m| the frame is
    left-handed; q -> -q swaps p and m. Both terms point the same way at q* = (arg m - arg p)/2, in the direction
    (arg m + arg p)/2, where the length is |p| + |m|, the long half-axis. A circle has m = 0: its axis is +x and q
    moves on by arg p. The long axis' direction is taken from (-90, 90] degrees, start angles from (-180, 180].
    """
    p, m = (u - 1j * v) / 2, (u + 1j * v) / 2
    left = abs(p) < abs(m)
    p, m = np.where(left, m, p), np.where(left, p, m)
    q0, sweep = np.where(left, -q0, q0), np.where(left, -sweep, sweep)
    is_circle = abs(m) <= _ROUND_ENOUGH * abs(p)
    m = np.where(is_circle, 0, m)
    arg_p, arg_m = np.angle(p), np.angle(m)
    direction = np.where(is_circle, 0.0, (arg_m + arg_p) / 2)
    shift = np.where(is_circle, arg_p, (arg_p - arg_m) / 2)
    behind = (direction > math.pi / 2) | (direction <= -math.pi / 2)
    direction, shift = np.where(behind, direction - math.pi, direction), np.where(behind, shift + math.pi, shift)
    turn = np.where(is_circle, 1.0, np.exp(1j * direction))
    angle = q0 + shift
    angle = angle - math.tau * np.ceil(angle / math.tau - 0.5)
    return (abs(p) + abs(m)) * turn, 1j * (abs(p) - abs(m)) * turn, angle, sweep


_KINDS = {Line: LINE, Arc: ARC, Cubic: CUBIC}


def _row(segment: Segment) -> tuple[complex, ...]:
    """Return start, end, k1, k2, k3, q0, sweep of one segment, the angles as complex numbers."""
    if isinstance(segment, Arc):
        angles = segment.start_rad, segment.sweep_rad
        return (segment.start, segment.end, segment.center, segment.u, segment.v, *angles)
    if isinstance(segment, Cubic):
        return segment.start, segment.end, segment.c1, segment.c2, 0, 0, 0
    third = (segment.end - segment.start) / 3
    return segment.start, segment.end, segment.start + third, segment.end - third, 0, 0, 0
