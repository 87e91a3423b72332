"""Places gone to: how the picture of a piece is looked at so that one place stands large in its middle."""

from __future__ import annotations

from typing import Any, Final

__all__ = ["near_place"]

_PART: Final = 5.0
"""A place takes this part of the picture, where that is neither too near nor too far off."""
_LEAST: Final = 2.5
_GREATEST: Final = 10.0
"""How many times larger the picture is shown."""
_DIGITS: Final = 2


def near_place(at: complex, radius_px: float, size_px: tuple[float, float]) -> dict[str, Any]:
    """Return a place on a drawing of ``size_px`` as the page goes there: its middle, its ring, what is then shown.

    ``times`` is how many times larger that makes the drawing; ``view`` holds left, top, width and height in px.
    """
    least = min(size_px)
    times = min(max(least / (2 * radius_px * _PART), _LEAST), _GREATEST)
    wide, high = (side / times for side in size_px)
    view = (at.real - wide / 2, at.imag - high / 2, wide, high)
    return {
        "x": round(at.real, _DIGITS),
        "y": round(at.imag, _DIGITS),
        "r": round(radius_px, _DIGITS),
        "times": round(times, _DIGITS),
        "view": [round(v, _DIGITS) for v in view],
    }
