"""Bent motifs that are squeezed, fold over or cross themselves: where, how much, and what would do instead."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from fixtures.plain_motifs import drop, leaf, mirrored_half, plain_rectangle
from fixtures.rows import KNIFE, model_of, row_of

from frameforge.errors import GeometryError
from frameforge.finding import Finding
from frameforge.frame.base import Edge
from frameforge.frame.fit import Fit, fit_row
from frameforge.frame.fold import check_folds, squeezes
from frameforge.frame.layout import Layout, measured
from frameforge.frame.make import make_piece
from frameforge.frame.model import RowModel
from frameforge.frame.piece import Piece
from frameforge.frame.spec import PieceSpec, RowSpec, Size
from frameforge.frame.walk import walk_along
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.motif.motif import Motif

ROUND, OVAL = Size(60, 60), Size(110, 60)


def inward(motif: Motif, opening: Size, **more: object) -> RowModel:
    size = Size(opening.width_mm + 60, opening.height_mm + 60)
    return model_of(motif, size=size, opening=opening, place="in", seat="bent", **more)


def laid(model: RowModel, count: int, first: float = 0.0) -> Layout:
    """Return the row at equal turns, measured though it may fold."""
    assert isinstance(model.spec.size, Size)
    track, readies = model.track(model.spec.size, 1.0), model.readies(count, 1.0)
    taus = [first + k * math.tau / count for k in range(count)]
    return measured(track, readies, taus, (True,) * count, None)


def made(row: RowSpec, opening: Size) -> Piece:
    size = Size(opening.width_mm + 60, opening.height_mm + 60)
    return make_piece(PieceSpec("hoop", size, opening=opening, rows=(row,)), KNIFE)


@pytest.mark.parametrize("height", [5.0, 12.0, 22.5, 29.9])
def test_on_a_circle_the_squeeze_is_the_height_over_the_radius(height: float) -> None:
    layout = laid(inward(plain_rectangle(4, height), ROUND), 5)
    found = squeezes(layout)
    assert [squeeze.k for squeeze in found] == [0, 1, 2, 3, 4]
    for squeeze in found:
        assert squeeze.factor == pytest.approx(1 - height / 30, abs=1e-9)
        assert squeeze.depth_mm == pytest.approx(height, abs=1e-9)
        assert squeeze.radius_mm == pytest.approx(30, abs=1e-6)
        assert abs(squeeze.spot) == pytest.approx(30 - height, abs=1e-9)


def test_on_an_oval_it_is_greatest_where_the_edge_curves_most() -> None:
    """At the end of the long axis the radius is b^2/a = 16.364, at the top a^2/b = 100.833."""
    found = {squeeze.k: squeeze.factor for squeeze in squeezes(laid(inward(drop(), OVAL), 4))}
    assert found[1] == pytest.approx(1 - 13 / (900 / 55), abs=1e-4)
    assert found[3] == pytest.approx(found[1], abs=1e-9)
    assert found[0] == pytest.approx(1 - 13 / (55 * 55 / 30), abs=1e-4)


def test_what_widens_or_stands_as_drawn_is_not_squeezed() -> None:
    assert squeezes(model_of(leaf(), seat="bent").layout(Size(100, 100), 8, 1.0)) == []
    assert squeezes(model_of(leaf()).layout(Size(100, 100), 8, 1.0)) == []


@pytest.mark.parametrize(("height", "folds"), [(29.99, False), (30.01, True)])
def test_a_motif_folds_where_it_reaches_the_middle_of_the_curve(height: float, folds: bool) -> None:
    layout = laid(inward(plain_rectangle(4, height), ROUND), 3)
    if not folds:
        check_folds(layout)
        return
    with pytest.raises(GeometryError, match=r"the rectangle folds over itself: it reaches 30\.01 mm in") as caught:
        check_folds(layout)
    assert caught.value.code == "folds"


def horns(reach: float) -> Motif:
    """Return a low motif with a thin horn near each end, ``reach`` high."""
    left = [complex(-14, 0), complex(-14, reach), complex(-13, reach), complex(-11, 2)]
    points = [*left, *(complex(-z.real, z.imag) for z in reversed(left))]
    return Motif("horns", (Region(Outline.from_points(points).reversed()),), 28.0)


@pytest.mark.parametrize(("below", "crosses"), [(0.3, False), (-0.3, True)])
def test_horns_may_cross_on_the_long_axis_without_a_fold(below: float, crosses: bool) -> None:
    """A normal of an ellipse meets the long axis L b/a from its foot, L = |P'| there: nearer than its own centre."""
    edge = Edge.from_size(OVAL)
    walk = walk_along(edge)
    tau = float(walk.tau(np.array([walk.length_mm / 4 - 13]))[0])
    meeting = edge.speed(tau) * 30 / 55
    assert meeting < 1 / edge.curvature(tau) - 2
    model = inward(horns(meeting - below), OVAL, start_deg=90.0)
    layout = laid(model, 1, first=math.pi / 2)
    assert all(squeeze.factor > 0 for squeeze in squeezes(layout))
    if crosses:
        with pytest.raises(GeometryError, match="folds over itself"):
            check_folds(layout)
    else:
        check_folds(layout)


def test_the_refusal_offers_what_can_be_made() -> None:
    row = row_of(plain_rectangle(4, 12), count=3, place="in", seat="bent", scale=2.6)
    with pytest.raises(GeometryError) as caught:
        made(row, ROUND)
    say = str(caught.value)
    assert say.startswith(
        "hoop: bent so far in, the rectangle folds over itself: it reaches 31.20 mm in, and the edge "
    )
    assert "curves round a point 30.00 mm away there. Take --scale 2." in say
    scale = float(say.split("--scale ")[1].split()[0].rstrip("."))
    assert len(made(replace(row, scale=scale), ROUND).rows[0].repeats) == 3
    assert "--seat as-drawn" not in say, "as drawn they would reach into each other"


def test_a_foot_is_offered_where_a_foot_was_asked_for() -> None:
    row = row_of(plain_rectangle(4, 12), count=3, place="in", seat="bent", foot_mm=11.0)
    with pytest.raises(GeometryError) as caught:
        made(row, ROUND)
    foot = float(str(caught.value).split("--foot ")[1].split("mm")[0])
    assert 5 < foot < 10
    assert len(made(replace(row, foot_mm=foot), ROUND).rows[0].repeats) == 3


def squeezed_of(piece: Piece) -> list[Finding]:
    return [finding for finding in piece.findings if finding.code == "squeezed"]


@pytest.mark.parametrize(("height", "told"), [(22.49, 0), (22.51, 4)])
def test_less_than_a_quarter_is_told(height: float, told: int) -> None:
    """1 - h/30 = .25 at 22.5 mm."""
    piece = made(row_of(plain_rectangle(3, height), count=4, place="in", seat="bent"), ROUND)
    found = squeezed_of(piece)
    assert len(found) == told
    for finding in found:
        assert finding.severity == "warning"
        assert finding.measured == pytest.approx(1 - height / 30, abs=1e-9)
        assert finding.limit == 0.25
        assert abs(complex(finding.x_mm or 0, finding.y_mm or 0)) == pytest.approx(30 - height, abs=1e-9)


def test_its_ways_out_hold() -> None:
    row = row_of(plain_rectangle(3, 12), count=4, place="in", seat="bent", scale=2.0)
    (first, *_) = squeezed_of(made(row, ROUND))
    assert first.say.startswith("bent so far in, what is drawn 1 mm wide comes to 0.2 mm, less than 0.25 mm. Take ")
    scale = float(first.say.split("--scale ")[1].split()[0].rstrip("."))
    assert squeezed_of(made(replace(row, scale=scale), ROUND)) == []
    assert squeezed_of(made(replace(row, scale=round(scale + 0.01, 2)), ROUND))
    assert "--seat as-drawn" in first.say
    assert squeezed_of(made(replace(row, seat="as-drawn"), ROUND)) == []


def test_as_many_as_fit_stops_where_one_more_would_fold_and_says_so() -> None:
    """With 8 a spear stands on the very end of the oval, with 7 and with 9 beside it; 9 leave less than 15.5 mm."""
    spear = mirrored_half("spear", (-3 + 0j, [(-3 + 8j, -1 + 16j, 18j)]))
    model = inward(spear, OVAL, gap_mm=15.5)
    size = model.spec.size
    assert isinstance(size, Size)
    fit = fit_row(model, size)
    assert fit.count == 7
    assert fit.took == ("took no more, since one would fold over itself where the edge curves most",)
    with pytest.raises(GeometryError, match="folds over itself"):
        model.layout(size, 8, 1.0)
    assert 10 < model.clearance_mm(size, 9, 1.0) < 15.5
    assert fit_row(inward(leaf(), Size(200, 200)), Size(260, 260)).took == (
        "took as many as go round with gaps of at least 2 mm",
    )


def test_a_row_that_folds_is_not_called_too_many() -> None:
    model = inward(plain_rectangle(4, 31), ROUND, count=3)
    with pytest.raises(GeometryError, match="folds over itself"):
        fit_row(model, Size(120, 120))
    many = inward(plain_rectangle(30, 5), ROUND, count=9)
    with pytest.raises(GeometryError, match="do not go round"):
        fit_row(many, Size(120, 120))
    assert model.clearance_mm(Size(120, 120), 3, 1.0) == -math.inf
    assert Fit(Size(120, 120), 3, 1.0).took == ()


def test_curves_count_between_their_ends() -> None:
    """A round top reaches further in than its joints do: at its middle, 3/4 of the handles' height."""
    top = Cubic(2 + 15j, 2 + 23j, -2 + 23j, -2 + 15j)
    outline = Outline((Line(-2 + 0j, 2 + 0j), Line(2 + 0j, 2 + 15j), top, Line(-2 + 15j, -2 + 0j)))
    (squeeze,) = squeezes(laid(inward(Motif("dome", (Region(outline),), 4.0), ROUND), 1))
    assert squeeze.depth_mm == pytest.approx(21.0, abs=1e-4)
    assert squeeze.factor == pytest.approx(0.3, abs=1e-5)
