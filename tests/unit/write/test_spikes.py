"""Lines that run straight back over themselves."""

from __future__ import annotations

import pytest
from fixtures.cut_pages import every_page

from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.write.spikes import spikes

ARC = Arc.from_bulge(5, 9 + 1j, 0.3)
CUBIC = Cubic(5, 6 + 3j, 8 - 2j, 9 + 1j)


@pytest.mark.parametrize("segment", [Line(5, 9 + 1j), ARC, CUBIC])
def test_the_way_back_over_any_segment_is_found(segment: Segment) -> None:
    assert list(spikes((Line(0, 5), segment, segment.reversed(), Line(5, 2j), Line(2j, 0)))) == [9 + 1j]


def test_a_shorter_way_back_is_found_too() -> None:
    assert list(spikes((Line(0, 9), Line(9, 5), Line(5, 5j)))) == [9]


def test_the_seam_of_a_closed_line_counts() -> None:
    assert list(spikes((Line(9, 0), Line(0, 5j), Line(5j, 5), Line(5, 9)))) == [9]


def test_sharp_corners_and_lenses_are_no_spikes() -> None:
    assert list(spikes((Line(0, 9), Line(9, 0.001j), Line(0.001j, 0)))) == []
    assert list(spikes((ARC, Arc.from_bulge(9 + 1j, 5, 0.3)))) == []
    assert list(spikes((CUBIC, Cubic(9 + 1j, 8 - 2j, 6 + 3.001j, 5)))) == []


def test_a_full_circle_is_no_spike() -> None:
    for page in every_page().values():
        for piece in page.pieces:
            assert [point for run in piece.cuts() for point in spikes(run)] == []
