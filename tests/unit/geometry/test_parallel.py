"""Parallel outlines: exact areas, true distances, few segments, and what happens where they vanish."""

from __future__ import annotations

import math

import pytest
from fixtures.outlines import disc, leaf_frame, ring
from fixtures.parallel_checks import distances, gap, is_clean, ring_count
from fixtures.parallel_shapes import bar, blob, spiral, star

from frameforge.geometry.combine import evaluate
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.measure import area_mm2, length_mm
from frameforge.geometry.outline import Outline
from frameforge.geometry.parallel import parallel, parallel_with_report
from frameforge.geometry.region import Region
from frameforge.geometry.ribbon.corners import Corners
from frameforge.geometry.ribbon.stretches import parts_of
from frameforge.geometry.shapes import circle, ellipse
from frameforge.tolerances import FIT_MM

OVAL = Region(ellipse(0j, 60, 40))
OVAL_AREA, OVAL_PERIMETER = 2400 * math.pi, 317.308791785812
ROUND, MITRE = Corners(), Corners("mitre", 10.0)
OFF_MM = FIT_MM + 1e-4
"""How far a curve may lie off the distance: the fit, and what is needed to join smooth neighbours in one point."""


@pytest.fixture(scope="module")
def frame() -> Region:
    """The 24-leaf frame: 313 segments, 316 when its circles are in quarters."""
    (region,) = evaluate(leaf_frame(24)).regions
    assert region.segment_count == 313
    return region


# The greatest numbers of segments, and those of the curves that meet there, were set by a trial of the same method.
@pytest.mark.parametrize(
    ("distance", "most"), [(0.1, 433), (-0.1, 457), (-0.5, 457), (1.5, 289), (-1.5, 552), (3.0, 121), (10.0, 73)]
)
def test_the_frame_has_few_segments_at_the_right_distance(frame: Region, distance: float, most: int) -> None:
    combined = parallel_with_report(frame, distance, ROUND)
    assert is_clean(combined)
    assert combined.report.repeats == 0
    assert sum(region.segment_count for region in combined.regions) <= most
    off = abs(distances(combined.regions, [frame]) - abs(distance))
    assert off.max() <= OFF_MM
    assert gap(combined.regions) < 1e-9


@pytest.mark.parametrize("distance", [0.1, 1.5, 3.0])
def test_the_frame_grown_and_shrunk_again(frame: Region, distance: float) -> None:
    """Grown corners are arcs that shrink to the very point they came from."""
    grown = parallel_with_report(frame, distance, ROUND)
    back = parallel_with_report(grown.regions, -distance, ROUND)
    assert is_clean(grown)
    assert is_clean(back)
    assert abs(distances(back.regions, grown.regions, 12) - distance).max() <= OFF_MM
    assert area_mm2(back.regions) >= area_mm2(frame) - 2 * OFF_MM * length_mm(frame)


@pytest.mark.parametrize("distance", [0.1, -0.5, 3.0, 10.0])
def test_copies_are_fitted_once(distance: float) -> None:
    """However many leaves and teardrops, the number of fits is that of their different curves."""
    fits = set()
    for count in (6, 24):
        loops = [o.segments for region in evaluate(leaf_frame(count)).regions for o in region.outlines]
        fits.add(parts_of(loops, distance, FIT_MM)[1])
    assert len(fits) == 1
    assert fits.pop() <= 12


@pytest.mark.parametrize("distance", [5.0, 10.0, -5.0, -10.0, -20.0])
def test_steiners_formula_on_an_oval(distance: float) -> None:
    """Area A + P d + pi d^2 (Steiner, 1840; inward while d is at most the smallest radius of curvature 26.67).

    A quarter of the oval needs two cubics, so there are eight.
    """
    (region,) = parallel(OVAL, distance)
    wanted = OVAL_AREA + OVAL_PERIMETER * distance + math.pi * distance**2
    assert abs(area_mm2(region) - wanted) / length_mm(region) <= 1e-4
    assert abs(length_mm(region) - (OVAL_PERIMETER + 2 * math.pi * distance)) <= 2e-3
    assert region.segment_count == 8


# Areas and perimeters of the same oval, from Steiner's formula with the perimeter to 15 digits.
@pytest.mark.parametrize(
    ("distance", "area", "perimeter"),
    [
        (5.0, 9204.9061438843, 348.72471832171), (10.0, 11027.069551833, 380.14064485761),
        (-5.0, 6031.8182260262, 285.89286524991), (-10.0, 4680.8938137164, 254.47693871402),
    ],
)  # fmt: skip
def test_computed_areas_of_an_oval(distance: float, area: float, perimeter: float) -> None:
    (region,) = parallel(OVAL, distance, fit_mm=1e-5)
    assert area_mm2(region) == pytest.approx(area, abs=4e-3)
    assert length_mm(region) == pytest.approx(perimeter, abs=1e-3)


def test_a_rim_of_even_width_in_an_oval() -> None:
    """10 mm inside a 120 x 80 oval: band 10 P - 100 pi = 2858.928652 mm2; concentric ovals would give 2827.433."""
    (inner,) = parallel(OVAL, -10, fit_mm=1e-6)
    band = Region(OVAL.outer, (inner.outer.reversed(),))
    assert area_mm2(band) == pytest.approx(2858.928652499, abs=1e-3)


@pytest.mark.parametrize(("distance", "area"), [(-30.0, 848.545207198), (-35.0, 298.760398704)])
def test_an_oval_past_its_least_radius_gets_two_corners(distance: float, area: float) -> None:
    """Areas by mpmath: the integral of y dx along the exact parallel between its two crossings of the long axis.

    (An offset of a polygon of 20,000 sides by shapely gives 848.49475 and 298.722: too little.)
    """
    (region,) = parallel(OVAL, distance, fit_mm=1e-5)
    assert area_mm2(region) == pytest.approx(area, abs=2e-4)
    (coarse,) = parallel(OVAL, distance)
    assert coarse.segment_count <= 12
    assert parallel(OVAL, -40) == ()


def star_area(distance: float, *, is_mitred: bool) -> float:
    """Closed form: A + d P + the tips' sectors or kites - what the hollow corners' strips share."""
    half_tip, step = math.radians(7.5), math.pi / 5
    hollow = 20 * math.sin(half_tip) / math.sin(half_tip + step)
    side = abs(20 - hollow * complex(math.cos(step), math.sin(step)))
    area = 5 * 20 * hollow * math.sin(step)
    tip_turn = math.pi - 2 * half_tip
    hollow_turn = tip_turn - 2 * math.pi / 5
    tip = math.tan(tip_turn / 2) if is_mitred else tip_turn / 2
    return area + 10 * side * distance + 5 * distance**2 * (tip - math.tan(hollow_turn / 2))


@pytest.mark.parametrize("distance", [0.3, 1.0, 2.0])
def test_a_star_is_exact(distance: float) -> None:
    """Lines and arcs only: 15 segments round, 10 mitred, areas to 1e-9 mm2."""
    (rounded,), (mitred,) = parallel(star(), distance), parallel(star(), distance, join="mitre")
    assert (rounded.segment_count, mitred.segment_count) == (15, 10)
    assert abs(area_mm2(rounded) - star_area(distance, is_mitred=False)) < 1e-9
    assert abs(area_mm2(mitred) - star_area(distance, is_mitred=True)) < 1e-9


def test_a_mitre_beyond_its_limit_is_made_round() -> None:
    """The star's tips lie 1 / sin(7.5 degrees) = 7.66 distances away."""
    assert parallel(star(), 1, join="mitre", mitre_limit=7.6) == parallel(star(), 1)
    assert parallel(star(), 1, join="mitre", mitre_limit=7.7)[0].segment_count == 10


@pytest.mark.parametrize(("distance", "parts"), [(0.0749, 2), (0.075, 2), (0.07501, 1), (0.1, 1)])
def test_discs_run_together_when_they_meet(distance: float, parts: int) -> None:
    """Two discs .15 mm apart: at half of that they touch, and a touch is no joint."""
    combined = parallel_with_report([disc(10), disc(10, 20.15)], distance, ROUND)
    assert len(combined.regions) == parts
    assert is_clean(combined)
    if parts == 1:
        r = 10 + distance
        half = math.acos(20.15 / 2 / r)
        assert area_mm2(combined.regions) == pytest.approx(2 * math.pi * r**2 - r**2 * (2 * half - math.sin(2 * half)))


@pytest.mark.parametrize(("distance", "rings"), [(-0.39, 1), (-0.41, 0), (1.59, 1), (1.61, 2)])
def test_a_spiral_strip_vanishes_and_closes(distance: float, rings: int) -> None:
    """A strip .8 wide with 3.2 between its turns."""
    combined = parallel_with_report(spiral(), distance, ROUND)
    assert ring_count(combined.regions) == rings
    assert is_clean(combined)
    if rings:
        assert abs(distances(combined.regions, [spiral()], 12) - abs(distance)).max() <= OFF_MM


def test_discs_that_vanish() -> None:
    assert parallel(disc(10), -10) == ()
    assert parallel(disc(10), -10.1) == ()
    (left,) = parallel(disc(10), -9.99)
    assert area_mm2(left) == pytest.approx(math.pi * 0.01**2, rel=1e-9)


@pytest.mark.parametrize(
    ("distance", "segments"), [(2.0, 8), (-2.0, 4), (-2.000001, 4), (-1.0, 8), (-5.999, 4), (-6.0, 0)]
)
def test_a_bar_with_rounded_corners(distance: float, segments: int) -> None:
    """Corners of radius 2: their arcs end at 2 mm inward, and four lines remain; at 6 mm nothing does."""
    combined = parallel_with_report(bar(), distance, ROUND)
    assert is_clean(combined)
    assert sum(region.segment_count for region in combined.regions) == segments
    if segments == 4:
        assert area_mm2(combined.regions) == pytest.approx((30 + 2 * distance) * (12 + 2 * distance), abs=1e-9)


def test_circles_stay_single_arcs() -> None:
    """R 50, r 42 with a laser that takes .2 mm: cut lines at 50.1 and 41.9."""
    (cut,) = parallel(ring(50, 42), 0.1)
    assert cut.segment_count == 2
    assert area_mm2(cut) == pytest.approx(math.pi * (50.1**2 - 41.9**2), rel=1e-14)


def test_an_island_in_a_hole_keeps_its_water() -> None:
    parts = [ring(20, 15), disc(12)]
    assert area_mm2(parallel(parts, -1)) == pytest.approx(math.pi * (19**2 - 16**2 + 11**2), rel=1e-12)
    assert ring_count(parallel(parts, 1)) == 3
    assert area_mm2(parallel(parts, 2)) == pytest.approx(math.pi * 22**2, rel=1e-12)


def test_what_touches_in_a_point_grows_together_and_shrinks_apart() -> None:
    parts = [disc(5), disc(5, 10)]
    assert len(parallel(parts, 0.1)) == 1
    assert area_mm2(parallel(parts, -0.1)) == pytest.approx(2 * math.pi * 4.9**2, rel=1e-12)


@pytest.mark.parametrize("distance", [0.1, 0.5])
def test_a_cusp_in_the_card(distance: float) -> None:
    """A cubic that turns on the spot, the card hollow there: the curve is cut at its cusp."""
    cusp = Cubic(1 - 1j, -1 / 3 + 1j, -1 / 3 - 1j, 1 + 1j)
    card = Region(Outline((Line(1 + 1j, -5 + 0j), Line(-5 + 0j, -5 - 6j), Line(-5 - 6j, 1 - 1j), cusp)))
    combined = parallel_with_report(card, distance, ROUND)
    assert is_clean(combined)
    assert abs(distances(combined.regions, [card]) - distance).max() <= OFF_MM


def test_directions_given_wrong_are_put_right() -> None:
    wrong = Region(circle(0j, 20).reversed(), (circle(0j, 10),))
    assert area_mm2(parallel(wrong, 1)) == pytest.approx(math.pi * (21**2 - 9**2), rel=1e-12)


@pytest.mark.parametrize("fit", [1e-2, 1e-3, 1e-4])
def test_a_closer_fit_is_kept(fit: float) -> None:
    for seed in (3, 5, 8):
        regions = parallel(blob(seed), 0.7, fit_mm=fit)
        assert abs(distances(regions, [blob(seed)]) - 0.7).max() <= fit + 1e-4


def test_same_input_same_curves(frame: Region) -> None:
    assert parallel(frame, -0.3) == parallel(frame, -0.3)


def test_no_distance_no_card_and_refusals() -> None:
    assert parallel(OVAL, 0) == (OVAL,)
    assert parallel([], 3) == ()
    with pytest.raises(ValueError, match="not finite"):
        parallel(OVAL, math.inf)
    with pytest.raises(ValueError, match="above 0"):
        parallel(OVAL, 1, fit_mm=0)
