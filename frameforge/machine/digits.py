"""Digits as single lines, for a pen or a light pass: sizes marked on a piece. Our own drawing, in a box 0.6 x 1."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from typing import Final

from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.machine.cut_line import Run

__all__ = ["marked_number", "number_width"]

ADVANCE: Final = 0.85
"""From one digit to the next, for a height of 1."""
POINT_ADVANCE: Final = 0.4


def marked_number(words: str, middle: complex, height_mm: float) -> tuple[Run, ...]:
    """Return the lines of a number such as "12" or "1.5", upright, its box centred on ``middle`` (mm).

    Raises KeyError for a sign that is neither a digit nor a point.
    """
    at, runs = -number_width(words, 1.0) / 2, []
    for sign in words:
        place = Affine.from_move(middle + height_mm * complex(at, -0.5)).after(Affine.from_scale(height_mm))
        runs += [tuple(segment.transformed(place) for segment in run) for run in STROKES[sign]]
        at += POINT_ADVANCE if sign == "." else ADVANCE
    return tuple(runs)


def number_width(words: str, height_mm: float) -> float:
    """Return the width of a number of that height, mm."""
    steps = sum(POINT_ADVANCE if sign == "." else ADVANCE for sign in words)
    return height_mm * (steps - (ADVANCE - 0.6))


def _path(*points: complex) -> list[Segment]:
    """Return the lines through some points."""
    return [Line(a, b) for a, b in itertools.pairwise(points)]


def _bow(center: complex, rx: float, ry: float, start_deg: float, sweep_deg: float) -> Arc:
    """Return an upright elliptical arc, counter-clockwise from +x."""
    return Arc.from_ellipse(center, complex(rx, 0), complex(0, ry), math.radians(start_deg), math.radians(sweep_deg))


def _joined(segments: Sequence[Segment]) -> Run:
    """Return segments that meet but for rounding with shared joints."""
    chain = [segments[0]]
    for segment in segments[1:]:
        chain.append(segment.with_ends(chain[-1].end, segment.end))
    return tuple(chain)


def _strokes() -> dict[str, tuple[Run, ...]]:
    """Return the lines of every sign, y from 0 at its foot to 1 at its head."""
    round_ = _bow(0.3 + 0.5j, 0.3, 0.5, 90, 360)
    hook = _bow(0.3 + 0.71j, 0.29, 0.29, 165, -195)
    upper, lower = _bow(0.3 + 0.76j, 0.24, 0.24, 140, -230), _bow(0.3 + 0.26j, 0.28, 0.26, 90, -230)
    belly = _bow(0.28 + 0.32j, 0.32, 0.32, 118, -255)
    ring6, ring9 = _bow(0.3 + 0.3j, 0.3, 0.3, 180, -360), _bow(0.3 + 0.7j, 0.3, 0.3, 0, -360)
    stem6, stem9 = _bow(0.6 + 0.3j, 0.6, 0.7, 180, -80), _bow(0 + 0.7j, 0.6, 0.7, 0, -80)
    return {
        "0": ((round_,),),
        "1": (_joined(_path(0.08 + 0.78j, 0.34 + 1j, 0.34 + 0j)),),
        "2": (_joined([hook, *_path(hook.end, 0.02 + 0j, 0.6 + 0j)]),),
        "3": (_joined([upper, lower]),) if abs(upper.end - lower.start) < 1e-9 else ((upper,), (lower,)),
        "4": (_joined(_path(0.44 + 0j, 0.44 + 1j, 0j + 0.28j, 0.6 + 0.28j)),),
        "5": (_joined([*_path(0.56 + 1j, 0.14 + 1j, belly.start), belly]),),
        "6": (_joined([stem6.reversed(), ring6]),),
        "7": (_joined(_path(0 + 1j, 0.6 + 1j, 0.2 + 0j)),),
        "8": (
            _joined([_bow(0.3 + 0.76j, 0.24, 0.24, -90, 360)]),
            _joined([_bow(0.3 + 0.26j, 0.3, 0.26, 90, 360)]),
        ),
        "9": (_joined([ring9, stem9]),),
        ".": ((_bow(0.1 + 0.04j, 0.04, 0.04, 0, 360),),),
    }


STROKES: Final = _strokes()
"""For each sign, its lines."""
