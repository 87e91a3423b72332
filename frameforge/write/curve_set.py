"""Many curves as arrays, and how far points lie from them: what the checks of written files measure with."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.outline import Segment
from frameforge.write.page import Run

__all__ = ["Complexes", "CurveSet", "Floats", "Ints"]

Complexes = npt.NDArray[np.complex128]
Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.intp]

PARTS = 4
"""Into how many parts of equal t each curve is divided; their ends are the points sampled."""

_NODES = 0.5 - math.sqrt(3) / 6, 0.5 + math.sqrt(3) / 6
"""Two-point Gauss rule on 0..1."""

_STEPS = 4
_CLOSE_LOOK = 33
_GOLDEN = 2 / (1 + math.sqrt(5))


@dataclass(frozen=True, slots=True, eq=False)
class CurveSet:
    """Curves, one row each: cubics (a line is one) by their control points, arcs by (centre, u, v, angles).

    The fourth number of an arc is start + i sweep, rad; an arc spans a quarter at most. ``run`` numbers the line that
    a curve belongs to. ``parts_mm`` are the lengths of the curve's parts; ``stations`` tells for the start of each part
    how far along its run it lies: the run's number + the portion of its length.
    """

    rows: Complexes
    is_arc: npt.NDArray[np.bool_]
    run: Ints
    parts_mm: Floats
    stations: Floats

    @classmethod
    def from_runs(cls, runs: Iterable[Run]) -> CurveSet:
        """Return the curves of ``runs``; at least one segment."""
        rows, kinds, index = [], [], []
        for number, run in enumerate(runs):
            for segment in run:
                for row in _rows(segment):
                    rows.append(row)
                    kinds.append(isinstance(segment, Arc))
                    index.append(number)
        bare = cls(np.array(rows), np.array(kinds), np.array(index), np.empty(0), np.empty(0))
        parts = bare._measured()
        return cls(bare.rows, bare.is_arc, bare.run, parts, _stations(parts, bare.run))

    def moved(self, shift: complex) -> CurveSet:
        """Return the curves with ``shift`` added to every point."""
        rows = self.rows.copy()
        rows[~self.is_arc] += shift
        rows[self.is_arc, 0] += shift
        return CurveSet(rows, self.is_arc, self.run, self.parts_mm, self.stations)

    def at(self, index: Ints, t: Floats) -> tuple[Complexes, Complexes]:
        """Return points P(t) and velocities P'(t) of the curves ``index``."""
        rows, is_arc = self.rows[index], self.is_arc[index]
        point, velocity = np.empty(len(t), np.complex128), np.empty(len(t), np.complex128)
        p0, p1, p2, p3 = rows[~is_arc].T
        x = t[~is_arc]
        y = 1 - x
        d0, d1, d2 = p1 - p0, p2 - p1, p3 - p2
        point[~is_arc] = p0 + x * (3 * y * (y * d0 + x * (d0 + d1)) + x * x * (d0 + d1 + d2))
        velocity[~is_arc] = 3 * (y * (y * d0 + 2 * x * d1) + x * x * d2)
        center, u, v, angles = rows[is_arc].T
        q = angles.real + t[is_arc] * angles.imag
        cosine, sine = np.cos(q), np.sin(q)
        point[is_arc] = center + u * cosine + v * sine
        velocity[is_arc] = angles.imag * (v * cosine - u * sine)
        return point, velocity

    def sums(self, of_rows: Floats) -> Floats:
        """Return for each run the sum of a number that each of its curves has."""
        return np.asarray(np.bincount(self.run, weights=of_rows), dtype=np.float64)

    def areas_mm2(self) -> Floats:
        """Return for each run the area that the ray from 0 sweeps along it; inside a closed run, counter-clockwise +.

        Half the integral of P x P' dt. Cubic: over products of Bernstein polynomials, (6 p0xp1 + 3 p0xp2 + p0xp3
        + 3 p1xp2 + 3 p1xp3 + 6 p2xp3) / 20. Arc of sweep w: (centre x (end - start) + w u x v) / 2.
        """
        areas = np.empty(len(self.run))
        a, b, c, d = self.rows[~self.is_arc].T
        pairs = 6 * _cross(a, b) + 3 * _cross(a, c) + _cross(a, d) + 3 * _cross(b, c) + 3 * _cross(b, d)
        areas[~self.is_arc] = (pairs + 6 * _cross(c, d)) / 20
        arcs = np.flatnonzero(self.is_arc)
        ways = self.at(arcs, np.ones(len(arcs)))[0] - self.at(arcs, np.zeros(len(arcs)))[0]
        center, u, v, angles = self.rows[arcs].T
        areas[arcs] = (_cross(center, ways) + angles.imag * _cross(u, v)) / 2
        return self.sums(areas)

    def samples(self) -> Complexes:
        """Return the starts of all parts, in the order of ``stations``."""
        return self.at(*self._part(np.arange(self.parts_mm.size)))[0]

    def only(self, stay: npt.NDArray[np.bool_]) -> CurveSet:
        """Return the runs for which ``stay`` is true, numbered anew."""
        kept = stay[self.run]
        numbers = (np.cumsum(stay) - 1)[self.run[kept]]
        stations = self.stations.reshape(-1, PARTS)[kept] + (numbers - self.run[kept])[:, None]
        return CurveSet(self.rows[kept], self.is_arc[kept], numbers, self.parts_mm[kept], stations.ravel())

    def starts(self) -> Complexes:
        """Return the first point of each run."""
        first = np.searchsorted(self.run, np.arange(int(self.run[-1]) + 1))
        return self.at(first, np.zeros(len(first)))[0]

    def station_of(self, point: complex, run: int) -> float:
        """Return how far along a run, as a portion of its length, the start of a part lies nearest to ``point``."""
        mine = np.flatnonzero(np.repeat(self.run, PARTS) == run)
        nearest = mine[np.argmin(np.abs(self.samples()[mine] - point))]
        return float(self.stations[nearest] - run)

    def far_point(self, points: Complexes, stations: Floats, enough_mm: float) -> tuple[int, float] | None:
        """Return index and distance (mm) of a point that lies further than ``enough_mm`` from every curve, or None.

        ``stations`` tell where along which run the points are expected. Where that is wrong the whole set is searched.
        """
        best = self._expected(points, stations, enough_mm)
        doubtful = np.flatnonzero(best > enough_mm)
        if not len(doubtful):
            return None
        samples, reach = self.samples(), self._reach_mm()
        for k in doubtful[np.argsort(-best[doubtful], kind="stable")].tolist():
            if (distance := self._searched(complex(points[k]), samples, reach, enough_mm)) > enough_mm:
                return k, distance
        return None

    def distance(self, point: complex) -> float:
        """Return the distance of a point from the nearest curve, mm."""
        return self._searched(point, self.samples(), self._reach_mm(), 0.0)

    def _expected(self, points: Complexes, stations: Floats, enough_mm: float) -> Floats:
        """Return how far points lie from the curves at their stations, or from those beside; never too little."""
        part = np.clip(np.searchsorted(self.stations, stations, side="right") - 1, 0, self.stations.size - 1)
        index, t = self._part(part)
        best = self._slid(points, index, t)
        for shift, start in ((1, 0.0), (-1, 1.0)):
            far = np.flatnonzero(best > enough_mm)
            beside = np.clip(index[far] + shift, 0, len(self.run) - 1)
            best[far] = np.minimum(best[far], self._slid(points[far], beside, np.full(len(far), start)))
        return best

    def _part(self, part: Ints) -> tuple[Ints, Floats]:
        """Return curve and t of the starts of parts."""
        return part // PARTS, (part % PARTS) / PARTS

    def _measured(self) -> Floats:
        """Return the lengths of the parts in mm, a row a curve."""
        index, t = self._part(np.arange(len(self.run) * PARTS))
        speeds = [np.abs(self.at(index, t + node / PARTS)[1]) for node in _NODES]
        return (speeds[0] + speeds[1]).reshape(-1, PARTS) / (2 * PARTS)

    def _slid(self, points: Complexes, index: Ints, t: Floats) -> Floats:
        """Return the least distance met while sliding along each curve towards its point (Gauss-Newton steps)."""
        best = np.full(len(points), np.inf)
        for _ in range(_STEPS):
            at, velocity = self.at(index, t)
            away = at - points
            best = np.minimum(best, np.abs(away))
            along = (away * velocity.conj()).real
            t = np.clip(t - along / np.maximum(np.abs(velocity) ** 2, 1e-30), 0.0, 1.0)
        return np.asarray(np.minimum(best, np.abs(self.at(index, t)[0] - points)), dtype=np.float64)

    def _reach_mm(self) -> Floats:
        """Return how far each part may lead from its start: the greatest speed of its curve, by its own bounds.

        A cubic's is three times the longest side of its control polygon, an arc's the sum of its half-axes by radians.
        """
        sides = np.abs(np.diff(self.rows, axis=1)).max(axis=1)
        axes = np.abs(self.rows[:, 1]) + np.abs(self.rows[:, 2])
        speed = np.where(self.is_arc, axes * np.abs(self.rows[:, 3].imag), 3 * sides)
        return np.repeat(speed / PARTS, PARTS)

    def _searched(self, point: complex, samples: Complexes, reach: Floats, enough_mm: float) -> float:
        """Return the distance of one point from all curves, looking closely at every stretch that could be nearest.

        A stretch that starts further off than it reaches and the nearest start lies away is not; so parts are chosen,
        and within them the stretches between finer samples.
        """
        starts = np.abs(samples - point)
        near = np.flatnonzero(starts <= reach + np.min(starts))
        parts, part_t = self._part(near)
        fine = np.linspace(0, 1 / PARTS, _CLOSE_LOOK)
        index, t = np.repeat(parts, _CLOSE_LOOK), (part_t[:, None] + fine).ravel()
        away = np.abs(self.at(index, t)[0] - point)
        stay = away <= np.repeat(reach[near], _CLOSE_LOOK) / (_CLOSE_LOOK - 1) + np.min(away)
        index, t = index[stay], t[stay]
        found = float(np.min(self._slid(np.full(len(t), point), index, t)))
        return found if found <= enough_mm else min(found, self._closed_in(point, index, t, float(fine[1])))

    def _closed_in(self, point: complex, index: Ints, middle: Floats, reach: float) -> float:
        """Return the least distance within ``reach`` of the t given, by golden section."""
        low, high = np.maximum(middle - reach, 0), np.minimum(middle + reach, 1)
        for _ in range(40):
            a, b = high - _GOLDEN * (high - low), low + _GOLDEN * (high - low)
            left = np.abs(self.at(index, a)[0] - point) < np.abs(self.at(index, b)[0] - point)
            low, high = np.where(left, low, a), np.where(left, b, high)
        return float(np.min(np.abs(self.at(index, (low + high) / 2)[0] - point)))


def _cross(a: Complexes, b: Complexes) -> Floats:
    """Return the cross products."""
    return np.asarray((a.conj() * b).imag, dtype=np.float64)


def _rows(segment: Segment) -> Iterator[tuple[complex, complex, complex, complex]]:
    """Yield the rows of one segment: a line as a cubic with its handles at thirds, an arc in quarters at most."""
    if isinstance(segment, Arc):
        n = max(1, math.ceil(abs(segment.sweep_rad) / (math.pi / 2) - 1e-9))
        for k in range(n):
            angles = complex(segment.start_rad + k * segment.sweep_rad / n, segment.sweep_rad / n)
            yield segment.center, segment.u, segment.v, angles
    elif isinstance(segment, Cubic):
        yield segment.start, segment.c1, segment.c2, segment.end
    else:
        third = (segment.end - segment.start) / 3
        yield segment.start, segment.start + third, segment.end - third, segment.end


def _stations(parts_mm: Floats, run: Ints) -> Floats:
    """Return for the start of each part its run's number + the portion of the run's length before it."""
    lengths = parts_mm.ravel()
    before = np.concatenate(([0.0], np.cumsum(lengths)[:-1]))
    runs = np.repeat(run, PARTS)
    first = np.searchsorted(runs, np.arange(int(run[-1]) + 1))
    totals = np.add.reduceat(lengths, first)
    return np.asarray(runs + (before - before[first][runs]) / np.maximum(totals[runs], 1e-300), dtype=np.float64)
