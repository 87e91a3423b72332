"""What it costs to be told how many go round: a whole chart, and one ring with equal gaps."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
import shapely
from fixtures.cpu import cpu_s, fastest_children
from fixtures.plain_motifs import drop, husk, leaf, scallop

from frameforge.frame.base import Edge
from frameforge.frame.ornament import ready
from frameforge.frame.place import Track
from frameforge.frame.ring import solve_ring
from frameforge.frame.spec import Ornament
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.region import Region
from frameforge.motif.motif import Motif
from frameforge.tolerances import CHORD_MM

Holds = Callable[[str, float, float], None]

LIBRARIES = ("-c", "import numpy, shapely, typer, resvg_py")
SIZES = ("2.25in", "3in", "3.5in", "4in", "4.5in", "5in", "5.5in", "6in", "6.5in")
FIT = ("-c", "import sys; from frameforge.cli.entry import main; sys.exit(main())", "fit")
COUNT = 40


@pytest.mark.parametrize(("motif", "bound"), [("arch", 5.0), ("beetle", 6.5)])
def bench_nine_sizes(holds: Holds, tmp_path: Path, motif: str, bound: float) -> None:
    """One motif over nine sizes, table and both pictures, against importing the libraries and nothing else.

    The arch is the plainest of our motifs, the beetle the one with most curves.
    """
    asked = (*FIT, "--motif", motif, *(word for size in SIZES for word in ("--size", size)), "--out", str(tmp_path))
    libraries, fit = fastest_children(LIBRARIES, asked, runs=7)
    assert {path.name for path in tmp_path.iterdir()} == {f"fit-{motif}.svg", f"fit-{motif}.png", "run.json"}
    holds(f"fit of 9 sizes, {motif}, whole process / bare imports", fit.cpu_s / libraries.cpu_s, bound)


@pytest.mark.parametrize(
    ("motif", "axes"), [(husk(), (75, 50)), (drop(), (120, 40)), (scallop(), (100, 70)), (leaf(), (120, 90))],
    ids=lambda value: getattr(value, "name", None),
)  # fmt: skip
def bench_equal_gap_ring(holds: Holds, motif: Motif, axes: tuple[float, float]) -> None:
    """40 repeats with equal gaps round an oval, against one union by shapely of as many of the same motif."""
    track, row = Track(Edge(*axes), 1, "foot", "base"), [ready(Ornament(motif), 1.0, is_flipped=False)] * COUNT
    answer = solve_ring(track, row, 0.0)
    placed = [track.placement(r, track.seat(r, tau)) for r, tau in zip(row, answer.taus, strict=True)]
    outlines = [Region(region.outer).transformed(p) for p in placed for region in motif.join]
    polygons = [to_polygon(region, CHORD_MM) for region in outlines]
    assert len(polygons) == COUNT
    ours = cpu_s(lambda: solve_ring(track, row, 0.0))
    theirs = cpu_s(lambda: shapely.union_all(polygons))
    holds(f"equal gaps of {COUNT} {motif.name}s, ms", ours * 1000, 150)
    holds(f"equal gaps of {COUNT} {motif.name}s / one union of them", ours / theirs, 10)
