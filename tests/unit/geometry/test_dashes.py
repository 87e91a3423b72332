"""Lines cut by their length."""

from __future__ import annotations

import math

import pytest

from frameforge.geometry import dashes
from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.dashes import dashed, parameter_at
from frameforge.geometry.line import Line
from frameforge.geometry.measure import length_mm
from frameforge.geometry.outline import Segment

WAVE = Cubic(0j, 5 + 8j, 10 - 8j, 15 + 0j)
PATH: list[Segment] = [Line(-3 + 0j, 0j), WAVE, Arc.from_ellipse(15 + 4j, 4j, 6 + 0j, math.pi, 1.5)]


@pytest.mark.parametrize("segment", [WAVE, PATH[2], Cubic(0j, 0j, 4 + 4j, 9 + 0j), Arc.from_circle(0j, 3, 1, -2)])
def test_the_parameter_at_a_length(segment: Segment) -> None:
    whole = length_mm(segment)
    for k in range(1, 20):
        t = parameter_at(segment, whole * k / 20, whole)
        assert length_mm(segment.piece(0, t)) == pytest.approx(whole * k / 20, abs=2e-9)
    assert (parameter_at(segment, -1, whole), parameter_at(segment, whole + 1, whole)) == (0, 1)


def test_a_point_without_speed_is_passed() -> None:
    cusp = Cubic(1 - 1j, -1 / 3 + 1j, -1 / 3 - 1j, 1 + 1j)
    whole = length_mm(cusp)
    assert parameter_at(cusp, whole / 2, whole) == pytest.approx(0.5, abs=1e-4)


def test_dashes_have_their_lengths_across_joints() -> None:
    whole = sum(length_mm(segment) for segment in PATH)
    chains = dashed(PATH, (2.5, 1))
    lengths = [sum(length_mm(segment) for segment in chain) for chain in chains]
    assert lengths[:-1] == pytest.approx([2.5] * (len(chains) - 1), abs=1e-8)
    assert len(chains) == math.ceil(whole / 3.5)
    assert len(chains[0]) == 1


def test_an_odd_number_of_dashes_is_taken_twice() -> None:
    line = [Line(0j, 12 + 0j)]
    assert dashed(line, (3,)) == dashed(line, (3, 3))
    assert dashed(line, (1, 2, 3)) == dashed(line, (1, 2, 3, 1, 2, 3))


def test_offsets_shift_the_pattern() -> None:
    line = [Line(0j, 10 + 0j)]
    ends = [(chain[0].start.real, chain[-1].end.real) for chain in dashed(line, (2, 1.5), 0.5)]
    assert ends == [pytest.approx(pair) for pair in ((0, 1.5), (3, 5), (6.5, 8.5))]
    ends = [(chain[0].start.real, chain[-1].end.real) for chain in dashed(line, (2, 1.5), -0.5)]
    assert ends == [pytest.approx(pair) for pair in ((0.5, 2.5), (4, 6), (7.5, 9.5))]


def test_a_closed_line_joins_its_last_dash_to_its_first() -> None:
    ring = [Arc.from_circle(0j, 5, 0, math.tau)]
    part = 10 * math.pi / 8
    assert len(dashed(ring, (part / 2, part / 2), part / 4)) == 9
    closed = dashed(ring, (part / 2, part / 2), part / 4, is_closed=True)
    assert len(closed) == 8
    assert closed[0][0].end == closed[0][1].start


@pytest.mark.parametrize("lengths", [(), (0,), (0, 0), (-1, 2)])
def test_patterns_that_say_nothing_are_refused(lengths: tuple[float, ...]) -> None:
    with pytest.raises(ValueError, match="dashes"):
        dashed(PATH, lengths)


def test_a_dash_that_begins_or_ends_at_a_joint_has_no_bit_of_the_segment_beyond() -> None:
    two = [Line(0j, 10 + 0j), Line(10 + 0j, 10 + 10j)]
    assert dashed(two, (5, 5)) == [(Line(0j, 5 + 0j),), (Line(10 + 0j, 10 + 5j),)]
    assert dashed(two, (10, 2)) == [(two[0],), (Line(10 + 2j, 10 + 10j),)]


def test_dots_stand_where_a_dash_of_no_length_begins() -> None:
    """Before the end only, once at a joint, and none before the start; each half a dot's width along the line."""
    two = [Line(0j, 10 + 0j), Line(10 + 0j, 10 + 10j)]
    starts = [chain[0].start for chain in dashed(two, (0, 5))]
    assert starts == pytest.approx([0, 5, 10, 10 + 5j])
    assert [len(chain) for chain in dashed(two, (0, 5))] == [1, 1, 1, 1]
    assert [chain[0].start for chain in dashed(two, (0, 8), 3)] == pytest.approx([5, 10 + 3j])
    for chain, way in zip(dashed(two, (0, 5)), (1, 1, 1, 1j), strict=True):
        (dot,) = chain
        assert dot.end - dot.start == pytest.approx(way * 5e-7, abs=1e-14)


def test_a_dash_that_ends_at_the_start_is_not_drawn() -> None:
    line = [Line(0j, 10 + 0j)]
    assert [chain[0].start for chain in dashed(line, (1, 2), 1)] == pytest.approx([2, 5, 8])
    assert [chain[0].start for chain in dashed(line, (1, 2), 0.5)] == pytest.approx([0, 2.5, 5.5, 8.5])


def test_an_open_line_and_a_line_of_one_dash_join_nothing() -> None:
    ring = [Arc.from_circle(0j, 5, 0, math.tau)]
    whole = 10 * math.pi
    assert len(dashed(ring, (whole / 4, whole / 2))) == 2
    assert len(dashed(ring, (whole / 4, whole / 2), is_closed=True)) == 1
    assert len(dashed(ring, (whole / 4, whole / 4), is_closed=True)) == 2
    assert dashed(ring, (2 * whole, 1), is_closed=True) == dashed(ring, (2 * whole, 1))
    assert len(dashed(ring, (whole / 4, whole / 2), whole / 8, is_closed=True)) == 2


@pytest.mark.parametrize(("segment", "most"), [(WAVE, 6), (PATH[2], 5), (Cubic(0j, 0j, 4 + 4j, 9 + 0j), 7)])
def test_a_parameter_is_found_in_a_few_rounds(segment: Segment, most: int, monkeypatch: pytest.MonkeyPatch) -> None:
    whole = length_mm(segment)
    seen: list[Segment] = []

    def counted(part: Segment) -> float:
        seen.append(part)
        return length_mm(part)

    monkeypatch.setattr(dashes, "length_mm", counted)
    for k in range(1, 20):
        seen.clear()
        parameter_at(segment, whole * k / 20, whole)
        assert len(seen) <= most
    seen.clear()
    assert parameter_at(Line(0j, 8 + 0j), 2.0, 8.0) == 0.25
    assert parameter_at(Arc.from_circle(0j, 3, 1, -2), 1.5, 6.0) == 0.25
    assert seen == []
