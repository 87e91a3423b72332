"""Designs as masks on a grid, and where one design may lie beside another.

A mask holds the cells whose middle is within half the distance between pieces plus half a cell's diagonal of the
card: two pieces whose masks share no cell are apart by at least the distance asked (the middle of any shorter way
between them would lie in a cell of both). Holes stay open, so a piece may lie in another's opening. Where one mask
may not stand relative to another is their correlation, by the fast Fourier transform.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely

from frameforge.geometry import boolean
from frameforge.geometry.affine import Affine
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.geometry.region import Region
from frameforge.sheet.design import Design
from frameforge.sheet.turns import free_turns
from frameforge.tolerances import CHORD_MM, TOUCH_MM

__all__ = ["Cells", "Variant", "mask_of", "no_fit", "variants"]

Cells = npt.NDArray[np.bool_]

MOST_PAIRS = 2000
"""Pairs of variants whose tables are kept: some hundred megabytes at most."""
LEAST_TURNS = 4
"""Turns that every design keeps."""


@dataclass(frozen=True, slots=True, eq=False)
class Variant:
    """One design at one turn: its box's lower left corner at 0, its mask whose cell ``pad`` is there.

    ``filled`` is the mask with the openings filled, None where there are none.
    """

    design: int
    turn_deg: float
    width_mm: float
    height_mm: float
    area_mm2: float
    mask: Cells
    pad: tuple[int, int]
    filled: Cells | None

    def is_alike(self, other: Variant) -> bool:
        """Return whether both take the same cells and the same room, whatever their small holes."""
        sizes = abs(self.width_mm - other.width_mm), abs(self.height_mm - other.height_mm)
        return max(sizes) < TOUCH_MM and self.pad == other.pad and np.array_equal(self.mask, other.mask)


def variants(
    designs: tuple[Design, ...], apart_mm: float, cell_mm: float, turns: Sequence[Sequence[float]] | None = None
) -> tuple[tuple[Variant, ...], ...]:
    """Return the variants of each design at ``turns`` (else all it may take); turns that give one mask are kept once.

    Of many designs that turn freely only so many turns are taken that the tables of pairs stay small.
    """
    turns = [free_turns(design) for design in designs] if turns is None else turns
    most = max(int(math.sqrt(MOST_PAIRS)) // len(designs), LEAST_TURNS)
    return tuple(
        _distinct([_variant(i, design, turn, apart_mm, cell_mm) for turn in turns[i][:most]])
        for i, design in enumerate(designs)
    )


def _variant(index: int, design: Design, turn: float, apart_mm: float, cell_mm: float) -> Variant:
    """Return the mask of a design at a turn."""
    regions = design.turned(turn)
    box = bounds(regions)
    moved = tuple(region.transformed(Affine.from_move(complex(-box.left, -box.bottom))) for region in regions)
    mask, pad = mask_of(moved, apart_mm, cell_mm)
    filled, _ = mask_of(tuple(Region(region.outer) for region in moved), apart_mm, cell_mm)
    has_openings = bool((filled != mask).any())
    return Variant(
        index, turn, box.width_mm, box.height_mm, area_mm2(regions), mask, pad, filled if has_openings else None
    )


def mask_of(
    regions: Sequence[Region], apart_mm: float, cell_mm: float, origin_mm: float = 0.0
) -> tuple[Cells, tuple[int, int]]:
    """Return the mask of regions, and at which of its cells the point (origin, origin) lies."""
    reach = apart_mm / 2 + math.sqrt(0.5) * cell_mm + CHORD_MM
    shape = boolean.union([to_polygon(region) for region in regions])
    # The round corners of a buffer are chords inside it: they fall short by less than reach (1 - cos(pi/64)).
    grown = boolean.buffered(shape, 1.0013 * reach, quad_segs=16)
    left, bottom, right, top = ((value - origin_mm) / cell_mm for value in grown.bounds)
    first, last = (math.floor(left), math.floor(bottom)), (math.ceil(right), math.ceil(top))
    x, y = (origin_mm + np.arange(a, b + 1) * cell_mm for a, b in zip(first, last, strict=True))
    shapely.prepare(grown)
    return shapely.contains_xy(grown, x[:, None], y[None, :]), (-first[0], -first[1])


def _distinct(found: list[Variant]) -> tuple[Variant, ...]:
    kept: list[Variant] = []
    for variant in found:
        if not any(variant.is_alike(other) for other in kept):
            kept.append(variant)
    return tuple(kept)


def no_fit(fixed: Cells, moved: Cells) -> tuple[Cells, int, int]:
    """Return the offsets at which the mask ``moved`` overlaps ``fixed``, and the indices of offset (0, 0).

    Entry [i, j] is true when the mask moved by (i - i0, j - j0) cells, corner to corner, shares a cell.
    """
    a, b = fixed, moved[::-1, ::-1]
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
