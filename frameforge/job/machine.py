"""What a recipe allows for the machine, and the piece planned with it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from frameforge.card.preset import Preset
from frameforge.geometry.region import Region
from frameforge.machine.allowances import Allowances
from frameforge.recipe.machine_fields import Allowance
from frameforge.recipe.model import CardTable
from frameforge.recipe.recipe import Recipe
from frameforge.units import format_floor

if TYPE_CHECKING:
    from frameforge.machine.plan import Plan

__all__ = ["allowances_of", "machine_lines", "machine_plan"]


def allowances_of(recipe: Recipe, index: int, preset: Preset, table: str = "piece") -> Allowances:
    """Return what is allowed for the machine on the piece (or the "rings") at ``index``: said of it, else of its card,
    else nothing."""
    piece = recipe.asked((table, index))
    card = recipe.tables.card.get(piece.card or "", CardTable())
    kerf = card.kerf if piece.kerf is None else piece.kerf
    overcut = card.overcut if piece.overcut is None else piece.overcut
    lead_in = card.lead_in if piece.lead_in is None else piece.lead_in
    return Allowances(
        kerf_mm=_mm(kerf, preset.kerf_mm),
        overcut_mm=_mm(overcut, preset.overcut_mm),
        lead_in_mm=lead_in or 0.0,
        bridges=piece.bridges,
    )


def machine_plan(region: Region, allowances: Allowances, preset: Preset, name: str) -> Plan | None:
    """Return the lines that a machine runs along, None when nothing is allowed and they are the bare outlines.

    Raises GeometryError where kerf or bridges leave no line.
    """
    if allowances.is_nothing:
        return None
    from frameforge.machine.plan import planned  # here, since most runs allow for nothing

    return planned(region, allowances, preset, where=name)


def machine_lines(allowances: Allowances, plan: Plan | None) -> tuple[str, ...]:
    """Return what is said of the machine: what was allowed, that lines are open, what could not be done."""
    if plan is None:
        return ()
    words = []
    if allowances.kerf_mm:
        words.append(f"kerf {format_floor(allowances.kerf_mm)}, the lines stand half of it out in the waste")
    if allowances.lead_in_mm:
        words.append(f"lead-in {format_floor(allowances.lead_in_mm)}")
    if allowances.overcut_mm:
        words.append(f"overcut {format_floor(allowances.overcut_mm)}")
    if allowances.bridges:
        outside = next(line for line in plan.lines if not line.is_hole)
        many = "1 bridge" if len(outside.runs) == 1 else f"{len(outside.runs)} bridges"
        words.append(f"{many} of {format_floor(allowances.bridges.width_mm)} in the outside line")
    allowed = f"Allowed for the machine: {'; '.join(words)}."
    opened = ("Lines of this file are left open on purpose.",) if allowances.opens_lines else ()
    return (allowed, *opened, *(note[0].upper() + note[1:] for note in plan.notes))


def _mm(said: Allowance | None, of_preset_mm: float) -> float:
    """Return the length that was said, the preset's where that was said."""
    return of_preset_mm if said == "preset" else said or 0.0
