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
COMMAND = ("-c", "import sys; from frameforge.cli.entry import main; sys.exit(main())")
FIT = (*COMMAND, "fit")
COUNT = 40
SLOWEST = (
    ("fit", "--motif", "arch", "--size", "200x10mm"),
    ("make", "--motif", "beetle", "--count", "80", "--size", "150x100mm"),
    ("make", "--motif", "snail", "--count", "40", "--size", "240x80mm"),
)
"""Orders that are refused, with the ways out that take longest to try."""
FOUND = (
    ("make", "--motif", "arch", "--count", "18", "--size", "150x100mm", "--gap", "0", "--scale", "find"),
    ("fit", "--motif", "bean-leaf", "--count", "30", "--size", "150x100mm", "--gap", "0", "--scale", "find"),
    ("fit", "--motif", "cabbage-edge", "--count", "24", "--size", "find", "--ratio", "1.5", "--gap", "0"),
)
"""Ovals on which motifs touch: every try of the search stands partly in each other."""


@pytest.mark.parametrize(("motif", "bound"), [("arch", 5.0), ("beetle", 6.5)])
def bench_nine_sizes(holds: Holds, tmp_path: Path, motif: str, bound: float) -> None:
    """One motif over nine sizes, table and both pictures, against importing the libraries and nothing else.

    The arch is the plainest of our motifs, the beetle the one with most curves.
    """
    asked = (*FIT, "--motif", motif, *(word for size in SIZES for word in ("--size", size)), "--out", str(tmp_path))
    libraries, fit = fastest_children(LIBRARIES, asked, runs=7)
    assert {path.name for path in tmp_path.iterdir()} == {f"fit-{motif}.svg", f"fit-{motif}.png", "run.json"}
    holds(f"fit of 9 sizes, {motif}, whole process, s", fit.cpu_s, 1.5)
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


@pytest.mark.long
@pytest.mark.parametrize("words", SLOWEST, ids=" ".join)
def bench_refusal(holds: Holds, tmp_path: Path, words: tuple[str, ...]) -> None:
    """What is refused, with ways out that are all tried, against importing the libraries and nothing else."""
    says = "import sys; from frameforge.cli.entry import main; sys.exit(main() != 3)"
    libraries, refused = fastest_children(LIBRARIES, ("-c", says, *words, "--out", str(tmp_path / "o")), runs=3)
    holds(f"refusal of {' '.join(words)}, s", refused.cpu_s, 2.0)
    holds(f"refusal of {' '.join(words)} / bare imports", refused.cpu_s / libraries.cpu_s, 12)


@pytest.mark.long
@pytest.mark.parametrize("words", FOUND, ids=" ".join)
def bench_touching(holds: Holds, tmp_path: Path, words: tuple[str, ...]) -> None:
    """What is found so that motifs touch, against importing the libraries and nothing else."""
    libraries, found = fastest_children(LIBRARIES, (*COMMAND, *words, "--out", str(tmp_path), "--force"), runs=3)
    assert any(tmp_path.iterdir())
    holds(f"{' '.join(words)}, s", found.cpu_s, 2.0)
    holds(f"{' '.join(words)} / bare imports", found.cpu_s / libraries.cpu_s, 12)
