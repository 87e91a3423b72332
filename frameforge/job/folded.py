"""What is said of a tent card: how wide its fold and foot are, what it measures flat and folded, how it is made."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any, Final

from frameforge.card.preset import Preset
from frameforge.errors import FrameforgeError, GeometryError
from frameforge.frame.assembly import assemble
from frameforge.frame.crease import Chain, bits_on_card, edge_bits, line_creases
from frameforge.frame.piece import Piece
from frameforge.frame.spec import FoldSpec, PieceSpec
from frameforge.frame.tent import StraightLine
from frameforge.frame.wording import clock_words, down
from frameforge.geometry.affine import Affine
from frameforge.geometry.measure import bounds, length_mm
from frameforge.geometry.region import Region
from frameforge.units import format_floor, format_mm, format_size

__all__ = ["CREASE_STEPS", "FoldTold", "crease_words", "fold_told"]

CREASE_STEPS: Final = (
    "Crease first, at low force or low power: it must not go through. Try it on a scrap. Then cut, and fold away from "
    "the creased side."
)
"""What to mind with every crease (common practice, no source)."""

_SIDES: Final = {0.0: "the top", 90.0: "the right side", 180.0: "the bottom", 270.0: "the left side"}


@dataclass(frozen=True, slots=True)
class FoldTold:
    """A tent card as it came out. Lengths in mm: the fold and the foot as far as there is card on them, the blank and
    one half along the fold and across it. ``rocks_say`` tells what to do about a card without a straight foot."""

    spec: FoldSpec
    creases: tuple[Chain, ...]
    hinge_mm: float
    foot_mm: float
    blank_mm: tuple[float, float]
    rocks_say: str = ""

    @property
    def folded_mm(self) -> tuple[float, float]:
        """What it measures when it is folded flat: as wide, and half as high."""
        return self.blank_mm[0], self.blank_mm[1] / 2

    def notes(self) -> tuple[str, ...]:
        """Return the sentences for the maker."""
        side = _SIDES.get(self.spec.at_deg % 360, f"the edge {clock_words(self.spec.at_deg)}")
        fold = f"folds {format_floor(self.hinge_mm)} wide, {format_floor(self.spec.depth_mm)} in from {side}"
        folded = f"folded it is {format_size(*self.folded_mm)}"
        foot = f"stands on a straight foot of {format_floor(self.foot_mm)} on both halves." if self.foot_mm else ""
        return (
            f"{fold}; {folded}, and the other half is its mirror image.",
            *filter(None, (foot, self.rocks_say)),
        )

    def as_json(self) -> dict[str, Any]:
        """Return it as a table of plain values."""
        return {
            "depth_mm": self.spec.depth_mm,
            "at_deg": self.spec.at_deg,
            "hinge_mm": self.hinge_mm,
            "flat_mm": self.spec.flat_mm,
            "foot_mm": self.foot_mm,
            "blank_mm": list(self.blank_mm),
            "folded_mm": list(self.folded_mm),
        }


def crease_words(creases: Sequence[Chain]) -> str:
    """Return how much there is to crease: "1 line of 60 mm to crease", "12 dashes, 36 mm in all, to crease"."""
    whole = format_mm(length_mm(segment for chain in creases for segment in chain))
    if len(creases) == 1:
        return f"{whole} to crease in 1 line"
    return f"{whole} to crease in {len(creases)} lines"


def fold_told(spec: PieceSpec, piece: Piece, preset: Preset) -> FoldTold | None:
    """Return what a tent card came to; None for a piece that is not folded.

    Measured on the finished blank. Raises GeometryError where there is less card on the fold than holds.
    """
    tent, fold = piece.tent, spec.fold
    if tent is None or fold is None:
        return None
    bits = bits_on_card(tent.hinge, piece.region)
    least = min((abs(bit.end - bit.start) for bit in bits), default=0.0)
    if least < preset.least_neck_mm:
        say = (
            f"{format_floor(least)} of card is left on the fold, this card needs {preset.least_neck_mm:g} mm. "
            "Take another depth, or a smaller opening."
        )
        raise GeometryError(say, where=piece.name, code="fold", measured_mm=least)
    foot = sum(length_mm(bit) for bit in edge_bits(tent.foot, piece.region)) if tent.foot else 0.0
    return FoldTold(
        fold,
        line_creases(fold.crease, bits, preset, where=piece.name),
        sum(length_mm(bit) for bit in bits),
        foot,
        _sides_mm(piece.region, tent.hinge),
        "" if tent.foot else _rocks_say(spec, piece, preset),
    )


def _sides_mm(region: Region, line: StraightLine) -> tuple[float, float]:
    """Return how much room a region takes along a line and across it, mm."""
    box = bounds(region.transformed(Affine(1j * line.normal.conjugate())))
    return box.width_mm, box.height_mm


_LEAST_FLAT = 0.03
"""A foot cut off less deep than this part of the height is hardly one."""


def _rocks_say(spec: PieceSpec, piece: Piece, preset: Preset) -> str:
    """Return what to do about a card that stands on its edge as it is: a foot that was tried."""
    fold = spec.fold
    assert fold is not None
    height = _sides_mm(piece.region, piece.tent.hinge)[1] / 2 if piece.tent else 0.0
    for flat in (fold.depth_mm, *(down(part * height, 0.5) for part in (0.08, 0.05, 0.03))):
        if flat >= _LEAST_FLAT * height and _holds(
            replace(spec, size=piece.size, fold=replace(fold, flat_mm=flat)), preset
        ):
            return f"stands on its edge as it is, and rocks; for a straight foot take --flat {flat:g}mm."
    return "stands on its edge as it is, and rocks."


def _holds(spec: PieceSpec, preset: Preset) -> bool:
    try:
        return len(assemble(spec, preset, is_trial=True).combined.regions) == 1
    except FrameforgeError:
        return False
