"""Shared lines on the machine: cut once, from the innermost out, where they are; waste makes good for the kerf."""

from __future__ import annotations

import math

import pytest
from fixtures.rows import KNIFE

from frameforge.errors import GeometryError
from frameforge.geometry.measure import area_mm2, bounds, length_mm
from frameforge.geometry.shapes import circle
from frameforge.machine.allowances import Allowances, Bridges
from frameforge.machine.bonded import planned_bond
from frameforge.sets.bond import Bond

HOLE = circle(35, 2.0).reversed()
BOND = Bond.nested([circle(0, radius) for radius in (20.0, 30.0, 40.0)], [[], [], [HOLE]])


def test_kerf_is_made_good_where_there_is_waste() -> None:
    plan = planned_bond(BOND, Allowances(kerf_mm=0.2), KNIFE)
    radii = [length_mm(run) / math.tau for run in plan.runs]
    assert radii == pytest.approx([20, 30, 1.9, 40.1])


def test_the_innermost_is_cut_first_and_every_line_once() -> None:
    plan = planned_bond(BOND, Allowances(overcut_mm=0.5), KNIFE)
    assert [round(bounds(run).width_mm) for run in plan.runs] == [40, 60, 4, 80]
    assert length_mm(segment for run in plan.runs for segment in run) == pytest.approx(math.tau * 92 + 4 * 0.5)


def test_lines_run_round_in_turns() -> None:
    plan = planned_bond(BOND, Allowances(kerf_mm=0.2), KNIFE)
    assert [math.copysign(1, area_mm2(run)) for run in plan.runs] == [1, -1, -1, 1]


def test_a_shared_line_has_no_lead_in_and_the_outside_alone_has_bridges() -> None:
    plan = planned_bond(BOND, Allowances(lead_in_mm=2.0, bridges=Bridges(0.6, 4)), KNIFE)
    shared = plan.lines[:2]
    assert all(line.runs[0][0].start == line.runs[-1][-1].end for line in shared)
    assert [len(line.runs) for line in plan.lines if not line.is_hole] == [4]
    assert sum(line.without_lead_in for line in shared) == 0


def test_a_kerf_that_leaves_nothing_of_a_ring_is_refused() -> None:
    thin = Bond.nested([circle(0, radius) for radius in (20.0, 22.0, 40.0)], [[], [], []])
    assert planned_bond(thin, Allowances(kerf_mm=1.9), KNIFE).runs
    with pytest.raises(GeometryError, match=r"burns 2.1 mm away, and the card of 44 mm does not hold together"):
        planned_bond(thin, Allowances(kerf_mm=2.1), KNIFE, where="rings")
