"""Ties: every island of a window is held by card as wide as asked, evenly about the axis where the motif is even."""

from __future__ import annotations

import math

import numpy as np
import pytest
from fixtures.plain_motifs import leaf, pod

from frameforge.check.thickness import thin_places
from frameforge.frame.ties import tied
from frameforge.geometry.affine import Affine
from frameforge.geometry.combine import difference, evaluate, union
from frameforge.geometry.measure import area_mm2
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, ellipse, rectangle
from frameforge.motif.motif import Motif

PLATE = Region(rectangle(-40, -30, 40, 40))


def ring(outer_mm: float = 8.0, inner_mm: float = 5.0) -> Motif:
    return Motif("ring", (Region(circle(0, outer_mm)),), 4.0, window=(Region(circle(0, inner_mm)),))


def eyes(right: complex = 4 + 6j) -> Motif:
    """A block with a round window at both sides, the left one as far out as the right one where that is even."""
    windows = (Region(circle(right, 1.6)), Region(circle(-4 + 6j, 1.6)))
    return Motif("eyes", (Region(rectangle(-8, 0, 8, 12)),), 16.0, window=windows)


def plate_less(cut: tuple[Region, ...]) -> tuple[Region, ...]:
    return evaluate(difference(PLATE, *cut)).regions


def test_a_ring_is_cut_in_two_arcs_by_ties_of_the_width_asked() -> None:
    made = tied(ring(), 1.5)
    assert made is not None
    assert (made.islands, made.ties, len(made.cut)) == (1, 2, 2)
    # Area of a band of half width c between two circles: F(R) - F(r), F(r) = c sqrt(r^2 - c^2) + r^2 asin(c/r).
    band = [0.75 * math.sqrt(r * r - 0.5625) + r * r * math.asin(0.75 / r) for r in (8.0, 5.0)]
    assert sum(map(area_mm2, made.cut)) == pytest.approx(math.pi * 39 - 2 * (band[0] - band[1]), abs=1e-6)
    (card,) = plate_less(made.cut)
    assert thin_places([card], 1.5) == (), "nowhere thinner than the ties"
    assert min(place.width_mm for place in thin_places([card], 1.51)) == pytest.approx(1.5, abs=1e-9)


def test_without_islands_nothing_is_changed() -> None:
    made = tied(leaf(), 1.5)
    assert made is not None
    assert (made.cut, made.islands, made.ties) == (leaf().join, 0, 0)


@pytest.mark.parametrize("motif", [ring(), eyes()], ids=lambda motif: motif.name)
def test_an_even_motif_stays_even(motif: Motif) -> None:
    made = tied(motif, 1.5)
    assert made is not None
    flipped = [region.transformed(Affine.from_mirror()) for region in made.cut]
    apart = evaluate(difference(union(*made.cut), *flipped)).regions
    assert sum(map(area_mm2, apart)) < 1e-6


@pytest.mark.parametrize("width_mm", [0.8, 1.5, 2.2])
@pytest.mark.parametrize("right", [4 + 6j, 3.4 + 8j])
def test_every_island_is_held(right: complex, width_mm: float) -> None:
    made = tied(eyes(right), width_mm)
    assert made is not None
    assert made.islands == 2
    (card,) = plate_less(made.cut)
    assert thin_places([card], width_mm - 1e-6) == ()


def test_islands_in_a_row_that_reach_only_each_other_are_held_in_the_end() -> None:
    """Rings in rings: the inner island lies in a window of its own within the outer one."""
    rings = (Region(circle(10j, 10)), Region(circle(10j, 4.5)))
    windows = (Region(circle(10j, 7), (circle(10j, 4.5).reversed(),)), Region(circle(10j, 2)))
    made = tied(Motif("target", rings, 4.0, window=windows), 1.5)
    assert made is not None
    assert made.islands == 2
    assert len(plate_less(made.cut)) == 1


def test_a_leaning_motif_is_tied_too() -> None:
    dots = tuple(Region(circle(complex(x, 3), 1.2)) for x in (-5, 0, 5))
    made = tied(Motif("pod", pod().join, 22.0, window=dots), 1.5)
    assert made is not None
    assert made.islands == 3
    assert len(plate_less(made.cut)) == 1


def test_an_island_that_does_not_hold_its_own_middle_is_tied() -> None:
    """A crescent: the centre of its area lies outside."""
    outer, inner = circle(8j, 5), circle(10j, 4.6)
    (crescent,) = evaluate(difference(Region(outer), Region(inner))).regions
    made = tied(Motif("moon", (Region(circle(8j, 8)),), 6.0, window=(crescent,)), 1.5)
    assert made is not None
    assert len(plate_less(made.cut)) == 1


def test_a_motif_thinner_than_its_ties_leaves_nothing_to_cut() -> None:
    hoop = Motif("hoop", (Region(circle(0, 0.8)),), 1.0, window=(Region(circle(0, 0.6)),))
    assert tied(hoop, 2.0) is None


def test_curves_stay_curves() -> None:
    oval = Motif("oval", (Region(ellipse(8j, 6, 8)),), 6.0, window=(Region(ellipse(8j, 3, 5)),))
    made = tied(oval, 1.5)
    assert made is not None
    kinds = {type(segment).__name__ for region in made.cut for o in region.outlines for segment in o.segments}
    assert kinds == {"Arc", "Line"}
    assert all(isinstance(region.outer, Outline) and len(region.outer.segments) == 4 for region in made.cut)


@pytest.mark.parametrize("seed", range(8))
def test_random_islands_are_held_by_card_as_wide_as_asked(seed: int) -> None:
    random = np.random.default_rng(seed)
    holes = []
    for k in range(int(random.integers(1, 5))):
        middle = complex(-13.5 + 9 * k + random.uniform(-1, 1), random.uniform(5, 11))
        half = random.uniform(1.2, 2.6, 2)
        holes.append(Region(ellipse(0, *half).transformed(Affine.from_turn(random.uniform(0, 3)))).transformed(
            Affine.from_move(middle)))  # fmt: skip
    motif = Motif("blob", (Region(ellipse(8j, 20, 8)),), 9.0, window=tuple(holes))
    width = float(random.uniform(0.6, 1.8))
    made = tied(motif, width)
    assert made is not None
    assert made.islands == len(holes)
    (card,) = plate_less(made.cut)
    assert [place for place in thin_places([card], width - 1e-6) if place.kind in ("neck", "web")] == []
