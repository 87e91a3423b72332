"""Cards of a stack: each an even border wider than the one above it, or narrower and on top, along true parallels.

Borders add up: a parallel of a parallel is the parallel by the sum, so every card is drawn from the piece itself and
none carries on what a fit of the one before it left.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from frameforge.card.preset import Preset
from frameforge.errors import GeometryError
from frameforge.frame.base import Edge
from frameforge.frame.piece import Piece
from frameforge.frame.wording import down, round_words
from frameforge.geometry.measure import area_mm2
from frameforge.geometry.outline import Outline
from frameforge.geometry.parallel import parallel
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle
from frameforge.sets.bond import holds
from frameforge.sets.ring_limits import lies_within, stays_clear
from frameforge.tolerances import FIT_MM
from frameforge.units import format_floor

__all__ = ["Layer", "LayerSpec", "Opening", "layers_of", "opening_of"]

Opening = Literal["follow", "same", "closed"]
"""What becomes of the opening: the border shows in it too, it stays as the card before has it, or there is none."""

_STEP_MM = 0.01
_FEW = 8
_FINE_FIT_MM = 1e-4
"""How near to the true parallel of a plain edge its cubics lie: there are few, so that finer ones cost nothing."""


@dataclass(frozen=True, slots=True)
class LayerSpec:
    """A card: how much wider than the one above it, mm; below 0 how much narrower than the topmost, lying on that."""

    name: str
    border_mm: float
    opening: Opening = "follow"


@dataclass(frozen=True, slots=True)
class Layer:
    """A card of a stack, mm, y up. ``border_mm`` is how much of it shows round the card above it, of the topmost 0.

    ``number`` is that of its order, None for the piece itself. ``grown_mm`` is how far its outside lies outside that of
    the piece. ``filled`` counts the gaps between motifs that were too small for a hole and are filled.
    """

    region: Region
    border_mm: float
    grown_mm: float
    number: int | None = None
    opening: Outline | None = None
    filled: int = 0


def opening_of(piece: Piece) -> Outline | None:
    """Return the hole in the middle of a piece; None where there is card."""
    return next((hole for hole in piece.region.holes if holds(hole, 0j)), None)


def layers_of(piece: Piece, specs: Sequence[LayerSpec], preset: Preset, *, has_opening: bool) -> tuple[Layer, ...]:
    """Return the stack from the top down, the piece itself among its cards.

    Windows of the piece show the card below it and are cut in none of the others; round holes asked for go through all.
    Raises GeometryError where an inward border leaves nothing, comes to a point, or falls into parts, and where an
    opening closes or meets the outside.
    """
    middle = opening_of(piece) if has_opening else None
    top = low = Layer(piece.region, 0.0, 0.0, None, middle)
    opened: dict[int | None, tuple[bool, float]] = {None: (middle is not None, 0.0)}
    stack = [top]
    for number, spec in enumerate(specs):
        before = low if spec.border_mm > 0 else top
        is_open, moved = opened[before.number]
        is_open = is_open and spec.opening != "closed"
        moved += spec.border_mm if spec.opening == "follow" else 0.0
        grown = before.grown_mm + spec.border_mm
        made = _layer(piece, spec, number, grown, middle if is_open else None, moved, preset)
        opened[number] = is_open, moved
        if spec.border_mm > 0:
            low, stack = made, [*stack, made]
        else:
            top, stack = made, [made, *stack]
    return tuple(_with_borders(stack))


def _with_borders(stack: Sequence[Layer]) -> list[Layer]:
    """Return the cards, each with what shows of it round the one above it."""
    found = []
    for k, layer in enumerate(stack):
        border = layer.grown_mm - stack[k - 1].grown_mm if k else 0.0
        found.append(Layer(layer.region, border, layer.grown_mm, layer.number, layer.opening, layer.filled))
    return found


def _layer(
    piece: Piece, spec: LayerSpec, number: int, grown_mm: float, middle: Outline | None, moved_mm: float, preset: Preset
) -> Layer:
    """Return the card whose outside lies ``grown_mm`` outside the piece's, its opening drawn in by ``moved_mm``."""
    outside, filled = _outside(piece, spec, grown_mm, preset)
    openings = _openings(spec, middle, moved_mm)
    gaps = outside.holes
    for opening in openings:
        if not lies_within(opening, outside.outer) or not stays_clear(opening, gaps):
            say = "its opening meets its outside. Take a smaller border, or opening closed."
            raise GeometryError(say, where=spec.name, code="no-rim")
    holes = _holes(piece, spec, outside.outer, (*openings, *gaps))
    cut = (*(opening.reversed() for opening in openings), *gaps, *holes)
    return Layer(Region(outside.outer, cut), 0.0, grown_mm, number, openings[0] if openings else None, filled)


def _holes(piece: Piece, spec: LayerSpec, outside: Outline, cut: Sequence[Outline]) -> list[Outline]:
    """Return the round holes of the piece that go through a card, clockwise; one where it has no card goes beside it.

    Raises GeometryError for one that its edge runs through.
    """
    found = []
    for place in piece.holes:
        hole = circle(place.middle, place.diameter_mm / 2)
        if not stays_clear(hole, (outside, *cut)):
            say = "its edge runs through a hole of the piece. Take another border, or write another place for the hole."
            raise GeometryError(say, where=spec.name, code="no-room")
        if holds(outside, place.middle) and not any(holds(other, place.middle) for other in cut):
            found.append(hole.reversed())
    return found


def _outside(piece: Piece, spec: LayerSpec, grown_mm: float, preset: Preset) -> tuple[Region, int]:
    """Return the area inside a card's outside, with the gaps in it that are large enough for a hole, and how many are
    not and were filled."""
    outline = piece.region.outer
    if grown_mm == 0:
        return Region(outline), 0
    if grown_mm < 0:
        _check_inset(piece, spec, -grown_mm)
    regions = _parallel(outline, grown_mm)
    if not regions:
        say = f"nothing is left {format_floor(-grown_mm)} inside the edge. Take a smaller border."
        raise GeometryError(say, where=spec.name, code="inset", inset_mm=-grown_mm)
    if len(regions) > 1:
        inside = format_floor(-grown_mm)
        say = f"{inside} inside the edge the card falls into {len(regions)} parts. Take a smaller border."
        raise GeometryError(say, where=spec.name, code="loose", parts=len(regions))
    region = regions[0]
    kept = [hole for hole in region.holes if _takes_hole(hole, preset)]
    return Region(region.outer, tuple(kept)), len(region.holes) - len(kept)


def _parallel(outline: Outline, distance_mm: float) -> tuple[Region, ...]:
    """Return what an outline encloses, grown or shrunk; a plain edge more finely than one of many motifs."""
    fit = _FINE_FIT_MM if len(outline.segments) <= _FEW else FIT_MM
    return parallel(Region(outline), distance_mm, fit_mm=fit)


def _takes_hole(hole: Outline, preset: Preset) -> bool:
    """Whether a gap is no crumb and as wide somewhere as the least hole."""
    gap = Region(hole.reversed())
    return area_mm2(gap) >= preset.crumb_mm2 and bool(parallel(gap, -preset.least_hole_mm / 2))


def _check_inset(piece: Piece, spec: LayerSpec, inset_mm: float) -> None:
    """Refuse an inward border past which the edge of a plain oval comes to a point: short half squared over long."""
    edge = Edge.from_size(piece.size)
    limit = edge.least_radius_mm
    if any(row.place != "window" for row in piece.rows) or inset_mm < limit - 1e-9:
        return
    if edge.is_circle:
        say = f"nothing is left {format_floor(inset_mm)} inside the edge of {round_words(piece.size)}."
    else:
        say = (
            f"{format_floor(inset_mm)} inside the edge of {round_words(piece.size)} no border is even all round: "
            f"{format_floor(limit)} in from its ends the edge comes to a point."
        )
    most = down(limit - 1e-6, _STEP_MM)
    say += f" Take {most:.2f} mm in all or less."
    raise GeometryError(say, where=spec.name, code="inset", inset_mm=inset_mm, limit_mm=limit)


def _openings(spec: LayerSpec, middle: Outline | None, moved_mm: float) -> list[Outline]:
    """Return the openings of a card, counter-clockwise: that of the piece drawn in, or let out for values below 0."""
    if middle is None:
        return []
    regions = _parallel(middle.reversed(), -moved_mm)
    if not regions:
        say = (
            "its opening closes, since so much of the card shall show in it. Take a smaller border, or opening closed."
        )
        raise GeometryError(say, where=spec.name, code="no-opening")
    ordered = sorted(regions, key=area_mm2, reverse=True)
    return [region.outer for region in ordered]
