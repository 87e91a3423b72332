"""Whether the lines read back from a written text are those of the page: number, area, box, distance both ways."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from frameforge.geometry.box import Box
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.write.curve_set import CurveSet, Floats
from frameforge.write.page import CutPage, LineKind, Run

__all__ = ["Lines", "PageLines", "differences", "measured_page", "read_lines"]

Bools = npt.NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class Lines:
    """The lines of one kind in their order, measured: mm, y up, the page's lower left corner at 0.

    ``areas_mm2`` are positive counter-clockwise; those of open lines are 0.
    """

    curves: CurveSet
    areas_mm2: Floats
    is_closed: Bools
    box: Box

    @property
    def lengths_mm(self) -> Floats:
        """Length of each line, mm."""
        return self.curves.sums(self.curves.parts_mm.sum(axis=1))


PageLines = dict[LineKind, Lines]
"""The page's own lines, for each kind that occurs; measured once and compared with each file."""


def measured_page(page: CutPage) -> PageLines:
    """Return the page's own lines, measured on the curves themselves."""
    page_box = page.box
    shift = -complex(page_box.left, page_box.bottom)
    found: PageLines = {}
    for kind in page.kinds():
        runs = [run for piece in page.pieces for run in piece.runs(kind)]
        is_closed = _closed(runs)
        areas = [area_mm2(run) if closed else 0.0 for run, closed in zip(runs, is_closed, strict=True)]
        box = bounds(segment for run in runs for segment in run)
        moved = Box(box.left + shift.real, box.bottom + shift.imag, box.right + shift.real, box.top + shift.imag)
        found[kind] = Lines(CurveSet.from_runs(runs).moved(shift), np.array(areas), is_closed, moved)
    return found


def read_lines(runs: Sequence[Run]) -> Lines:
    """Return lines read from a file, measured; their areas come by another formula than those of the page.

    Raises ValueError when there are none.
    """
    curves, is_closed = CurveSet.from_runs(runs), _closed(runs)
    box = bounds(segment for run in runs for segment in run)
    return Lines(curves, curves.areas_mm2() * is_closed, is_closed, box)


def differences(kind: LineKind, read: Lines, own: Lines, tolerance_mm: float) -> Iterator[str]:
    """Yield what tells the lines ``read`` from the page's ``own``; nothing when they agree within ``tolerance_mm``.

    Closed lines thinner than the tolerance may be missing, since rounding swallows them.
    """
    if len(read.is_closed) < len(own.is_closed):
        own = _without_slivers(own, tolerance_mm)
    if len(read.is_closed) != len(own.is_closed):
        yield f"{kind}: {len(read.is_closed)} lines, the page has {len(own.is_closed)}"
        return
    yield from _area_differences(kind, read, own, tolerance_mm)
    yield from _box_differences(kind, read.box, own.box, tolerance_mm)
    for say, these, those in (("written line", read, own), ("line of the page", own, read)):
        far = _stray(these.curves, those.curves, tolerance_mm)
        if far is not None:
            where = f"passes {far[0]:.4f},{far[1]:.4f} mm, {far[2]:.6f} mm from the other"
            yield f"{kind}: a {say} {where}, {tolerance_mm:g} allowed"


def _closed(runs: Sequence[Run]) -> Bools:
    """Return which of the lines end where they start."""
    return np.array([run[0].start == run[-1].end for run in runs])


def _without_slivers(own: Lines, tolerance_mm: float) -> Lines:
    """Return the lines without the closed ones that are thinner than the tolerance."""
    stay = ~own.is_closed | (np.abs(own.areas_mm2) > tolerance_mm * own.lengths_mm)
    return Lines(own.curves.only(stay), own.areas_mm2[stay], own.is_closed[stay], own.box)


def _area_differences(kind: LineKind, read: Lines, own: Lines, tolerance_mm: float) -> Iterator[str]:
    """Yield the lines whose area differs by more than the tolerance all along them; a turned line differs twofold."""
    off = np.abs(read.areas_mm2 - own.areas_mm2) - tolerance_mm * (own.lengths_mm + tolerance_mm)
    for number in np.flatnonzero(off > 0).tolist():
        area, wanted = read.areas_mm2[number], own.areas_mm2[number]
        yield f"{kind}, line {number + 1}: area {area:.6f} mm2, the page has {wanted:.6f}"
    for number in np.flatnonzero(read.is_closed != own.is_closed).tolist():
        yield f"{kind}, line {number + 1}: closed {read.is_closed[number]}, on the page {own.is_closed[number]}"


def _box_differences(kind: LineKind, read: Box, own: Box, tolerance_mm: float) -> Iterator[str]:
    """Yield the sides of the box that differ by more than the tolerance."""
    for side in ("left", "bottom", "right", "top"):
        at, wanted = getattr(read, side), getattr(own, side)
        if abs(at - wanted) > tolerance_mm:
            yield f"{kind}: {side} side at {at:.6f} mm, the page has {wanted:.6f}"


def _stray(these: CurveSet, those: CurveSet, tolerance_mm: float) -> tuple[float, float, float] | None:
    """Return x, y and distance of a sample of ``these`` that is not near ``those``; None when all are near."""
    points = these.samples()
    found = those.far_point(points, _shared_stations(these, those, tolerance_mm), tolerance_mm)
    return found if found is None else (float(points[found[0]].real), float(points[found[0]].imag), found[1])


def _shared_stations(these: CurveSet, those: CurveSet, tolerance_mm: float) -> Floats:
    """Return the stations of ``these`` as ``those`` count them: a line may have been started at another joint."""
    stations = these.stations.copy()
    for number in np.flatnonzero(np.abs(these.starts() - those.starts()) > tolerance_mm).tolist():
        ahead = those.station_of(complex(these.starts()[number]), number)
        mine = np.floor(stations) == number
        stations[mine] = number + (stations[mine] - number + ahead) % 1
    return stations
