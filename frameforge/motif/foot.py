"""A drawing made a motif: stood on its foot, its axis upright, its counters cut through.

Where the drawing states no foot it is found: the foot is where the outline meets the lowest line of its box, its ends
are the outermost such points, the axis is upright through their middle. A drawing that stands on less than the card's
least neck (a heart on its point) is sunk into the edge until it is wide enough there.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise
from typing import Final

from frameforge.errors import InputError
from frameforge.geometry.affine import Affine
from frameforge.geometry.line import Line
from frameforge.geometry.measure import centroid
from frameforge.geometry.outline import Outline, Segment
from frameforge.geometry.region import Region
from frameforge.motif.counters import with_counters_cut
from frameforge.motif.motif import Motif
from frameforge.motif.reach import Reach, meetings
from frameforge.read.drawing import Drawing
from frameforge.tolerances import CLOSE_FEET_MM, FLAT_FOOT_MM, FOOT_BAND_MM, JOINT_MM, SAME_T

__all__ = ["DEEPEST_PART", "NOT_TOUCHING", "footed", "to_motif"]

DEEPEST_PART: Final = 1 / 3
"""Part of its height that a motif may be sunk at most: a flower on a thin stem keeps its stem."""

NOT_TOUCHING: Final = "parts that do not touch"
"""By these words the note on loose parts of a drawing is known: needless where they are tied or left out."""

UPRIGHT_DEG: Final = 1.0
"""An axis drawn further than this off the upright is named in a note; less is a hand's unsteadiness."""

FOOT_DECIMALS: Final = 9
"""The difference of two page coordinates carries rounding from here on (4.3999999999999995 for 4.4)."""

Ends = tuple[complex, complex]


def to_motif(drawing: Drawing, name: str, *, least_neck_mm: float, where: str = "") -> Motif:
    """Return the drawing as a motif in mm: foot line y = 0, middle of the foot x = 0, outward up.

    A stated foot is taken as it is drawn and levelled by turning the drawing. ``least_neck_mm`` is the narrowest foot
    that holds; a foot that is found and narrower is widened by sinking, and a note says how far.
    Raises InputError where the stated foot has no length.
    """
    plain = _counters_cut(drawing)
    if plain.foot is None:
        return _found(_upright(plain), name, least_neck_mm)
    ends, notes = _outward_up(plain, plain.foot, where or name)
    return _standing(plain, name, ends, is_foot_stated=True, sink_mm=0.0, notes=notes)


def _counters_cut(drawing: Drawing) -> Drawing:
    join, window = with_counters_cut(drawing.join, drawing.window)
    return replace(drawing, join=join, window=window)


def _regions(drawing: Drawing) -> tuple[Region, ...]:
    """Return the part that stands on the foot: what is joined on, else what is cut."""
    return drawing.join or drawing.cut_away or drawing.window


# --- a foot that is stated


def _outward_up(drawing: Drawing, foot: Ends, where: str) -> tuple[Ends, tuple[str, ...]]:
    """Return the foot ends, left first as seen with outward up, and notes.

    Outward is where the axis points; without an axis it is the side on which most of the drawing lies, or, of a drawing
    that cuts edge away, the side away from that.
    """
    left, right = foot
    if abs(right - left) <= JOINT_MM:
        say = "the foot line has no length. Draw it from the left to the right foot end."
        raise InputError(say, where=where, code="foot")
    if drawing.axis is None and drawing.cut_away:
        outward = (left + right) / 2 - centroid(drawing.cut_away)
    elif drawing.axis is None:
        outward = centroid(_regions(drawing)) - (left + right) / 2
    else:
        outward = drawing.axis[1] - drawing.axis[0]
    lean = cmath.phase(outward / ((right - left) * 1j)) if outward else 0.0
    if abs(lean) > math.pi / 2:
        left, right, lean = right, left, abs(lean) - math.pi
    if drawing.axis is None or abs(math.degrees(lean)) <= UPRIGHT_DEG:
        return (left, right), ()
    say = f"the axis is drawn {abs(math.degrees(lean)):.0f} degrees off the upright of the foot line; took the foot."
    return (left, right), (say,)


# --- a foot that is found


def _upright(drawing: Drawing) -> Drawing:
    """Return the drawing turned so that a stated axis points up; without one, as it is."""
    if drawing.axis is None or drawing.axis[1] == drawing.axis[0]:
        return drawing
    turn = Affine.from_turn(math.pi / 2 - cmath.phase(drawing.axis[1] - drawing.axis[0]))
    return _moved(drawing, turn)


def _found(drawing: Drawing, name: str, least_neck_mm: float) -> Motif:
    """Return the motif on the foot that the lowest line of its box gives, or, of a corner drawing, on its mouth."""
    if (mouth := _mouth(drawing)) is not None:
        say = f"no foot is marked; took the mouth of what is cut away, {_cut(_across(mouth))} mm, its tip at the edge."
        return _standing(drawing, name, mouth, is_foot_stated=False, sink_mm=0.0, notes=(say,))
    reach = Reach(region.outer for region in _regions(drawing))
    ends, say = _stance(reach, least_neck_mm)
    sink_mm = ends[0].imag - reach.lowest
    return _standing(drawing, name, ends, is_foot_stated=False, sink_mm=sink_mm, notes=(say,))


def _stance(reach: Reach, least_neck_mm: float, scale: float = 1.0) -> tuple[Ends, str]:
    """Return the ends, on a level, of the foot that outlines stand on, and what is said of it.

    ``least_neck_mm`` is as wide as a foot must be in the drawing, ``scale`` how many times as large it will be cut.
    """
    bottom = reach.lowest
    flat = reach.ends(bottom + FLAT_FOOT_MM)
    band = reach.ends(bottom + FOOT_BAND_MM)
    # Walls that flare by less than 45 degrees widen the band by less than twice its height: the flat part is the foot.
    ends = flat if _across(flat) >= max(least_neck_mm, _across(band) - 2 * FOOT_BAND_MM) else band
    level = max(end.imag for end in ends)
    if _across(ends) >= least_neck_mm:
        say = f"no foot is marked; took the {_cut(_across(ends) * scale)} mm on which it stands."
        return _level(ends, level), say
    stands = f"it stands on {_cut(_across(ends) * scale)} mm, this card needs {_cut(least_neck_mm * scale)} mm"
    deepest = bottom + DEEPEST_PART * (reach.highest - bottom)
    if reach.width_mm(deepest) < least_neck_mm:
        return _level(ends, level), f"{stands} and no sinking mends it. Make its foot wider, or draw it a broader stem."
    level = reach.level_for(least_neck_mm, bottom, deepest, within_mm=JOINT_MM)
    say = f"{stands}; sunk {(level - bottom) * scale:.2f} mm into the edge so that it holds."
    return _level(reach.ends(level), level), say


def _mouth(drawing: Drawing) -> Ends | None:
    """Return the ends of the mouth of what is cut away, on a level with the tip; None unless the card lies in there.

    Such a drawing takes the place of a bit of edge: its cut-away is open at the top, and its card rises from the floor
    of that no higher than the edge.
    """
    if not drawing.cut_away:
        return None
    flip = Affine(0, 1)
    cut, card = (Reach(r.outer.transformed(flip) for r in regions) if regions else None
                 for regions in (drawing.cut_away, drawing.join))  # fmt: skip
    assert cut is not None
    top = -cut.lowest
    tip = -card.lowest if card else top
    if card and not (tip <= top + FOOT_BAND_MM and card.highest >= cut.highest):
        return None
    return _level(cut.ends(cut.lowest + FOOT_BAND_MM), tip)


def _across(ends: Ends) -> float:
    return ends[1].real - ends[0].real


def _level(ends: Ends, level: float) -> Ends:
    return complex(ends[0].real, level), complex(ends[1].real, level)


def _cut(length_mm: float) -> str:
    """Return a width as it is told: cut to .01 mm, never rounded up."""
    return f"{math.floor(length_mm * 100 + 1e-6) / 100:.2f}"


@lru_cache(maxsize=32)
def _reach_of(motif: Motif) -> Reach:
    return Reach(region.outer for region in motif.join)


def footed(motif: Motif, scale: float, least_neck_mm: float) -> Motif:
    """Return a motif on the foot that holds when it is cut ``scale`` (above 0) times as large; it is not scaled yet.

    A foot that was found is found anew: a motif made larger needs less sinking, one made smaller more. What states its
    foot, cuts edge away or joins no card on stays as it is.
    """
    if motif.is_foot_stated or motif.cut_away or not motif.join:
        return motif
    reach = _reach_of(motif)
    # A hair wider, so that it is as wide as it must be after scaling too.
    ends, say = _stance(reach, least_neck_mm / scale * (1 + 1e-9), scale)
    if abs(ends[0].imag) <= CLOSE_FEET_MM:
        if motif.foot_mm * scale >= least_neck_mm or ends[0].imag <= 0:
            ends = complex(-motif.foot_mm / 2, 0), complex(motif.foot_mm / 2, 0)
        else:
            ends = _level(reach.ends(CLOSE_FEET_MM), CLOSE_FEET_MM)
    notes = tuple(say if note == motif.foot_note else note for note in motif.notes)
    moved = replace(motif, notes=notes, foot_note=say if motif.foot_note else "")
    if ends[0].imag == 0:
        return moved
    onto = Affine.from_move(-(ends[0] + ends[1]) / 2)
    half = _across(ends) / 2
    jointed = _jointed_regions(tuple(region.transformed(onto) for region in motif.regions), half)
    standing = moved.with_regions(_snapped(jointed, half))
    return replace(standing, foot_mm=2 * half, sink_mm=ends[0].imag - reach.lowest)


# --- standing


def _standing(
    drawing: Drawing, name: str, ends: Ends, *, is_foot_stated: bool, sink_mm: float, notes: tuple[str, ...]
) -> Motif:
    """Return the motif with the foot ends moved to (-w/2, 0) and (w/2, 0)."""
    left, right = ends
    # A found foot is as wide as the curves are there; rounded it would miss them by what shows in the result.
    foot_mm = round(abs(right - left), FOOT_DECIMALS) if is_foot_stated else abs(right - left)
    onto = Affine.from_move(-(left + right) / 2)
    if left.imag != right.imag:
        onto = Affine.from_turn(-cmath.phase(right - left)).after(onto)
    moved = _moved(drawing, onto)
    half = foot_mm / 2
    if not is_foot_stated:
        moved = _jointed(moved, half)
    moved = _with_parts(moved, lambda regions: _snapped(regions, half))
    return Motif(
        name=name,
        join=moved.join,
        foot_mm=foot_mm,
        cut_away=moved.cut_away,
        window=moved.window,
        sink_mm=sink_mm,
        is_foot_stated=is_foot_stated,
        notes=drawing.notes + notes + _loose_note(drawing),
        findings=drawing.findings,
        foot_note="" if is_foot_stated else notes[0],
    )


def _loose_note(drawing: Drawing) -> tuple[str, ...]:
    """Return a note where the card of the drawing is several parts that do not touch."""
    count = len(drawing.join)
    if count < 2:
        return ()
    return (f"it is {count} {NOT_TOUCHING}; a part that does not reach the edge falls off.",)


def _moved(drawing: Drawing, affine: Affine) -> Drawing:
    return _with_parts(drawing, lambda regions: tuple(region.transformed(affine) for region in regions))


def _with_parts(drawing: Drawing, change: Callable[[tuple[Region, ...]], tuple[Region, ...]]) -> Drawing:
    """Return the drawing with every part changed in the same way."""
    join, cut_away, window = change(drawing.join), change(drawing.cut_away), change(drawing.window)
    return replace(drawing, join=join, cut_away=cut_away, window=window)


def _jointed(drawing: Drawing, half_mm: float) -> Drawing:
    """Return the drawing with a joint at each foot end that lies within a segment, for the root to meet to the bit.

    Without it root and outline would cross a rounding error away from the foot end and leave lines as short as that.
    """
    return _with_parts(drawing, lambda regions: _jointed_regions(regions, half_mm))


def _jointed_regions(regions: tuple[Region, ...], half_mm: float) -> tuple[Region, ...]:
    """Return regions with a joint at each foot end."""

    def cut(segment: Segment) -> list[Segment]:
        ts = [0.0]
        for t in sorted(meetings(segment, 0.0)):
            if abs(abs(segment.point(t).real) - half_mm) <= JOINT_MM and ts[-1] + SAME_T < t < 1 - SAME_T:
                ts.append(t)
        return [segment] if len(ts) == 1 else [segment.piece(a, b) for a, b in pairwise((*ts, 1.0))]

    def jointed(outline: Outline) -> Outline:
        return Outline(tuple(piece for segment in outline.segments for piece in cut(segment)))

    return tuple(Region(jointed(region.outer), tuple(map(jointed, region.holes))) for region in regions)


def _snapped(regions: tuple[Region, ...], half_mm: float) -> tuple[Region, ...]:
    """Return the regions with joints that lie on the foot line but for rounding put onto it, foot ends to the bit."""
    return tuple(
        Region(_snapped_outline(region.outer, half_mm), tuple(_snapped_outline(hole, half_mm) for hole in region.holes))
        for region in regions
    )


def _snapped_outline(outline: Outline, half_mm: float) -> Outline:
    def onto(point: complex) -> complex:
        if abs(point.imag) > JOINT_MM:
            return point
        side = math.copysign(half_mm, point.real)
        return complex(side if abs(point.real - side) <= JOINT_MM else point.real, 0.0)

    def snapped(segment: Segment) -> Segment:
        start, end = onto(segment.start), onto(segment.end)
        return segment if start == segment.start and end == segment.end else segment.with_ends(start, end)

    found = tuple(snapped(segment) for segment in outline.segments)
    return Outline(tuple(one for one in found if not (isinstance(one, Line) and one.start == one.end)))
