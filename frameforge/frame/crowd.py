"""Outlines where they stand: turned and moved as they are, or bent along an edge; many copies at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from frameforge.frame.profile import Complexes, Floats, Indices, Profile
from frameforge.geometry.affine import Affine

if TYPE_CHECKING:
    from frameforge.frame.bend import Bends

__all__ = ["Crowd", "Standing"]


@dataclass(frozen=True, slots=True, eq=False)
class Standing:
    """A profile where it stands: turned and moved by z -> turn z + move, never mirrored.

    A bent one is carried there by its ``bend`` (of one place) instead; turn and move then tell where its foot's
    middle lies and how the edge runs there.
    """

    profile: Profile
    turn: complex
    move: complex
    bend: Bends | None = None

    @classmethod
    def from_placement(cls, profile: Profile, placement: Affine) -> Standing:
        """Return the profile under a turn and a move. Raises ValueError for a map that mirrors."""
        if placement.b:
            raise ValueError("a profile is mirrored before it is placed")
        return cls(profile, placement.a, placement.c)

    @property
    def points(self) -> Complexes:
        """The starts of all chords, mm, one a chord."""
        return self.carried(self.profile.points)

    @property
    def chords(self) -> tuple[Complexes, Complexes]:
        """The starts and the ends of all chords, mm, one a chord."""
        points = self.points
        return points, points[self.profile.following]

    def carried(self, z: Complexes) -> Complexes:
        """Return where points of the drawing (mm, any shape) come to lie, in the same shape."""
        if self.bend is None:
            return np.asarray(self.turn * z + self.move)
        return self.bend.point(np.zeros(z.shape, dtype=np.intp), z)


@dataclass(frozen=True, slots=True, eq=False)
class Crowd:
    """Copies of one profile, one row a copy: chord k of copy i starts at ``starts[i, k]``."""

    profile: Profile
    turns: Complexes
    moves: Complexes
    bends: Bends | None
    starts: Complexes

    @classmethod
    def from_standings(cls, standings: Sequence[Standing]) -> Crowd:
        """Return the copies of standings that share their profile, all bent along one edge or none."""
        profile, bend = standings[0].profile, standings[0].bend
        turns, moves = np.array([s.turn for s in standings]), np.array([s.move for s in standings])
        if bend is None:
            return cls(profile, turns, moves, None, turns[:, None] * profile.points + moves[:, None])
        bends = replace(bend, at_mm=np.concatenate([s.bend.at_mm for s in standings if s.bend is not None]))
        which = np.broadcast_to(np.arange(len(standings))[:, None], (len(standings), len(profile.points)))
        starts = bends.point(which, np.broadcast_to(profile.points, which.shape))
        return cls(profile, turns, moves, bends, starts)

    def taken(self, *copies: int) -> Crowd:
        """Return some of the copies."""
        rows = np.array(copies)
        bends = None if self.bends is None else self.bends.taken(rows)
        return Crowd(self.profile, self.turns[rows], self.moves[rows], bends, self.starts[rows])

    @property
    def ends(self) -> Complexes:
        """The ends of all chords, in the shape of ``starts``."""
        return np.asarray(self.starts[:, self.profile.following])

    def curve(self, which: Indices, segment: Indices, t: Floats) -> tuple[Complexes, Complexes, Complexes]:
        """Return P(t), P'(t) and P''(t) of the true curves of copies ``which``, entry by entry."""
        flat = self.profile.curve(segment, t)
        if self.bends is not None:
            return self.bends.curve(which, flat)
        turn = self.turns[which]
        return turn * flat[0] + self.moves[which], turn * flat[1], turn * flat[2]
