"""Spikes blunted and sharp notches rounded: a disc of a given radius put into the corner."""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass

from frameforge.check.spot import Spot
from frameforge.check.thickness import ThinPlace, TrackDisc
from frameforge.check.width import spot_on
from frameforge.geometry.arc import Arc
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.mend.patch import Patch
from frameforge.mend.track import along_mm
from frameforge.mend.view import View
from frameforge.mend.wall import foot, is_ahead, part_between
from frameforge.tolerances import CHORD_MM, JOINT_MM

__all__ = ["blunt", "round_notch"]

NEWTON_STEPS = 30
SOLVED_MM = 1e-12


def blunt(view: View, tip: ThinPlace, radius_mm: float) -> Patch | None:
    """Return what rounds a sharp tip of card: the card beyond a disc of ``radius_mm`` that touches both its sides.

    Between straight sides that meet at theta the tip becomes shorter by radius / sin(theta / 2) - radius. None where
    the tip holds no disc that large.
    """
    corner = _corner(view, tip, radius_mm)
    return None if corner is None else Patch(cuts=(Region(corner.beyond(turns_left=False)),))


def round_notch(view: View, notch: ThinPlace, radius_mm: float) -> Patch | None:
    """Return what rounds the bottom of a sharp notch: card filled in beyond a disc that touches both its sides."""
    corner = _corner(view, notch, radius_mm)
    return None if corner is None else Patch(adds=(Region(corner.beyond(turns_left=True).reversed()),))


@dataclass(frozen=True, slots=True)
class _Corner:
    """A disc in a corner: its centre, and where it touches the outline before and after the corner."""

    centre: complex
    first: Spot
    last: Spot

    def beyond(self, *, turns_left: bool) -> Outline:
        """Return what lies beyond the disc: the outline round the corner, and the disc's edge back.

        ``turns_left`` tells which way the disc's edge runs back: that way it passes nearest to the corner.
        """
        wall = part_between(self.first.outline, self.first, self.last)
        start, end = wall[-1].end, wall[0].start
        spoke = start - self.centre
        sweep = cmath.phase((end - self.centre) / spoke) % math.tau
        sweep = sweep if turns_left else sweep - math.tau
        radius = abs(spoke)
        edge = Arc(start, end, self.centre, complex(radius), complex(0, radius), cmath.phase(spoke), sweep)
        return Outline.from_chain([*wall, edge], joint_mm=JOINT_MM)


def _corner(view: View, tip: ThinPlace, radius_mm: float) -> _Corner | None:
    """Return the disc of ``radius_mm`` in the corner."""
    if max(disc.radius_mm for disc in tip.track) <= radius_mm / 2:
        return None
    corner = _solved(view, min(tip.track, key=lambda disc: abs(disc.radius_mm - radius_mm)), radius_mm)
    if corner is None or view.room.around([corner.centre])[0] < radius_mm - 2 * CHORD_MM:
        return None
    return corner


def _solved(view: View, begin: TrackDisc, radius_mm: float) -> _Corner | None:
    """Return the disc of the radius that touches both walls of a disc nearby: Newton on both distances."""
    a, b = spot_on(view.chords, begin.chord_a, begin.a), spot_on(view.chords, begin.chord_b, begin.b)
    centre = begin.centre
    for _ in range(NEWTON_STEPS):
        a, b = foot(a, centre), foot(b, centre)
        p, q = centre - a.point, centre - b.point
        if min(abs(p), abs(q)) == 0 or abs(a.point - b.point) < 1e-9:
            return None
        m, n = p / abs(p), q / abs(q)
        off, also = radius_mm - abs(p), radius_mm - abs(q)
        det = (m.conjugate() * n).imag
        if abs(det) < 1e-9:
            return None
        # The move z with z.m = off and z.n = also.
        move = 1j * (also * m - off * n) / det
        centre += move if abs(move) < radius_mm else move / abs(move) * radius_mm
        if abs(off) + abs(also) < SOLVED_MM * (1 + radius_mm):
            break
    loop = int(view.chords.loop[begin.chord_a])
    if abs(abs(centre - a.point) - radius_mm) + abs(abs(centre - b.point) - radius_mm) > JOINT_MM:
        return None
    at_a, at_b = along_mm(view.chords, begin.chord_a, begin.a), along_mm(view.chords, begin.chord_b, begin.b)
    if is_ahead(view.chords, loop, at_a, at_b):
        return _Corner(centre, a, b)
    return _Corner(centre, b, a)
