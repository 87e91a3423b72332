"""Designs as masks on a grid, and where one design may lie beside another.

A mask holds the cells whose middle is within half the distance between pieces plus half a cell's diagonal of the
card: two pieces whose masks share no cell are apart by at least the distance asked (the middle of any shorter way
between them would lie in a cell of both). Holes stay open, so a piece may lie in another's opening. Where one mask
may not stand relative to another is their correlation, by the fast Fourier transform.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely

from frameforge.geometry import boolean
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import bounds
from frameforge.sheet.design import Design
from frameforge.tolerances import CHORD_MM

__all__ = ["Cells", "Variant", "free_turns", "no_fit", "variants"]

Cells = npt.NDArray[np.bool_]

NEAR_ROUND = 0.95
"""A design whose narrowest width is this share of its greatest is taken as round: turning it gains nothing."""
FREE_TURNS = 8
"""Turns tried for a design that may turn freely, beside quarters and the turn of least box."""


@dataclass(frozen=True, slots=True, eq=False)
class Variant:
    """One design at one turn: its box's lower left corner at 0, its mask with cell (0, 0) ``pad`` cells lower left."""

    design: int
    turn_deg: float
    width_mm: float
    height_mm: float
    area_mm2: float
    mask: Cells
    pad: int


def variants(designs: tuple[Design, ...], apart_mm: float, cell_mm: float) -> tuple[tuple[Variant, ...], ...]:
    """Return the variants of each design; turns that give the same mask are kept once."""
    return tuple(
        _distinct([_variant(i, design, turn, apart_mm, cell_mm) for turn in free_turns(design)])
        for i, design in enumerate(designs)
    )


def free_turns(design: Design) -> tuple[float, ...]:
    """Return the turns to try, degrees counter-clockwise: by the design's turning, one for a near-round design."""
    if design.turning == "none":
        return (0.0,)
    hull = boolean.union([to_polygon(region) for region in design.regions]).convex_hull
    if _is_near_round(hull):
        return (0.0,)
    if design.turning == "half":
        return (0.0, 180.0)
    quarters = (0.0, 90.0, 180.0, 270.0)
    if design.turning == "quarter":
        return quarters
    least = _least_box_turn(hull)
    evenly = [360.0 * k / FREE_TURNS for k in range(FREE_TURNS)]
    return tuple(dict.fromkeys([*quarters, *(round(least + q, 9) % 360 for q in quarters), *evenly]))


def _is_near_round(hull: shapely.Geometry) -> bool:
    points = shapely.get_coordinates(hull)
    directions = np.exp(1j * np.linspace(0, math.pi, 180, endpoint=False))
    spread = np.ptp(np.outer(directions.real, points[:, 0]) + np.outer(directions.imag, points[:, 1]), axis=1)
    return bool(spread.min() >= NEAR_ROUND * spread.max())


def _least_box_turn(hull: shapely.Geometry) -> float:
    """Return the turn that lays the smallest surrounding rectangle level, in degrees."""
    corners = shapely.get_coordinates(shapely.minimum_rotated_rectangle(hull))
    side = corners[1] - corners[0]
    return -math.degrees(math.atan2(side[1], side[0]))


def _variant(index: int, design: Design, turn: float, apart_mm: float, cell_mm: float) -> Variant:
    """Return the mask of a design at a turn."""
    regions = design.turned(turn)
    box = bounds(regions)
    reach = apart_mm / 2 + math.sqrt(0.5) * cell_mm + CHORD_MM
    shape = boolean.union([to_polygon(region) for region in regions])
    # The round corners of a buffer are chords inside it: they fall short by less than reach (1 - cos(pi/64)).
    moved = shapely.transform(shape, lambda xy: xy - (box.left, box.bottom))
    grown = boolean.buffered(moved, 1.0013 * reach, quad_segs=16)
    pad = math.ceil(reach / cell_mm) + 1
    x = (np.arange(math.ceil(box.width_mm / cell_mm) + 2 * pad + 1) - pad) * cell_mm
    y = (np.arange(math.ceil(box.height_mm / cell_mm) + 2 * pad + 1) - pad) * cell_mm
    shapely.prepare(grown)
    mask = shapely.contains_xy(grown, x[:, None], y[None, :])
    return Variant(index, turn, box.width_mm, box.height_mm, shape.area, mask, pad)


def _distinct(found: list[Variant]) -> tuple[Variant, ...]:
    kept: list[Variant] = []
    for variant in found:
        if not any(v.mask.shape == variant.mask.shape and bool((v.mask == variant.mask).all()) for v in kept):
            kept.append(variant)
    return tuple(kept)


def no_fit(fixed: Variant, moved: Variant) -> tuple[Cells, int, int]:
    """Return the offsets at which ``moved`` overlaps ``fixed``, and the indices of offset (0, 0).

    Entry [i, j] is true when the mask moved by (i - i0, j - j0) cells, corner to corner, shares a cell.
    """
    a, b = fixed.mask, moved.mask[::-1, ::-1]
    shape = a.shape[0] + b.shape[0] - 1, a.shape[1] + b.shape[1] - 1
    size = _fast(shape[0]), _fast(shape[1])
    product = np.fft.rfft2(a.astype(np.float32), size) * np.fft.rfft2(b.astype(np.float32), size)
    hits = np.fft.irfft2(product, size)[: shape[0], : shape[1]] > 0.5
    return hits, b.shape[0] - 1, b.shape[1] - 1


def _fast(n: int) -> int:
    """Return the least number not below n whose only prime factors are 2, 3 and 5."""
    best = 1 << (n - 1).bit_length()
    five = 1
    while five < best:
        three = five
        while three < best:
            two = three
            while two < n:
                two *= 2
            best = min(best, two)
            three *= 3
        five *= 5
    return best
