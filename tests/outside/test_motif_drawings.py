"""The drawings that travel with frameforge, measured without any of its code.

The files are read with the standard library's XML parser, curves sampled by svgpathtools, areas and validity told by
shapely, the thinnest place by a dense Voronoi diagram (scipy): a ridge between two boundary points that lie nearly
opposite each other is as wide as they are apart (the medial axis, Blum 1967). The table of sizes is what the catalogue
promises.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from xml.etree import ElementTree

import numpy as np
import pytest
import shapely
from scipy.spatial import Voronoi
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry
from svgpathtools import Line, parse_path

from frameforge.job.motif_widths import widths_of
from frameforge.motif.catalogue import load_motif, names
from frameforge.motif.describe import describe
from frameforge.read import motif_folder

SVG = "{http://www.w3.org/2000/svg}"
STEP_MM = 0.04
OPPOSITE_DEG = 30.0
"""Two walls that open by more than this are a corner and not a thin place; common practice, no source."""


@dataclass(frozen=True)
class Promise:
    foot: float
    width: float
    height: float
    thinnest: float | None = None
    windows: int = 0
    segments: int = 40


TWELVE = {
    "pea-pod": Promise(22.0, 23.2, 7.2, 1.04, windows=3),
    "bean-leaf": Promise(4.4, 14.0, 16.0, windows=1),
    "seed-husk": Promise(6.0, 8.5, 11.5, windows=1),
    "rose-drop": Promise(8.0, 9.9, 13.0, windows=1),
    "arch": Promise(16.0, 16.0, 8.0, windows=1),
    "trellis": Promise(20.0, 20.0, 14.0, 1.07, windows=8),
    "scallop": Promise(12.0, 12.0, 4.0, 1.01, windows=2),
    "twig-scroll": Promise(5.6, 11.4, 13.7),
    "beetle": Promise(4.3, 14.3, 16.2, 1.20, windows=3, segments=80),
    "snail": Promise(17.2, 18.2, 12.2, 1.35, windows=1),
    "plum-blossom": Promise(6.0, 13.6, 13.4, 1.65, windows=6),
    "cabbage-edge": Promise(18.3, 21.4, 11.3, windows=3, segments=80),
}
CORNERS = ("cobweb-corner", "picket-corner", "sprout-corner", "strawberry-corner", "trowel-corner")


@dataclass(frozen=True)
class Drawn:
    """A file as the outside readers see it, y up, the foot line at y = 0."""

    root: ElementTree.Element
    parts: dict[str, tuple[Polygon, ...]]
    segments: int
    guides: dict[str, tuple[complex, complex]]

    def part(self, name: str) -> BaseGeometry:
        return shapely.union_all(list(self.parts.get(name, ())))


@cache
def drawn(name: str) -> Drawn:
    root = ElementTree.parse(motif_folder.folder() / f"{name}.svg").getroot()
    parts: dict[str, tuple[Polygon, ...]] = {}
    segments = 0
    guides = {}
    for group in root.findall(f"{SVG}g"):
        if group.get("id") == "guides":
            guides = {line.attrib["id"]: _line(line) for line in group}
            continue
        shapes = [_shape(element) for element in group]
        parts[group.attrib["id"]] = tuple(polygon for polygon, _ in shapes)
        segments += sum(count for _, count in shapes)
    return Drawn(root, parts, segments, guides)


def _line(line: ElementTree.Element) -> tuple[complex, complex]:
    x1, y1, x2, y2 = (float(line.attrib[key]) for key in ("x1", "y1", "x2", "y2"))
    return complex(x1, -y1), complex(x2, -y2)


def _shape(element: ElementTree.Element) -> tuple[Polygon, int]:
    kind = element.tag.removeprefix(SVG)
    if kind in ("circle", "ellipse"):
        get = {key: float(value) for key, value in element.attrib.items()}
        rx, ry = get.get("r", get.get("rx", 0)), get.get("r", get.get("ry", 0))
        turn = np.linspace(0, 2 * math.pi, 721)[:-1]
        return Polygon(np.column_stack((get["cx"] + rx * np.cos(turn), -get["cy"] + ry * np.sin(turn)))), 1
    assert kind == "path"
    path = parse_path(element.attrib["d"])
    assert path.isclosed()
    assert len(path.continuous_subpaths()) == 1, "one path element is one outline"
    points = [s.point(t) for s in path for t in np.linspace(0, 1, 2 if isinstance(s, Line) else 161)[:-1]]
    return Polygon([(z.real, -z.imag) for z in points]), len(path)


def thinnest(solid: BaseGeometry) -> float:
    """Return the least width between opposite walls, mm."""
    assert isinstance(solid, Polygon)
    rings = [solid.exterior, *solid.interiors]
    points = np.concatenate([_spread(np.asarray(ring.coords)) for ring in rings])
    points += np.random.default_rng(7).normal(0, 1e-7, points.shape)  # no four points on one circle
    diagram = Voronoi(points)
    shapely.prepare(solid)
    inside = np.asarray(shapely.contains_xy(solid, *diagram.vertices.T))
    ends = np.asarray(diagram.ridge_vertices)
    kept = np.asarray((ends >= 0).all(axis=1))
    kept[kept] = inside[ends[kept]].all(axis=1)
    a, b = (points[diagram.ridge_points[kept, i]] for i in (0, 1))
    middle = diagram.vertices[ends[kept]].mean(axis=1)
    width = np.hypot(*(a - b).T)
    diameter = 2 * np.hypot(*(a - middle).T)
    opposite = width >= diameter * math.cos(math.radians(OPPOSITE_DEG / 2))
    return float(width[opposite & (width > 3 * STEP_MM)].min())


def _spread(ring: np.ndarray) -> np.ndarray:
    parts = []
    for a, b in pairwise(ring):
        steps = max(1, int(np.hypot(*(b - a)) / STEP_MM))
        parts.append(a + np.arange(steps)[:, None] / steps * (b - a))
    return np.concatenate(parts)


def test_a_bar_and_a_ring_measure_as_wide_as_they_are() -> None:
    bar = shapely.union_all(
        [shapely.Point(-6, 0).buffer(3), shapely.Point(6, 0).buffer(3), shapely.box(-6, -0.6, 6, 0.6)]
    )
    assert thinnest(bar) == pytest.approx(1.2, abs=0.005)
    ring = shapely.Point(0, 0).buffer(5, 64) - shapely.Point(0.4, 0).buffer(3, 64)
    assert thinnest(ring) == pytest.approx(1.6, abs=0.005)


def test_every_drawing_is_one_of_these() -> None:
    assert set(names()) == {*TWELVE, *CORNERS}


@pytest.mark.parametrize("name", TWELVE)
def test_the_twelve_hold_their_sizes(name: str) -> None:
    """Foot, width and height within .2 mm, thinnest within .1 mm, windows as promised, few segments."""
    promise, file = TWELVE[name], drawn(name)
    left, bottom, right, top = file.part("join").bounds
    foot = file.guides["foot"]
    assert abs(foot[1] - foot[0]) == pytest.approx(promise.foot, abs=0.2)
    assert (right - left, top - bottom) == pytest.approx((promise.width, promise.height), abs=0.2)
    assert bottom == pytest.approx(0, abs=1e-9), "the foot line is the lowest line of the drawing"
    assert len(file.parts.get("window", ())) == promise.windows
    assert file.segments <= promise.segments
    assert "cut-away" not in file.parts
    edge = shapely.box(left, -3, right, 0.001)
    width = thinnest((file.part("join") | edge) - file.part("window"))
    if promise.thinnest is None:
        assert width >= 1.5, "what is not known as thin is wide enough for 240 g card"
    else:
        assert width == pytest.approx(promise.thinnest, abs=0.1)


@pytest.mark.parametrize("name", TWELVE)
def test_our_measure_of_the_thinnest_agrees(name: str) -> None:
    """Told within .1 mm as promised, and within .04 mm of the Voronoi diagram where card is thin at all.

    The diagram counts chords of round ends up to 15 degrees off the diameter, 1.2 mm cos 15 degrees at the feelers.
    """
    promise, file = TWELVE[name], drawn(name)
    width = widths_of(load_motif(name)).thinnest_mm
    assert width is not None
    if promise.thinnest is None:
        assert width >= 1.5
        return
    assert width == pytest.approx(promise.thinnest, abs=0.1)
    left, _, right, _ = file.part("join").bounds
    edge = shapely.box(left, -3, right, 0.001)
    assert width == pytest.approx(thinnest((file.part("join") | edge) - file.part("window")), abs=0.04)


@pytest.mark.parametrize(("name", "slit"), [("snail", 0.80), ("beetle", 0.82), ("cabbage-edge", 0.90)])
def test_our_measure_of_the_narrowest_slit_agrees(name: str, slit: float) -> None:
    """The three motifs with slits under 1 mm, as wide as listed and as shapely's largest disc in a window."""
    discs = [shapely.maximum_inscribed_circle(window, tolerance=1e-4).length for window in drawn(name).parts["window"]]
    width = widths_of(load_motif(name)).slit_mm
    assert width == pytest.approx(slit, abs=0.1)
    assert width == pytest.approx(2 * min(discs), abs=0.005)


@pytest.mark.parametrize("name", TWELVE)
def test_the_foot_ends_lie_on_the_outline(name: str) -> None:
    file = drawn(name)
    edge = file.part("join").boundary
    for end in file.guides["foot"]:
        assert edge.distance(shapely.Point(end.real, end.imag)) < 1e-9
    assert file.guides["axis"][0] == sum(file.guides["foot"]) / 2
    assert file.guides["axis"][1].real == file.guides["axis"][0].real


@pytest.mark.parametrize("name", [*TWELVE, *CORNERS])
def test_every_file_is_plain_and_true_to_size(name: str) -> None:
    """Page in mm with a viewBox in the same mm, a title, a sentence, known parts, simple outlines inside the page."""
    file = drawn(name)
    x, y, width, height = (float(v) for v in file.root.attrib["viewBox"].split())
    assert (file.root.get("width"), file.root.get("height")) == (f"{width:g}mm", f"{height:g}mm")
    for tag in ("title", "desc"):
        said = file.root.findtext(f"{SVG}{tag}")
        assert said
    assert set(file.parts) <= {"join", "cut-away", "window"}
    assert "join" in file.parts
    page = shapely.box(x, -y - height, x + width, -y)
    for polygons in file.parts.values():
        for polygon in polygons:
            assert polygon.is_valid, "no outline crosses itself"
            assert page.contains(polygon)
    for part, polygons in file.parts.items():
        for i, one in enumerate(polygons):
            assert all(one.disjoint(other) for other in polygons[i + 1 :]), f"outlines of {part} lie apart"
    card = file.part("join") - file.part("window")
    assert isinstance(card, Polygon), "the windows leave the card in one part"


@pytest.mark.parametrize("name", [*TWELVE, *CORNERS])
def test_our_reader_sees_the_same(name: str) -> None:
    """Area by shapely on 160 chords a curve, 1e-4 relative; bounds within .001 mm; the very same count of segments."""
    file, motif = drawn(name), load_motif(name)
    facts = describe(motif)
    solid = file.part("join") - file.part("window")
    assert facts.area_mm2 == pytest.approx(solid.area, rel=1e-4)
    box = shapely.union_all([file.part("join"), file.part("cut-away")]).bounds
    assert (facts.box.left, facts.box.bottom, facts.box.right, facts.box.top) == pytest.approx(box, abs=1e-3)
    assert facts.foot_mm == pytest.approx(abs(file.guides["foot"][1] - file.guides["foot"][0]), abs=1e-9)
    assert facts.segments == file.segments


@pytest.mark.parametrize("name", CORNERS)
def test_corner_motifs_fit_a_square_corner(name: str) -> None:
    """Tip at the corner, card inside the right angle below it, held by the floor of what is cut away."""
    file = drawn(name)
    card, pocket = file.part("join"), file.part("cut-away")
    foot = file.guides["foot"]
    assert file.segments <= 40
    assert card.bounds[3] == pytest.approx(0, abs=1e-4), "the tip is at the edge"
    left, bottom, right, top = pocket.bounds
    assert (left, right) == pytest.approx((foot[0].real, foot[1].real)), "the foot is the mouth of the cut-away"
    assert top == pytest.approx(0.3)
    assert (foot[0].imag, foot[1].imag) == (0, 0)
    reach = 30.0
    corner = Polygon([(0, 0), (-reach, -reach), (reach, -reach)])
    proud = 0.6 * (1 - math.sqrt(0.5))  # a tip blunted with r .6 stands so far beyond both sides
    assert corner.buffer(proud + 1e-3).contains(card & pocket)
    held = (corner - pocket) | card
    assert isinstance(held, Polygon), "a square corner keeps it in one part"
    straight = (shapely.box(-reach, -reach, reach, 0) - pocket) | card
    assert isinstance(straight, Polygon), "so does a straight edge"
    assert card.bounds[1] <= bottom - 0.3, "the root goes below the floor"
    teeth = shapely.box(-reach, -reach, left - 3, 1) | shapely.box(right + 3, -reach, reach, 1)
    assert thinnest(straight - teeth - file.part("window")) >= 1.5
