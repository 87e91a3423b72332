"""What comes out of an opening made a piece too: in one cut with its frame, or smaller so that it sits loosely."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np
import shapely

from frameforge.errors import FrameforgeError, GeometryError
from frameforge.finding import Finding
from frameforge.frame.piece import Piece
from frameforge.frame.spec import Size
from frameforge.frame.wording import down, size_words
from frameforge.geometry.flatten import flatten_outline
from frameforge.geometry.measure import area_mm2, bounds, length_mm
from frameforge.geometry.nearest import distance
from frameforge.geometry.outline import Outline
from frameforge.geometry.parallel import parallel
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import ellipse
from frameforge.job.bond_plan import bond_plan
from frameforge.job.checked import findings_of, refuse_refused
from frameforge.job.inside_words import inside_told
from frameforge.job.machine import allowances_of, machine_lines
from frameforge.job.made import MadePiece
from frameforge.job.naming import free_name
from frameforge.job.output import kinds_of
from frameforge.job.told import told_apart
from frameforge.recipe.recipe import Recipe
from frameforge.sets.bond import Bond
from frameforge.sets.layers import opening_of
from frameforge.sets.ring_limits import lies_within
from frameforge.units import format_floor

__all__ = ["with_inside"]

_HALVINGS = 20
USUAL_PLAY_MM = 0.3
"""About a sheet of card's thickness: a disc slides in and does not rattle (common practice, no source)."""


def with_inside(recipe: Recipe, index: int, made: MadePiece) -> list[MadePiece]:
    """Return a piece with an opening, and what is kept of the card inside it.

    Without a clearance both are one set, parted by one line. With one, the inner card is a piece of its own.
    Raises GeometryError where nothing is left inside, or too little round an opening of the inner card.
    """
    table = recipe.pieces[index]
    opening = opening_of(made.piece)
    if opening is None:
        raise GeometryError(
            "there is no opening in the middle. Leave --inside out.", where=made.name, code="no-opening"
        )
    clearance = table.clearance or 0.0
    outlines = [*_inner(made, opening, clearance, table.inside or ())]
    if not clearance:
        others = [hole for hole in made.piece.region.holes if hole is not opening]
        bond = Bond.nested([*outlines, made.piece.region.outer], [*([] for _ in outlines), others])
        names = [made.name] * len(outlines)
        told = inside_told(_frame(made, opening), _named(names, bond.parts[:-1]), 0.0, USUAL_PLAY_MM)
        found = _found(made, bond.parts[:-1])
        return [_bonded(recipe, index, replace(made, sets=(*made.sets, told)), bond, found)]
    name = free_name(f"{made.name}-inside", recipe.given_names)
    bond = Bond.nested(outlines, [[] for _ in outlines])
    told = inside_told(_frame(made, opening), _named([name] * len(outlines), bond.parts), clearance, USUAL_PLAY_MM)
    bare = Piece(name, _size(bond.whole.outer), bond.whole, notes=(f"goes into the opening of {made.name}.",))
    inner = replace(
        made,
        piece=bare,
        files={kind: f"{name}.{kind}" for kind in kinds_of(recipe.tables.files)},
        edges=(),
        neighbours=(),
        marks=(),
        seats=(),
        mends=(),
        mended=(),
        sets=(),
        kept_as=made.name,
    )
    return [
        replace(made, sets=(*made.sets, told)),
        _bonded(recipe, index, inner, bond if len(outlines) > 1 else None, _found(inner, bond.parts)),
    ]


def _inner(made: MadePiece, opening: Outline, clearance_mm: float, sizes: Sequence[Size]) -> Iterator[Outline]:
    """Yield the outlines inside an opening, the smallest first: the openings asked for, then its own, drawn in by the
    clearance."""
    outside = opening.reversed()
    if clearance_mm:
        regions = parallel(Region(outside), -clearance_mm)
        if len(regions) != 1 or regions[0].holes:
            say = f"with a clearance of {format_floor(clearance_mm)} no one piece is left inside. Take a smaller one."
            raise GeometryError(say, where=made.name, code="clearance", clearance_mm=clearance_mm)
        outside = regions[0].outer
    cut = [ellipse(0j, size.width_mm / 2, size.height_mm / 2) for size in sizes]
    least = made.preset.least_neck_mm
    for inner, outer, size in zip(cut, [*cut, outside][1:], sizes, strict=True):
        width = _card_mm(inner, outer)
        if width < least - 1e-9:
            leaves = f"leaves {format_floor(width)} of card" if width > 0 else "leaves no card"
            say = f"an opening of {size_words(size)} {leaves} inside, this card needs {least:g} mm."
            say += _fits(size, outer, least)
            raise GeometryError(say, where=made.name, code="no-rim", rim_mm=width, limit_mm=least)
        yield inner
    yield outside


def _card_mm(inner: Outline, outer: Outline) -> float:
    """Return the least width of card between two outlines, mm; 0 where the one does not lie within the other."""
    return distance([inner], [outer]).gap_mm if lies_within(inner, outer) else 0.0


def _fits(size: Size, outer: Outline, least_mm: float) -> str:
    """Return what to do about an opening that is too large: the largest of its proportion that leaves enough card."""

    ring = shapely.LinearRing([(z.real, z.imag) for z in flatten_outline(outer).points])
    low, high = 0.0, 1.0
    for _ in range(_HALVINGS):
        part = (low + high) / 2
        points = part * flatten_outline(ellipse(0j, size.width_mm / 2, size.height_mm / 2)).points
        inner = shapely.Polygon(np.column_stack((points.real, points.imag)))
        is_within = shapely.Polygon(ring).contains(inner) and inner.exterior.distance(ring) >= least_mm
        low, high = (part, high) if is_within else (low, part)
    # On chords a tenth of a millimetre more or less is not decided: the curves themselves tell.
    for step in (1, 0, -1):
        width, height = (down(low * side, 0.1) + 0.1 * step for side in (size.width_mm, size.height_mm))
        if min(width, height) <= 0.05:
            break
        if _card_mm(ellipse(0j, width / 2, height / 2), outer) >= least_mm - 1e-9:
            return f" Take {size_words(Size(width, height))} or less."
    return " Leave it out, or make the opening larger."


def _frame(made: MadePiece, opening: Outline) -> tuple[str, Outline, Outline]:
    return made.name, made.piece.region.outer, opening


def _named(names: Sequence[str], parts: Sequence[Region]) -> list[tuple[str, Region]]:
    """Return the inner cards with the names of their pieces, the outermost first."""
    return [*zip(names, reversed(parts), strict=True)]


def _found(made: MadePiece, parts: Sequence[Region]) -> list[Finding]:
    """Return what is found in the inner cards."""
    return [
        replace(finding, piece=made.name, where=f"{_what(part)}: {finding.where}" if finding.where else _what(part))
        for part in parts
        for finding in findings_of(Piece(made.name, _size(part.outer), part), made.preset)
    ]


def _what(part: Region) -> str:
    return "frame inside" if part.holes else "disc inside"


def _size(outline: Outline) -> Size:
    box = bounds(outline)
    return Size(box.width_mm, box.height_mm)


def _bonded(recipe: Recipe, index: int, made: MadePiece, bond: Bond | None, found: Sequence[Finding]) -> MadePiece:
    """Return a set with its lines planned and measured, and what is found in its inner cards."""
    for fault in bond.faults() if bond else ():
        raise FrameforgeError(f"inside and outside do not hang together as they should ({fault}).", where=made.name)
    proper, told = told_apart(found)
    refuse_refused(made.name, proper)
    region = bond.whole if bond else made.piece.region
    allowances = allowances_of(recipe, index, made.preset)
    plan = bond_plan(bond or region, allowances, made.preset, made.name)
    piece = replace(
        made.piece,
        region=region,
        findings=(*made.piece.findings, *proper),
        notes=(*made.piece.notes, *told),
    )
    planned = replace(
        made,
        piece=piece,
        bond=bond,
        box=bounds(region),
        area_mm2=area_mm2(region),
        plan=plan,
        machine=machine_lines(allowances, plan),
        kerf_mm=allowances.kerf_mm,
    )
    return replace(planned, cut_length_mm=length_mm(segment for run in planned.lines_cut for segment in run))
