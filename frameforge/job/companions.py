"""What folds, lids and stands add to a piece: lines to crease, words on how it is put together, further pieces."""

from __future__ import annotations

from dataclasses import replace

from frameforge.finding import Finding
from frameforge.frame.base import Edge
from frameforge.frame.crease import Chain, round_creases
from frameforge.frame.piece import Piece
from frameforge.frame.spec import FlangeSpec, PieceSpec, Size, StandSpec
from frameforge.geometry.measure import area_mm2, bounds, length_mm
from frameforge.geometry.region import Region
from frameforge.job.checked import findings_of, refuse_refused
from frameforge.job.folded import CREASE_STEPS, crease_words, fold_told
from frameforge.job.lid_words import LidTold, flange_told, strip_told
from frameforge.job.machine import allowances_of, machine_lines, machine_plan
from frameforge.job.made import MadePiece
from frameforge.job.naming import free_name
from frameforge.job.output import kinds_of
from frameforge.job.sheet_terms import default_size, terms_of
from frameforge.job.stand_words import stand_told
from frameforge.job.told import told_apart
from frameforge.recipe.model import CardTable, LidTable
from frameforge.recipe.recipe import Recipe
from frameforge.sets.lid import fewest_parts, strip_for
from frameforge.sets.stand_foot import foot_card, foot_slot_mm

__all__ = ["with_companions"]


def with_companions(recipe: Recipe, index: int, spec: PieceSpec, made: MadePiece) -> list[MadePiece]:
    """Return a piece with what its fold, lid or stand adds to it, and the further pieces of these.

    ``spec`` is the order of the piece, settled. Raises GeometryError where a crease has no card to lie on.
    """
    made = _folded(recipe, spec, made)
    for lid in recipe.pieces[index].lid:
        return _with_lid(recipe, index, spec, lid, made)
    if spec.stand is not None:
        return _with_stand(recipe, index, spec.stand, made)
    return [made]


def _folded(recipe: Recipe, spec: PieceSpec, made: MadePiece) -> MadePiece:
    """Return a piece with the crease and the words of its fold, as it is for one without a fold."""
    told = fold_told(spec, made.piece, made.preset)
    if told is None:
        return made
    return replace(_creased(recipe, made, told.creases, told.notes()), fold=told)


def _creased(recipe: Recipe, made: MadePiece, creases: tuple[Chain, ...], notes: tuple[str, ...]) -> MadePiece:
    """Return a piece with lines to crease, and words on them."""
    said = f"{crease_words(creases)}. {CREASE_STEPS}"
    kinds = kinds_of(recipe.tables.files, "crease", *(("mark",) if made.marks else ()))
    if "crease.svg" in kinds:
        said += f" A program that cuts all it sees takes {made.name}.crease.svg and {made.name}.cut.svg in turn."
    return replace(
        made,
        piece=replace(made.piece, notes=(*made.piece.notes, *notes, said)),
        files={kind: f"{made.name}.{kind}" for kind in kinds},
        creases=creases,
    )


def _with_lid(recipe: Recipe, index: int, spec: PieceSpec, lid: LidTable, made: MadePiece) -> list[MadePiece]:
    """Return the disc of a lid, and the strip of its wall where it has one."""
    size = made.piece.size
    flange = made.piece.flange
    if flange is not None and isinstance(spec.flange, FlangeSpec):
        creases = round_creases(spec.flange.crease, Edge.from_size(size), made.preset)
        told = flange_told(lid.height, flange)
        return [replace(_creased(recipe, made, creases, told.notes), lid=told)]
    strip = strip_for(size, lid.height, lid.lap, made.preset.thickness_mm, lid.parts)
    terms = terms_of(recipe.tables.sheets, recipe.tables.card.get(made.card or "", CardTable()), default_size(recipe))
    sheet = max(terms.sizes, key=lambda one: max(one.width_mm, one.height_mm))
    room = max(sheet.width_mm, sheet.height_mm) - 2 * terms.margin_mm
    parts = fewest_parts(size, lid.lap, made.preset.thickness_mm, room) if strip.length_mm > room else None
    shorter = strip_for(size, lid.height, lid.lap, made.preset.thickness_mm, parts) if parts else None
    told = strip_told(strip, sheet.words, terms.margin_mm, room, shorter)
    disc = replace(made, piece=replace(made.piece, notes=(*made.piece.notes, *told.notes)), lid=told)
    wall = Piece(_further_name(recipe, f"{made.name}-strip"), Size(strip.length_mm, strip.height_mm), strip.card)
    return [disc, _further(recipe, index, made, wall, copies=made.copies * lid.parts, lid=told)]


def _with_stand(recipe: Recipe, index: int, stand: StandSpec, made: MadePiece) -> list[MadePiece]:
    """Return a piece with slots, and the foot that goes into them; slots that are narrow on purpose are no findings."""
    slots, preset = made.piece.slots, made.preset
    card = foot_card(stand, preset.thickness_mm, slots[0].foot_mm)
    notes = stand_told(stand, slots, foot_slot_mm(stand, preset.thickness_mm))
    kept = tuple(one for one in made.findings if not _is_of_slot(one, made.piece))
    piece = replace(made.piece, findings=kept, notes=(*made.piece.notes, *notes))
    foot = Piece(_further_name(recipe, f"{made.name}-foot"), Size(stand.size_mm, stand.size_mm / 2), card)
    further = _further(recipe, index, made, foot, copies=made.copies * stand.feet)
    alone = tuple(one for one in further.findings if one.code not in _OF_SLOTS)
    return [replace(made, piece=piece), replace(further, piece=replace(further.piece, findings=alone))]


_OF_SLOTS = ("narrow-slot", "near-miss")


def _is_of_slot(finding: Finding, piece: Piece) -> bool:
    """Whether a finding is that a slot of the stand is narrow, as it has to be."""
    spot = finding.place
    return finding.code in _OF_SLOTS and spot is not None and any(slot.holds(spot) for slot in piece.slots)


def _further_name(recipe: Recipe, name: str) -> str:
    """Return a name that no piece of the recipe has."""
    return free_name(name, {piece.name for piece in recipe.pieces if piece.name})


def _further(
    recipe: Recipe, index: int, made: MadePiece, piece: Piece, *, copies: int, lid: LidTold | None = None
) -> MadePiece:
    """Return a further piece of the same card, checked and measured, that is kept as part of the piece it goes with."""
    preset = made.preset
    proper, told = told_apart(replace(one, piece=piece.name) for one in findings_of(piece, preset))
    refuse_refused(piece.name, proper)
    allowances = allowances_of(recipe, index, preset)
    plan = machine_plan(piece.region, allowances, preset, piece.name)
    region: Region = piece.region
    return MadePiece(
        piece=replace(piece, findings=proper, notes=(*told, f"goes with {made.name}.")),
        card=made.card,
        copies=copies,
        preset=preset,
        files={kind: f"{piece.name}.{kind}" for kind in kinds_of(recipe.tables.files)},
        box=bounds(region),
        area_mm2=area_mm2(region),
        cut_length_mm=length_mm((segment for run in plan.runs for segment in run) if plan else region),
        edges=(),
        neighbours=(),
        plan=plan,
        machine=machine_lines(allowances, plan),
        kerf_mm=allowances.kerf_mm,
        origin=made.origin,
        kept_as=made.name,
        lid=lid,
    )
