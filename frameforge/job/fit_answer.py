"""One answer of ``fit``: a size and a count that go together, measured, and what is to be said of them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final, Literal, NamedTuple

from frameforge.frame.hand_spokes import FULL_TURN_DEG, protractor_miss_mm
from frameforge.frame.spec import Size, Spread

__all__ = ["REFUSED", "FitAnswer", "Remark"]

REFUSED: Final = "refused"
"""Code of the remark that says why there is no answer."""


class Remark(NamedTuple):
    """What is to be said of an answer: a code of the word list, a few words for a table, a sentence."""

    code: str
    words: str
    say: str


@dataclass(frozen=True, slots=True)
class FitAnswer:
    """Size, count and scale, with the gaps that come of them, measured between true outlines and between feet (mm).

    None stands where there is nothing to measure: a single repeat has no gap, a motif without a foot no foot gap, an
    answer that is refused nothing at all. ``is_even`` tells that all repeats stand at equal turns.
    """

    size: Size | None
    count: int | None
    scale: float | None
    spread: Spread
    gap_mm: float | None = None
    gap_max_mm: float | None = None
    foot_gap_mm: float | None = None
    is_even: bool = False
    kind: Literal["asked", "spread", "size", "filler"] = "asked"
    filler: str | None = None
    filler_scale: float | None = None
    remarks: tuple[Remark, ...] = ()

    @property
    def is_refused(self) -> bool:
        """Whether it cannot be made so."""
        return any(remark.code == REFUSED for remark in self.remarks)

    @property
    def turn_deg(self) -> float | None:
        """Degrees from one spoke to the next; None where they differ, or there is no count."""
        return FULL_TURN_DEG / self.count if self.is_even and self.count else None

    @property
    def divides_turn(self) -> bool:
        """Whether the count divides 360."""
        return self.count is not None and FULL_TURN_DEG % self.count == 0

    @property
    def protractor_mm(self) -> float | None:
        """How far a spoke lands off when a protractor of whole degrees sets it, mm; None on ovals."""
        if self.count is None or self.size is None or self.turn_deg is None:
            return None
        return protractor_miss_mm(self.count, self.size.width_mm)

    @property
    def words(self) -> str:
        """The remarks in a few words each."""
        return ", ".join(dict.fromkeys(remark.words for remark in self.remarks if remark.words))

    def as_json(self) -> dict[str, Any]:
        """Return the answer as a table of plain values."""
        size = self.size
        said = [f"{remark.code}: {remark.say}" for remark in self.remarks]
        return {
            "size_mm": None if size is None else size.width_mm if size.is_circle else [size.width_mm, size.height_mm],
            "count": self.count,
            "gap_mm": self.gap_mm,
            "foot_gap_mm": self.foot_gap_mm,
            "scale": self.scale,
            "pitch_deg": self.turn_deg,
            "divides_360": self.divides_turn,
            "spread": self.spread,
            "gap_max_mm": self.gap_max_mm,
            "kind": self.kind,
            "filler": self.filler,
            "filler_scale": self.filler_scale,
            "note": " ".join(said) or None,
        }
