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

OVAL_ROOM = 1.3
"""Ovals have less edge than circles as wide, and their ends bend more."""


def _piece(motif: str, count: int, tall: float = 1.0) -> Region:
    """Return a collar, ``tall`` times as high as wide; where that is not 1 no two motifs stand alike."""
    size = count * MM_PER_MOTIF[motif] / math.pi * (1.0 if tall == 1.0 else OVAL_ROOM)
    row = RowSpec((Ornament(load_motif(motif)),), count=count)
    outside, opening = Size(size, size * tall), Size(size * 0.6, size * 0.6 * tall)
    return make_piece(PieceSpec("collar", outside, opening=opening, rows=(row,)), KNIFE).region


def _leaves(count: int) -> Region:
    """Return a disc with bean leaves of half their size: four faults each, webs and slots one above the other."""
    row = RowSpec((Ornament(load_motif("bean-leaf"), scale=0.5),), count=count)
    size = count * 200 / 48
    return make_piece(PieceSpec("leaves", Size(size, size), rows=(row,)), KNIFE).region


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


@pytest.mark.long
def bench_many_small_faults(holds: Holds) -> None:
    """All mends of 48 small leaves, two webs and a slot in each, against all checks; one by one it is 70."""
    region = _leaves(48)
    checked = cpu_s(lambda: check_piece((region,), KNIFE), runs=3)
    mended = cpu_s(lambda: mend_piece((region,), KNIFE, ALL_CODES), runs=2)
    holds("mending 48 x bean-leaf at half size / checking it", mended / checked, 10.0)


@pytest.mark.long
def bench_growth_where_nothing_repeats(holds: Holds) -> None:
    """The same on ovals, where no motif stands as another does: the exponent of n between 12 and 48 motifs."""
    regions = {n: _piece("beetle", n, tall=0.75) for n in (12, 48)}
    times = {n: cpu_s(lambda n=n: mend_piece((regions[n],), KNIFE, ALL_CODES), runs=2) for n in regions}  # type: ignore[misc]
    holds("growth of mending from 12 to 48 x beetle on an oval, exponent of n", math.log(times[48] / times[12], 4), 1.2)
