"""squeezed: a bar bent into a hole is left 1 - h/r of its width at its tip; told under a quarter, with ways out."""

from __future__ import annotations

from typing import Any

import pytest
from fixtures.plain_motifs import plain_rectangle
from fixtures.rows import model_of

from frameforge.finding import Finding
from frameforge.frame import squeezed as module
from frameforge.frame.fit import Fit
from frameforge.frame.fold import squeezes
from frameforge.frame.model import RowModel
from frameforge.frame.spec import Size
from frameforge.frame.squeezed import squeezed

BASE = Size(160, 160)


def bars(height: float = 30.0, foot: float = 8.0, across: float = 70.0, **more: Any) -> RowModel:
    opening = Size(across, across)
    order = {"opening": opening, "place": "in", "seat": "bent", "count": 4, "size": BASE, **more}
    return model_of(plain_rectangle(foot, height), **order)


def told(model: RowModel, scale: float = 1.0) -> list[Finding]:
    layout = model.layout(BASE, 4, scale)
    return squeezed(model, Fit(BASE, 4, scale), layout, [1, 2, 3, 4], [0.0, 90.0, 180.0, 270.0])


def test_every_repeat_is_warned_of_with_what_is_left_and_ways_out() -> None:
    """30 mm into a hole of 70: a seventh is left; by a scale of .87 a quarter and a bit."""
    found = told(bars())
    say = (
        "bent so far in, what is drawn 1 mm wide comes to 0.14 mm, less than 0.25 mm. "
        "Take --scale 0.87 or --seat as-drawn."
    )
    assert [(one.code, one.severity, one.say, one.piece, one.unit) for one in found] == [
        ("squeezed", "warning", say, "hoop", "mm")
    ] * 4
    assert [one.where for one in found] == [f"rectangle {k + 1}, at {3 * k or 12} o'clock" for k in range(4)]
    for one in found:
        assert (one.measured, one.limit) == (pytest.approx(1 / 7), 0.25)
        assert one.x_mm is not None
        assert one.y_mm is not None
        assert abs(complex(one.x_mm, one.y_mm)) == pytest.approx(5.0)
    first = found[0]
    assert first.y_mm is not None
    assert first.y_mm > 4


@pytest.mark.parametrize(("height", "count"), [(26.3, 4), (26.2, 0)])
def test_a_quarter_left_is_enough(height: float, count: int) -> None:
    """26.25 mm of 35."""
    assert len(told(bars(height))) == count


@pytest.mark.parametrize(
    ("more", "ways"),
    [
        ({"foot_mm": 8.0}, "Take --foot 7mm or --seat as-drawn."),
        ({"scale": 1.0}, "Take --scale 0.87 or --seat as-drawn."),
        ({"scale": "find", "gap_mm": 2.0}, "Take --seat as-drawn."),
        ({"foot_mm": "find", "gap_mm": 2.0}, "Take --seat as-drawn."),
    ],
)
def test_ways_out_are_told_as_the_row_says_its_size(more: dict[str, Any], ways: str) -> None:
    found = told(bars(**more))
    assert found[0].say.endswith(ways)


def test_where_nothing_would_do_the_measure_stands_alone() -> None:
    """Feet of 1.5 mm, which must not be narrower, and straight bars that would meet across the hole."""
    found = told(bars(34.0, 1.5, gap_mm=60.0))
    assert found[0].say.endswith("comes to 0.02 mm, less than 0.25 mm.")


def test_what_is_offered_is_squeezed_to_a_quarter_or_less_than_that() -> None:
    layout = bars().layout(BASE, 4, 0.87)
    assert min(squeeze.factor for squeeze in squeezes(layout)) >= 0.25
    assert told(bars(), 0.87) == []
    assert told(bars(), 0.88)


def test_nothing_is_said_of_rows_as_drawn() -> None:
    assert told(bars(seat="as-drawn")) == []


def test_six_smaller_motifs_are_tried_from_the_one_that_is_squeezed_to_a_quarter() -> None:
    """A seventh is left, six are lost: 3/4 over 6/7 of the size, in steps."""

    def tried(at: float = 1.0, **more: Any) -> list[tuple[str, Any, Any]]:
        row = bars(**more).row
        found = module._smaller(row, Fit(BASE, 4, at), 1 / 7)
        return [(words, smaller.scale, smaller.foot_mm) for words, smaller in found]

    assert tried() == [(f"--scale {k / 100:g}", k / 100, None) for k in range(87, 81, -1)]
    assert tried(0.05)[2:] == [("--scale 0.02", 0.02, None), *[("--scale 0.01", 0.01, None)] * 3]
    assert tried(foot_mm=0.3)[1:] == [("--foot 0.1mm", None, 0.1)] * 5
    assert tried(foot_mm=8.0) == [(f"--foot {k / 10:g}mm", None, k / 10) for k in range(70, 64, -1)]
    assert tried(scale="find") == tried(foot_mm="find") == []


@pytest.mark.parametrize(("height", "holds"), [(26.2, True), (26.3, False), (20.0, True), (40.0, False)])
def test_a_row_holds_where_a_quarter_is_left(height: float, *, holds: bool) -> None:
    """35 mm at the most: beyond, it folds over itself and cannot be made."""
    model = bars(height)
    assert module._holds(model, Fit(BASE, 4, 1.0), model.row) is holds
