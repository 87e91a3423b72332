"""Slots for a stand: level undersides, the foot that would do where it is too small, repeats left out beside them."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest
import shapely
from fixtures.plain_motifs import disc, plain_rectangle
from fixtures.rows import D100, KNIFE, row_of

from frameforge.errors import GeometryError
from frameforge.frame.base import Edge
from frameforge.frame.make import make_piece
from frameforge.frame.model import RowModel
from frameforge.frame.piece import Piece
from frameforge.frame.slots import LEAST_SLOT_MM, Slot, beside_slots, slot_places_mm, slots_of
from frameforge.frame.spec import PieceSpec, Size, StandSpec
from frameforge.geometry.box import Box
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import bounds


def made(stand: StandSpec, size: Size = D100, **more: object) -> Piece:
    return make_piece(PieceSpec("sign", size, stand=stand, **more), KNIFE)  # type: ignore[arg-type]


def test_feet_stand_evenly_about_the_middle() -> None:
    assert slot_places_mm(StandSpec(50, 1), 100) == (0.0,)
    assert slot_places_mm(StandSpec(50, 2), 100) == pytest.approx((-28, 28))
    assert slot_places_mm(StandSpec(50, 3), 100) == pytest.approx((-28, 0, 28))


@pytest.mark.parametrize(
    ("size", "feet", "has_row"),
    [
        (D100, 1, False),
        (D100, 2, True),
        (Size(150, 100), 3, False),
        (Size(150, 100), 4, True),
        (Size(90, 130), 2, True),
    ],
)
def test_slid_together_the_undersides_are_level(size: Size, feet: int, has_row: bool) -> None:
    """The floor of the slot in a foot comes to lie on the end of the slot in the piece: then the foot's underside is as
    low as the lowest point of the piece."""
    rows = (row_of(plain_rectangle(4.0, 6.0), count=18),) if has_row else ()
    stand = StandSpec(80, feet)
    piece = made(stand, size, rows=rows)
    lowest = bounds(piece.region).bottom
    for slot in piece.slots:
        floor_above_table = stand.size_mm / 2 - slot.foot_mm
        assert slot.top_mm - floor_above_table == pytest.approx(slot.table_mm, abs=1e-9)
        # A slot in the very middle takes the lowest point itself away.
        assert slot.table_mm == pytest.approx(lowest, abs=1e-3)
        assert slot.foot_mm >= LEAST_SLOT_MM
        assert slot.depth_mm >= slot.foot_mm - 1e-9


def test_a_slot_is_as_wide_as_the_card_and_its_play() -> None:
    piece = made(StandSpec(60, 2, play_mm=0.15))
    card = to_polygon(piece.region)
    slot = piece.slots[0]
    level = shapely.LineString([(-200, slot.top_mm - 0.5), (0, slot.top_mm - 0.5)])
    parts = shapely.get_parts(shapely.intersection(card, level))
    assert parts[1].bounds[0] - parts[0].bounds[2] == pytest.approx(KNIFE.thickness_mm + 0.15, abs=1e-9)
    assert slot.at_mm == pytest.approx((parts[1].bounds[0] + parts[0].bounds[2]) / 2, abs=1e-9)
    assert not card.contains(shapely.Point(slot.at_mm, slot.top_mm - 0.01))
    assert card.contains(shapely.Point(slot.at_mm, slot.top_mm + 0.01))


def test_repeats_where_a_foot_goes_are_left_out_and_said() -> None:
    row = row_of(plain_rectangle(6.0, 8.0), count=20)
    piece = made(StandSpec(60), rows=(row,))
    count = piece.rows[0].count
    assert 0 < count < 20
    assert any(
        f"left out {20 - count} of 20 rectangles, where the feet are slid in" in one.say for one in piece.findings
    )
    for repeat in piece.rows[0].repeats:
        points = [repeat.placement.apply(z) for z in (-3 + 0j, -3 + 8j, 3 + 8j, 3 + 0j)]
        for slot in piece.slots:
            assert all(abs(z.real - slot.at_mm) > KNIFE.least_web_mm or z.imag > slot.top_mm for z in points)


def test_feet_too_small_are_refused_and_those_offered_hold() -> None:
    with pytest.raises(GeometryError, match="Take feet of") as caught:
        made(StandSpec(20), Size(150, 100))
    offer = float(re.search(r"feet of ([\d.]+) mm", str(caught.value))[1])  # type: ignore[index]
    assert made(StandSpec(offer), Size(150, 100)).slots
    with pytest.raises(GeometryError):
        made(StandSpec(offer - 2), Size(150, 100))


def test_feet_typed_in_inches_are_told_in_tenths_of_a_mm() -> None:
    with pytest.raises(GeometryError, match=r"feet 20\.1 mm wide"):
        made(StandSpec(20.066), Size(150, 100))


def test_slots_that_come_near_the_opening_are_refused_and_feet_offered_hold() -> None:
    spec = StandSpec(90, 1)
    with pytest.raises(GeometryError, match="below the opening") as caught:
        made(spec, opening=Size(70, 70))
    offer = float(re.search(r"feet of ([\d.]+) mm", str(caught.value))[1])  # type: ignore[index]
    assert made(replace(spec, size_mm=offer), opening=Size(70, 70)).slots


def test_a_rim_too_narrow_for_any_foot_says_so() -> None:
    with pytest.raises(GeometryError, match="Make the opening smaller"):
        made(StandSpec(40, 1), opening=Size(94, 94))


def test_a_row_of_which_nothing_is_left_is_refused() -> None:
    with pytest.raises(GeometryError, match="left beside the slots"):
        made(StandSpec(80, 1), rows=(row_of(plain_rectangle(6.0, 8.0), count=1, start_deg=180.0),))


def test_a_slot_stays_clear_of_the_card_beside_it() -> None:
    slot = made(StandSpec(60)).slots[1]
    assert slot.holds(complex(slot.at_mm, slot.edge_mm))
    assert not slot.holds(complex(slot.at_mm + 1, slot.edge_mm))
    assert slot.edge_mm == pytest.approx(-math.sqrt(50**2 - 28**2))


def test_only_slots_below_an_opening_need_card_under_it() -> None:
    """Two feet stand 28 mm off the middle and reach up to 35.7 mm below it: an opening of 90 mm comes down to 35.2 mm
    there, one as high and 30 mm wide does not come there at all."""
    spec = PieceSpec("sign", D100, opening=Size(30, 90), stand=StandSpec(40, 2))
    assert [slot.at_mm for slot in make_piece(spec, KNIFE).slots] == pytest.approx([-28, 28])
    with pytest.raises(GeometryError, match=r"the slots of the stand leave 0\.4\d mm of card below the opening"):
        make_piece(replace(spec, opening=Size(90, 90)), KNIFE)


def plain_slots(stand: StandSpec, size: Size = D100, opening: Size | None = None) -> tuple[Slot, ...]:
    edges = Edge.from_size(size), Edge.from_size(opening) if opening else None
    half = size.height_mm / 2
    return slots_of(stand, edges, Box(-size.width_mm / 2, -half, size.width_mm / 2, half), KNIFE, where="sign")


def test_slots_by_hand() -> None:
    """Under the middle of a disc of 100 mm a foot of 40 mm overlaps 20 mm: ten are cut in each."""
    (slot,) = plain_slots(StandSpec(40, 1))
    assert slot == Slot(0.0, KNIFE.thickness_mm + 0.1, -50.0, 10.0, -50.0, 10.0)
    assert slot.top_mm == -40
    box = bounds(slot.block.outer)
    wide = KNIFE.thickness_mm + 0.1
    assert (box.left, box.bottom, box.right, box.top) == pytest.approx((-wide / 2, -60 - wide, wide / 2, -40))
    low = -math.sqrt(50**2 - 28**2)
    first, middle, last = plain_slots(StandSpec(60, 3))
    assert (first.at_mm, first.edge_mm) == pytest.approx((-28, low))
    foot = (-50 + 30 - low) / 2
    assert (first.foot_mm, middle.foot_mm, last.foot_mm) == pytest.approx((foot,) * 3)
    assert (first.depth_mm, middle.depth_mm) == pytest.approx((foot, 30 - foot))


def test_a_slot_holds_points_up_to_its_edges() -> None:
    slot = Slot(10.0, 0.4, -50.0, 10.0, -50.0, 10.0)
    assert slot.holds(10.2 - 40j)
    assert slot.holds(9.8 - 70j)
    assert not slot.holds(10.3 - 45j)
    assert not slot.holds(9.7 - 45j)
    assert not slot.holds(10 - 39.9j)


def said(stand: StandSpec, size: Size = D100, opening: Size | None = None) -> str:
    with pytest.raises(GeometryError) as caught:
        plain_slots(stand, size, opening)
    assert caught.value.code == "stand"
    return str(caught.value)


def test_feet_that_are_too_small_are_told_with_what_holds() -> None:
    """Half of the overlap must be 4 mm: under the middle a foot of 16 mm is just enough."""
    assert plain_slots(StandSpec(16, 1))[0].foot_mm == LEAST_SLOT_MM
    assert said(StandSpec(15.8, 1)) == (
        "sign: feet 15.8 mm wide reach 7.9 mm up the edge of a 100 mm circle, and hold from 8 mm on. "
        "Take feet of 16 mm or more."
    )
    assert said(StandSpec(10, 2)) == (
        "sign: feet 10 mm wide reach 0 mm up the edge of a 100 mm circle, and hold from 8 mm on. "
        "Take feet of 34 mm or more."
    )


def test_card_below_an_opening_is_told_with_the_feet_that_leave_it() -> None:
    """A slot of ten of the 20 mm that a foot of 40 mm reaches up leaves 11.4 - 10 below an opening of 77.2 mm."""
    assert plain_slots(StandSpec(40, 1), opening=Size(77, 77))
    assert said(StandSpec(40, 1), opening=Size(77.2, 77.2)) == (
        "sign: the slots of the stand leave 1.4 mm of card below the opening, this card needs 1.5 mm. "
        "Take feet of 39 mm."
    )
    assert said(StandSpec(16, 1), opening=Size(90, 90)) == (
        "sign: the slots of the stand leave 1 mm of card below the opening, this card needs 1.5 mm. "
        "Make the opening smaller."
    )
    assert said(StandSpec(24, 1), opening=Size(90, 90)) == (
        "sign: the slots of the stand leave 0 mm of card below the opening, this card needs 1.5 mm. "
        "Make the opening smaller."
    )


def test_a_slot_just_beside_the_opening_needs_no_card_below_it() -> None:
    """Feet twice as wide as the piece reach up past its middle, 28 mm to both sides."""
    assert [slot.top_mm > 0 for slot in plain_slots(StandSpec(200, 2), opening=Size(56, 60))] == [True, True]
    with pytest.raises(GeometryError, match="leave 0 mm of card below the opening"):
        plain_slots(StandSpec(200, 2), opening=Size(56.2, 60))


@pytest.mark.parametrize(("start", "is_out"), [(180.0, True), (186.5, True), (188.0, False), (172.0, False)])
def test_a_repeat_keeps_a_web_away_from_where_a_foot_goes(start: float, *, is_out: bool) -> None:
    """A bar of 10 mm at the bottom spreads 5.74 degrees; the web beside the slot of .4 mm is 1.5 mm wide."""
    row = row_of(plain_rectangle(10.0, 8.0), plain_rectangle(10.0, 8.0), count=2, start_deg=start)
    model = RowModel(PieceSpec("sign", D100, stand=StandSpec(60, 1), rows=(row,)), row, KNIFE)
    found = beside_slots(model, D100, model.layout(D100, 2, 1.0))
    assert found.is_out == (is_out, False)
    assert found.took == (("left out 1 of 2 rectangles, where the feet are slid in",) if is_out else ())


def test_a_row_with_nothing_left_says_what_to_do_and_one_without_a_stand_keeps_all() -> None:
    row = row_of(plain_rectangle(6.0, 8.0), count=1, start_deg=180.0)
    model = RowModel(PieceSpec("sign", D100, stand=StandSpec(60, 1), rows=(row,)), row, KNIFE)
    with pytest.raises(GeometryError) as caught:
        beside_slots(model, D100, model.layout(D100, 1, 1.0))
    assert str(caught.value) == (
        "sign: no rectangle is left beside the slots of the stand. Take one foot, or leave the row out."
    )
    bare = RowModel(PieceSpec("sign", D100, rows=(row,)), row, KNIFE)
    kept = beside_slots(bare, D100, bare.layout(D100, 1, 1.0))
    assert (kept.is_out, kept.took) == ((False,), ())


@pytest.mark.parametrize(("inset", "is_out"), [(26.0, True), (30.0, True), (34.0, False)])
def test_windows_as_high_as_half_a_foot_lie_in_the_way_of_its_slot(inset: float, *, is_out: bool) -> None:
    """A foot of 60 mm reaches up from -50 to -20 mm; a window of 2 mm keeps a web of 1.5 mm above that."""
    row = row_of(disc(1.0), disc(1.0), count=2, place="window", inset_mm=inset, start_deg=180.0)
    model = RowModel(PieceSpec("sign", D100, stand=StandSpec(60, 1), rows=(row,)), row, KNIFE)
    assert beside_slots(model, D100, model.layout(D100, 2, 1.0)).is_out == (is_out, False)
