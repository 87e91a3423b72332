"""Numbers as the files carry them: rounded once to whole steps, then printed without a rest of binary digits."""

from __future__ import annotations

import math

__all__ = ["decimal", "step_count", "steps"]


def steps(value: float, decimals: int) -> int:
    """Return ``value`` in whole steps of 10^-decimals, halves to even. Raises ValueError unless it is finite.

    Everything that rounding could break (segments that lose their length, ends that no longer meet) is judged on
    these whole numbers, where equal means equal.
    """
    count = value * 10.0**decimals
    if not math.isfinite(count):
        raise ValueError(f"{value} cannot be written; only finite numbers can")
    return round(count)


def step_count(point: complex, decimals: int) -> tuple[int, int]:
    """Return both coordinates of ``point`` in whole steps of 10^-decimals."""
    return steps(point.real, decimals), steps(point.imag, decimals)


def decimal(count: int, decimals: int) -> str:
    """Return ``count`` steps of 10^-decimals as the shortest decimal: "12.5", "-0.0001", "0" (never "-0")."""
    whole, rest = divmod(abs(count), 10**decimals)
    sign = "-" if count < 0 else ""
    if not rest:
        return f"{sign}{whole}"
    return f"{sign}{whole}.{rest:0{decimals}d}".rstrip("0")
