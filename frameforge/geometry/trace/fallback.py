"""The last resort where nothing exact was found: short lines, each named in the report.

A lost edge stands as the line that the polygon has there. Where two runs have no crossing (a patched joint) both end
where the polygon's vertex lies on them, and a line bridges what is left; under PATCH_MM they meet in the vertex
itself. All other runs stay true curves. The lines are no longer than the finest chord distance leaves open.
"""

from __future__ import annotations

import numpy as np

from frameforge.geometry.segment_table import Bools, Complexes, Ints
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.emit import Pieces
from frameforge.geometry.trace.ends import Ends
from frameforge.geometry.trace.runs import Runs
from frameforge.tolerances import PATCH_MM

__all__ = ["plain_lines", "with_ends_on_curves"]


def with_ends_on_curves(ends: Ends, runs: Runs, chains: Chains) -> tuple[Complexes, Complexes]:
    """Return where every run begins and finishes (mm): its solved joints, or its own curve at a wide patched joint."""
    begin, finish = ends.begin.copy(), ends.finish.copy()
    joint = np.flatnonzero(ends.lives & (ends.miss > PATCH_MM))
    after = ends.next_living(runs.ring)[joint]
    finish[joint] = ends.stop.taken(joint).point(chains)
    begin[after] = ends.start.taken(after).point(chains)
    return begin, finish


def plain_lines(ends: Ends, runs: Runs, begin: Complexes, finish: Complexes) -> Pieces:
    """Return the lines that stand for lost edges and bridge wide patched joints; ``ring`` holds the run's number for
    each edge, and the number of the run before it plus a half for each bridge. ``begin`` and ``finish`` are mm."""
    after = ends.next_living(runs.ring)
    lost = np.flatnonzero(ends.lives & (runs.chain < 0))
    open_joint = np.flatnonzero(ends.lives & ~ends.is_whole & (finish != begin[after]))
    order = np.concatenate([lost.astype(np.float64), open_joint + 0.5])
    start = np.concatenate([begin[lost], finish[open_joint]])
    end = np.concatenate([finish[lost], begin[after[open_joint]]])
    return _lines(order, start, end, start != end)


def _lines(order: Ints, start: Complexes, end: Complexes, is_kept: Bools) -> Pieces:
    nothing = np.zeros(int(is_kept.sum()))
    row = np.full(len(nothing), -1)
    return Pieces(order[is_kept], row, nothing, nothing, start[is_kept], end[is_kept])
