"""The ornament as a value: its parts, its foot, its axis."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from frameforge.finding import Finding
from frameforge.geometry.affine import Affine
from frameforge.geometry.region import Region

__all__ = ["Motif"]


@dataclass(frozen=True, slots=True)
class Motif:
    """One ornament, in millimetres, standing on its foot.

    The foot line is y = 0, outward is up, the foot ends are (-foot_mm/2, 0) and (foot_mm/2, 0), the axis is x = 0.
    ``join`` is card joined on, ``cut_away`` card taken away first, ``window`` holes cut last; each a tuple of
    regions that do not overlap. ``sink_mm`` is how far a motif without a usable foot was lowered (0 otherwise).
    ``is_foot_stated`` tells whether the drawing marks its foot or it was found. ``notes`` and ``findings`` are what the
    maker should know of the drawing; ``foot_note`` is the one about a foot that was found, empty where none was.

    A corner motif has a ``cut_away``: the bit of edge it takes the place of. Its tip is at 0 on the foot line, its foot
    is the mouth of the cut-away and its card stands below, held by the floor of the cut-away.
    """

    name: str
    join: tuple[Region, ...]
    foot_mm: float
    cut_away: tuple[Region, ...] = ()
    window: tuple[Region, ...] = ()
    sink_mm: float = 0.0
    is_foot_stated: bool = True
    notes: tuple[str, ...] = ()
    findings: tuple[Finding, ...] = ()
    foot_note: str = ""

    def __post_init__(self) -> None:
        """Refuse a motif without card and a foot that is not a length."""
        if not self.regions:
            raise ValueError(f"motif {self.name} holds no outline")
        if not (self.foot_mm >= 0 and math.isfinite(self.foot_mm)):
            raise ValueError(f"motif {self.name}: foot {self.foot_mm} mm")

    @property
    def regions(self) -> tuple[Region, ...]:
        """All regions, part by part, in the order in which ``with_regions`` takes them."""
        return (*self.join, *self.cut_away, *self.window)

    @property
    def drawn(self) -> tuple[Region, ...]:
        """What the motif is seen by: the card joined on; where there is none what is cut away, else the windows."""
        return self.join or self.cut_away or self.window

    @property
    def counted(self) -> tuple[Region, ...]:
        """What neighbours must keep clear of: the card joined on and taken away, else the windows.

        Between two cut-aways card must stay, or the piece falls into parts.
        """
        return (*self.join, *self.cut_away) or self.window

    def with_regions(self, regions: Iterable[Region]) -> Motif:
        """Return the motif with all its regions replaced, one for one; its foot stays as stated.

        Raises ValueError where there are fewer or more than it has.
        """
        new = tuple(regions)
        if len(new) != len(self.regions):
            raise ValueError(f"motif {self.name} has {len(self.regions)} regions, not {len(new)}")
        first, second = len(self.join), len(self.join) + len(self.cut_away)
        return replace(self, join=new[:first], cut_away=new[first:second], window=new[second:])

    def transformed(self, affine: Affine) -> Motif:
        """Return the motif under a map that keeps the foot line and the axis: a scale, or the mirror left to right."""
        factor = math.sqrt(abs(affine.determinant))
        moved = self.with_regions(region.transformed(affine) for region in self.regions)
        return replace(moved, foot_mm=self.foot_mm * factor, sink_mm=self.sink_mm * factor)

    def scaled(self, factor: float) -> Motif:
        """Return the motif ``factor`` times as large, about the middle of its foot."""
        return self if factor == 1 else self.transformed(Affine.from_scale(factor))

    def mirrored(self) -> Motif:
        """Return the motif mirrored left to right, about its axis."""
        return self.transformed(Affine.from_mirror())
