"""The one narrowest place of card, and the one narrowest slit, whatever the limits of a card are."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from frameforge.check.discs import Side
from frameforge.check.holes import find_holes
from frameforge.check.thickness import ThinPlace, thin_places
from frameforge.geometry.region import Region
from frameforge.tolerances import TOUCH_MM

__all__ = ["narrowest_slit_mm", "thinnest_mm"]

_FIRST_MM: Final = 1.6
"""Width looked for first: places are searched in steps of a part of the limit, so the narrowest are found finest."""

_TAPERS_DEG: Final = 10.0
"""A finger whose sides meet at more than this is a corner, blunt as it may be, and has no width of its own."""


def thinnest_mm(regions: Sequence[Region], up_to_mm: float) -> float | None:
    """Return the width in mm of the narrowest place of card under ``up_to_mm``, None where there is none.

    Tips count by their angle elsewhere and have no width here. Accuracy as of ``thin_places``.
    """
    return min((place.width_mm for place in _narrowest(regions, up_to_mm, "card")), default=None)


def narrowest_slit_mm(regions: Sequence[Region], up_to_mm: float) -> float | None:
    """Return the width in mm of the narrowest space between card under ``up_to_mm``, None where there is none.

    A slit that is closed all round is as wide as the largest disc in it; round holes are no slits.
    """
    round_holes = {hole.loop for hole in find_holes(regions, 0.0, 0.0) if not hole.is_slit}
    found = _narrowest(regions, up_to_mm, "slot", round_holes)
    return min((place.width_mm for place in found), default=None)


def _narrowest(
    regions: Sequence[Region], up_to_mm: float, side: Side, passed_over: Iterable[int] = ()
) -> list[ThinPlace]:
    """Return the places of the least limit, doubled from pass to pass, under which there are any."""
    skipped = set(passed_over)
    limit = min(_FIRST_MM, up_to_mm)
    while True:
        found = [
            place
            for place in thin_places(regions, limit, side)
            if place.width_mm > TOUCH_MM and not _only_tapers(place)
            and not (place.kind == "all" and skipped.issuperset(place.loops))
        ]  # fmt: skip
        if found or limit >= up_to_mm:
            return found
        limit = min(2 * limit, up_to_mm)


def _only_tapers(place: ThinPlace) -> bool:
    """Return whether a place is only the end of what narrows: any limit finds one about as wide as itself."""
    if place.kind != "finger":
        return place.kind == "tip"
    return place.extent_mm < place.width_mm or (place.angle_deg or 0.0) > _TAPERS_DEG
