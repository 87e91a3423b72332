"""The test piece as a piece of a run, and the sum by which it is read."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from frameforge.card.preset import Preset
from frameforge.frame.piece import Piece
from frameforge.frame.spec import PieceSpec, Size
from frameforge.job.presets import own_preset_file
from frameforge.units import format_floor

if TYPE_CHECKING:
    from frameforge.machine.cut_line import Run

__all__ = ["TRIAL_NAME", "trial_lines", "trial_made"]

TRIAL_NAME: Final = "test-piece"
"""What the piece is called where no name is given."""


def trial_made(spec: PieceSpec, preset: Preset) -> tuple[Piece, tuple[Run, ...]]:
    """Return the test piece for the limits of a preset, named as the order is, and its lines to mark."""
    from frameforge.machine.trial_piece import TRIAL_PIECE_MM, trial_piece  # here, since few runs make one

    trial = trial_piece(preset)
    return Piece(spec.name, Size(TRIAL_PIECE_MM, TRIAL_PIECE_MM), trial.region), trial.marks


def trial_lines(preset: Preset) -> tuple[str, ...]:
    """Return how the cut test piece is measured, and the lines to keep of it as a preset of one's own.

    kerf = wanted - measured of what drops out, for half a kerf is lost on either side; common practice, no source.
    The lines hold the numbers of ``preset``, so that they work before any is changed.
    """
    own, kerf = f"my-{preset.name}", f"{preset.kerf_mm:g}mm"
    file = own_preset_file()
    place = "a presets.toml beside your recipe" if file is None else f"{file.as_posix()}, or in one beside your recipe"
    return (
        "Measure the square that dropped out: kerf = 12 mm wanted less what you measure. If it is 11.85 mm, the kerf",
        "is 0.15 mm. Of a hole it is what you measure less what is wanted.",
        f"Look at the neck of {format_floor(preset.least_neck_mm)} and the slot of "
        f"{format_floor(preset.least_slot_mm)}: torn or closed, take a larger least neck or least slot.",
        "Lines to keep, with your own numbers,",
        f"in {place}:",
        f"    [{own}]",
        f'    like       = "{preset.name}"',
        f'    least_neck = "{preset.least_neck_mm:g}mm"',
        f'    least_slot = "{preset.least_slot_mm:g}mm"',
        f'    kerf       = "{kerf}"',
        f"Then cut with: --preset {own}{' --kerf preset' if preset.kerf_mm else ''}",
    )
