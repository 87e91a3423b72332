"""What a row may not do: tips that meet across an opening, roots that come out of a narrow rim; offers that hold."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from fixtures.plain_motifs import arch, plain_rectangle
from fixtures.rows import D100, KNIFE, model_of, row_of

from frameforge.errors import GeometryError
from frameforge.frame import row_limits
from frameforge.frame.base import Edge
from frameforge.frame.fit import Fit
from frameforge.frame.model import RowModel
from frameforge.frame.row_limits import check_row, standing_in_each_other
from frameforge.frame.spec import PieceSpec, Size
from frameforge.frame.ways import RefusedError


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
    assert str(error) == (
        "hoop: the rectangles reach into each other (1 and 3 from the first, clockwise). "
        "Take --count 1 or --scale 0.87."
    )
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


@pytest.mark.parametrize(
    ("size", "opening", "foot", "offer"),
    [(Size(30, 30), Size(26, 26), 20, "21.7mm"), (Size(30, 20), Size(26, 16), 19, "24.8x14.8mm")],
)
def test_roots_that_come_out_at_the_opening_are_offered_a_smaller_one(
    size: Size, opening: Size, foot: float, offer: str
) -> None:
    """On a circle the foot lies R - sqrt(R^2 - w^2 / 4) = 3.82 below the edge, its root .3 deeper: 30 - 2 x 4.12."""
    model = model_of(plain_rectangle(foot, 6), size=size, opening=opening, count=1)
    error = refusal(model, size, 1)
    assert error is not None
    assert error.code == "root-through-rim"
    assert f"Take --opening {offer} or --scale " in error.say


def test_of_a_rim_that_is_stated_a_wider_one_is_offered() -> None:
    row = row_of(plain_rectangle(20, 6), count=1)
    narrow, wide = (PieceSpec("hoop", Size(30, 30), rim_mm=rim, rows=(row,)) for rim in (2.0, 4.2))
    error = refusal(RowModel(narrow, row, KNIFE), Size(30, 30), 1)
    assert error is not None
    assert "Take --rim 4.2mm or --scale " in error.say
    assert refusal(RowModel(wide, row, KNIFE), Size(30, 30), 1) is None


def test_no_opening_is_offered_where_roots_reach_the_middle() -> None:
    """At the end of a narrow oval a foot nearly as wide as it is high lies 15.8 mm deep."""
    model = model_of(plain_rectangle(14, 6), size=Size(60, 16), opening=Size(50, 6), count=1, start_deg=90.0)
    error = refusal(model, Size(60, 16), 1)
    assert error is not None
    assert error.code == "root-through-rim"
    assert error.say.endswith("come out at the opening. Take --scale 0.61.")


def test_a_root_is_told_with_how_deep_it_goes() -> None:
    """R - sqrt(R^2 - w^2 / 4) and .3 mm of root."""
    error = refusal(model_of(plain_rectangle(30), opening=Size(96, 96), count=4), D100, 4)
    assert error is not None
    assert str(error) == (
        "hoop: the roots of the rectangles go 2.6 mm into the rim and come out at the opening. "
        "Take --opening 94.7mm or --scale 0.86."
    )
    assert error.numbers == {"depth_mm": pytest.approx(50 - (50**2 - 15**2) ** 0.5 + 0.3)}


def test_ways_out_are_of_the_row_that_is_refused() -> None:
    model = model_of(plain_rectangle(4, 40), opening=Size(70, 70), place="in", count=4)
    second = RowModel(replace(model.spec, rows=(row_of(arch()), model.row)), model.row, KNIFE)
    error = refusal(second, D100, 4)
    assert isinstance(error, RefusedError)
    assert [(way.words, way.row, way.index) for way in error.ways] == [
        ("--count 1", {"count": 1}, 1),
        ("--scale 0.87", {"scale": 0.87}, 1),
    ]


def test_of_roots_only_those_of_repeats_that_are_there_come_out() -> None:
    """Only the bars at the ends of the oval go so deep that they reach the opening."""
    model = model_of(plain_rectangle(14, 6), size=Size(60, 40), opening=Size(57, 37), count=4)
    layout = model.layout(Size(60, 40), 4, 1.0)
    fit = Fit(Size(60, 40), 4, 1.0)
    with pytest.raises(GeometryError, match="the roots of the rectangles"):
        check_row(model, fit, layout)
    check_row(model, fit, replace(layout, is_there=(True, False, True, False)))


def test_where_no_foot_may_be_narrower_only_a_count_is_offered() -> None:
    """Bars on feet of the least neck, 1.5 mm, wide."""
    error = refusal(model_of(plain_rectangle(1.5, 40), opening=Size(70, 70), place="in", count=4), D100, 4)
    assert error is not None
    assert error.say.endswith("Take --count 1.")


def test_roots_in_a_wide_rim_are_not_looked_at_point_by_point(monkeypatch: pytest.MonkeyPatch) -> None:
    looked: list[float] = []
    plain = Edge.tau_towards

    def look(edge: Edge, direction_rad: float) -> float:
        looked.append(direction_rad)
        return plain(edge, direction_rad)

    wide, near = (model_of(arch(), opening=Size(o, o), count=8) for o in (70, 98.1))
    layouts = [model.layout(D100, 8, 1.0) for model in (wide, near)]
    monkeypatch.setattr(Edge, "tau_towards", look)
    check_row(wide, Fit(D100, 8, 1.0), layouts[0])
    assert not looked
    check_row(near, Fit(D100, 8, 1.0), layouts[1])
    assert len(looked) == 8 * 33


def test_a_row_that_stands_alone_offers_ways_for_the_first() -> None:
    model = model_of(plain_rectangle(4, 40), opening=Size(70, 70), place="in", count=4)
    alone = RowModel(replace(model.spec, rows=()), model.row, KNIFE)
    error = refusal(alone, D100, 4)
    assert isinstance(error, RefusedError)
    assert [way.index for way in error.ways] == [0, 0]


@pytest.mark.parametrize(("below", "comes_out"), [(1.9, False), (2.1, True)])
def test_a_foot_line_comes_out_where_any_of_it_lies_inside_the_opening(below: float, *, comes_out: bool) -> None:
    """Bars of 8 mm lie .32 deep in a rim of 2.3 mm; of those that are there the last alone is looked at here."""
    model = model_of(plain_rectangle(8, 4), opening=Size(95.4, 95.4), count=4)
    layout = replace(model.layout(D100, 4, 1.0), is_there=(False, False, False, True))
    assert row_limits._root_depth_over(model, Fit(D100, 4, 1.0), layout, below=below + 0.08) is comes_out
    bare = model_of(plain_rectangle(8, 4), count=4)
    assert not row_limits._root_depth_over(bare, Fit(D100, 4, 1.0), layout, below=99.0)


def test_a_count_at_which_feet_find_no_seat_is_not_one_without_any_that_meet() -> None:
    """A foot of 14 mm sits on the sides of an oval of 60 x 12 mm; at its ends there is no chord so wide."""
    model = model_of(plain_rectangle(14, 6), size=Size(60, 12), count=1, start_deg=90.0)
    assert not row_limits._is_apart(model, Fit(Size(60, 12), 1, 1.0), 1)
    assert row_limits._is_apart(replace_start(model, 0.0), Fit(Size(60, 12), 1, 1.0), 1)


def replace_start(model: RowModel, start_deg: float) -> RowModel:
    row = replace(model.row, start_deg=start_deg)
    return RowModel(replace(model.spec, rows=(row,)), row, model.preset)
