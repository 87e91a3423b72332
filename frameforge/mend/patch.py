"""What is done to a piece in one place, and what it came to."""

from __future__ import annotations

from dataclasses import dataclass, replace

from frameforge.finding import Finding
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region

__all__ = ["Change", "Mended", "Patch", "grown"]


@dataclass(frozen=True, slots=True)
class Patch:
    """Card put on (``adds``) and taken off (``cuts``), holes filled, and whole parts left out, for one place.

    Holes are filled first, then card is taken off, then put on. ``fills`` are hole outlines and ``drops`` parts of
    the piece as they stand in it. ``linings`` is card put on inside the holes ``lined`` only.
    """

    adds: tuple[Region, ...] = ()
    cuts: tuple[Region, ...] = ()
    fills: tuple[Outline, ...] = ()
    drops: tuple[Region, ...] = ()
    linings: tuple[Region, ...] = ()
    lined: tuple[Outline, ...] = ()


@dataclass(frozen=True, slots=True)
class Change:
    """One change: the finding it answers, its place (mm, y up), and the card put on and taken off (mm2).

    ``ties`` is the number of strips that hold what was loose.
    """

    code: str
    at: complex
    added_mm2: float
    removed_mm2: float
    ties: int = 0


@dataclass(frozen=True, slots=True)
class Mended:
    """A mended piece: its regions, what was changed in order of the work, and what could not be mended.

    ``rounds`` tells how often the piece was gone over; 0 when there was nothing to mend.
    """

    regions: tuple[Region, ...]
    changes: tuple[Change, ...]
    left: tuple[Finding, ...]
    rounds: int


def grown(change: Change, by_mm2: float) -> Change:
    """Return a change with so much more card, counted with what it mostly did: put on, or taken off."""
    if change.added_mm2 >= change.removed_mm2:
        return replace(change, added_mm2=change.added_mm2 + by_mm2)
    return replace(change, removed_mm2=change.removed_mm2 - by_mm2)
