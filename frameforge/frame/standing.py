"""Repeats where they stand: seat and placed outline of each, every one with its neighbour."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from frameforge.frame.crowd import Standing
from frameforge.frame.ornament import Ready
from frameforge.frame.place import Track
from frameforge.frame.profile import Profile
from frameforge.frame.seat import FootSeat

__all__ = ["neighbours", "stand", "standing_at"]


def stand(track: Track, readies: Sequence[Ready], taus: Sequence[float]) -> tuple[list[FootSeat], list[Standing]]:
    """Return seat and placed profile of every repeat, at its tau (radians).

    Raises GeometryError where a foot finds no seat.
    """
    seats = track.seats(readies, taus)
    return seats, [standing_at(track, ready, seat) for ready, seat in zip(readies, seats, strict=True)]


def standing_at(track: Track, ready: Ready, seat: FootSeat, profile: Profile | None = None) -> Standing:
    """Return the outline of a motif, or another one drawn about its foot, where it stands.

    Raises TypeError for a bent row that was not seated by lengths along its edge.
    """
    drawn, place = profile or ready.profile, track.placement(ready, seat)
    if not track.is_bent:
        return Standing.from_placement(drawn, place)
    from frameforge.frame.bend import Bends  # here, since most rows stand as drawn
    from frameforge.frame.bent_profile import bent_profile
    from frameforge.frame.bent_seat import BentSeat
    from frameforge.frame.walk import walk_along

    if not isinstance(seat, BentSeat):
        raise TypeError("a bent row is seated by lengths along its edge")
    drop = track.drop_mm(ready)
    bend = Bends(walk_along(track.edge), np.array([seat.at_mm]), track.side, drop)
    return Standing(bent_profile(drawn, track.edge, track.side, drop), place.a, place.c, bend)


def neighbours(standing: Sequence[Standing]) -> list[tuple[Standing, Standing]]:
    """Return every repeat with the next one clockwise, the last with the first."""
    return list(zip(standing, [*standing[1:], standing[0]], strict=True))
