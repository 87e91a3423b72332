"""What is said of a stack of cards: colours, sizes and borders, how thick it all is, in which order to glue."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from frameforge.geometry.measure import area_mm2, bounds, length_mm
from frameforge.geometry.outline import Outline
from frameforge.job.inside_words import size_of
from frameforge.job.set_told import SetTold
from frameforge.sets.layers import Layer
from frameforge.sets.matching import MatchHole
from frameforge.units import format_floor

__all__ = ["StackCard", "stack_told"]


@dataclass(frozen=True, slots=True)
class StackCard:
    """A card of a stack, from the top down: what its piece and its colour are called, how thick it is (mm)."""

    name: str
    card: str | None
    thickness_mm: float
    layer: Layer


def stack_told(cards: Sequence[StackCard], holes: Sequence[MatchHole] = (), notches: Sequence[Outline] = ()) -> SetTold:
    """Return what is said of a stack, its top first; ``holes`` and ``notches`` are hidden in all but the topmost."""
    thick = sum(card.thickness_mm for card in cards)
    lead = f"Stack of {len(cards)} cards, {format_floor(thick)} thick, from the top down:"
    head = ("layer", "card", "piece", "across", "border", "opening")
    rows = [_row(k, card) for k, card in enumerate(cards, start=1)]
    values = [_values(k, card) for k, card in enumerate(cards, start=1)]
    notes = (_gluing(cards), *_matching(holes, notches, len(cards)))
    short = (
        ("layer", "card", "across", "border", "opening"),
        *(_short_row(k, c) for k, c in enumerate(cards, start=1)),
    )
    return SetTold("layers", "Layers, from the top down", lead, (head, *rows), notes, values, short)


def _row(number: int, card: StackCard) -> tuple[str, ...]:
    layer = card.layer
    border = format_floor(layer.border_mm) if layer.border_mm else "-"
    opening = size_of(layer.opening) if layer.opening else "-"
    return (str(number), card.card or "-", card.name, size_of(layer.region.outer), border, opening)


def _short_row(number: int, card: StackCard) -> tuple[str, ...]:
    """Return a row for the terminal: without inches, without the piece, which is told below."""
    cells = _row(number, card)
    return (cells[0], cells[1], *(cell.partition(" (")[0] for cell in cells[3:]))


def _gluing(cards: Sequence[StackCard]) -> str:
    """Return the order of gluing: from the lowest up."""
    below, *others = reversed(cards)
    words = [f"lay {_called(below, cards)} down"]
    for above in others:
        shows = f"{format_floor(below.layer.border_mm)} of {_called(below, cards)}"
        words.append(f"glue {_called(above, cards)} on it with {shows} showing all round")
        below = above
    return f"To put it together: {', '.join(words)}."


def _called(card: StackCard, cards: Sequence[StackCard]) -> str:
    """Return a card by its colour where no other has the same, else by the name of its piece."""
    is_single = sum(other.card == card.card for other in cards) == 1
    return card.card if card.card and is_single else card.name


def _matching(holes: Sequence[MatchHole], notches: Sequence[Outline], count: int) -> list[str]:
    if holes:
        sizes = " and ".join(f"{hole.diameter_mm:g}" for hole in holes)
        return [
            f"Matching holes of {sizes} mm in the {count - 1} cards below the top one, which hides them: put two pins "
            "through, the cards go together one way only."
        ]
    if notches:
        return ["Square notches that the top card hides tell the order: layer 2 has 1, and each card below one more."]
    return []


def _values(number: int, card: StackCard) -> dict[str, Any]:
    layer, box = card.layer, bounds(card.layer.region.outer)
    return {
        "layer": number,
        "name": card.name,
        "card": card.card,
        "border_mm": layer.border_mm or None,
        "width_mm": box.width_mm,
        "height_mm": box.height_mm,
        "edge_mm": length_mm(layer.region.outer),
        "area_mm2": area_mm2(layer.region),
        "thickness_mm": card.thickness_mm,
    }
