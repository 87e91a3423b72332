"""What a parallel outline costs, against the union of ribbons inside it and against its own growth."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
import shapely
from fixtures.cpu import cpu_s
from fixtures.outlines import leaf_frame
from shapely.geometry.base import BaseGeometry

from frameforge.geometry import boolean
from frameforge.geometry.combine import evaluate
from frameforge.geometry.parallel import parallel
from frameforge.geometry.region import Region

Holds = Callable[[str, float, float], None]

DISTANCES = (0.1, -0.1, 1.5, 3.0)


def frame(count: int) -> Region:
    """The leaf frame, its radii in proportion to the count."""
    (region,) = evaluate(leaf_frame(count, 50.0 * count / 24)).regions
    return region


@pytest.mark.parametrize("distance", DISTANCES)
def bench_against_its_booleans(holds: Holds, monkeypatch: pytest.MonkeyPatch, distance: float) -> None:
    """The whole of it against shapely's share: union (and difference) of core, ribbons, covers, sectors, fillers."""
    region = frame(24)
    given: list[np.ndarray] = []
    union = boolean.union

    def counted(parts: boolean.Polygons) -> BaseGeometry:
        given.append(np.asarray(parts))
        return union(parts)

    monkeypatch.setattr(boolean, "union", counted)
    parallel(region, distance)
    monkeypatch.undo()
    pieces = max(given, key=len)
    whole = cpu_s(lambda: parallel(region, distance))
    booleans = cpu_s(lambda: shapely.union_all(pieces))
    holds(f"frame of 24 leaves at {distance:+} mm / union of its {len(pieces)} polygons", whole / booleans, 4)


def bench_growth(holds: Holds) -> None:
    """How time grows with the number of leaves, as the exponent of n between 24 and 240."""
    small, large = frame(24), frame(240)
    times = [cpu_s(lambda: parallel(small, 0.1), runs=3), cpu_s(lambda: parallel(large, 0.1), runs=3)]
    exponent = math.log(times[1] / times[0]) / math.log(10)
    holds("growth from 24 to 240 leaves, exponent of n", exponent, 1.2)


@pytest.mark.parametrize("fit", [1e-2, 1e-3, 1e-4, 1e-5])
def bench_closer_fits(holds: Holds, fit: float) -> None:
    """What a closer fit costs against the usual 2e-3, on the frame at 1.5 mm."""
    region = frame(24)
    usual, closer = cpu_s(lambda: parallel(region, 1.5)), cpu_s(lambda: parallel(region, 1.5, fit_mm=fit))
    holds(f"fit {fit:g} mm / fit 2e-3 mm", closer / usual, 2.5)
