"""Guides of several rows: no two numbers overlap, no line runs through one, what is left out is left out regularly."""

from __future__ import annotations

import itertools
import math

import pytest
import shapely

from frameforge.frame.base import Edge
from frameforge.frame.piece import PlacedMotif
from frameforge.frame.seat import find_seat
from frameforge.geometry.affine import Affine
from frameforge.geometry.box import Box
from frameforge.geometry.line import Line
from frameforge.motif.bare_foot import bare_foot
from frameforge.picture.letter_widths import text_width
from frameforge.picture.paper.guide_piece import GuideRow, piece_guide
from frameforge.picture.paper.marks import Marks, Words

FOOT_MM = 0.5
SPOKE_MM = 0.12


def _row(edge: Edge, count: int, skip: tuple[int, ...] = ()) -> GuideRow:
    taus = [math.tau * k / count for k in range(count)]
    repeats = [
        PlacedMotif(k + 1, bare_foot(FOOT_MM), Affine.from_move(edge.point(tau)), 0.0, find_seat(edge, FOOT_MM, tau))
        for k, tau in enumerate(taus)
        if k + 1 not in skip
    ]
    return GuideRow(edge, tuple(repeats), True, lambda repeat: f"{123.4 + repeat.position:.1f} mm")


def _box(words: Words) -> Box:
    """The box of a line of words in the middle of its place: letters rise by less than .72 of their size."""
    wide = text_width(words.words, words.size_mm, is_bold=words.is_bold) / 2
    at = words.at
    return Box(at.real - wide, at.imag, at.real + wide, at.imag + 0.72 * words.size_mm)


def _overlap(a: Box, b: Box) -> bool:
    return min(a.right, b.right) > max(a.left, b.left) and min(a.top, b.top) > max(a.bottom, b.bottom)


def _spokes(guide: Marks) -> list[tuple[complex, complex]]:
    lines = [stroke.run[0] for stroke in guide.strokes if stroke.width_mm == SPOKE_MM and len(stroke.run) == 1]
    return [(line.start, line.end) for line in lines if isinstance(line, Line)]


def _run_through(lines: list[tuple[complex, complex]], box: Box) -> bool:
    drawn = shapely.linestrings([[(end.real, end.imag) for end in line] for line in lines])
    return bool(shapely.intersects(drawn, shapely.box(box.left, box.bottom, box.right, box.top)).any())


def _guide(base: tuple[float, float], *rows: tuple[tuple[float, float], int]) -> Marks:
    return piece_guide(Edge(*base), [], [_row(Edge(*half), count) for half, count in rows])


SIZES = [
    ((75, 50), (55, 30)),
    ((45, 30), (25, 18)),
    ((120, 75), (100, 55)),
    ((100, 30), (80, 20)),
    ((50, 50), (30, 30)),
]
COUNTS = [(1, 1), (24, 20), (24, 24), (60, 60), (17, 60), (60, 7)]


@pytest.mark.parametrize(
    ("base", "opening", "count", "other"),
    [
        pytest.param(*sizes, *counts, marks=[] if (s + c) % 5 == 0 else pytest.mark.slow)
        for s, sizes in enumerate(SIZES)
        for c, counts in enumerate(COUNTS)
    ],
)
def test_no_words_of_two_rows_overlap(
    base: tuple[float, float], opening: tuple[float, float], count: int, other: int
) -> None:
    guide = _guide(base, (base, count), (opening, other))
    boxes = [_box(words) for words in guide.words]
    assert not [1 for a, b in itertools.combinations(boxes, 2) if _overlap(a, b)]
    for letter, of in (("a", count), ("b", other)):
        told = [int(words.words[1:]) for words in guide.words if words.words.startswith(letter)]
        step = told[1] - told[0] if len(told) > 1 else of
        assert told == list(range(1, 1 + step * len(told), step))
        assert len(told) in (math.ceil(of / step), math.ceil(of / step) - 1)


@pytest.mark.parametrize(("base", "opening"), [SIZES[0], SIZES[3]])
def test_no_line_runs_through_words(base: tuple[float, float], opening: tuple[float, float]) -> None:
    guide = _guide(base, (base, 24), (opening, 20))
    assert not [words.words for words in guide.words if _run_through(_spokes(guide), _box(words))]


def test_a_line_goes_on_behind_a_number() -> None:
    """The first of both rows lie at the top: the second's line is seen below and above the first's number."""
    guide = _guide((75, 50), ((75, 50), 24), ((55, 30), 20))
    upright = [(a.imag, b.imag) for a, b in _spokes(guide) if abs(a.real) < 1e-9 and abs(b.real) < 1e-9 and b.imag > 0]
    (number,) = (_box(words) for words in guide.words if words.words == "a1")
    assert any(high < number.bottom and high > 50 for _, high in upright)
    assert any(low > number.top for low, _ in upright)


def test_where_there_is_room_all_are_told() -> None:
    guide = _guide((120, 75), ((120, 75), 24), ((100, 55), 24))
    assert len([words for words in guide.words if words.is_bold]) == 48


def test_of_three_rows_none_overlap_and_positions_left_out_stay_so() -> None:
    rows = [_row(Edge(75 - 10 * k, 50 - 10 * k), 30, skip=(1, 30)) for k in range(3)]
    guide = piece_guide(Edge(75, 50), [], rows)
    assert not [1 for a, b in itertools.combinations([_box(words) for words in guide.words], 2) if _overlap(a, b)]
    assert not {f"{letter}{position}" for letter in "abc" for position in (1, 30)} & {one.words for one in guide.words}
