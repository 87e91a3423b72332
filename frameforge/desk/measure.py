"""The gap between any two repeats of a piece, as the gaps of its rows are measured, and where it is drawn."""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Final

import numpy as np
import shapely

from frameforge.desk.asked import map_of, number_of, piece_of
from frameforge.desk.drawing import drawn_box
from frameforge.desk.made_pieces import made_pieces
from frameforge.desk.repeats import Repeat, repeats_of
from frameforge.errors import InputError
from frameforge.frame.gap import Gap, Standing, distance_between, gap_between
from frameforge.frame.profile import Profile
from frameforge.geometry.affine import Affine
from frameforge.job.made import MadePiece
from frameforge.job.motif_source import MotifSource
from frameforge.picture.letter_widths import text_width
from frameforge.picture.path_text import number_text, outline_text
from frameforge.tolerances import BEND_FIT_MM, TOUCH_MM
from frameforge.units import format_floor

__all__ = ["Measured", "measure", "measured"]

_DIGITS: Final = 2
_TEXT_PX: Final = 14.0
_TICK_PX: Final = 5.0
"""Half the length of the strokes at the ends of a measure."""
_AWAY_PX: Final = 20.0
"""From the piece to the words of a short measure."""
_ROOM_PX: Final = 24.0
"""How much longer than its words a measure is that carries them on its middle."""


@dataclass(frozen=True, slots=True)
class Measured:
    """The gap of two repeats in mm, its ends on their outlines (mm, y up), and how it is told.

    Below 0 where they are joined in one; the ends then lie where they meet.
    """

    gap_mm: float
    ends: tuple[complex, complex]
    words: str
    value: str


def measure(question: dict[str, Any], source: MotifSource) -> dict[str, Any]:
    """Return the repeats of a piece as they lie on a drawing, and the gap between two of them where two are named.

    ``question`` holds recipe, piece (its number from 0), map (as the drawing was given with), and from and to: repeats
    by their numbers from 0 in the list that this returns. Raises InputError, and what the command raises.
    """
    made = piece_of(question, made_pieces(str(question["recipe"]), source)[1])
    to_px = map_of(question)
    repeats = repeats_of(made.piece)
    one, other = number_of(question, "from", len(repeats)), number_of(question, "to", len(repeats))
    if one is None or other is None:
        return {"repeats": [_shown(repeat, to_px) for repeat in repeats]}
    if one == other:
        raise InputError("a gap lies between two. Choose another one.", where="desk, measure", code="same-one")
    return _drawn(measured(repeats[one], repeats[other]), made, to_px)


def measured(one: Repeat, other: Repeat) -> Measured:
    """Return the shortest way from the outline of one repeat to that of another, on their true curves."""
    gap = _gap(*(Standing.from_placement(_profile(repeat), repeat.placed.placement) for repeat in (one, other)))
    mm = _as_the_row_tells(gap.gap_mm, one, other)
    pair = f"{one.words} to {other.words}"
    if mm <= -TOUCH_MM:
        return Measured(mm, (gap.on_a, gap.on_b), f"{pair}: joined in one, no gap between them", "joined")
    value = format_floor(max(mm, 0.0))
    if value == "0 mm":
        value = "touching" if mm < TOUCH_MM else "under 0.01 mm"
    return Measured(max(mm, 0.0), (gap.on_a, gap.on_b), f"{pair}: {value}", value)


def _profile(repeat: Repeat) -> Profile:
    return Profile.from_outlines(repeat.outlines)


def _gap(a: Standing, b: Standing) -> Gap:
    """Return the gap: the distance where they lie apart, below 0 where they meet."""
    meet = bool(shapely.intersects(_filled(a)[:, None], _filled(b)[None, :]).any())
    return gap_between(a, b) if meet else distance_between(a, b)


def _filled(standing: Standing) -> np.ndarray[tuple[int], np.dtype[np.object_]]:
    """Return the filled outlines of a repeat, on chords."""
    points = standing.points
    rings = (points[first:end] for first, end in _rings(standing.profile))
    return np.array([shapely.Polygon(np.column_stack([ring.real, ring.imag])) for ring in rings], dtype=object)


def _rings(profile: Profile) -> list[tuple[int, int]]:
    """Return the first chord of every outline and the one past its last."""
    ends = (np.flatnonzero(profile.following <= np.arange(len(profile.following))) + 1).tolist()
    return list(zip([0, *ends[:-1]], ends, strict=True))


def _as_the_row_tells(mm: float, one: Repeat, other: Repeat) -> float:
    """Return a gap as its row has it, where that is known truer than the fitted curves of a bent motif are."""
    row = one.result
    if row is other.result and row.seat == "bent":
        for own in (row.gap_mm, row.gap_max_mm):
            if own is not None and abs(own - mm) <= 2 * BEND_FIT_MM:
                return own
    return mm


def _shown(repeat: Repeat, to_px: Affine) -> dict[str, Any]:
    """Return a repeat as it is chosen on the drawing: its outline, and the words for it."""
    place = to_px.after(repeat.placed.placement)
    path = " ".join(outline_text(outline.transformed(place), _DIGITS) for outline in repeat.outlines)
    return {"words": repeat.words, "path": path}


def _drawn(found: Measured, made: MadePiece, to_px: Affine) -> dict[str, Any]:
    """Return a measure as it is drawn: a line, a stroke at each end, its words, a leader where they stand off."""
    a, b = (to_px.apply(end) for end in found.ends)
    way = (b - a) / abs(b - a) if abs(b - a) > 1e-9 else 1 + 0j
    tick = 1j * way * _TICK_PX
    strokes = [(a, b), (a - tick, a + tick), (b - tick, b + tick)]
    middle = (a + b) / 2
    at, leader = middle, ""
    if abs(b - a) < text_width(found.value, _TEXT_PX, is_bold=True) + _ROOM_PX:
        at = _outside(middle, made, to_px, text_width(found.value, _TEXT_PX, is_bold=True))
        leader = _path([(middle, at)])
    return {
        "words": found.words,
        "value": found.value,
        "line": _path(strokes),
        "leader": leader,
        "at": {"x": round(at.real, _DIGITS), "y": round(at.imag, _DIGITS)},
    }


def _outside(middle: complex, made: MadePiece, to_px: Affine, width: float) -> complex:
    """Return where the words of a short measure stand: outside the piece, in the direction of the measure."""
    box = drawn_box(made, to_px)
    away = middle - box.center
    turn = cmath.phase(away) if abs(away) > 1 else -math.pi / 2
    c, s = math.cos(turn), math.sin(turn)
    across = box.width_mm / 2 + _AWAY_PX + width / 2 * abs(c)
    return complex(box.center.real + across * c, box.center.imag + (box.height_mm / 2 + _AWAY_PX) * s)


def _path(lines: Sequence[tuple[complex, complex]]) -> str:
    return " ".join(f"M {_xy_text(a)} L {_xy_text(b)}" for a, b in lines)


def _xy_text(z: complex) -> str:
    return f"{number_text(z.real, _DIGITS)} {number_text(z.imag, _DIGITS)}"
