"""Cuts that two pieces shared and that mending leaves out: told with their length, and nothing else is."""

from __future__ import annotations

from pathlib import Path

import pytest
from fixtures.mending import KNIFE

from frameforge.check.lost_line import find_lost_lines
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.job.cut_file import read_cut_file
from frameforge.job.mended_file import mended_file
from frameforge.mend.codes import MENDABLE


def box(left: float, low: float, right: float, high: float) -> Outline:
    return Outline.from_points([complex(left, low), complex(right, low), complex(right, high), complex(left, high)])


@pytest.mark.parametrize("share", [4.0, 11.5, 30.0])
def test_a_shared_cut_within_the_card_is_lost(share: float) -> None:
    one, two = box(0, 0, 50, 40), box(50, 5, 90, 5 + share)
    whole = Region(
        Outline.from_points([0, 50, 50 + 5j, 90 + 5j, 90 + (5 + share) * 1j, 50 + (5 + share) * 1j, 50 + 40j, 40j])
    )
    (found,) = find_lost_lines([one.segments, two.segments], [whole])
    assert found.code == "double-line"
    assert found.measured == pytest.approx(share, abs=0.02)
    assert abs((found.place or 0j) - (50 + (5 + share / 2) * 1j)) < 0.05


def test_a_cut_that_is_still_an_edge_is_not_lost() -> None:
    one, two = box(0, 0, 50, 40), box(50, 0, 90, 40)
    assert find_lost_lines([one.segments, two.segments], [Region(one), Region(two)]) == ()
    window = box(10, 10, 30, 30)
    card = Region(one, (window.reversed(),))
    assert find_lost_lines([one.segments, window.segments, window.segments], [card]) == ()
    assert find_lost_lines([one.segments], [Region(one)]) == ()


def test_mending_a_file_of_two_touching_pieces_says_that_they_are_one() -> None:
    drawn = "M10 10H60V50H10Z M60 10H110V50H60Z"
    size = 'width="120mm" height="80mm" viewBox="0 0 120 80"'
    data = f'<svg xmlns="http://www.w3.org/2000/svg" {size}><path d="{drawn}"/></svg>'
    path = Path("two.svg")
    file = read_cut_file(data.encode(), path, where="two.svg")
    mended = mended_file("two.svg", path, file, KNIFE, MENDABLE)
    (told,) = (finding for finding in mended.findings if finding.code == "double-line")
    assert told.severity == "warning"
    assert "40 mm of cut that two pieces shared" in told.say
