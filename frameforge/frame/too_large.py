"""A piece that is larger than can be made, and the scale by which it can."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Final

from frameforge.card.preset import Preset
from frameforge.errors import FrameforgeError, GeometryError
from frameforge.frame.model import RowModel
from frameforge.frame.spec import LARGEST_MM, PieceSpec, Size
from frameforge.frame.trying import trying
from frameforge.frame.ways import LAST_PAIRS, Way
from frameforge.frame.wording import down
from frameforge.geometry.measure import bounds
from frameforge.geometry.region import Region
from frameforge.units import format_mm

__all__ = ["is_too_large", "refuse_too_large"]

_MOST_ACROSS_MM: Final = 2 * LARGEST_MM
"""How large a piece may be with all that stands out from its base."""

_PARTS: Final = (1.0, 0.9, 0.7, 0.4, 0.1, 0.01)
"""Where a piece at the largest scale that is within bounds cannot be made, as when it has no seat, smaller ones may."""


def is_too_large(region: Region) -> bool:
    """Return whether a piece is so wide or high that no sheet and no reader takes it."""
    return _across_mm(region) > _MOST_ACROSS_MM


def refuse_too_large(
    asked: PieceSpec, preset: Preset, size: Size, region: Region, can_make: Callable[[PieceSpec], bool]
) -> None:
    """Refuse a piece whose motifs reach so far out, with a scale at which ``can_make`` says that it can be made.

    Raises GeometryError.
    """
    if not is_too_large(region):
        return
    across = _across_mm(region)
    with trying(LAST_PAIRS):
        ways = (way.words for way in _scales(asked, preset, size, across) if can_make(way.applied(asked)))
        found = next(ways, None)
    say = f"{format_mm(across)} across, {format_mm(_MOST_ACROSS_MM)} is the most that can be made. "
    say += f"Take {found}, or draw the motif smaller." if found else "Draw the motif smaller."
    raise GeometryError(say, where=asked.name, code="too-large", across_mm=across, limit_mm=_MOST_ACROSS_MM)


def _scales(asked: PieceSpec, preset: Preset, size: Size, across_mm: float) -> Iterator[Way]:
    """Yield smaller scales of a single row; what stands out from the base grows as they do."""
    if len(asked.rows) != 1 or "find" in (asked.rows[0].scale, asked.rows[0].foot_mm):
        return
    try:
        given = RowModel(asked, asked.rows[0], preset).given_scale
    except FrameforgeError:
        return
    base = max(size.width_mm, size.height_mm)
    largest = given * (_MOST_ACROSS_MM - base) / (across_mm - base)
    scales = dict.fromkeys(_rounded(largest * part) for part in _PARTS)
    yield from (Way(f"--scale {s:g}", row={"scale": s, "foot_mm": None}) for s in scales if s > 0)


def _rounded(scale: float) -> float:
    """Return a scale cut to hundredths, one below a tenth to thousandths."""
    return down(scale, 0.01) if scale >= 0.1 else down(scale, 0.001)


def _across_mm(region: Region) -> float:
    box = bounds(region)
    return max(box.width_mm, box.height_mm)
