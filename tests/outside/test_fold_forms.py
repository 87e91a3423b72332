"""Tent cards, creases, lids and hanging holes against closed forms, read back from the written files by other readers.

No source is named for the forms: chords of a circle, lengths of a circle, centres of gravity. The drawn files are read
by pyogrio (GDAL) and by plain text, not by our readers.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import pyogrio
import pytest
import shapely

from frameforge.cli.entry import main


@pytest.fixture(autouse=True)
def _fine_arcs() -> Iterator[None]:
    """Let GDAL step arcs by a degree."""
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": "1"})
    yield
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": None})


def written(tmp_path: Path, *words: str) -> Path:
    assert main(["make", *words, "--formats", "svg,dxf", "--out", str(tmp_path)]) == 0
    return tmp_path


def by_layer(file: Path) -> dict[str, list[shapely.LineString]]:
    """Return the lines of a DXF by their layers."""
    _, _, shapes, fields = pyogrio.raw.read(file, columns=["Layer"])
    found: dict[str, list[shapely.LineString]] = {}
    for layer, shape in zip(fields[0], shapely.from_wkb(shapes), strict=True):
        found.setdefault(layer, []).append(shape)
    return found


def chord(radius: float, depth: float) -> float:
    return 2 * math.sqrt(2 * radius * depth - depth * depth)


def test_two_discs_of_100_folded_at_10_with_flats_at_8(tmp_path: Path) -> None:
    """Hinge 60.000, flats 54.259, one half 82 high, the blank 164."""
    assert (chord(50, 10), chord(50, 8)) == (pytest.approx(60.000, abs=5e-4), pytest.approx(54.259, abs=5e-4))
    written(tmp_path, "--size", "100mm", "--fold", "10mm top", "--flat", "8mm", "--name", "table")
    lines = by_layer(tmp_path / "table.dxf")
    [crease], [cut] = lines["CREASE"], lines["CUT"]
    assert crease.length == pytest.approx(60.000, abs=1e-4)
    left, bottom, right, top = cut.bounds
    assert (right - left, top - bottom) == (pytest.approx(100, abs=1e-3), pytest.approx(164, abs=1e-3))
    assert crease.bounds[1] == pytest.approx((bottom + top) / 2, abs=1e-4)
    level = [abs(b[0] - a[0]) for a, b in pairwise(cut.coords) if abs(a[1] - b[1]) < 1e-6]
    assert sorted(level)[-2:] == pytest.approx([54.259, 54.259], abs=5e-4)


@pytest.mark.parametrize(("radius", "depth"), [(50, 10), (37.5, 4), (61, 30)])
def test_hinges_of_other_discs(tmp_path: Path, radius: float, depth: float) -> None:
    written(tmp_path, "--size", f"{2 * radius}mm", "--fold", f"{depth}mm 40deg", "--name", "table")
    [crease] = by_layer(tmp_path / "table.dxf")["CREASE"]
    assert crease.length == pytest.approx(chord(radius, depth), abs=1e-4)


def test_dashes_on_a_hinge_of_60(tmp_path: Path) -> None:
    """floor((60 + 2) / (3 + 2)) = 12 dashes of 3, the first and the last at the ends."""
    written(tmp_path, "--size", "100mm", "--fold", "10mm top", "--crease", "dashed", "--name", "table")
    dashes = by_layer(tmp_path / "table.dxf")["CREASE"]
    assert [dash.length for dash in dashes] == pytest.approx([3.0] * 12, abs=1e-5)
    places = sorted(x for dash in dashes for x, _ in dash.coords)
    assert (places[-1] - places[0]) == pytest.approx(60, abs=1e-4)


def test_a_crease_has_a_file_of_its_own_and_is_in_no_cut(tmp_path: Path) -> None:
    written(tmp_path, "--size", "100mm", "--fold", "10mm top", "--name", "table")
    whole, cut, crease = ((tmp_path / f"table{kind}.svg").read_text() for kind in ("", ".cut", ".crease"))
    assert re.findall(r'<g id="(\w+)"', whole) == ["cut", "crease"]
    assert re.findall(r'<g id="(\w+)"', cut) == ["cut"]
    assert re.findall(r'<g id="(\w+)"', crease) == ["crease"]
    assert "A" not in re.search(r' d="([^"]*)"', crease)[1]  # type: ignore[index]


def test_the_strip_of_a_lid_of_80(tmp_path: Path) -> None:
    """pi (80 + .3) + 10 = 262.270; 20 high as asked."""
    written(tmp_path, "--size", "80mm", "--lid", "20mm strip", "--name", "lid")
    [strip] = by_layer(tmp_path / "lid-strip.dxf")["CUT"]
    left, bottom, right, top = strip.bounds
    assert (right - left, top - bottom) == (pytest.approx(262.270, abs=5e-4), pytest.approx(20, abs=1e-5))


def test_the_crease_of_a_flange_is_the_edge_of_the_lid(tmp_path: Path) -> None:
    written(tmp_path, "--size", "80mm", "--lid", "8mm flange", "--name", "lid")
    lines = by_layer(tmp_path / "lid.dxf")
    creases, [cut] = lines["CREASE"], lines["CUT"]
    assert sum(crease.length for crease in creases) == pytest.approx(80 * math.pi, abs=0.01)
    assert not any(crease.is_ring for crease in creases)
    left, bottom, right, top = shapely.MultiLineString(creases).bounds
    assert (right - left, top - bottom) == (pytest.approx(80, abs=1e-2), pytest.approx(80, abs=1e-2))
    assert shapely.Polygon(cut.coords).area > 40 * 40 * math.pi


@pytest.mark.parametrize("skip", ["3,4", "2,3,5,9", "6"])
@pytest.mark.parametrize("at", ["top", "70deg"])
def test_a_piece_hangs_straight(tmp_path: Path, skip: str, at: str) -> None:
    """|x_c - x_h| < .05 when hung, with the centre of gravity of the written file."""
    words = ("--motif", "pea-pod", "--size", "100mm", "--opening", "50mm", "--skip", skip, "--hole", f"4mm {at}")
    written(tmp_path, *words, "--name", "hung")
    rings = [shapely.Polygon(line.coords) for line in by_layer(tmp_path / "hung.dxf")["CUT"]]
    outer = max(rings, key=lambda ring: ring.area)
    holes = [ring for ring in rings if ring is not outer]
    # Of all holes the hanging hole is the one nearest to a circle of 4 mm.
    hole = min(holes, key=lambda ring: abs(ring.area - 4 * math.pi) + abs(ring.length - 4 * math.pi))
    centre = shapely.Polygon(outer.exterior.coords, [ring.exterior.coords for ring in holes]).centroid
    deg = 0.0 if at == "top" else 70.0
    up = complex(math.sin(math.radians(deg)), math.cos(math.radians(deg)))
    below = complex(hole.centroid.x - centre.x, hole.centroid.y - centre.y) * up.conjugate()
    assert abs(below.imag) < 0.05
    assert below.real > 0
