"""A piece made: one region of true curves and what is known of its rows."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from frameforge.finding import Finding
from frameforge.frame.seat import FootSeat
from frameforge.frame.spec import Ornament, Place, Seat, Size, Spread
from frameforge.geometry.affine import Affine
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.motif.motif import Motif

if TYPE_CHECKING:
    from frameforge.frame.flange import Flange
    from frameforge.frame.slots import Slot
    from frameforge.frame.tent import Tent

__all__ = ["HolePlace", "Piece", "PlacedMotif", "RowResult"]


@dataclass(frozen=True, slots=True)
class PlacedMotif:
    """One repeat: its position (from 1 at the top, clockwise), its motif as drawn, and the map onto the piece.

    ``direction_deg`` is where it sits, clockwise from the top, seen from the middle of the piece; ``seat`` holds its
    foot ends on the edge.
    """

    position: int
    motif: Motif
    placement: Affine
    direction_deg: float
    seat: FootSeat


@dataclass(frozen=True, slots=True)
class RowResult:
    """What one row came to, measured: gaps and pitch as the report and JSON carry them (mm, degrees clockwise).

    ``seam_gap_mm`` is what a stated gap left at the seam; ``filler`` is the one motif that stands there now, told as a
    row of its own and not counted in this one. ``is_of_teeth``: what is told as the gap is how wide the teeth are, the
    card left between two cut-aways, which in an opening are narrowest at its edge.
    """

    motif_name: str
    count: int
    gap_mm: float | None
    foot_gap_mm: float | None
    gap_max_mm: float | None
    pitch_deg: float | None
    start_deg: float
    seam_gap_mm: float | None
    scale: float
    seat: Seat
    place: Place
    spread: Spread | None
    repeats: tuple[PlacedMotif, ...] = field(repr=False, default=())
    filler: RowResult | None = None
    is_of_teeth: bool = False


@dataclass(frozen=True, slots=True)
class HolePlace:
    """A round hole asked for: where its middle came to lie, its diameter in mm, and its direction as asked, degrees."""

    middle: complex
    diameter_mm: float
    at_deg: float


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of card in its own millimetres, y up, the middle of its base at 0.

    ``notes`` are sentences about what was chosen for the maker and what the piece goes into. Of a tent card (``tent``)
    the region is the whole blank; rows and their repeats are those of the half on the middle of the base, and stand on
    the other half as well. ``marks`` are lines of words that are drawn and not cut. A lid
    may have a ``flange`` round its base, a piece with a stand has ``slots`` for its feet. ``rough`` are places where
    the outline could not be made exact. ``patterns`` are the motifs of each row as they were made: loose parts tied, or
    left out.
    """

    name: str
    size: Size
    region: Region
    rows: tuple[RowResult, ...] = ()
    findings: tuple[Finding, ...] = ()
    notes: tuple[str, ...] = ()
    tent: Tent | None = None
    holes: tuple[HolePlace, ...] = ()
    flange: Flange | None = None
    slots: tuple[Slot, ...] = ()
    marks: tuple[Outline, ...] = ()
    rough: tuple[complex, ...] = ()
    patterns: tuple[tuple[Ornament, ...], ...] = field(repr=False, default=())

    @property
    def told_rows(self) -> tuple[RowResult, ...]:
        """The rows as they are told: each filler as a row of its own after the one it fills."""
        return tuple(told for row in self.rows for told in (row, row.filler) if told is not None)
