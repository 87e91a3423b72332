"""What mending a piece costs, against checking it once, and how that grows with the number of motifs."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from fixtures.cpu import cpu_s

from frameforge.card.preset import load_preset
from frameforge.check.whole import check_piece
from frameforge.frame.make import make_piece
from frameforge.frame.spec import Ornament, PieceSpec, RowSpec, Size
from frameforge.geometry.region import Region
from frameforge.mend.codes import ALL_CODES
from frameforge.mend.whole import mend_piece
from frameforge.motif.catalogue import load_motif

Holds = Callable[[str, float, float], None]

KNIFE = load_preset("card-240-knife")
MM_PER_MOTIF = {"beetle": 15.0, "plum-blossom": 15.0, "cabbage-edge": 24.0}
"""Length of edge for each motif: thin fingers, small holes and narrow slots; small holes; narrow slots."""


def _piece(motif: str, count: int) -> Region:
    size = count * MM_PER_MOTIF[motif] / math.pi
    row = RowSpec((Ornament(load_motif(motif)),), count=count)
    return make_piece(
        PieceSpec("collar", Size(size, size), opening=Size(size * 0.6, size * 0.6), rows=(row,)), KNIFE
    ).region


@pytest.mark.parametrize("motif", MM_PER_MOTIF)
def bench_mend_against_check(holds: Holds, motif: str) -> None:
    """All mends of 12 motifs against all checks of them: one check before, one after each of three steps, one after."""
    region = _piece(motif, 12)
    checked = cpu_s(lambda: check_piece((region,), KNIFE), runs=3)
    mended = cpu_s(lambda: mend_piece((region,), KNIFE, ALL_CODES), runs=3)
    holds(f"mending 12 x {motif} / checking it", mended / checked, 10.0)


def bench_growth_of_mending(holds: Holds) -> None:
    """How the time of mending grows with the number of motifs, as the exponent of n between 12 and 96."""
    regions = {n: _piece("plum-blossom", n) for n in (12, 96)}
    times = {n: cpu_s(lambda n=n: mend_piece((regions[n],), KNIFE, ALL_CODES), runs=2) for n in regions}  # type: ignore[misc]
    exponent = math.log(times[96] / times[12]) / math.log(96 / 12)
    holds("growth of mending from 12 to 96 x plum-blossom, exponent of n", exponent, 1.2)
