"""Places where a line runs straight back over itself."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.write.page import Run

__all__ = ["spikes"]

_PARALLEL = 1e-9


def spikes(run: Run) -> Iterator[complex]:
    """Yield the points from which a line goes back the way it came, at the seam of a closed line too."""
    is_closed = run[0].start == run[-1].end and len(run) > 1
    for before, after in zip(run, (*run[1:], run[0]), strict=True) if is_closed else pairwise(run):
        if type(before) is type(after) and _goes_back(before, after):
            yield before.end


def _goes_back(before: Segment, after: Segment) -> bool:
    """Whether ``after`` covers the same points as ``before``, backwards."""
    if isinstance(before, Line) and isinstance(after, Line):
        turn = (before.end - before.start).conjugate() * (after.end - after.start)
        return turn.real < 0 and abs(turn.imag) <= _PARALLEL * abs(turn)
    if before.start != after.end:
        return False
    if isinstance(before, Cubic) and isinstance(after, Cubic):
        return before.c1 == after.c2 and before.c2 == after.c1
    if isinstance(before, Arc) and isinstance(after, Arc):
        middle_gap = abs(before.point(0.5) - after.point(0.5))
        return middle_gap <= _PARALLEL * abs(before.u)
    return False
