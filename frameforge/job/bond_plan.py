"""The lines a machine runs along, of one card or of cards that share lines."""

from __future__ import annotations

from typing import TYPE_CHECKING

from frameforge.card.preset import Preset
from frameforge.geometry.region import Region
from frameforge.job.machine import machine_plan
from frameforge.machine.allowances import Allowances
from frameforge.sets.bond import Bond

if TYPE_CHECKING:
    from frameforge.machine.plan import Plan

__all__ = ["bond_plan"]


def bond_plan(cards: Bond | Region, allowances: Allowances, preset: Preset, name: str) -> Plan | None:
    """Return the lines, None when nothing is allowed for the machine and they are the bare ones.

    Raises GeometryError where kerf or bridges leave no line.
    """
    if isinstance(cards, Region):
        return machine_plan(cards, allowances, preset, name)
    if allowances.is_nothing:
        return None
    from frameforge.machine.bonded import planned_bond  # here, since most runs allow for nothing

    return planned_bond(cards, allowances, preset, where=name)
