"""How long a machine works: length over speed, and a moment for every lift."""

from __future__ import annotations

from frameforge.card.preset import Preset

__all__ = ["cut_seconds"]


def cut_seconds(length_mm: float, lifts: int, preset: Preset) -> float:
    """Return the seconds for lines of ``length_mm`` in all, cut in ``lifts`` goes: sum(length/speed) + lifts x lift.

    Every pass runs along all lines again; between passes over one line the blade or beam stays where it is.
    The speed is the preset's, so that corners, where machines slow down, make it longer (common practice, no source).
    """
    return preset.passes * length_mm / preset.speed_mm_s + lifts * preset.lift_s
