"""Cut-aways that leave too little card: what would do is thought of only when it is said, with few motifs made anew."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import replace

import pytest
from fixtures.plain_motifs import leaf
from fixtures.rows import D100, KNIFE, model_of, row_of

from frameforge.errors import GeometryError
from frameforge.frame import teeth
from frameforge.frame.assembly import assemble
from frameforge.frame.base import Edge
from frameforge.frame.fit import Fit
from frameforge.frame.layout import Layout
from frameforge.frame.model import RowModel
from frameforge.frame.spec import PieceSpec, Size
from frameforge.frame.trying import SPENT
from frameforge.frame.ways import RefusedError
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.motif.motif import Motif


def notched(deep_mm: float) -> Motif:
    """Return a bar whose foot stands in a notch of the card."""
    bar = Region(rectangle(-1.5, -1, 1.5, 8))
    return Motif("notch", (bar,), 3.0, cut_away=(Region(rectangle(-4, -deep_mm, 4, 1)),))


def test_ways_out_of_a_rim_cut_through_are_thought_of_when_they_are_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    looked: list[Edge] = []
    measure = teeth.floor_mm

    def floor_mm(layout: Layout, other: Edge) -> float:
        looked.append(other)
        return measure(layout, other)

    monkeypatch.setattr(teeth, "floor_mm", floor_mm)
    spec = PieceSpec("hoop", Size(90, 70), rim_mm=9.0, rows=(row_of(notched(8.5), count=6),))
    with pytest.raises(RefusedError) as caught:
        assemble(spec, KNIFE)
    assert len(looked) == 1
    said = str(caught.value)
    assert "leave 0." in said
    assert len(looked) < 25
    scale = float(re.search(r"--scale (\d\.\d+)", said)[1])  # type: ignore[index]

    def scaled(by: float) -> PieceSpec:
        return replace(spec, rows=(replace(spec.rows[0], scale=by),))

    assemble(scaled(scale), KNIFE)
    with pytest.raises(RefusedError):
        assemble(scaled(round(scale + 0.01, 2)), KNIFE)


def model(deep_mm: float = 3.0, **more: object) -> RowModel:
    return model_of(notched(deep_mm), **more)  # type: ignore[arg-type]


def line(check: Callable[[RowModel, Fit, Layout], None], of: RowModel, count: int) -> str:
    """Return what a row is refused with, nothing where it is not."""
    try:
        check(of, Fit(D100, count, 1.0), of.layout(D100, count, 1.0))
    except RefusedError as fault:
        return str(fault)
    return ""


@pytest.mark.parametrize("count", [12, 31, 36, 40])
def test_a_tooth_is_narrowest_between_the_corners_of_two_cut_aways(count: int) -> None:
    """Feet of 3 mm lie at y = sqrt(50^2 - 1.5^2), the corners 3 mm below at x = 4."""
    low, half_turn = math.sqrt(2500 - 2.25) - 3, math.pi / count
    wanted = 2 * (low * math.sin(half_turn) - 4 * math.cos(half_turn))
    found = model().tooth_widths_mm(D100, model().layout(D100, count, 1.0))
    assert len(found) == count
    if wanted >= 0:
        assert found == pytest.approx([wanted] * count, abs=1e-9)
    else:
        assert max(found) < 0


def test_beside_a_repeat_that_is_left_out_there_is_no_tooth() -> None:
    layout = model().layout(D100, 6, 1.0)
    missing = replace(layout, is_there=(True, False, True, True, True, True))
    assert len(model().tooth_widths_mm(D100, missing)) == 4
    assert model().tooth_widths_mm(D100, model().layout(D100, 1, 1.0)) == []
    mixed = model_of(notched(3.0), leaf())
    assert mixed.tooth_widths_mm(D100, mixed.layout(D100, 6, 1.0)) == []


def test_thin_teeth_are_told_with_how_many_and_what_would_do() -> None:
    assert line(teeth.check_teeth, model(count=31), 31) == ""
    assert line(teeth.check_teeth, model(count=36), 36) == (
        "hoop: 36 teeth of 0.21 mm between the notches, this card needs 1.5 mm. "
        "Take --count 31 (1.54 mm) or --size 114.7mm."
    )
    assert line(teeth.check_teeth, model(count=40), 40) == (
        "hoop: 40 teeth of 0 mm between the notches, this card needs 1.5 mm. "
        "Take --count 31 (1.54 mm) or --size 126.9mm."
    )


def test_a_single_thin_tooth_is_one() -> None:
    of = model(count=36)
    layout = replace(of.layout(D100, 36, 1.0), is_there=(True, True, *[False] * 34))
    with pytest.raises(RefusedError, match=r"^hoop: 1 tooth of 0\.21 mm between") as caught:
        teeth.check_teeth(of, Fit(D100, 36, 1.0), layout)
    assert caught.value.code == "thin-tooth"
    with pytest.raises(RefusedError, match=r"^hoop: 2 teeth of 0\.21 mm between"):
        teeth.check_teeth(of, Fit(D100, 36, 1.0), replace(layout, is_there=(True, True, True, *[False] * 33)))
    assert caught.value.numbers == {"tooth_mm": pytest.approx(0.21915934), "limit_mm": 1.5}


@pytest.mark.parametrize(("opening", "left"), [(70, 11.9774949), (86, 3.9774949), (90, 1.9774949), (96, 0.0)])
def test_the_floor_is_what_is_left_to_the_opening(opening: float, left: float) -> None:
    """The cut-aways end 46.977 mm from the middle."""
    layout = model().layout(D100, 12, 1.0)
    assert teeth.floor_mm(layout, Edge.from_size(Size(opening, opening))) == pytest.approx(left, abs=1e-6)


def test_into_the_rim_from_an_opening_the_floor_is_what_is_left_to_the_base() -> None:
    """Corners 4 mm beside the axis, 3 mm deeper than the foot at sqrt(46^2 - 1.5^2)."""
    of = model(opening=Size(92, 92), place="in")
    layout, base = of.layout(D100, 12, 1.0), Edge.from_size(D100)
    left = 50 - math.hypot(4, math.sqrt(46**2 - 1.5**2) + 3)
    assert teeth.floor_mm(layout, base) == pytest.approx(left, abs=1e-9)
    assert teeth.floor_mm(layout, Edge.from_size(Size(97, 97))) == 0.0
    assert line(teeth.check_floors, of, 12) == (
        "hoop: the cut-aways of the notches leave 0.86 mm of card, this card needs 1.5 mm. Take --scale 0.8."
    )


def test_floors_are_of_repeats_that_are_there_and_cut_away() -> None:
    layout, edge = model().layout(D100, 3, 1.0), Edge.from_size(Size(90, 90))
    assert teeth.floor_mm(replace(layout, is_there=(False,) * 3), edge) == math.inf
    assert teeth.floor_mm(model_of(leaf()).layout(D100, 3, 1.0), edge) == math.inf


def test_cut_aways_too_near_to_the_opening_get_another_one_a_rim_or_a_scale() -> None:
    say = "hoop: the cut-aways of the notches leave 0.97 mm of card, this card needs 1.5 mm. Take {} or --scale 0.82."
    assert line(teeth.check_floors, model(opening=Size(92, 92)), 12) == say.format("--opening 90.9mm")
    assert line(teeth.check_floors, model(opening=Size(90.9, 90.9)), 12) == ""
    assert line(teeth.check_floors, model(), 12) == "", "without an opening there is card enough"


@pytest.mark.parametrize(
    ("below", "holds_to", "found", "tries"),
    [
        (1.0, 0.5, 0.5, [0.11, 0.56, 0.34, 0.45, 0.51, 0.48, 0.5]),
        (1.0, 0.995, 0.99, [0.11, 0.56, 0.78, 0.89, 0.95, 0.98, 0.99]),
        (1.0, 0.11, 0.11, [0.11, 0.56, 0.34, 0.23, 0.17, 0.14, 0.13, 0.12]),
        (1.0, 0.1, 0.0, [0.11]),
        (2.0, 1.5, 1.5, None),
        (0.056, 0.02, 0.02, [0.01, 0.03, 0.02]),
        (0.01, 0.01, 0.0, []),
    ],
)
def test_the_largest_scale_in_hundredths_is_found_by_halves(
    below: float, holds_to: float, found: float, tries: list[float] | None
) -> None:
    asked: list[float] = []

    def holds(scale: float) -> bool:
        asked.append(scale)
        return scale <= holds_to

    assert teeth._largest_scale(below, holds) == found
    assert tries is None or asked == tries


def test_a_scale_that_cannot_be_made_does_not_hold_and_a_try_that_is_spent_ends_it() -> None:
    def made(scale: float, code: str = "no-seat") -> bool:
        if scale > 0.3:
            raise GeometryError("no.", code=code)
        return True

    assert teeth._largest_scale(1.0, made) == 0.3
    with pytest.raises(GeometryError):
        teeth._largest_scale(1.0, lambda scale: made(scale, SPENT))
