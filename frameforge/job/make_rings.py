"""Rings of a recipe made: one piece of work whose cards share their lines."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import partial

from frameforge.card.preset import Preset
from frameforge.errors import FrameforgeError
from frameforge.finding import Finding
from frameforge.frame.make import make_piece
from frameforge.frame.piece import Piece, RowResult
from frameforge.frame.spec import PieceSpec
from frameforge.geometry.measure import area_mm2, bounds, length_mm
from frameforge.job.bond_plan import bond_plan
from frameforge.job.checked import findings_of, refuse_refused
from frameforge.job.edge_words import edge_words
from frameforge.job.looking import remembered
from frameforge.job.machine import allowances_of, machine_lines
from frameforge.job.made import MadePiece
from frameforge.job.motif_notes import motif_notes
from frameforge.job.motif_source import MotifSource
from frameforge.job.naming import free_name, rings_name
from frameforge.job.neighbours import neighbour_gaps
from frameforge.job.output import kinds_of
from frameforge.job.presets import preset_of
from frameforge.job.rests import settle_rests
from frameforge.job.ring_words import burnt_thin, rings_told
from frameforge.job.seats import SeatsTold, seats_of
from frameforge.job.told import told_apart
from frameforge.motif.motif import Motif
from frameforge.recipe.recipe import Recipe
from frameforge.recipe.to_spec import rings_spec, row_at
from frameforge.sets.ring_limits import ring_words
from frameforge.sets.ring_ways import make_rings
from frameforge.sets.rings import Rings

__all__ = ["made_rings"]


def made_rings(recipe: Recipe, index: int, source: MotifSource, taken: Collection[str]) -> MadePiece:
    """Return the rings at ``index`` (from 0) of a recipe, made and measured; ``taken`` are names in use.

    Raises InputError, GeometryError and FindingsError for what cannot be made as asked.
    """
    table = recipe.tables.rings[index]
    found_preset = preset_of(recipe, index, source.beside, "rings")
    preset = found_preset.preset
    makers = _Makers(recipe, index, source, preset)
    rings = makers.rings(table.name or _place(recipe, index))
    told_rows = makers.rows(rings, preset)
    results = [row.result for row in told_rows]
    name = table.name or free_name(rings_name(table.sizes, results), {*taken, *recipe.given_names})
    allowances = allowances_of(recipe, index, preset, "rings")
    said = (*found_preset.notes, *makers.notes, *_found(rings, preset), *burnt_thin(rings, allowances.kerf_mm, preset))
    proper, told = told_apart(replace(finding, piece=name) for finding in said)
    refuse_refused(name, proper)
    notes = tuple(dict.fromkeys((*told, *(note for ring in rings.rings for note in ring.piece.notes))))
    whole = Piece(name, table.sizes[-1], rings.bond.whole, tuple(results), proper, notes)
    plan = bond_plan(rings.bond, allowances, preset, name)
    made = MadePiece(
        piece=whole,
        card=table.card,
        copies=table.copies,
        preset=preset,
        files={kind: f"{name}.{kind}" for kind in kinds_of(recipe.tables.files)},
        box=bounds(whole.region),
        area_mm2=area_mm2(whole.region),
        cut_length_mm=0.0,
        edges=tuple(row.edge for row in told_rows),
        neighbours=tuple(row.neighbours for row in told_rows),
        plan=plan,
        machine=machine_lines(allowances, plan),
        kerf_mm=allowances.kerf_mm,
        seats=makers.seats(rings, preset),
        origin=("rings", index),
        bond=rings.bond,
        sets=(rings_told(rings, allowances.kerf_mm),),
    )
    return replace(made, cut_length_mm=length_mm(segment for run in made.lines_cut for segment in run))


def _place(recipe: Recipe, index: int) -> str:
    """Return where rings without a name stand: which of several they are only where there are several."""
    source = recipe.source
    return source.place(("rings", index)) if len(recipe.tables.rings) > 1 else source.name or source.command


@dataclass(frozen=True, slots=True)
class _ToldRow:
    """A row with the words for its edge and the gaps that other counts would leave."""

    result: RowResult
    edge: str
    neighbours: Mapping[int, float]


@dataclass(slots=True)
class _Makers:
    """Makes the pieces of a set one by one, and keeps their orders as settled, and what was said on the way."""

    recipe: Recipe
    index: int
    source: MotifSource
    preset: Preset
    orders: list[PieceSpec] = field(default_factory=list)
    numbers: list[tuple[int, ...]] = field(default_factory=list)
    notes: list[Finding] = field(default_factory=list)

    def rings(self, name: str) -> Rings:
        """Return the rings, their bond found good; faults are said of ``name``."""
        loader = partial(self.source.load, least_neck_mm=self.preset.least_neck_mm)
        rings = make_rings(rings_spec(self.recipe, self.index, name, loader), self.preset, self.make)
        for fault in rings.bond.faults():
            raise FrameforgeError(f"the rings do not hang together as they should ({fault}).", where=name)
        return rings

    def make(self, order: PieceSpec, rows: tuple[int, ...]) -> Piece:
        """Return the piece of an order; ``rows`` are the numbers of its rows in the recipe."""
        settled, notes = settle_rests(order, self.preset, partial(self._fillers, rows))
        self.orders.append(settled)
        self.numbers.append(rows)
        made = remembered((settled, self.preset), lambda: make_piece(settled, self.preset))
        self.notes += [*motif_notes(settled, made.rows), *notes]
        return made

    def rows(self, rings: Rings, preset: Preset) -> list[_ToldRow]:
        """Return all rows of a set in the order of the recipe."""
        found: dict[int, _ToldRow] = {}
        for ring, order, numbers in zip(rings.rings, self.orders, self.numbers, strict=True):
            near = neighbour_gaps(order, ring.piece, preset)
            for k, number in enumerate(numbers):
                words = edge_words(order, order.rows[k], ring.piece)
                found[number] = _ToldRow(ring.piece.rows[k], words, near[k])
        return [found[number] for number in sorted(found)]

    def seats(self, rings: Rings, preset: Preset) -> tuple[SeatsTold, ...]:
        """Return the bent rows beside the same ones as drawn."""
        made = zip(rings.rings, self.orders, strict=True)
        return tuple(told for ring, order in made for told in seats_of(order, ring.piece, preset))

    def _fillers(self, rows: tuple[int, ...], place: int) -> Iterator[Motif]:
        """Return the motifs that may fill the rest of a row of the order being made."""
        from frameforge.job.fillers import known_motifs  # here, since few rows leave a rest to fill

        row, source = row_at(self.recipe, ("rings", self.index), rows[place]), self.source
        least = self.preset.least_neck_mm
        return known_motifs(source.folder, lambda name: source.load(name, row, name, least_neck_mm=least))


def _found(rings: Rings, preset: Preset) -> Iterator[Finding]:
    """Yield what is found in every card, with the card's name where there is a place."""
    cards = rings.rings
    for k, ring in enumerate(cards):
        words = ring_words(ring.outside, is_disc=k == 0)
        beside = tuple(row for row in cards[k - 1].piece.rows if row.place != "window") if k else ()
        piece = replace(ring.piece, rows=(*ring.piece.rows, *beside))
        for finding in findings_of(piece, preset):
            where = f"{words}: {finding.where}" if finding.where else words
            yield replace(finding, where=where) if finding.severity != "note" or finding.where else finding
