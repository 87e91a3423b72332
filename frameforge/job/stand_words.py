"""What is said of a stand: how its feet go into the slots of the piece."""

from __future__ import annotations

from collections.abc import Sequence

from frameforge.frame.slots import Slot
from frameforge.frame.spec import StandSpec
from frameforge.units import format_floor

__all__ = ["stand_told"]


def stand_told(stand: StandSpec, slots: Sequence[Slot], foot_slot_mm: float) -> tuple[str, ...]:
    """Return the sentences for the maker."""
    many = "a foot" if stand.feet == 1 else f"{stand.feet} feet"
    depths = sorted({format_floor(slot.depth_mm) for slot in slots})
    layers = "1 layer" if stand.layers == 1 else f"{stand.layers} layers"
    return (
        f"stands in {many} {format_floor(stand.size_mm)} wide: slide each crosswise into a slot of the piece, slot "
        "into slot, until the undersides are level.",
        f"the slots of the piece are {format_floor(slots[0].width_mm)} wide and {' and '.join(depths)} deep, that of a "
        f"foot {format_floor(foot_slot_mm)} wide for {layers} of card; they are narrow on purpose. Too tight or too "
        "loose: change play.",
    )
