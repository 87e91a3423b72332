"""Narrow slots widened: a disc as wide as the limit swept along the middle of the space."""

from __future__ import annotations

from frameforge.check.thickness import ThinPlace
from frameforge.mend.patch import Patch
from frameforge.mend.thicken import sweeps_along
from frameforge.mend.view import View

__all__ = ["widen"]


def widen(view: View, place: ThinPlace, least_mm: float) -> Patch:
    """Return what is cut away so that a space is at least ``least_mm`` wide, alike from both sides."""
    return Patch(cuts=sweeps_along(view, place, least_mm))
