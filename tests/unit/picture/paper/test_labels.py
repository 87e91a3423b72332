"""Numbers round a guide: clear of their lines, and fewer of them where they crowd."""

from __future__ import annotations

import cmath
import math

import pytest

from frameforge.picture.paper.labels import Label, label_marks


def _ring(count: int, radius: float) -> list[Label]:
    ways = [cmath.rect(1, math.pi / 2 - math.tau * k / count) for k in range(count)]
    return [Label(radius * way, way, str(k + 1), "25.71 deg", k + 1) for k, way in enumerate(ways)]


def test_all_are_told_with_their_degrees_where_there_is_room() -> None:
    told = [word.words for mark in label_marks(_ring(14, 70)) for word in mark.words]
    assert told == [word for k in range(14) for word in (str(k + 1), "25.71 deg")]


def test_where_they_crowd_every_second_or_fifth_is_told() -> None:
    told = [word.words for mark in label_marks(_ring(200, 60)) for word in mark.words if word.is_bold]
    assert told[:3] == ["1", "6", "11"]
    assert len(told) == 40


def test_no_two_numbers_overlap() -> None:
    for count, radius in ((3, 20), (14, 60), (60, 60), (200, 60), (360, 100)):
        boxes = [mark.box for mark in label_marks(_ring(count, radius))]
        for k, a in enumerate(boxes):
            for b in boxes[k + 1 :]:
                assert min(a.right, b.right) < max(a.left, b.left) or min(a.top, b.top) < max(a.bottom, b.bottom)


@pytest.mark.parametrize("count", [1, 4, 13])
def test_numbers_keep_clear_of_the_ends_of_their_lines(count: int) -> None:
    for label, mark in zip(_ring(count, 50), label_marks(_ring(count, 50)), strict=True):
        middle = mark.box.center
        assert abs(middle) > 50
        # The ellipse inscribed in the box lies beyond the end of the line.
        corner = complex(mark.box.width_mm / 2 * label.way.real, mark.box.height_mm / 2 * label.way.imag)
        assert abs(middle - label.at) > abs(corner)


def test_none_without_labels() -> None:
    assert list(label_marks([])) == []
