"""What the maker asked for, as values: a base, an opening, rows of motifs. Lengths in mm.

Directions here are those of the recipe: degrees clockwise from the top. Positions count from 1 at the top, clockwise.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Final, Literal

from frameforge.card.envelope import Envelope
from frameforge.frame.text_spec import TextSpec
from frameforge.motif.motif import Motif

__all__ = [
    "LARGEST_MM",
    "MOST_REPEATS",
    "SEATS",
    "Between",
    "CreaseSpec",
    "FlangeSpec",
    "FoldSpec",
    "HoleSpec",
    "Loose",
    "Ornament",
    "PieceSpec",
    "Place",
    "RowSpec",
    "Seat",
    "Size",
    "Spread",
    "StandSpec",
    "Unknown",
]

Place = Literal["out", "in", "window", "across"]
Seat = Literal["as-drawn", "bent"]
Between = Literal["keep", "flat", "level", "hollow", "raised"]
Spread = Literal["equal-gap", "equal-arc", "equal-chord"]
Unknown = Literal["find"]
Loose = Literal["keep", "tie", "drop"]

LARGEST_MM: Final = 3000.0
"""Largest size of a piece; beyond it no cutter goes, and a slip of the unit is likelier."""

MOST_REPEATS: Final = 2000
"""More repeats than this round one edge are refused: no cutter finishes them, and no maker means them."""

SEATS: tuple[Seat, ...] = ("as-drawn", "bent")


@dataclass(frozen=True, slots=True)
class Size:
    """Width and height of a circle (equal) or an upright oval, in mm."""

    width_mm: float
    height_mm: float

    def __post_init__(self) -> None:
        """Refuse anything but two finite lengths above 0."""
        if not all(math.isfinite(v) and v > 0 for v in (self.width_mm, self.height_mm)):
            raise ValueError(f"size {self.width_mm} x {self.height_mm} mm must be above 0")

    @property
    def is_circle(self) -> bool:
        """Whether width and height are the same number."""
        return self.width_mm == self.height_mm


@dataclass(frozen=True, slots=True)
class Ornament:
    """One entry of a row's pattern: a motif, its own scale, lean (degrees clockwise) and whether it is mirrored.

    Of its loose parts ``tied`` are the numbers (from 0, as ``motif.parts`` counts them) of those held by ties
    ``tie_mm`` wide; ``left_out`` is how many the motif had more before they were left out.
    """

    motif: Motif
    scale: float = 1.0
    lean_deg: float = 0.0
    is_mirrored: bool = False
    tied: frozenset[int] = frozenset()
    tie_mm: float = 0.0
    left_out: int = 0


@dataclass(frozen=True, slots=True)
class RowSpec:
    """One row of a pattern round an edge; None means "not said", ``find`` and ``most`` "work it out".

    ``scale`` is how many times as large as drawn its motifs stand.
    """

    pattern: tuple[Ornament, ...]
    count: int | Literal["most", "find"] | None = None
    gap_mm: float | Unknown | None = None
    foot_gap_mm: float | None = None
    scale: float | Unknown | None = None
    foot_mm: float | Unknown | None = None
    place: Place = "out"
    on: Literal["base", "opening"] | None = None
    inset_mm: float = 0.0
    seat: Seat = "as-drawn"
    between: Between = "keep"
    depth_mm: float | None = None
    spread: Spread | None = None
    is_mirrored_every_other: bool = False
    start_deg: float = 0.0
    starts_with_gap: bool = False
    skip: tuple[int | Literal["top", "bottom", "left", "right"], ...] = ()
    keep_free: tuple[float, float] | None = None
    """(width in degrees, middle in degrees clockwise from the top) of a zone without motifs."""
    free: Literal["spread", "leave"] = "spread"
    rest: Literal["spread", "size", "filler"] | None = None
    seam_deg: float | None = None
    """Where a rest lies, degrees clockwise from the top; None: opposite the row's start."""
    filler: Motif | None = None
    keeps_counters: bool = False
    loose: Loose = "keep"
    """What becomes of parts of its motifs that nothing holds; kept, they are refused."""


@dataclass(frozen=True, slots=True)
class HoleSpec:
    """A round hole: its diameter in mm and its direction, degrees clockwise from the top."""

    diameter_mm: float
    at_deg: float = 0.0


@dataclass(frozen=True, slots=True)
class CreaseSpec:
    """How a crease is drawn: full or dashed, dashes and the spaces between them in mm (None: as the preset says), and
    how far it stops short of the edge of the card."""

    kind: Literal["full", "dashed"] = "full"
    dash_mm: float | None = None
    space_mm: float | None = None
    stop_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class FoldSpec:
    """A tent card: the piece and its mirror image joined at a fold, ``depth_mm`` in from the edge at a direction.

    ``flat_mm`` is how deep a straight foot is cut off at the opposite side; 0 for none.
    """

    depth_mm: float
    at_deg: float = 0.0
    flat_mm: float = 0.0
    crease: CreaseSpec = CreaseSpec()


@dataclass(frozen=True, slots=True)
class FlangeSpec:
    """Teeth ``height_mm`` high all round the base, folded down along its edge; so many, or None: by their width."""

    height_mm: float
    teeth: int | None = None
    crease: CreaseSpec = CreaseSpec()


@dataclass(frozen=True, slots=True)
class StandSpec:
    """Feet ``size_mm`` wide that a piece stands in, with slots for them: as wide as the card and ``play_mm`` more.

    ``layers`` is how many layers of card the piece has where it stands in a foot.
    """

    size_mm: float
    feet: int = 2
    layers: int = 1
    play_mm: float = 0.1


@dataclass(frozen=True, slots=True)
class PieceSpec:
    """One piece: base size (or ``find``), opening or rim, rows, holes, a fold, words. Lengths in mm."""

    name: str
    size: Size | Unknown
    opening: Size | None = None
    rim_mm: float | None = None
    rows: tuple[RowSpec, ...] = ()
    holes: tuple[HoleSpec, ...] = ()
    goes_in: Envelope | None = None
    ratio: float | None = None
    grow_from: Size | None = None
    fold: FoldSpec | None = None
    flange: FlangeSpec | None = None
    stand: StandSpec | None = None
    texts: tuple[TextSpec, ...] = ()
    is_size_fixed: bool = False
    """Whether other pieces share its edges, so that no way out of a refusal may change base or opening."""
    unsettled: PieceSpec | None = field(default=None, compare=False, repr=False)
    """The order as it was asked, before a rest settled its size: ways out of a refusal are tried on that."""

    def with_patterns(self, patterns: Sequence[tuple[Ornament, ...]]) -> PieceSpec:
        """Return the order with the motifs of its rows as they were made; as it is where there are none."""
        if not patterns:
            return self
        rows = (replace(row, pattern=made) for row, made in zip(self.rows, patterns, strict=True))
        return replace(self, rows=tuple(rows))

    def with_row(self, index: int, row: RowSpec | None) -> PieceSpec:
        """Return the order with the row of that number (from 0) replaced, or left out where ``row`` is None."""
        new = () if row is None else (row,)
        return replace(self, rows=(*self.rows[:index], *new, *self.rows[index + 1 :]))
