"""Chains drawn as few true curves: what they are, where they end, how far they lie from the chain."""

from __future__ import annotations

import cmath
import math
from itertools import pairwise

import numpy as np
import pytest

from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.direction import end_direction, start_direction
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.mend.chain_fit import Chain, refitted

FIT_MM = 0.004


def winding(rng: np.random.Generator, count: int = 8) -> Chain:
    """Return a smooth chain of arcs that turn this way and that, 1 mm each."""
    at, way, bend, chain = 0j, 1 + 0j, 0.3, list[Segment]()
    for _ in range(count):
        bend = bend + rng.uniform(-0.08, 0.08)
        arc = Arc.from_circle(at + 1j * way / bend, 1 / abs(bend), cmath.phase(-1j * way * bend), bend)
        chain.append(arc.with_ends(at, arc.end))
        at, way = arc.end, way * cmath.rect(1, bend)
    return tuple(chain)


def _off_mm(one: Chain, two: Chain) -> float:
    """Return how far points of one chain lie from fine chords of another."""
    z = np.array([s.point(t) for s in one for t in np.linspace(0, 1, 50)])
    line = np.array([s.point(t) for s in two for t in np.linspace(0, 1, 400)])
    a, step = line[:-1], np.diff(line)
    share = np.clip(((z[:, None] - a) * np.conj(step)).real / np.maximum(np.abs(step) ** 2, 1e-30), 0, 1)
    return float(np.abs(z[:, None] - a - share * step).min(axis=1).max())


def test_pieces_of_one_circle_are_one_arc_again() -> None:
    whole = Arc.from_circle(3 + 2j, 7, 0.2, 2.4)
    chain = tuple(whole.piece(a, b) for a, b in pairwise((0, 0.3, 0.31, 0.9, 1)))
    (((arc,),)) = refitted([chain], FIT_MM)
    assert isinstance(arc, Arc)
    assert (arc.start, arc.end) == (chain[0].start, chain[-1].end)
    assert abs(arc.center - whole.center) < 1e-6
    assert arc.sweep_rad == pytest.approx(2.4, abs=1e-6)


def test_pieces_of_one_line_are_one_line_again() -> None:
    chain = (Line(0, 3), Line(3, 3.004 + 1e-4j), Line(3.004 + 1e-4j, 9))
    assert refitted([chain], FIT_MM) == [(Line(0, 9),)]


def test_a_line_that_goes_back_on_itself_is_not_shortened() -> None:
    chain = (Line(0, 5), Line(5, 2), Line(2, 9))
    assert refitted([chain], FIT_MM)[0] is chain


@pytest.mark.parametrize("seed", range(3))
def test_a_winding_chain_becomes_fewer_cubics_that_keep_ends_and_ways(seed: int) -> None:
    chain = winding(np.random.default_rng(seed))
    (new,) = refitted([chain], FIT_MM)
    assert len(new) <= len(chain) / 2
    assert all(isinstance(segment, Cubic) for segment in new)
    assert (new[0].start, new[-1].end) == (chain[0].start, chain[-1].end)
    assert all(a.end == b.start for a, b in pairwise(new))
    assert abs(cmath.phase(start_direction(new[0]) / start_direction(chain[0]))) < 1e-6
    assert abs(cmath.phase(end_direction(new[-1]) / end_direction(chain[-1]))) < 1e-6
    assert max(_off_mm(new, chain), _off_mm(chain, new)) <= FIT_MM + 1e-4


def test_what_gets_no_fewer_stays_as_it_is() -> None:
    """A half circle of .5 and a straight run of 30: no single curve holds both."""
    chain = (Arc.from_circle(0, 0.5, -math.pi / 2, math.pi), Line(0.5j, -30 + 0.5j))
    assert refitted([chain], FIT_MM)[0] is chain
    assert refitted([], FIT_MM) == []
