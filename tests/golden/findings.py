"""What is found in the demo's pieces and in every motif by itself, under the knife's and the laser's limits."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from frameforge.card.preset import load_preset
from frameforge.check.whole import check_piece
from frameforge.geometry.region import Region
from frameforge.job.demo import demo_text
from frameforge.job.make import built
from frameforge.job.motif_source import MotifSource
from frameforge.motif.catalogue import load_motif, names
from frameforge.motif.describe import card_of
from frameforge.recipe.recipe import read_recipe

EXPECTED = Path(__file__).parent / "findings.txt"
PRESETS = ("card-240-knife", "card-240-laser")


def found_now() -> list[str]:
    """Return a line for each finding: what it was found in, preset, code, x and y in mm, what was measured."""
    return [
        f"{name} {preset} {f.code} {f.x_mm:.2f} {f.y_mm:.2f} {f.measured:.4f}"
        for name, regions in _shapes()
        for preset in PRESETS
        for f in check_piece(regions, load_preset(preset), falls_apart="warning")
    ]


def _shapes() -> Iterator[tuple[str, tuple[Region, ...]]]:
    pieces = built(read_recipe(demo_text(), "demo.toml"), MotifSource(Path()), lambda *_: None)
    yield from ((made.name, (made.piece.region,)) for made in pieces)
    yield from ((f"motif/{name}", card_of(load_motif(name))) for name in names())
