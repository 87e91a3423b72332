"""A motif tilted on its foot, and its foot cut anew on the old line."""

from __future__ import annotations

import math
from dataclasses import replace

from frameforge.errors import InputError
from frameforge.geometry.affine import Affine
from frameforge.geometry.combine import difference, evaluate, union
from frameforge.geometry.measure import bounds
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.motif.motif import Motif
from frameforge.tolerances import JOINT_MM

__all__ = ["MOST_LEAN_DEG", "lean_map", "leaned"]

MOST_LEAN_DEG = 60.0
"""Further over than this a motif lies on the edge and has no foot (common practice, no source)."""


def leaned(motif: Motif, lean_deg: float) -> Motif:
    """Return the motif tilted clockwise by ``lean_deg`` about the middle of its foot, standing on y = 0 again.

    The side that rises is carried down to the foot line by a wall along the motif's axis; what sinks below the foot
    is cut off there. The new foot is what then stands on the line, and its middle moves to 0.
    Raises InputError when the lean is more than ``MOST_LEAN_DEG`` either way.
    """
    if not abs(lean_deg) <= MOST_LEAN_DEG:
        most = f"{MOST_LEAN_DEG:g} deg"
        say = f"a lean of {lean_deg:g} deg lays the motif on the edge; it can be {most} at most. Take {most} or less."
        raise InputError(say, where=motif.name, lean_deg=lean_deg, limit_deg=MOST_LEAN_DEG)
    turn = Affine.from_turn(-math.radians(lean_deg))
    turned = motif.with_regions(region.transformed(turn) for region in motif.regions)
    if not motif.join or motif.foot_mm == 0:
        return turned
    join = _on_the_line(motif, turned.join, turn)
    left, right = _foot_ends(join)
    shift = Affine.from_move(-(left + right) / 2)
    whole = replace(turned, join=join, foot_mm=right - left)
    return whole.with_regions(region.transformed(shift) for region in whole.regions)


def lean_map(motif: Motif, lean_deg: float) -> Affine:
    """Return the map by which ``leaned`` moves what of a motif stays whole. Raises as that does."""
    turn = Affine.from_turn(-math.radians(lean_deg))
    if not motif.join or motif.foot_mm == 0:
        return turn
    left, right = _foot_ends(_on_the_line(motif, tuple(region.transformed(turn) for region in motif.join), turn))
    return Affine.from_move(-(left + right) / 2).after(turn)


def _on_the_line(motif: Motif, turned: tuple[Region, ...], turn: Affine) -> tuple[Region, ...]:
    """Return the turned card with its wall added and cut off below y = 0 under the foot."""
    half = motif.foot_mm / 2
    # Walls along the axis as deep as the foot's raised end stands high, and a little more; the cut trims them.
    deep = half * abs(math.tan(_angle(turn))) + half
    walls = Region(rectangle(-half, -deep, half, 0)).transformed(turn)
    reach = 2 * motif.foot_mm / math.cos(_angle(turn)) + deep
    below = Region(rectangle(-reach, -reach - deep, reach, 0))
    return evaluate(difference(union(*turned, walls), below)).regions


def _angle(turn: Affine) -> float:
    return math.atan2(turn.a.imag, turn.a.real)


def _foot_ends(join: tuple[Region, ...]) -> tuple[float, float]:
    """Return the leftmost and rightmost joint on the line y = 0."""
    outlines: tuple[Outline, ...] = tuple(outline for region in join for outline in region.outlines)
    on_line = [s.start.real for o in outlines for s in o.segments if abs(s.start.imag) <= JOINT_MM]
    if len(on_line) < 2:
        box = bounds(outlines)
        return box.left, box.right
    return min(on_line), max(on_line)
