"""Images under smooth maps: near enough, few segments, joints shared, twins alike. The map is z -> z + z^2 / (4 r)."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial

import numpy as np
import pytest
from fixtures.bent_checks import off_mm, quartered_count
from fixtures.outlines import leaf
from fixtures.plain_motifs import drop

from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.measure import area_mm2
from frameforge.geometry.outline import Outline, Segment
from frameforge.geometry.region import Region
from frameforge.geometry.segment_table import Complexes, Ints
from frameforge.geometry.shapes import circle, rectangle
from frameforge.geometry.warp import warped

FIT = 1.8e-3


@dataclass(frozen=True)
class Squares:
    """The maps z + i z^2 / (4 r): level lines through 0 become parabolas, the upright one stays."""

    radii: tuple[float, ...]
    even: bool = True

    def __len__(self) -> int:
        return len(self.radii)

    def point(self, which: Ints, z: Complexes) -> Complexes:
        return np.asarray(z + 1j * z * z / (4 * np.array(self.radii)[which]))

    def moving(self, which: Ints, z: Complexes, v: Complexes) -> tuple[Complexes, Complexes]:
        return self.point(which, z), np.asarray(v * (1 + 1j * z / (2 * np.array(self.radii)[which])))

    def exact(self, which: int, segment: Segment, ends: tuple[complex, complex]) -> Segment | None:
        is_upright = isinstance(segment, Line) and segment.start.real == segment.end.real == 0
        return Line(*ends) if is_upright else None

    def is_even(self, which: int) -> bool:
        return self.even


def _under(maps: Squares, which: int, z: Complexes) -> Complexes:
    return maps.point(np.full(len(z), which), z)


@pytest.mark.parametrize(
    "region",
    [leaf(), drop().join[0], Region(circle(3 + 4j, 5)), Region(rectangle(-8, 2, 8, 9)),
     Region(circle(6j, 6), (circle(6j, 2).reversed(),))],
)  # fmt: skip
def test_images_are_near_enough_with_few_segments(region: Region) -> None:
    maps = Squares((40.0, 25.0, 60.0))
    images = warped([[region]], maps, FIT)
    assert len(images) == 3
    for which, ((image,),) in enumerate(images):
        assert off_mm([region], [image], partial(_under, maps, which)) <= 2e-3
        assert image.segment_count <= 2 * quartered_count([region])


def test_a_nearer_fit_is_nearer() -> None:
    maps = Squares((25.0,))
    region = Region(circle(3 + 4j, 5))
    (image,) = warped([[region]], maps, 1e-6)[0]
    assert off_mm([region], image, lambda z: maps.point(np.zeros(len(z), dtype=int), z), 20_000) <= 1.2e-6


def test_joints_lie_where_the_map_puts_them_and_straight_stays_straight() -> None:
    box = Region(rectangle(0, 2, 8, 9))
    maps = Squares((40.0,))
    image = warped([[box]], maps, FIT)[0][0][0].outer
    for corner in (0 + 2j, 8 + 2j, 8 + 9j, 0 + 9j):
        place = complex(maps.point(np.zeros(1, dtype=int), np.array([corner]))[0])
        assert sum(segment.start == place for segment in image.segments) == 1
    assert [type(segment) for segment in image.segments].count(Line) == 1


def test_ends_keep_the_direction_of_the_image() -> None:
    curve = Cubic(0j, 2 + 3j, 5 + 3j, 8 + 0j)
    maps = Squares((30.0,))
    image = warped([[Region(Outline((curve, Line(8 + 0j, 0j))))]], maps, FIT)[0][0][0].outer
    wanted = maps.moving(np.zeros(1, dtype=int), np.array([0j]), np.array([2 + 3j]))[1][0]
    got = image.segments[0].velocity(0)
    assert abs(got / abs(got) - wanted / abs(wanted)) < 1e-12


def test_mirrored_curves_have_mirrored_images_to_the_bit_where_the_map_is_even() -> None:
    ((image,),) = warped([drop().join], Squares((40.0,)), FIT)[0]

    def flipped(segment: Segment) -> Cubic:
        assert isinstance(segment, Cubic)
        return Cubic(*(-p.conjugate() for p in (segment.end, segment.c2, segment.c1, segment.start)))

    cubics = [segment for segment in image.outer.segments if isinstance(segment, Cubic)]
    found = [min(abs(twin.c1 - flipped(s).c1) + abs(twin.c2 - flipped(s).c2) for twin in cubics) for s in cubics]
    assert max(found) < 1e-13


def test_drawings_and_holes_come_back_in_their_order() -> None:
    ring = Region(circle(6j, 6), (circle(6j, 2).reversed(),))
    first, second, third = warped([[], [ring], [leaf(), ring]], Squares((50.0,)), FIT)[0]
    assert first == ()
    assert len(second[0].holes) == 1
    assert (len(third), third[1]) == (2, second[0])


def test_an_arc_is_no_arc_any_more() -> None:
    image = warped([[Region(circle(3j, 3))]], Squares((50.0,)), FIT)[0][0][0]
    assert not any(isinstance(segment, Arc) for segment in image.outer.segments)


class Moves(Squares):
    """Maps that move all by so much: lines and arcs stay what they are."""

    def point(self, which: Ints, z: Complexes) -> Complexes:
        return np.asarray(z + np.array(self.radii)[which])

    def exact(self, which: int, segment: Segment, ends: tuple[complex, complex]) -> Segment | None:
        return segment.transformed(Affine.from_move(self.radii[which])).with_ends(*ends)


def test_where_every_image_is_known_nothing_is_fitted() -> None:
    plate = Region(rectangle(-8, 2, 8, 9), (circle(5j, 1).reversed(),))
    ((moved,),), ((further,),) = warped([[plate]], Moves((3.0, 7.0)), FIT)
    assert moved.outer == plate.transformed(Affine.from_move(3)).outer
    assert further.outer == plate.transformed(Affine.from_move(7)).outer
    assert area_mm2(moved) == pytest.approx(area_mm2(plate), abs=1e-12)
