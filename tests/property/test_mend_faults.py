"""Every fault that can be mended, planted at random on circles and ovals: gone afterwards, and nothing else changed."""

from __future__ import annotations

import cmath
import math
from collections import Counter
from collections.abc import Callable, Sequence

import numpy as np
import pytest
import shapely
from fixtures.mending import assert_clean_edges, assert_same_curves_elsewhere, codes_left

from frameforge.card.preset import Preset, load_preset
from frameforge.geometry.affine import Affine
from frameforge.geometry.combine import Expression, difference, evaluate, union
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, ellipse, rectangle
from frameforge.mend.codes import MENDABLE
from frameforge.mend.whole import mend_piece

PRESETS = ("card-240-knife", "card-240-laser")
OF_LINES = ("double-line", "open-line")
"""Found in the lines of a file and not in card; ``tests/unit/mend/test_close_up.py`` plants those."""
REACH_MM = 14.0
"""A fault and what mends it lie within this of the place it was planted at."""

Plant = Callable[[Region, Affine, Preset, np.random.Generator], Expression | tuple[Region, ...]]


def _moved(at: Affine, outline: Outline) -> Region:
    return Region(outline).transformed(at)


def _web(base: Region, at: Affine, preset: Preset, rng: np.random.Generator) -> Expression:
    radius, web = rng.uniform(2.5, 4), rng.uniform(0.4, 0.9) * preset.least_web_mm
    return difference(base, _moved(at, circle(-radius - web, radius)))


def _neck(base: Region, at: Affine, preset: Preset, rng: np.random.Generator) -> Expression:
    half = rng.uniform(0.3, 0.9) * preset.least_neck_mm / 2
    stalk, leaf = rectangle(-3, -half, 6, half), ellipse(8.5, rng.uniform(3, 4), rng.uniform(2.5, 4))
    return union(base, _moved(at, stalk), _moved(at, leaf))


def _finger(base: Region, at: Affine, preset: Preset, rng: np.random.Generator) -> Expression:
    half = rng.uniform(0.3, 0.9) * preset.least_finger_mm / 2
    return union(base, _moved(at, rectangle(-3, -half, rng.uniform(4, 8), half)))


def _spike(base: Region, at: Affine, preset: Preset, rng: np.random.Generator) -> Expression:
    high, turn = rng.uniform(7, 10), math.radians(rng.uniform(0.5, 0.9) * preset.tip_deg)
    half = (high + 3) * math.tan(turn / 2)
    return union(base, _moved(at, Outline.from_points([-3 - 1j * half, high, -3 + 1j * half])))


def _slot(base: Region, at: Affine, preset: Preset, rng: np.random.Generator) -> Expression:
    half = rng.uniform(0.3, 0.9) * preset.least_slot_mm / 2
    return difference(base, _moved(at, rectangle(-rng.uniform(4, 7), -half, 3, half)))


def _hole(base: Region, at: Affine, preset: Preset, rng: np.random.Generator) -> Expression:
    return difference(base, _moved(at, circle(-6, rng.uniform(0.4, 0.9) * preset.least_hole_mm / 2)))


def _waste(base: Region, at: Affine, preset: Preset, rng: np.random.Generator) -> Expression:
    side = math.sqrt(rng.uniform(0.5, 0.9) * preset.crumb_mm2) / 2
    return difference(base, _moved(at, rectangle(-6 - side, -side, -6 + side, side)))


def _beside(base: Region, at: Affine, gap: float, radius: float) -> tuple[Region, ...]:
    return base, _moved(at, circle(radius + gap, radius))


def _crumb(base: Region, at: Affine, preset: Preset, rng: np.random.Generator) -> tuple[Region, ...]:
    return _beside(base, at, 3.0, math.sqrt(rng.uniform(0.5, 0.9) * preset.crumb_mm2 / math.pi))


def _loose(base: Region, at: Affine, preset: Preset, rng: np.random.Generator) -> tuple[Region, ...]:
    return _beside(base, at, rng.uniform(1.5, 3), rng.uniform(3, 5))


def _touch(base: Region, at: Affine, preset: Preset, rng: np.random.Generator) -> tuple[Region, ...]:
    return _beside(base, at, 0.0, rng.uniform(3, 5))


def _near(base: Region, at: Affine, preset: Preset, rng: np.random.Generator) -> tuple[Region, ...]:
    return _beside(base, at, rng.uniform(0.2, 0.8) * preset.near_miss_mm, rng.uniform(3, 5))


PLANTS: dict[str, Plant] = {
    "thin-web": _web, "thin-neck": _neck, "thin-finger": _finger, "spike": _spike, "narrow-slot": _slot,
    "small-hole": _hole, "waste-crumb": _waste, "card-crumb": _crumb, "loose": _loose, "point-touch": _touch,
    "near-miss": _near,
}  # fmt: skip


def planted(code: str, preset: Preset, seed: int, is_oval: bool) -> tuple[tuple[Region, ...], complex]:
    """Return a ring, round or oval, with one fault at a random place of its outside, and that place."""
    rng = np.random.default_rng([seed, len(code), is_oval])
    a = rng.uniform(35, 60)
    b = a * rng.uniform(0.6, 0.9) if is_oval else a
    base = Region(ellipse(0, a, b), (ellipse(0, a - 18, b - 18).reversed(),))
    # At a touch the place must lie on both edges to the bit: where the long axis meets the oval.
    turn = 0.0 if code == "point-touch" else rng.uniform(0, math.tau)
    place = complex(a * math.cos(turn), b * math.sin(turn))
    outward = complex(b * math.cos(turn), a * math.sin(turn))
    at = Affine.from_move(place).after(Affine.from_turn(cmath.phase(outward)))
    made = PLANTS[code](base, at, preset, rng)
    return (made if isinstance(made, tuple) else evaluate(made).regions), place


def _mended(code: str, name: str, seed: int, is_oval: bool) -> None:
    preset = load_preset(name)
    before, place = planted(code, preset, seed, is_oval)
    had = Counter(codes_left(before, preset))
    assert had[code] >= 1, "the fault is there"
    mended = mend_piece(before, preset, (code,))
    assert mended.left == ()
    has = Counter(codes_left(mended.regions, preset))
    assert has[code] == 0
    assert not has - had, "and no other came of it"
    assert mended.rounds <= 3
    assert_clean_edges(before, mended)
    near = shapely.Point(place.real, place.imag).buffer(REACH_MM)
    assert_same_curves_elsewhere(before, mended.regions, near)
    assert_same_curves_elsewhere(mended.regions, before, near)


def test_every_code_is_planted() -> None:
    assert set(PLANTS) | set(OF_LINES) == set(MENDABLE)


@pytest.mark.parametrize("code", PLANTS)
def test_a_planted_fault_is_mended_and_nothing_else_is_changed(code: str) -> None:
    number = list(PLANTS).index(code)
    _mended(code, PRESETS[number % 2], number, is_oval=number % 4 > 1)


def _every(codes: Sequence[str]) -> list[object]:
    return [
        pytest.param(code, name, is_oval, id=f"{code}-{name}-{'oval' if is_oval else 'circle'}")
        for code in codes
        for name in PRESETS
        for is_oval in (False, True)
    ]


@pytest.mark.slow
@pytest.mark.parametrize(("code", "name", "is_oval"), _every(list(PLANTS)))
def test_many_planted_faults_are_mended(code: str, name: str, is_oval: bool) -> None:
    for seed in range(12):
        _mended(code, name, seed, is_oval)
