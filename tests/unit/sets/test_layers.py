"""Cards of a stack: an even border all round, openings, windows and holes, and the limit of an inset."""

from __future__ import annotations

import math

import pytest
from fixtures.plain_motifs import leaf, plain_rectangle
from fixtures.rows import KNIFE
from fixtures.sets import piece_of

from frameforge.errors import GeometryError
from frameforge.frame.make import make_piece
from frameforge.frame.spec import HoleSpec, PieceSpec, Size
from frameforge.geometry.measure import area_mm2, bounds, length_mm
from frameforge.sets.layers import Layer, LayerSpec, layers_of, opening_of


def stack(piece: object, *borders: float, opening: str = "follow", has_opening: bool = False) -> tuple[Layer, ...]:
    specs = [LayerSpec(f"card {k}", border, opening) for k, border in enumerate(borders)]  # type: ignore[arg-type]
    return layers_of(piece, specs, KNIFE, has_opening=has_opening)  # type: ignore[arg-type]


def test_a_circle_grows_to_a_circle() -> None:
    top, low = stack(piece_of(100), 5)
    assert (top.number, top.border_mm, low.number, low.border_mm) == (None, 0, 0, 5)
    assert length_mm(low.region) == pytest.approx(110 * math.pi)
    assert low.region.segment_count == 1


def test_borders_add_up_from_the_piece_itself() -> None:
    """By Steiner, P + 2 pi d and A + P d + pi d^2; no card carries on what the fit of the one before left."""
    piece = piece_of((120, 80))
    around, area = length_mm(piece.region), area_mm2(piece.region)
    for layer, d in zip(stack(piece, 3, 4, 5)[1:], (3, 7, 12), strict=True):
        assert length_mm(layer.region) == pytest.approx(around + math.tau * d, abs=1e-3)
        assert area_mm2(layer.region) == pytest.approx(area + around * d + math.pi * d * d, abs=1e-2)
        assert layer.region.segment_count <= 16


@pytest.mark.parametrize(("opening", "width"), [("follow", 50), ("same", 60), ("closed", None)])
def test_what_becomes_of_the_opening(opening: str, width: float | None) -> None:
    low = stack(piece_of(100, 60), 5, opening=opening, has_opening=True)[1]
    assert len(low.region.holes) == (width is not None)
    if width is not None and low.opening is not None:
        assert bounds(low.opening).width_mm == pytest.approx(width)


def test_a_closed_opening_stays_closed_below() -> None:
    specs = [LayerSpec("a", 5, "closed"), LayerSpec("b", 5, "follow")]
    assert [len(layer.region.holes) for layer in layers_of(piece_of(100, 60), specs, KNIFE, has_opening=True)] == [
        1,
        0,
        0,
    ]


def test_narrower_cards_lie_on_top() -> None:
    layers = stack(piece_of(100, 60), -5, 4, -3, has_opening=True)
    assert [layer.number for layer in layers] == [2, 0, None, 1]
    assert [layer.border_mm for layer in layers] == pytest.approx([0, 3, 5, 4])
    assert [bounds(layer.region).width_mm for layer in layers] == pytest.approx([84, 90, 100, 108])
    assert [bounds(layer.opening).width_mm for layer in layers if layer.opening] == pytest.approx([76, 70, 60, 52])


def test_windows_show_the_card_below_and_holes_go_through_all() -> None:
    holed = make_piece(PieceSpec("mat", Size(100, 100), Size(60, 60), holes=(HoleSpec(4, 0),)), KNIFE)
    assert [len(layer.region.holes) for layer in stack(holed, 5, has_opening=True)] == [2, 2]
    deep = 50 - abs(holed.holes[0].middle)
    assert [len(layer.region.holes) for layer in stack(holed, -deep - 4)] == [0, 2]
    with pytest.raises(GeometryError, match="runs through a hole"):
        stack(holed, -deep)
    windows = piece_of(100, 60, plain_rectangle(5, 5), count=8, place="window")
    assert [len(layer.region.holes) for layer in stack(windows, 5, has_opening=True)] == [9, 1]


def test_the_border_of_motifs_is_even_too() -> None:
    """A rectangle of 10 x 5 standing out gets corners of radius 3, so the card below is its outline grown by 3."""
    piece = piece_of(100, None, plain_rectangle(10, 5), count=4)
    low = stack(piece, 3)[1]
    assert bounds(low.region).width_mm == pytest.approx(bounds(piece.region).width_mm + 6, abs=1e-6)


def test_gaps_too_small_for_a_hole_are_filled_and_counted() -> None:
    """The bays between leaves close at their mouths before their floors are covered: first a hole, then a crumb."""
    piece = piece_of(100, None, leaf(), count=24)
    found = [stack(piece, border)[1] for border in (0.5, 1.0, 2.0)]
    assert [(len(layer.region.holes), layer.filled) for layer in found] == [(24, 0), (0, 24), (0, 0)]


@pytest.mark.parametrize("inset", [33.33, 33.34])
def test_an_inset_ends_where_an_oval_comes_to_a_point(inset: float) -> None:
    """Short half-axis squared over the long one: 50^2 / 75 = 33.333."""
    if inset < 100 / 3:
        assert stack(piece_of((150, 100)), -inset)[0].grown_mm == -inset
        return
    with pytest.raises(GeometryError, match=r"33.33 mm in from its ends the edge comes to a point. Take 33.33 mm"):
        stack(piece_of((150, 100)), -inset)


def test_insets_add_up_to_the_limit() -> None:
    with pytest.raises(GeometryError, match=r"33.33 mm in from its ends"):
        stack(piece_of((150, 100)), -20, -20)


def test_insets_that_leave_nothing_or_parts_are_refused() -> None:
    with pytest.raises(GeometryError, match="nothing is left"):
        stack(piece_of(40), -20)
    with pytest.raises(GeometryError, match="its opening meets its outside"):
        stack(piece_of(100, 92), -3, has_opening=True)
    with pytest.raises(GeometryError, match="opening closes"):
        stack(piece_of(100, 20), 10, has_opening=True)


def test_the_opening_is_the_hole_in_the_middle() -> None:
    assert opening_of(piece_of(100)) is None
    found = opening_of(piece_of(100, 60, plain_rectangle(5, 5), count=8, place="window"))
    assert found is not None
    assert bounds(found).width_mm == pytest.approx(60)
