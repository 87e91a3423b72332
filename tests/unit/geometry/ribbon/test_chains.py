"""Chains of parallels: joined at raised corners, broken at hollow ones, closed without either."""

from __future__ import annotations

import cmath
import itertools
import math

import pytest

from frameforge.geometry.arc import Arc
from frameforge.geometry.outline import Outline
from frameforge.geometry.ribbon.chains import ParallelChain, chains_of
from frameforge.geometry.ribbon.corners import Corner, Corners
from frameforge.geometry.ribbon.stretches import parts_of
from frameforge.geometry.shapes import ellipse, rectangle


def chains(outline: Outline, distance: float, corners: Corners) -> list[ParallelChain]:
    (parts,), _ = parts_of([outline.segments], distance, 2e-3)
    return chains_of(parts, distance, corners)


def test_a_smooth_outline_is_one_closed_chain() -> None:
    (chain,) = chains(ellipse(0j, 60, 40), 5, Corners())
    assert not chain.is_open
    assert len(chain.links) == 8
    for before, after in itertools.pairwise((*chain.links, chain.links[0])):
        assert before.segment.end == after.segment.start


@pytest.mark.parametrize(("join", "links"), [("round", 8), ("mitre", 12), ("bevel", 8)])
def test_raised_corners_are_joined(join: str, links: int) -> None:
    (chain,) = chains(rectangle(0, 0, 4, 3), 1, Corners(join))  # type: ignore[arg-type]
    assert not chain.is_open
    assert len(chain.links) == links
    assert sum(link.corner is not None for link in chain.links) == links - 4


def test_hollow_corners_break() -> None:
    broken = chains(rectangle(0, 0, 4, 3), -1, Corners())
    assert len(broken) == 4
    assert all(chain.is_open and len(chain.links) == 1 for chain in broken)


def test_inverted_parts_break() -> None:
    """Inside an oval past its least radius the ends of the long axis have no parallel."""
    broken = chains(ellipse(0j, 60, 40), -30, Corners())
    assert len(broken) == 2
    assert all(chain.is_open for chain in broken)


def corner(turn_deg: float, join: str) -> Corner:
    return Corner(2 + 1j, 1 + 0j, cmath.rect(1, math.radians(turn_deg)), join)  # type: ignore[arg-type]


def test_arcs_round_a_corner() -> None:
    """Arcs about the corner, none above 90 degrees, from one parallel's end to the other's start."""
    for turn, distance, count in ((60, 2.0, 1), (120, 2.0, 2), (-120, -2.0, 2), (180, 1.0, 2)):
        arcs = corner(turn, "round").segments(distance)
        assert len(arcs) == count
        assert all(isinstance(arc, Arc) and arc.center == 2 + 1j for arc in arcs)
        assert abs(arcs[0].start - (2 + 1j - 1j * distance)) < 1e-12
        assert abs(arcs[-1].end - (2 + 1j - 1j * distance * cmath.rect(1, math.radians(turn)))) < 1e-12


def test_mitres_bevels_and_ends() -> None:
    first, second = corner(90, "mitre").segments(2.0)
    assert first.end == second.start
    assert abs(first.end - (4 - 1j)) < 1e-12
    (bevel,) = corner(90, "bevel").segments(2.0)
    assert abs(bevel.start - (2 - 1j)) + abs(bevel.end - (4 + 1j)) < 1e-12
    square = corner(180, "square").segments(2.0)
    assert [abs(line.end - at) < 1e-12 for line, at in zip(square, (4 - 1j, 4 + 3j, 2 + 3j), strict=True)] == [True] * 3


def test_which_corners_are_raised() -> None:
    assert corner(30, "round").is_raised(1)
    assert not corner(30, "round").is_raised(-1)
    assert corner(-30, "round").is_raised(-1)
    assert corner(180, "round").is_raised(1)
    assert corner(180, "round").is_raised(-1)


def test_the_mitre_limit() -> None:
    corners = Corners("mitre", 2.0, beyond="bevel")
    assert corners.join_for(math.radians(119)) == "mitre"
    assert corners.join_for(math.radians(121)) == "bevel"
    assert Corners("round").join_for(3) == "round"
