"""What rows are told of, planted twenty times: its place within .05 mm, its measure, and silence on the good side of
the limit. Measures by closed form from what is planted, so no source is needed."""

from __future__ import annotations

import cmath
import math
import random

import pytest
from fixtures.plain_motifs import plain_rectangle
from fixtures.rows import KNIFE, row_of

from frameforge.finding import Finding
from frameforge.frame.make import make_piece
from frameforge.frame.spec import HoleSpec, PieceSpec, RowSpec, Size

TWENTY = pytest.mark.parametrize("seed", range(20))


def found(code: str, row: RowSpec, diameter: float, **more: object) -> list[Finding]:
    piece = make_piece(PieceSpec("hoop", Size(diameter, diameter), rows=(row,), **more), KNIFE)  # type: ignore[arg-type]
    return [finding for finding in piece.findings if finding.code == code]


def clock(deg: float) -> complex:
    """Return the direction so many degrees clockwise from the top."""
    return cmath.rect(1, math.radians(90 - deg))


@TWENTY
def test_a_hole_through_a_motif(seed: int) -> None:
    """A hole of a diameter, its middle on the axis of a sunk square, takes pi d^2 / 4 of it; .01 mm2 is the least."""
    chance = random.Random(seed)
    diameter, place, count = chance.uniform(90, 140), chance.randrange(6), 6
    across = chance.uniform(2.1, 4)
    row = row_of(plain_rectangle(8, 8), count=count, inset_mm=6.0)

    spec = PieceSpec("hoop", Size(diameter, diameter), rows=(row,), holes=(HoleSpec(across, 60.0 * place),))
    piece = make_piece(spec, KNIFE)
    (hit,) = (finding for finding in piece.findings if finding.code == "chopped")
    assert hit.measured == pytest.approx(math.pi * across**2 / 4, abs=1e-6)
    (hole,) = piece.holes
    assert hit.place is not None
    assert abs(hit.place - hole.middle) < 1e-6
    assert abs(hit.place - abs(hole.middle) * clock(60 * place)) < 1e-6
    assert not found("chopped", row, diameter, holes=(HoleSpec(across, 60.0 * place + 30),)), "between two motifs"


@TWENTY
def test_an_edge_that_falls_away(seed: int) -> None:
    """A foot of f on a circle of radius r falls away by asin(f / 2r) at its ends; 45 degrees is the most."""
    chance = random.Random(seed)
    radius, start = chance.uniform(30, 90), chance.uniform(0, 180)

    def steep(slope_deg: float) -> list[Finding]:
        foot = 2 * radius * math.sin(math.radians(slope_deg))
        return found("steep-seat", row_of(plain_rectangle(foot, 2 * radius), count=2, start_deg=start), 2 * radius)

    slope = chance.uniform(45.01, 50)
    hits = steep(slope)
    assert [hit.measured for hit in hits] == pytest.approx([slope] * 2, abs=1e-6)
    middle = radius * math.cos(math.radians(slope))
    assert all(hit.place is not None for hit in hits)
    places = [hit.place or 0j for hit in hits]
    assert all(abs(at - middle * clock(start + 180 * k)) < 0.05 for k, at in enumerate(places))


@TWENTY
def test_a_motif_bent_into_nothing(seed: int) -> None:
    """Inside an opening of radius r a motif h high keeps 1 - h / r of its width at its tip; a quarter is the least."""
    chance = random.Random(seed)
    radius, start = chance.uniform(25, 60), chance.uniform(0, 90)

    def squeezed(left: float) -> list[Finding]:
        motif = plain_rectangle(3, radius * (1 - left))
        row = row_of(motif, count=4, place="in", seat="bent", start_deg=start)
        return found("squeezed", row, 2 * radius + 20, opening=Size(2 * radius, 2 * radius))

    left = chance.uniform(0.19, 0.2499)
    hits = squeezed(left)
    assert [hit.measured for hit in hits] == pytest.approx([left] * 4, abs=1e-9)
    assert [abs(abs(hit.place) - radius * left) < 0.05 for hit in hits if hit.place] == [True] * 4
    assert not squeezed(0.2501)
