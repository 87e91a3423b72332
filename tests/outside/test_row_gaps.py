"""The gap that a row reports against one measured outside: all motifs as placed, flattened finely, by shapely.

Rows are drawn at random, each from its own seed: motif or pattern, circle or oval, mirrored, leaning, scaled, in every
place. The gap is the least distance between any two repeats; the greatest is that between neighbours.
"""

from __future__ import annotations

import random
from functools import cache
from pathlib import Path

import numpy as np
import pytest
import shapely

from frameforge.card.preset import load_preset
from frameforge.errors import GeometryError
from frameforge.frame.fit import fit_row
from frameforge.frame.model import RowModel
from frameforge.frame.piece import PlacedMotif
from frameforge.frame.row import build_row
from frameforge.frame.spec import Ornament, PieceSpec, Place, RowSpec, Size
from frameforge.geometry.flatten import flatten_outline
from frameforge.motif.catalogue import load_motif, names
from frameforge.motif.motif import Motif

KNIFE = load_preset("card-240-knife")
CHORD_MM = 1e-4
AGREE_MM = 1e-3
PLACES: tuple[Place, ...] = ("out", "out", "in", "window", "across")


@cache
def motif_of(name: str) -> Motif:
    return load_motif(name, beside=Path(), least_neck_mm=KNIFE.least_neck_mm)


def random_row(seed: int) -> tuple[PieceSpec, RowSpec]:
    """Return the piece and the row of a seed: widths 60 to 130 mm, ovals up to 2.5 : 1, gaps 1 to 9 mm."""
    draw = random.Random(seed)
    kinds = draw.choice((1, 1, 2, 2, 3))
    pattern = tuple(
        Ornament(
            motif_of(draw.choice(names(None))),
            scale=draw.choice((1.0, round(draw.uniform(0.6, 1.3), 2))),
            lean_deg=draw.choice((0.0, 0.0, draw.uniform(-20, 20))),
            is_mirrored=draw.random() < 0.25,
        )
        for _ in range(kinds)
    )
    width, ratio = draw.uniform(60, 130), draw.choice((1.0, draw.uniform(1.1, 2.5)))
    size = Size(round(width, 1), round(width / ratio, 1)) if draw.random() < 0.7 else Size(width / ratio, width)
    place = draw.choice(PLACES)
    opening = Size(size.width_mm * 0.85, size.height_mm * 0.85) if place == "in" else None
    row = RowSpec(
        pattern,
        count="most",
        gap_mm=round(draw.uniform(1, 9), 2),
        place=place,
        is_mirrored_every_other=draw.random() < 0.4,
        start_deg=draw.choice((0.0, draw.uniform(0, 360))),
        starts_with_gap=draw.random() < 0.2,
        spread=draw.choice((None, None, "equal-arc", "equal-chord")),
        skip=draw.choice(((), ("top",))),
        keep_free=draw.choice((None, None, None, (50.0, 90.0))),
    )
    return PieceSpec("random", size, opening=opening, rows=(row,)), row


def shape_of(repeat: PlacedMotif) -> shapely.MultiPolygon:
    """Return the card that a repeat joins on and takes away, or its windows, as fine chords."""
    regions = (*repeat.motif.join, *repeat.motif.cut_away) or repeat.motif.window
    rings = [flatten_outline(region.outer.transformed(repeat.placement), CHORD_MM).points for region in regions]
    return shapely.MultiPolygon([shapely.Polygon(np.column_stack([ring.real, ring.imag])) for ring in rings])


def least_of_all(shapes: list[shapely.MultiPolygon], at_most: float) -> float:
    tree = shapely.STRtree(shapes)
    pairs = tree.query(shapes, predicate="dwithin", distance=at_most + AGREE_MM)
    return min(float(shapely.distance(shapes[a], shapes[b])) for a, b in pairs.T if a < b)


def gap_holds(seed: int) -> bool:
    """Hold the row of a seed against shapely; False where the row is refused, or has no two neighbours."""
    spec, row = random_row(seed)
    model = RowModel(spec, row, KNIFE)
    try:
        built = build_row(model, fit_row(model, spec.size if isinstance(spec.size, Size) else None), is_trial=True)
    except GeometryError:
        return False
    made = built.result
    # Corner motifs in an opening tell the teeth between them, which are measured to the opening's edge.
    has_teeth = spec.opening is not None and any(ornament.motif.cut_away for ornament in row.pattern)
    if made.gap_mm is None or made.count < 3 or has_teeth:
        return False
    shapes = [shape_of(repeat) for repeat in made.repeats]
    assert made.gap_mm == pytest.approx(least_of_all(shapes, made.gap_mm), abs=AGREE_MM), f"seed {seed}"
    beside = shapely.distance(shapes, [*shapes[1:], shapes[0]])
    if not row.skip and not row.keep_free:
        assert made.gap_max_mm == pytest.approx(float(beside.max()), abs=AGREE_MM), f"seed {seed}"
    return True


def test_random_rows_have_the_gap_they_report() -> None:
    held = [seed for seed in range(24) if gap_holds(seed)]
    assert len(held) >= 20


@pytest.mark.slow
@pytest.mark.parametrize("first", range(1000, 1400, 40))
def test_many_random_rows_have_the_gap_they_report(first: int) -> None:
    held = [seed for seed in range(first, first + 40) if gap_holds(seed)]
    assert len(held) >= 25


def test_scrolls_that_are_no_neighbours_come_nearest_at_the_end_of_an_oval() -> None:
    """Two mirrored scrolls reach round the one between them; the gap is the least of all."""
    scroll, size = Ornament(motif_of("twig-scroll")), Size(107.7, 27.4)
    row = RowSpec((scroll,), count=12, place="across", spread="equal-arc", is_mirrored_every_other=True)
    model = RowModel(PieceSpec("scrolls", size, rows=(row,)), row, KNIFE)
    made = build_row(model, fit_row(model, size), is_trial=True).result
    shapes = [shape_of(repeat) for repeat in made.repeats]
    beside = float(shapely.distance(shapes, [*shapes[1:], shapes[0]]).min())
    assert made.gap_mm is not None
    assert made.gap_mm == pytest.approx(least_of_all(shapes, beside), abs=AGREE_MM)
    assert made.gap_mm < beside - 1
