"""What a row may not do: tips that meet across an opening, roots that come out of a narrow rim; offers that hold."""

from __future__ import annotations

import re

import pytest
from fixtures.plain_motifs import arch, plain_rectangle
from fixtures.rows import D100, model_of

from frameforge.errors import GeometryError
from frameforge.frame.fit import Fit
from frameforge.frame.model import RowModel
from frameforge.frame.row_limits import check_row, standing_in_each_other
from frameforge.frame.spec import Size


def refusal(model: RowModel, size: Size, count: int, scale: float = 1.0) -> GeometryError | None:
    try:
        check_row(model, Fit(size, count, scale), model.layout(size, count, scale))
    except GeometryError as error:
        return error
    return None


def test_tips_that_meet_across_the_middle_get_a_scale_that_holds() -> None:
    """Bars of 40 mm point inward from a 70 mm opening: those that face each other cross."""
    model = model_of(plain_rectangle(4, 40), opening=Size(70, 70), place="in", count=4)
    error = refusal(model, D100, 4)
    assert error is not None
    assert error.code == "tips-meet"
    assert "reach into each other (1 and 3 from the first, clockwise)" in error.say
    scale = float(re.search(r"--scale (\d\.\d+)", error.say)[1])  # type: ignore[index]
    assert refusal(model, D100, 4, scale) is None
    assert refusal(model, D100, 4, scale + 0.02) is not None


def test_neighbours_that_overlap_are_the_fits_affair() -> None:
    model = model_of(plain_rectangle(40, 10), count=12)
    assert (0, 1) not in standing_in_each_other(model.layout(D100, 12, 1.0))


def test_two_motifs_have_no_one_to_meet() -> None:
    model = model_of(plain_rectangle(4, 40), opening=Size(70, 70), place="in", count=2)
    assert standing_in_each_other(model.layout(D100, 2, 1.0)) == []


@pytest.mark.parametrize("opening", [Size(95, 95), Size(96, 96)])
def test_a_root_that_would_poke_through_a_narrow_rim_gets_ways_out(opening: Size) -> None:
    model = model_of(plain_rectangle(30), opening=opening, count=4)
    error = refusal(model, D100, 4)
    assert error is not None
    assert error.code == "root-through-rim"
    width = float(re.search(r"--opening ([\d.]+)mm", str(error))[1])  # type: ignore[index]
    assert refusal(model_of(plain_rectangle(30), opening=Size(width, width), count=4), D100, 4) is None
    scale = float(re.search(r"--scale (\d\.\d+)", str(error))[1])  # type: ignore[index]
    assert refusal(model, D100, 4, scale) is None
    assert refusal(model, D100, 4, scale + 0.02) is not None


def test_a_wide_rim_takes_the_root() -> None:
    assert refusal(model_of(arch(), opening=Size(70, 70), count=8), D100, 8) is None
