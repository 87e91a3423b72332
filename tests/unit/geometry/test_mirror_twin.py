"""Mirror twins: of even drawings, of drawings and their mirror images; and what is none."""

from __future__ import annotations

import pytest
from fixtures.plain_motifs import drop, pod

from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.mirror_twin import are_mirrored, twin_numbers
from frameforge.geometry.region import Region
from frameforge.geometry.segment_table import SegmentTable
from frameforge.geometry.shapes import rectangle


def test_an_even_drawing_is_its_own_twin_and_an_uneven_one_is_not() -> None:
    even, uneven = drop().join, pod().join
    assert are_mirrored(even, even)
    assert not are_mirrored(uneven, uneven)
    mirrored = [region.transformed(Affine.from_mirror()) for region in uneven]
    assert are_mirrored(uneven, mirrored)
    assert are_mirrored(mirrored, uneven)
    assert not are_mirrored(even, uneven)
    assert are_mirrored([], [])


def test_a_hair_beside_is_no_twin() -> None:
    box = Region(rectangle(-3, 0, 3, 5))
    assert are_mirrored([box], [box])
    assert not are_mirrored([box], [Region(rectangle(-3, 0, 3.00001, 5))])


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (Line(1 + 2j, 3 + 5j), Line(-3 + 5j, -1 + 2j)),
        (Cubic(0j, 1 + 2j, 3 + 3j, 4 + 0j), Cubic(-4 + 0j, -3 + 3j, -1 + 2j, 0j)),
        (Arc.from_circle(2 + 1j, 3, 0.2, 1.1), Arc.from_circle(-2 + 1j, 3, 3.141592653589793 - 1.3, 1.1)),
    ],
)
def test_what_one_runs_forwards_its_mirror_image_runs_backwards(
    one: Line | Cubic | Arc, other: Line | Cubic | Arc
) -> None:
    (forth, back), (forth_too, back_too) = twin_numbers(SegmentTable.from_segments([one, other]))
    assert (forth, back) == (back_too, forth_too)
    assert forth != back
