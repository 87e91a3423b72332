"""One place of card, or of space between card, that is narrower than a limit."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

__all__ = ["Kind", "ThinPlace", "TrackDisc"]

Kind = Literal["web", "neck", "finger", "tip", "all"]
"""web: between two loops; neck: within one loop; finger: dangling, blunt; tip: dangling, sharp; all: whole loops."""


@dataclass(frozen=True, slots=True)
class TrackDisc:
    """One tangent disc of a place: it touches the edge at ``a``, on chord ``chord_a``, and at ``b``, on ``chord_b``.

    Lengths in mm. The chords are numbered as in ``to_chords`` of the same regions.
    """

    centre: complex
    radius_mm: float
    a: complex
    b: complex
    chord_a: int
    chord_b: int


@dataclass(frozen=True, slots=True)
class ThinPlace:
    """One place narrower than the limit.

    ``width_mm`` is its least width on the true curves, ``a`` and ``b`` the points of the edge it was measured between,
    ``extent_mm`` the way its centres run, ``loops`` the loops (numbered over all regions, outer outline first) that
    bound it. A tip carries ``angle_deg`` instead of a width that means something, and its point in ``tip``;
    a finger in ``angle_deg`` the angle that its walls open by where it is narrowest.
    ``track`` holds the discs of the place, for mending, in order along the edge: one wall after the other.
    """

    kind: Kind
    width_mm: float
    a: complex
    b: complex
    extent_mm: float
    loops: tuple[int, ...]
    angle_deg: float | None
    track: tuple[TrackDisc, ...]
    tip: complex | None = None

    @property
    def middle(self) -> complex:
        """Middle of the place; of a tip, the point itself."""
        return (self.a + self.b) / 2 if self.tip is None else self.tip
