"""A motif made ready for its place: scaled, mirrored, and what of it counts for seat and gap."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from frameforge.frame.lean import leaned
from frameforge.frame.profile import Profile
from frameforge.frame.spec import Ornament
from frameforge.geometry.box import Box
from frameforge.geometry.measure import bounds
from frameforge.geometry.region import Region
from frameforge.motif.foot import footed
from frameforge.motif.motif import Motif

__all__ = ["Ready", "ready", "upright"]

_TIP_PART = 0.05
"""A tip may stand proud of the edge by this part of the motif's height and is still a tip."""


@dataclass(frozen=True, slots=True, eq=False)
class Ready:
    """A motif as it will be cut. Equal orders give the very same object, so repeats can share its flattening.

    ``box`` is the outline box of what counts for the gap, ``middle_mm`` the height of its middle above the foot.
    A corner motif is one whose card lies in its cut-away: its tip, at (0, 0), stands on the edge, not its foot. A motif
    that stands out from the foot line and takes the edge below away is seated by its foot as any other.
    """

    motif: Motif
    scale: float
    profile: Profile
    box: Box
    is_corner: bool = False

    @property
    def foot_mm(self) -> float:
        """Width of the foot, mm."""
        return self.motif.foot_mm

    @property
    def height_mm(self) -> float:
        """How far the motif rises above its foot, mm."""
        return self.box.top

    @property
    def middle_mm(self) -> float:
        """Height above the foot line of the middle of the outline box, mm."""
        return (self.box.bottom + self.box.top) / 2


@lru_cache(maxsize=256)
def ready(ornament: Ornament, factor: float, *, is_flipped: bool, least_neck_mm: float | None = None) -> Ready:
    """Return the ornament at ``factor`` times its own scale; ``is_flipped``: every other one, mirrored as a whole.

    With ``least_neck_mm`` a foot that was found is found anew, to be as wide as that when it is cut.

    An ornament's own mirror comes before its lean, so that a lean is always clockwise for whoever looks at the piece;
    the every-other mirror turns the lean over as well.
    """
    motif = upright(ornament, factor, least_neck_mm=least_neck_mm)
    if ornament.tied:
        from frameforge.frame.part_ties import tied_parts  # here, since few motifs are tied

        motif = tied_parts(motif, ornament.tied, ornament.tie_mm).motif
    if ornament.lean_deg:
        motif = leaned(motif, ornament.lean_deg)
    if is_flipped:
        motif = motif.mirrored()
    outlines = tuple(region.outer for region in motif.counted)
    box = bounds(tuple(Region(o) for o in outlines))
    return Ready(motif, ornament.scale * factor, Profile.from_outlines(outlines), box, _is_corner(motif))


def upright(ornament: Ornament, factor: float, *, least_neck_mm: float | None = None) -> Motif:
    """Return the motif of an ornament at ``factor`` times its own scale, on its foot, before it leans or is tied."""
    scale = ornament.scale * factor
    drawn = ornament.motif if least_neck_mm is None else footed(ornament.motif, scale, least_neck_mm)
    motif = drawn.scaled(scale)
    return motif.mirrored() if ornament.is_mirrored else motif


def _is_corner(motif: Motif) -> bool:
    """Whether the card of a motif lies in its cut-away, but for a blunt tip a little proud of it."""
    if not motif.cut_away:
        return False
    box = bounds(motif.join) if motif.join else None
    return box is None or box.top <= _TIP_PART * box.height_mm
