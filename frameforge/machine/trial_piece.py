"""The test piece: one small ring to cut first, with what a cutter gets wrong in sizes that can be measured."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from frameforge.card.preset import Preset
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle
from frameforge.machine.cut_line import Run
from frameforge.machine.digits import marked_number

__all__ = ["TRIAL_PIECE_MM", "TrialPiece", "kerf_of", "trial_piece"]

TRIAL_PIECE_MM: Final = 70.0
"""Width of the piece: the square in it is large enough for a caliper, and the ring is no larger than need be."""

_OPENING_MM: Final = 30.0
_SQUARE_MM: Final = 12.0
_HOLE_MM: Final = 5.0
_LENGTH_MM: Final = 8.0
_MIDDLE_MM: Final = 25.0
_WINDOW_MM: Final = 3.0
_DIGIT_MM: Final = 2.5


@dataclass(frozen=True, slots=True)
class TrialPiece:
    """The region of the test piece (mm, y up, its middle at 0) and the wanted sizes as lines to mark."""

    region: Region
    marks: tuple[Run, ...]


def trial_piece(preset: Preset) -> TrialPiece:
    """Return the test piece for the limits of a preset.

    A ring of 70 with an opening of 30, whose disc drops out; at the top a square of 12, whose middle drops out; at
    the right a hole of 5; at the bottom two windows with a neck of the least neck between them; at the left a slot of
    the least slot. Every size stands beside it, marked.
    """
    neck, slot = preset.least_neck_mm, preset.least_slot_mm
    half, middle, length = _SQUARE_MM / 2, _MIDDLE_MM, _LENGTH_MM / 2
    square = rectangle(-half, middle - half, half, middle + half)
    left = rectangle(-neck / 2 - _WINDOW_MM, -middle - length, -neck / 2, -middle + length)
    right = rectangle(neck / 2, -middle - length, neck / 2 + _WINDOW_MM, -middle + length)
    # As long as need be for its waste to be no crumb, and no longer than the ring bears.
    reach = min(max(length, 0.55 * preset.crumb_mm2 / slot), 7.0)
    slit = rectangle(-middle - reach, -slot / 2, -middle + reach, slot / 2)
    holes: tuple[Outline, ...] = (circle(complex(middle, 0), _HOLE_MM / 2), square, left, right, slit)
    told = (
        (_SQUARE_MM, complex(half + 4.5, middle - 2)),
        (_HOLE_MM, complex(middle, -_HOLE_MM / 2 - 3)),
        (neck, complex(neck / 2 + _WINDOW_MM + 4, -middle)),
        (slot, complex(-middle, slot / 2 + 3)),
        (_OPENING_MM, complex(-_OPENING_MM / 2 + 1, _OPENING_MM / 2 + 1)),
        (TRIAL_PIECE_MM, complex(_OPENING_MM / 2 + 4, -_OPENING_MM / 2 - 8)),
    )
    outside, opening = circle(0, TRIAL_PIECE_MM / 2), circle(0, _OPENING_MM / 2)
    region = Region(outside, tuple(hole.reversed() for hole in (opening, *holes)))
    marks = tuple(run for size, place in told for run in marked_number(f"{size:g}", place, _DIGIT_MM))
    return TrialPiece(region, marks)


def kerf_of(wanted_mm: float, measured_mm: float) -> float:
    """Return the kerf in mm from a part that dropped out, cut along its line: half a kerf is lost on either side.

    kerf = wanted - measured; of a hole it is measured - wanted (common practice, no source).
    """
    return wanted_mm - measured_mm
