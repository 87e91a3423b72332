"""Arc length along an ellipse, and points at even steps round it.

The ellipse is (a cos q, b sin q), q in radians counter-clockwise from +x; its length is an elliptic integral of the
second kind: s(q) = b E(q | m) with parameter m = 1 - a^2/b^2 <= 1 (DLMF 19.2(ii), 19.30(i)).
"""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

__all__ = [
    "complete_e",
    "ellipse_length_mm",
    "ellipse_lengths_mm",
    "ellipse_parameter_rad",
    "ellipse_perimeter_mm",
    "equal_arc_rad",
    "equal_chord_rad",
]

Floats = npt.NDArray[np.float64]

# Duplication brings Carlson's arguments 4 times nearer to each other a step, once they are of one size. At a spread of
# 1.5e-3 the first dropped term is below 1e-17.
_SPREAD = 1.5e-3
# A few units in the last place: means, parameters and chord steps that change by less have settled.
_SETTLED = 1e-15
_CHORDS_SETTLED = 1e-14
_NEWTON_STEPS = 60
# In how many steps a circle is flattened to the ellipse where Newton needs a better start.
_STAGES = (8, 64)


def complete_e(m: float) -> float:
    """Return the complete elliptic integral E(m), 0 <= m <= 1, argument m = k^2.

    By the arithmetic-geometric mean: E = K (1 - sum 2^(n-1) c_n^2), K = pi / (2 agm(1, sqrt(1 - m))) (Abramowitz &
    Stegun 17.6.3 and 17.6.4). Raises ValueError outside 0..1.
    """
    if not 0 <= m <= 1:
        raise ValueError(f"E(m) needs 0 <= m <= 1, not {m}")
    if m == 1:
        return 1.0
    a, g, weight, missing = 1.0, math.sqrt(1 - m), 0.5, m / 2
    while abs(a - g) > _SETTLED * a:
        a, g, c = (a + g) / 2, math.sqrt(a * g), (a - g) / 2
        weight *= 2
        missing += weight * c * c
    return math.pi / (2 * a) * (1 - missing)


def ellipse_perimeter_mm(a: float, b: float) -> float:
    """Return the perimeter in mm of the ellipse with half-axes ``a`` and ``b`` (mm, above 0).

    Raises ValueError for others.
    """
    _require_half_axes(a, b)
    long, short = max(a, b), min(a, b)
    return 4 * long * complete_e((1 - short / long) * (1 + short / long))


def ellipse_length_mm(a: float, b: float, q_rad: float) -> float:
    """Return the signed length in mm from q = 0 to ``q_rad``, counter-clockwise positive, whole turns included."""
    return float(ellipse_lengths_mm(a, b, np.array([q_rad]))[0])


def ellipse_lengths_mm(a: float, b: float, q_rad: Floats) -> Floats:
    """Return the same for an array of q, in its shape. Raises ValueError for a half-axis (mm) not above 0."""
    _require_half_axes(a, b)
    return _lengths(a, b, q_rad)


def ellipse_parameter_rad(a: float, b: float, length_mm: float) -> float:
    """Return the q in radians that lies ``length_mm`` from q = 0 along the ellipse; the inverse of the length.

    Half-axes in mm; raises ValueError for one not above 0.
    """
    _require_half_axes(a, b)
    return float(_parameters(a, b, np.array([length_mm]))[0])


def equal_arc_rad(a: float, b: float, count: int, start_rad: float = 0.0) -> tuple[float, ...]:
    """Return ``count`` parameters from ``start_rad`` on, counter-clockwise, at equal length along the ellipse.

    The step is the perimeter divided by ``count``, 1e-10 mm or better. Raises ValueError for a count below 1.
    """
    _require_half_axes(a, b)
    _require_count(count)
    first = _lengths(a, b, np.array([start_rad]))
    steps = np.arange(count) * (ellipse_perimeter_mm(a, b) / count)
    parameters = _parameters(a, b, first + steps)
    parameters[0] = start_rad
    return tuple(float(q) for q in parameters)


def equal_chord_rad(a: float, b: float, count: int, start_rad: float = 0.0) -> tuple[float, ...]:
    """Return ``count`` parameters from ``start_rad`` on, counter-clockwise, with equal straight steps between them.

    They are the corners of the closed inscribed polygon with equal sides. One point is the start alone; for two
    points every place would do, and the one half a turn of q away is taken. Accuracy: the sides agree to 1e-10 mm.
    Raises ValueError for a count below 1 and for ellipses too flat to solve (met only beyond 20 to 1).

    Method: Newton on the parameters and the side c together, F_i = |P(q_i+1) - P(q_i)| - c, from equal arcs. With
    q_0 held, the Jacobian is two diagonals and a column, so a change of each parameter is alpha_i + beta_i dc,
    and dc follows from closing the ring. Where that does not settle (flatter than about 20 to 1), the ellipse is
    flattened from a circle in steps, each starting from the one before.
    """
    if count <= 2:
        _require_half_axes(a, b)
        _require_count(count)
        return tuple(start_rad + i * math.pi for i in range(count))
    q = np.array([*equal_arc_rad(a, b, count, start_rad), start_rad + 2 * np.pi])
    settled: Floats | None = _equal_chords(a, b, q)
    for stages in _STAGES:
        if settled is not None:
            break
        settled = start_rad + np.linspace(0, 2 * np.pi, count + 1)
        for stage in range(1, stages + 1):
            settled = None if settled is None else _equal_chords((a / b) ** (stage / stages), 1.0, settled)
    if settled is None:
        raise ValueError(f"no {count} equal chords found round an ellipse of half-axes {a} and {b} mm")
    return tuple(float(v) for v in settled[:-1])


def _equal_chords(a: float, b: float, q: Floats) -> Floats | None:
    """Return the ring of parameters with equal chords near ``q``, whose ends stay; None when it does not settle."""
    for _ in range(_NEWTON_STEPS):
        change = _chord_change(a, b, q)
        # No step between neighbours may shrink by more than half, or they could change places.
        shrink = float((-np.diff(change) / np.diff(q)).max())
        q = q + change * min(1.0, 0.5 / max(shrink, 0.5))
        if np.abs(change).max() < _CHORDS_SETTLED * max(1.0, float(np.abs(q).max())):
            return q
    return None


def _chord_change(a: float, b: float, q: Floats) -> Floats:
    """Return the Newton change of the ring of parameters ``q``, whose two ends stay."""
    points = a * np.cos(q) + 1j * b * np.sin(q)
    velocity = -a * np.sin(q) + 1j * b * np.cos(q)
    chord = np.diff(points)
    sides = np.abs(chord)
    unit = chord / sides
    behind = -(unit.conjugate() * velocity[:-1]).real
    ahead = (unit.conjugate() * velocity[1:]).real
    side = float(sides.mean())
    alpha, beta = [0.0], [0.0]
    # behind_i x_i + ahead_i x_i+1 - dc = side - sides_i
    for d, e, f in zip(behind.tolist(), ahead.tolist(), (side - sides).tolist(), strict=True):
        alpha.append((f - d * alpha[-1]) / e)
        beta.append((1 - d * beta[-1]) / e)
    change = np.array(alpha) - alpha[-1] / beta[-1] * np.array(beta)
    change[0] = change[-1] = 0
    return change


def _require_half_axes(a: float, b: float) -> None:
    if not (0 < a < math.inf and 0 < b < math.inf):
        raise ValueError(f"half-axes {a} and {b} mm must be above 0")


def _require_count(count: int) -> None:
    if count < 1:
        raise ValueError(f"{count} points cannot be placed; at least 1")


def _lengths(a: float, b: float, q: Floats) -> Floats:
    """Return s(q) by Carlson's symmetric integrals, reduced to the half turn round q = 0.

    E(q | m) = sin q R_F(cos^2 q, y, 1) - m/3 sin^3 q R_D(cos^2 q, y, 1), y = 1 - m sin^2 q (DLMF 19.25.9).
    """
    half_turns = np.round(q / np.pi)
    rest = q - half_turns * np.pi
    s, c = np.sin(rest), np.cos(rest)
    m = (1 - a / b) * (1 + a / b)
    first, second = _carlson(c * c, c * c + (a / b * s) ** 2)
    along: Floats = b * (s * first - m / 3 * s**3 * second)
    return along + half_turns * (ellipse_perimeter_mm(a, b) / 2)


def _carlson(x: Floats, y: Floats) -> tuple[Floats, Floats]:
    """Return R_F(x, y, 1) and R_D(x, y, 1) (B. C. Carlson, Numerical Algorithms 10 (1995); DLMF 19.36(i)).

    Duplication until the arguments agree to a thousandth, then the Taylor polynomial of degree 5.
    """
    z = np.ones_like(x)
    total, weight = np.zeros_like(x), 1.0
    while _spread(x, y, z) >= _SPREAD:
        rx, ry, rz = np.sqrt(x), np.sqrt(y), np.sqrt(z)
        shift = rx * ry + ry * rz + rz * rx
        total += weight / (rz * (z + shift))
        weight /= 4
        x, y, z = (x + shift) / 4, (y + shift) / 4, (z + shift) / 4
    return _rf_tail(x, y, z), 3 * total + weight * _rd_tail(x, y, z)


def _spread(x: Floats, y: Floats, z: Floats) -> float:
    """Return how far the arguments are from their mean at most, as a part of it."""
    mean = (x + y + 3 * z) / 5
    return float((np.abs(np.stack((x, y, z)) - mean) / mean).max())


def _rf_tail(x: Floats, y: Floats, z: Floats) -> Floats:
    """Return R_F for nearly equal arguments (DLMF 19.36.1, terms to degree 5)."""
    mean = (x + y + z) / 3
    dx, dy = 1 - x / mean, 1 - y / mean
    dz = -dx - dy
    e2, e3 = dx * dy - dz * dz, dx * dy * dz
    series = 1 - e2 / 10 + e3 / 14 + e2 * e2 / 24 - 3 * e2 * e3 / 44
    return np.asarray(series / np.sqrt(mean))


def _rd_tail(x: Floats, y: Floats, z: Floats) -> Floats:
    """Return R_D for nearly equal arguments (DLMF 19.36.2, terms to degree 5)."""
    mean = (x + y + 3 * z) / 5
    dx, dy = 1 - x / mean, 1 - y / mean
    dz = -(dx + dy) / 3
    e2 = dx * dy - 6 * dz * dz
    e3 = (3 * dx * dy - 8 * dz * dz) * dz
    e4 = 3 * (dx * dy - dz * dz) * dz * dz
    e5 = dx * dy * dz**3
    series = 1 - 3 * e2 / 14 + e3 / 6 + 9 * e2 * e2 / 88 - 3 * e4 / 22 - 9 * e2 * e3 / 52 + 3 * e5 / 26
    return np.asarray(series / (mean * np.sqrt(mean)))


def _parameters(a: float, b: float, lengths: Floats) -> Floats:
    """Return the parameters at the given lengths: Newton on s(q), kept inside a shrinking bracket."""
    quarter = ellipse_perimeter_mm(a, b) / 4
    quarters = np.floor(lengths / quarter)
    low, high = quarters * (np.pi / 2), (quarters + 1) * (np.pi / 2)
    q = low + (lengths / quarter - quarters) * (np.pi / 2)
    for _ in range(_NEWTON_STEPS):
        excess = _lengths(a, b, q) - lengths
        low, high = np.where(excess < 0, q, low), np.where(excess > 0, q, high)
        better = q - excess / np.hypot(a * np.sin(q), b * np.cos(q))
        better = np.where((better > low) & (better < high), better, (low + high) / 2)
        better = np.where(excess == 0, q, better)
        settled = np.abs(better - q).max() <= _SETTLED / 2 * max(1.0, float(np.abs(q).max()))
        q = better
        if settled:
            break
    return q
