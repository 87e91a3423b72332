"""The further cards of a stack made: each a piece of its own colour, file and limits."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from frameforge.card.preset import Preset
from frameforge.errors import GeometryError
from frameforge.frame.goes_in import goes_in
from frameforge.frame.piece import Piece
from frameforge.frame.spec import PieceSpec, Size
from frameforge.frame.wording import down
from frameforge.geometry.measure import area_mm2, bounds, length_mm
from frameforge.geometry.region import Region
from frameforge.job.checked import findings_of, refuse_refused
from frameforge.job.layer_words import StackCard, stack_told
from frameforge.job.machine import allowances_of, machine_lines, machine_plan
from frameforge.job.made import MadePiece
from frameforge.job.naming import file_word, free_name
from frameforge.job.output import STACK, kinds_of
from frameforge.job.presets import preset_of
from frameforge.job.told import told_apart
from frameforge.recipe.recipe import Recipe
from frameforge.sets.layers import Layer, LayerSpec, layers_of
from frameforge.sets.matching import MatchHole, matching_holes, notch_row
from frameforge.units import format_floor, format_mm

if TYPE_CHECKING:
    from frameforge.geometry.outline import Outline

__all__ = ["stack_holds", "with_layers"]


def with_layers(recipe: Recipe, index: int, spec: PieceSpec, made: MadePiece, beside: Path) -> list[MadePiece]:
    """Return a piece, told of as part of its stack, and the other cards of the stack in the order of the recipe.

    ``beside`` is the recipe's folder. Raises GeometryError for cards that cannot be cut as asked.
    """
    table = recipe.pieces[index]
    names = _names(recipe, made.name, [layer.card for layer in table.layer])
    stack = _stack(recipe, index, spec, made.piece, made.preset, names)
    marks = _Marks.of(table.match, made.preset, stack, made.name)
    pieces: dict[int, MadePiece] = {}
    cards: list[StackCard] = []
    first = made
    for depth, layer in enumerate(stack):
        marked = replace(layer, region=_with_holes(layer.region, marks.at(depth)))
        if layer.number is None:
            first = _measured(recipe, index, replace(made, piece=replace(made.piece, region=marked.region)))
            piece = first
        else:
            shadow = _of_card(recipe, index, table.layer[layer.number].card)
            piece = _card(shadow, index, made, names[layer.number], marked, _place(stack, depth), beside)
            pieces[layer.number] = piece
        cards.append(StackCard(piece.name, piece.card, piece.preset.thickness_mm, marked))
    told = stack_told(cards, marks.holes, marks.notches)
    drawn = tuple((card.layer.region, card.card) for card in reversed(cards))
    files = {**first.files, STACK: f"{first.name}-{STACK}"} if "png" in first.files else first.files
    first = replace(first, sets=(*first.sets, told), stack=drawn, files=files)
    return [first, *(pieces[number] for number in sorted(pieces))]


def stack_holds(recipe: Recipe, index: int, spec: PieceSpec, piece: Piece, preset: Preset, match: str | None) -> bool:
    """Return whether the cards below a piece (or on it) can be made for it, with marks of a kind."""
    names = _names(recipe, piece.name, [layer.card for layer in recipe.pieces[index].layer])
    try:
        _Marks.of(match, preset, _stack(recipe, index, spec, piece, preset, names), piece.name)
    except GeometryError:
        return False
    return True


def _stack(
    recipe: Recipe, index: int, spec: PieceSpec, piece: Piece, preset: Preset, names: Sequence[str]
) -> tuple[Layer, ...]:
    """Return the cards of the stack of a piece. Raises GeometryError for those that cannot be cut as asked."""
    layers = recipe.pieces[index].layer
    orders = [LayerSpec(name, layer.border, layer.opening) for name, layer in zip(names, layers, strict=True)]
    stack = layers_of(piece, orders, preset, has_opening=spec.opening is not None or spec.rim_mm is not None)
    _check_room(spec, piece.size, stack)
    return stack


@dataclass(frozen=True, slots=True)
class _Marks:
    """What the topmost card hides in those below it: two holes, or notches that tell how deep a card lies."""

    holes: tuple[MatchHole, ...] = ()
    notches: tuple[Outline, ...] = ()

    @classmethod
    def of(cls, match: str | None, preset: Preset, stack: Sequence[Layer], where: str) -> _Marks:
        """Return the marks that were asked for. Raises GeometryError where they have no room or nothing to match."""
        cards = [layer.region for layer in stack]
        if match == "holes" and len(cards) < 3:
            say = "the top card hides the matching holes of those below it, and there is one alone to match. "
            raise GeometryError(f"{say}Leave --match out, or write another layer.", where=where, code="no-match")
        if match == "holes":
            return cls(holes=matching_holes(cards, preset, where=where))
        if match == "notches":
            return cls(notches=notch_row(cards, len(cards) - 1, preset, where=where))
        return cls()

    def at(self, depth: int) -> tuple[Outline, ...]:
        """Return what is cut in the card at a depth, 0 for the topmost."""
        return (*(hole.outline() for hole in self.holes), *self.notches[:depth]) if depth else ()


def _names(recipe: Recipe, name: str, colours: Sequence[str]) -> list[str]:
    """Return what the cards are called: "mat-layer-2-cream"."""
    taken = {*recipe.given_names, name}
    found: list[str] = []
    for number, colour in enumerate(colours, start=2):
        found.append(free_name(f"{name}-layer-{number}-{file_word(colour)}", {*taken, *found}))
    return found


def _check_room(spec: PieceSpec, size: Size, stack: Sequence[Layer]) -> None:
    """Refuse a stack whose lowest card does not go in where the piece has to."""
    lowest = stack[-1]
    box = bounds(lowest.region.outer)
    whole = Size(box.width_mm, box.width_mm if size.is_circle else box.height_mm)
    if spec.goes_in is None or lowest.number is None or goes_in(spec, whole, lowest.region):
        return
    across, room = max(box.width_mm, box.height_mm), spec.goes_in
    say = f"with the cards below it {format_mm(across)} across, and {room.words} takes {format_mm(room.short_mm)}."
    fits = down(size.width_mm - (across - room.short_mm), 0.1) if size.is_circle else 0.0
    hint = f"Make the circle {fits:.4g} mm or less" if fits > 0 else "Make the piece smaller"
    raise GeometryError(f"{say} {hint}, or the borders narrower.", where=spec.name, code="too-big-for-envelope")


def _with_holes(region: Region, holes: Sequence[Outline]) -> Region:
    return Region(region.outer, (*region.holes, *holes)) if holes else region


def _of_card(recipe: Recipe, index: int, card: str) -> Recipe:
    """Return the recipe with another colour for a piece, so that the limits and allowances of that hold."""
    pieces = list(recipe.tables.piece)
    pieces[index] = replace(pieces[index], card=card)
    return replace(recipe, tables=replace(recipe.tables, piece=tuple(pieces)))


def _place(stack: Sequence[Layer], depth: int) -> str:
    """Return where in its stack a card lies."""
    layer = stack[depth]
    shows = f"{format_floor(layer.border_mm)} of it shows all round" if depth else "it lies on top"
    return f"layer {depth + 1} of {len(stack)} from the top: {shows}."


def _card(recipe: Recipe, index: int, made: MadePiece, name: str, layer: Layer, place: str, beside: Path) -> MadePiece:
    """Return one card of a stack, checked and measured, that is kept as part of the piece it goes with."""
    found = preset_of(recipe, index, beside)
    box = bounds(layer.region.outer)
    bare = Piece(name, Size(box.width_mm, box.height_mm), layer.region)
    said = (*found.notes, *findings_of(bare, found.preset))
    proper, told = told_apart(replace(one, piece=name) for one in said)
    refuse_refused(name, proper)
    many = "1 gap" if layer.filled == 1 else f"{layer.filled} gaps"
    filled = (f"took {many} between the motifs that are too small for a hole as filled.",) if layer.filled else ()
    piece = replace(bare, findings=proper, notes=(*told, *filled, place))
    files = {kind: f"{name}.{kind}" for kind in kinds_of(recipe.tables.files)}
    card = MadePiece(
        piece=piece,
        card=recipe.pieces[index].card,
        copies=made.copies,
        preset=found.preset,
        files=files,
        box=box,
        area_mm2=0.0,
        cut_length_mm=0.0,
        edges=(),
        neighbours=(),
        origin=made.origin,
        kept_as=made.name,
    )
    return _measured(recipe, index, card)


def _measured(recipe: Recipe, index: int, made: MadePiece) -> MadePiece:
    """Return a piece with its lines planned and measured."""
    allowances = allowances_of(recipe, index, made.preset)
    plan = machine_plan(made.piece.region, allowances, made.preset, made.name)
    planned = replace(
        made,
        area_mm2=area_mm2(made.piece.region),
        plan=plan,
        machine=machine_lines(allowances, plan),
        kerf_mm=allowances.kerf_mm,
    )
    return replace(planned, cut_length_mm=length_mm(segment for run in planned.lines_cut for segment in run))
