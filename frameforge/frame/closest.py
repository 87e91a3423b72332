"""The closest points of two curves that lie apart, for many pairs at once."""

from __future__ import annotations

import numpy as np

from frameforge.frame.crowd import Crowd
from frameforge.frame.profile import Complexes, Floats, Indices

__all__ = ["Contacts", "closest_on_curves"]

_STEPS = 40
_HALVINGS = 8
_SETTLED = 1e-13
_REGULAR = 1e-13
"""A determinant that is less than this part of its greatest is rounding: curves that touch lie a part of their distance
to their radius above it."""


class Contacts:
    """Arrays, one entry a candidate: which pair, and the segments and t on A and on B."""

    __slots__ = ("on_a", "on_b", "pair", "s", "t")

    def __init__(self, pair: Indices, on_a: Indices, s: Floats, on_b: Indices, t: Floats) -> None:
        self.pair, self.on_a, self.s, self.on_b, self.t = pair, on_a, s, on_b, t


def closest_on_curves(a: Crowd, b: Crowd, start: Contacts) -> tuple[Complexes, Complexes]:
    """Return the nearest points (mm) on the curve segments of A and B, each entry near its start, t within [0, 1].

    Copy k of A and copy k of B are pair k. Minimises |A(s) - B(t)|^2 by Newton with the exact Hessian where that is
    positive, else with the Gauss-Newton one (always positive); a parameter that stands at its end and is pushed
    outwards stays; a step that makes the distance longer is halved. Quadratic near the end: positions settle to about
    1e-13 of a segment, distances far better.
    """
    s, t = start.s.copy(), start.t.copy()

    def placed(s: Floats, t: Floats) -> tuple[Complexes, ...]:
        return *a.curve(start.pair, start.on_a, s), *b.curve(start.pair, start.on_b, t)

    here = placed(s, t)
    for _ in range(_STEPS):
        step_s, step_t = _newton_step(here, s, t)
        before = np.abs(here[0] - here[3])
        size = np.ones_like(s)
        for _ in range(_HALVINGS):
            new_s, new_t = np.clip(s + size * step_s, 0, 1), np.clip(t + size * step_t, 0, 1)
            there = placed(new_s, new_t)
            longer = np.abs(there[0] - there[3]) > before * (1 + 1e-12)
            if not longer.any():
                break
            size = np.where(longer, size / 2, size)
        new_s, new_t = np.where(longer, s, new_s), np.where(longer, t, new_t)
        moved = max(np.abs(new_s - s).max(), np.abs(new_t - t).max())
        s, t = new_s, new_t
        here = placed(s, t)
        if moved <= _SETTLED:
            break
    return here[0], here[3]


def _newton_step(here: tuple[Complexes, ...], s: Floats, t: Floats) -> tuple[Floats, Floats]:
    pa, va, aa, pb, vb, ab = here
    apart = pa - pb
    grad_s, grad_t = _dot(apart, va), -_dot(apart, vb)
    gauss_s, gauss_t, mixed = _dot(va, va), _dot(vb, vb), -_dot(va, vb)
    full_s, full_t = gauss_s + _dot(apart, aa), gauss_t - _dot(apart, ab)
    good = (full_s > 0) & (full_t > 0) & (full_s * full_t - mixed * mixed > _REGULAR * gauss_s * gauss_t)
    # Parallel directions make the Gauss-Newton matrix singular: a millionth more on its diagonal is enough.
    hess_s = np.where(good, full_s, gauss_s * (1 + 1e-6) + 1e-300)
    hess_t = np.where(good, full_t, gauss_t * (1 + 1e-6) + 1e-300)
    stuck_s = ((s <= 0) & (grad_s > 0)) | ((s >= 1) & (grad_s < 0))
    stuck_t = ((t <= 0) & (grad_t > 0)) | ((t >= 1) & (grad_t < 0))
    mixed = np.where(stuck_s | stuck_t, 0.0, mixed)
    det = hess_s * hess_t - mixed * mixed
    # Curves of next to no length: too small for a product of two, and there is nowhere to go.
    det = np.where(det == 0, 1.0, det)
    step_s = np.where(stuck_s, 0.0, -(hess_t * grad_s - mixed * grad_t) / det)
    step_t = np.where(stuck_t, 0.0, -(hess_s * grad_t - mixed * grad_s) / det)
    return step_s, step_t


def _dot(a: Complexes, b: Complexes) -> Floats:
    return np.asarray(a.real * b.real + a.imag * b.imag)
