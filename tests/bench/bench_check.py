"""What all checks of one piece cost, against making its geometry, and how that grows with the number of motifs."""

from __future__ import annotations

import math
from collections.abc import Callable
from pathlib import Path

import pytest
from fixtures.cpu import cpu_s

from frameforge.card.preset import load_preset
from frameforge.check.whole import check_piece
from frameforge.frame.make import make_piece
from frameforge.frame.spec import Ornament, PieceSpec, RowSpec, Size
from frameforge.job.cut_file import findings_in, read_cut_file
from frameforge.motif.catalogue import load_motif

Holds = Callable[[str, float, float], None]

KNIFE = load_preset("card-240-knife")
MM_PER_MOTIF = {"bean-leaf": 15.0, "plum-blossom": 15.0, "cabbage-edge": 24.0}
"""Length of edge for each motif: one without findings, one with eleven holes' worth of them, one with six slits."""


def _spec(motif: str, count: int) -> PieceSpec:
    size = count * MM_PER_MOTIF[motif] / math.pi
    row = RowSpec((Ornament(load_motif(motif)),), count=count)
    return PieceSpec("collar", Size(size, size), opening=Size(size * 0.6, size * 0.6), rows=(row,))


def bench_checks_of_24_leaves(holds: Holds) -> None:
    """All checks of the 24-leaf frame against making its geometry; 400 ms were wanted, 50 ms are usual."""
    spec = _spec("bean-leaf", 24)
    piece = make_piece(spec, KNIFE)
    made, checked = cpu_s(lambda: make_piece(spec, KNIFE)), cpu_s(lambda: check_piece((piece.region,), KNIFE))
    holds("all checks of 24 leaves / making their geometry", checked / made, 2.0)
    holds("all checks of 24 leaves, ms", checked * 1000, 400)


@pytest.mark.parametrize("motif", MM_PER_MOTIF)
def bench_growth_of_checks(holds: Holds, motif: str) -> None:
    """How the time of all checks grows with the number of motifs, as the exponent of n between 24 and 500."""
    regions = {n: make_piece(_spec(motif, n), KNIFE).region for n in (24, 500)}
    times = {n: cpu_s(lambda n=n: check_piece((regions[n],), KNIFE), runs=3) for n in regions}  # type: ignore[misc]
    exponent = math.log(times[500] / times[24]) / math.log(500 / 24)
    holds(f"growth of all checks from 24 to 500 x {motif}, exponent of n", exponent, 1.2)


def _pierced_plate(across: int) -> bytes:
    """A file made elsewhere: a plate with a grid of round holes 4 mm apart, 1.6 mm of card between them."""
    side = 4 * across + 20
    holes = (f'<circle cx="{12 + 4 * i}" cy="{12 + 4 * j}" r="1.2"/>' for i in range(across) for j in range(across))
    page = f'width="{side}mm" height="{side}mm" viewBox="0 0 {side} {side}"'
    plate = f'<rect x="2" y="2" width="{side - 4}" height="{side - 4}"/>'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {page}>{plate}{"".join(holes)}</svg>'.encode()


def bench_growth_with_the_holes_of_a_file(holds: Holds) -> None:
    """Reading and checking a file of 2401 holes in one part against one of 144, as the exponent of n."""

    def looked(data: bytes) -> None:
        path = Path("plate.svg")
        findings_in(read_cut_file(data, path, where="plate.svg"), KNIFE)

    few, many = _pierced_plate(12), _pierced_plate(49)
    exponent = math.log(cpu_s(lambda: looked(many), runs=1) / cpu_s(lambda: looked(few), runs=3)) / math.log(2401 / 144)
    holds("growth of check from 144 to 2401 holes in one part, exponent of n", exponent, 1.2)
