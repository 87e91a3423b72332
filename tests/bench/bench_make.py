"""What making one piece costs, against what its libraries cost anyway."""

from __future__ import annotations

import math
from collections.abc import Callable
from pathlib import Path

import shapely
from fixtures.cpu import cpu_s, fastest_children

from frameforge.card.preset import Preset, load_preset
from frameforge.frame.make import make_piece
from frameforge.frame.spec import Ornament, PieceSpec, RowSpec, Size
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle
from frameforge.motif.catalogue import load_motif
from frameforge.tolerances import CHORD_MM

Holds = Callable[[str, float, float], None]

LIBRARIES = ("-c", "import shapely, ezdxf, svgwrite, typer")
MAKE = (
    "-c", "import sys; from frameforge.cli.entry import main; sys.exit(main())",
    "make", "--motif", "bean-leaf", "--count", "24", "--size", "120mm", "--opening", "70mm", "--formats", "svg,dxf",
)  # fmt: skip
MM_PER_MOTIF = 15.0
"""Length of edge for each bean leaf (14 mm wide)."""


def _spec(count: int) -> PieceSpec:
    """Return a circle just large enough for ``count`` bean leaves, with an opening."""
    size = max(count * MM_PER_MOTIF / math.pi, 40.0)
    row = RowSpec((Ornament(load_motif("bean-leaf")),), count=count)
    return PieceSpec("collar", Size(size, size), opening=Size(size * 0.6, size * 0.6), rows=(row,))


def _preset() -> Preset:
    return load_preset("card-240-knife")


def bench_whole_process(holds: Holds, tmp_path: Path) -> None:
    """One 24-leaf piece to SVG and DXF, from the command line, against importing the libraries and nothing else."""
    made = (*MAKE, "--out", str(tmp_path), "--force")
    libraries, make = fastest_children(LIBRARIES, made, runs=9)
    assert {"svg", "dxf"} <= {path.suffix.lstrip(".") for path in tmp_path.iterdir()}
    holds("make of 24 leaves to SVG and DXF, peak memory in MB", make.peak_mb, 250)
    holds("make of 24 leaves to SVG and DXF, whole process / bare imports", make.cpu_s / libraries.cpu_s, 1.8)


def bench_geometry(holds: Holds) -> None:
    """The geometry of that piece against one union of the same polygons by shapely."""
    spec, preset = _spec(24), _preset()
    piece = make_piece(spec, preset)
    size = spec.size
    assert isinstance(size, Size)
    base = Region(circle(0, size.width_mm / 2))
    moved = [region.transformed(repeat.placement) for repeat in piece.rows[0].repeats for region in repeat.motif.join]
    polygons = [to_polygon(region, CHORD_MM) for region in (base, *moved)]
    assert len(polygons) == 25
    ours = cpu_s(lambda: make_piece(spec, preset))
    theirs = cpu_s(lambda: shapely.union_all(polygons))
    holds("geometry of 24 leaves / one shapely.union_all of the same polygons", ours / theirs, 20)


def bench_growth(holds: Holds) -> None:
    """How time grows with the number of motifs, as the exponent of n between 24 and 1200: a piece may be 6 m across."""
    preset, counts = _preset(), (24, 250, 1200)
    times = {n: cpu_s(lambda n=n: make_piece(_spec(n), preset), runs=3) for n in counts}  # type: ignore[misc]
    for n in counts[1:]:
        exponent = math.log(times[n] / times[24]) / math.log(n / 24)
        holds(f"growth of the geometry from 24 to {n} motifs, exponent of n", exponent, 1.1)


def bench_bent(holds: Holds, tmp_path: Path) -> None:
    """The same 24 leaves bent, and on an oval, against as drawn: whole processes."""
    bent = (*MAKE, "--seat", "bent", "--out", str(tmp_path / "bent"), "--force")
    drawn, made = fastest_children((*MAKE, "--out", str(tmp_path / "drawn"), "--force"), bent, runs=5)
    holds("make of 24 leaves bent / as drawn, on a circle", made.cpu_s / drawn.cpu_s, 1.5)
    oval = tuple({"120mm": "150x100mm", "70mm": "110x60mm"}.get(word, word) for word in MAKE)
    on_oval = (*oval, "--seat", "bent", "--out", str(tmp_path / "bent"), "--force")
    drawn, made = fastest_children((*oval, "--out", str(tmp_path / "drawn"), "--force"), on_oval, runs=5)
    holds("make of 24 leaves bent / as drawn, on an oval", made.cpu_s / drawn.cpu_s, 2)
