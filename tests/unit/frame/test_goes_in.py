"""What has to go into something: the largest base by closed form, and what is said of one that is too large."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from typing import Any

import pytest
from fixtures.plain_motifs import arch, disc, leaf, plain_rectangle
from fixtures.rows import D100, KNIFE, row_of

from frameforge.card.envelope import Envelope, named_envelope
from frameforge.errors import GeometryError, InputError
from frameforge.frame.assembly import assemble
from frameforge.frame.goes_in import _row_points, _takes, _ways, goes_in, refuse_too_big, settle_goes_in
from frameforge.frame.model import RowModel
from frameforge.frame.rest_size import settle_sizes
from frameforge.frame.spec import FoldSpec, PieceSpec, RowSpec, Size
from frameforge.frame.ways import RefusedError
from frameforge.geometry.measure import bounds

C6 = named_envelope("C6")
"""Takes 156 x 108 mm."""
LID = Envelope.from_size(76, 76, is_circle=True)
"""Takes a circle of 70 mm."""
STUBS = row_of(plain_rectangle(4, 5), count=8)


def found(envelope: Envelope, *rows: RowSpec, **more: Any) -> Size:
    size = settle_goes_in(PieceSpec("hoop", "find", goes_in=envelope, rows=rows, **more), KNIFE).size
    assert isinstance(size, Size)
    return size


def told(spec: PieceSpec, can_make: Callable[[PieceSpec], bool] = lambda spec: True) -> str | None:
    settled, _ = settle_sizes(settle_goes_in(spec, KNIFE), KNIFE)
    made = assemble(settled, KNIFE)
    return refuse_too_big(spec, KNIFE, made.size, made.combined.regions[0], can_make)


def refused(spec: PieceSpec, can_make: Callable[[PieceSpec], bool] = lambda spec: True) -> GeometryError:
    with pytest.raises(GeometryError) as fault:
        told(spec, can_make)
    assert fault.value.code == "too-big-for-envelope"
    return fault.value


def test_plain_card_fills_the_shorter_side() -> None:
    assert found(C6).width_mm == pytest.approx(108, abs=1e-7)
    size = found(Envelope.from_size(206, 66, is_circle=False), ratio=1.5)
    assert (size.width_mm, size.height_mm) == (pytest.approx(90, abs=1e-3), pytest.approx(60, abs=1e-3))


@pytest.mark.parametrize("count", [8, None], ids=["eight", "as many as fit"])
def test_corners_of_rectangles_touch_the_circle_that_takes_them(count: int | None) -> None:
    """Foot w = 4, height h = 5, tips on R = 35: the base has radius hypot(sqrt(R^2 - w^2/4) - h, w/2)."""
    wanted = 2 * math.hypot(math.sqrt(35**2 - 4) - 5, 2)
    assert found(LID, row_of(plain_rectangle(4, 5), count=count)).width_mm == pytest.approx(wanted, abs=1e-6)


def test_windows_take_no_room() -> None:
    assert found(LID, row_of(disc(2.0), count=8, place="window", inset_mm=6.0)).width_mm == pytest.approx(70, abs=1e-7)


def test_a_folded_piece_goes_in_before_it_is_folded() -> None:
    """A circle of D folded at a depth of 10 is, laid flat, D wide and 2 (D - 10) high; the best turn may be askew."""
    size = found(C6, fold=FoldSpec(10.0))
    made = assemble(PieceSpec("hoop", size, fold=FoldSpec(10.0)), KNIFE)
    box = bounds(made.combined.regions)
    assert (box.width_mm, box.height_mm) == pytest.approx((size.width_mm, 2 * size.width_mm - 20), abs=1e-6)
    assert size.width_mm > (156 + 20) / 2
    whole = PieceSpec("hoop", size, goes_in=C6, fold=FoldSpec(10.0))
    larger = PieceSpec("hoop", Size(size.width_mm + 0.1, size.width_mm + 0.1), goes_in=C6, fold=FoldSpec(10.0))
    says = told(whole)
    assert says is not None
    assert says.endswith("to spare each side, before it is folded.")
    assert "Make the circle" in refused(larger).say


def test_a_piece_that_goes_in_once_it_is_folded_is_told_so() -> None:
    """Folded it is 120 x 90 mm; the other 150 x 110 mm, which 108 mm do not take however it is turned."""
    spec = PieceSpec("tent", Size(120, 100), goes_in=C6, fold=FoldSpec(10.0))
    assert refused(spec).say.endswith("or leave --goes-in out and fold it first: folded it goes in.")
    wide = PieceSpec("tent", Size(150, 120), goes_in=C6, fold=FoldSpec(10.0))
    assert "folded it goes in" not in refused(wide).say


def test_a_stated_size_and_rows_that_decide_it_stay_as_they_are() -> None:
    stated = PieceSpec("hoop", D100, goes_in=C6)
    decided = PieceSpec("hoop", "find", goes_in=C6, rows=(row_of(leaf(), count=8, gap_mm=2.0),))
    assert settle_goes_in(stated, KNIFE) is stated
    assert settle_goes_in(decided, KNIFE) is decided


@pytest.mark.parametrize("row", [row_of(leaf(), count=8, scale="find"), row_of(leaf(), count=8, foot_mm="find")])
def test_size_and_scale_are_not_both_found(row: RowSpec) -> None:
    with pytest.raises(InputError, match="size and scale cannot both be found"):
        found(LID, STUBS, row)


def nothing(spec: PieceSpec) -> str:
    with pytest.raises(RefusedError) as fault:
        settle_goes_in(spec, KNIFE)
    return fault.value.tried(spec, lambda tried: True, list).say


def test_motifs_higher_than_there_is_room_are_refused_with_scales_that_let_a_base_in() -> None:
    """A leaf 16 mm high on the smallest base that it finds a seat on, one as wide as its foot of 4.4 mm, reaches
    across more than 16 mm: into 10 mm goes none."""
    tiny = Envelope.from_size(16, 16, is_circle=True)
    spec = PieceSpec("hoop", "find", goes_in=tiny, rows=(row_of(leaf(), count=1),))
    say = nothing(spec)
    assert say.startswith("nothing goes into a circle of 16 mm with these motifs. Name a larger one, or take --scale ")
    (scale,) = (float(part) for part in re.findall(r"--scale (\d\.\d+)", say))
    assert 0.2 < scale < 0.6
    assert found(tiny, row_of(leaf(), count=1, scale=scale)).width_mm >= 4.4 * scale


def test_of_two_rows_no_scale_is_offered() -> None:
    tiny = Envelope.from_size(16, 16, is_circle=True)
    say = nothing(PieceSpec("hoop", "find", goes_in=tiny, rows=(row_of(leaf(), count=1), row_of(leaf(), count=1))))
    assert say == "nothing goes into a circle of 16 mm with these motifs. Name a larger one, or take other motifs."


def test_what_cannot_be_made_at_the_largest_size_says_that_it_is_the_largest() -> None:
    with pytest.raises(RefusedError, match=r"^hoop: 12 arches do not go round a 56.3 mm circle") as fault:
        found(LID, row_of(arch(), count=12))
    assert "That is about the largest that goes into a circle of 76 mm." in fault.value.head


def test_room_to_spare_is_half_of_what_is_left_and_the_margin() -> None:
    """100 of 114 mm: 7 mm on each side."""
    assert told(PieceSpec("hoop", D100, goes_in=C6)) == "goes into a C6 envelope with 7 mm to spare each side."
    assert told(PieceSpec("hoop", D100)) is None
    made = assemble(PieceSpec("hoop", D100), KNIFE)
    region = made.combined.regions[0]
    assert goes_in(PieceSpec("hoop", D100), D100, region)
    assert goes_in(PieceSpec("hoop", D100, goes_in=C6), D100, region)
    assert not goes_in(PieceSpec("hoop", D100, goes_in=LID), D100, region)


def test_what_is_too_large_by_less_than_is_shown_never_reads_as_the_limit() -> None:
    fault = refused(PieceSpec("hoop", Size(108.004, 108.004), goes_in=C6))
    assert fault.say.startswith("108.01 mm across, a C6 envelope takes 108 mm with 3 mm each side. ")
    assert fault.say.endswith("Make the circle 108 mm or less, or name a larger envelope.")


def test_a_circle_is_offered_in_steps_of_a_tenth_until_one_can_be_made() -> None:
    spec = PieceSpec("hoop", Size(120, 120), goes_in=C6)

    def enters(tried: PieceSpec) -> bool:
        return isinstance(tried.size, Size) and tried.size.width_mm <= 108

    assert "Make the circle 108 mm or less, or name a larger envelope." in refused(spec, enters).say


def test_an_oval_is_offered_in_its_proportion() -> None:
    say = refused(PieceSpec("hoop", Size(180, 120), goes_in=C6)).say
    assert say.startswith("180 x 120 mm across, a C6 envelope takes 156 x 108 mm with 3 mm each side. Make the oval ")
    width, height = map(float, re.findall(r"oval ([\d.]+) x ([\d.]+) mm", say)[0])
    assert width / height == pytest.approx(1.5, abs=2e-3)


@pytest.mark.parametrize(
    ("envelope", "say"),
    [
        (C6, "120 mm across, a C6 envelope takes 108 mm with 3 mm each side. Name a larger envelope."),
        (LID, "120 mm across, a circle of 76 mm takes 70 mm with 3 mm each side. Write a larger one."),
    ],
)
def test_where_nothing_holds_a_larger_one_is_left(envelope: Envelope, say: str) -> None:
    fault = refused(PieceSpec("hoop", Size(120, 120), goes_in=envelope), lambda spec: False)
    assert (fault.say, fault.where) == (say, "hoop")
    assert fault.numbers == {"across_mm": pytest.approx(120), "limit_mm": envelope.short_mm}


def test_smaller_motifs_are_the_second_way() -> None:
    """The first way is a smaller base; where none can be made, the largest scale in steps of .05 that can."""
    spec = PieceSpec("hoop", Size(66, 66), goes_in=LID, rows=(STUBS,))

    def by_scale(tried: PieceSpec) -> bool:
        return tried.size == spec.size and (tried.rows[0].scale or 1) <= 0.4  # type: ignore[operator]

    assert "Take --scale 0.4, or write a larger one." in refused(spec, by_scale).say
    high = PieceSpec("hoop", Size(66, 66), goes_in=Envelope.from_size(7, 7, is_circle=True), rows=(STUBS,))
    assert "Take --scale 0.95, or write a larger one." in refused(high).say


def test_a_size_that_was_found_is_left_and_its_row_changed() -> None:
    """Thirty stubs 4 mm apart need a circle of 86.4 mm with their tips: one fewer, or any gap."""
    spec = PieceSpec("hoop", "find", goes_in=LID, rows=(row_of(plain_rectangle(4, 5), count=30, gap_mm=4.0),))
    assert "Take --count 29, leave out the gap, or write a larger one." in refused(spec).say
    free = refused(spec, lambda tried: tried.rows[0].gap_mm is None).say
    assert free.startswith("86.4 mm across, a circle of 76 mm takes 70 mm with 3 mm each side. ")
    assert free.endswith("each side. Leave out the gap, or write a larger one.")
    assert "Take --count 22, or write" in refused(spec, lambda tried: tried.rows[0].count == 22).say


def test_of_a_row_of_windows_no_point_counts() -> None:
    row = row_of(disc(2.0), count=8, place="window", inset_mm=6.0)
    assert len(_row_points(RowModel(PieceSpec("hoop", D100, rows=(row,)), row, KNIFE), D100)) == 0
    stubs = RowModel(PieceSpec("hoop", D100, rows=(STUBS,)), STUBS, KNIFE)
    assert max(abs(_row_points(stubs, D100))) == pytest.approx(math.hypot(math.sqrt(50**2 - 2**2) + 5, 2))


def tried_ways(spec: PieceSpec, goes: Callable[[PieceSpec], bool] = lambda spec: False) -> tuple[list[str], list[Any]]:
    """Return the ways told of a piece too large, and every order tried for them."""
    orders: list[PieceSpec] = []

    def can_make(order: PieceSpec) -> bool:
        orders.append(order)
        return goes(order)

    size = spec.size if isinstance(spec.size, Size) else D100
    return _ways(spec, KNIFE, size, can_make), orders


def test_of_a_size_found_fewer_are_tried_down_to_one_then_any_gap() -> None:
    spec = PieceSpec("hoop", "find", goes_in=LID, rows=(row_of(plain_rectangle(4, 5), count=3, gap_mm=4.0),))
    said, orders = tried_ways(spec)
    assert said == []
    assert [(order.rows[0].count, order.rows[0].gap_mm) for order in orders] == [(2, 4.0), (1, 4.0), (3, None)]
    assert tried_ways(spec, lambda order: order.rows[0].count == 1)[0] == ["Take --count 1"]
    assert tried_ways(spec, lambda order: order.rows[0].count != 2)[0] == ["Take --count 1", "leave out the gap"]
    assert tried_ways(spec, lambda order: order.rows[0].gap_mm is None)[0] == ["Leave out the gap"]
    free = PieceSpec("hoop", "find", goes_in=LID, rows=(row_of(plain_rectangle(4, 5), foot_gap_mm=4.0),))
    said, orders = tried_ways(free)
    assert [(order.rows[0].count, order.rows[0].foot_gap_mm) for order in orders] == [(free.rows[0].count, None)]


def test_eight_bases_are_tried_a_tenth_smaller_each_then_smaller_motifs() -> None:
    """A plain circle of 70 mm goes in; .2 mm more are tried first, since the search is rough."""
    said, orders = tried_ways(PieceSpec("hoop", D100, goes_in=LID))
    sizes = [order.size.width_mm for order in orders if isinstance(order.size, Size)]
    assert (said, sizes) == ([], pytest.approx([70.2 - 0.1 * k for k in range(8)], abs=0.11))
    assert sizes == [round(sizes[0] - 0.1 * k, 1) for k in range(8)]
    said, orders = tried_ways(PieceSpec("hoop", Size(66, 66), goes_in=LID, rows=(STUBS,)))
    scales = [order.rows[0].scale for order in orders if order.size == Size(66, 66)]
    assert (said, scales) == ([], [round(0.95 - 0.05 * k, 2) for k in range(16)])
    assert all(order.rows[0].foot_mm is None for order in orders)


def test_no_base_larger_than_the_one_asked_for_is_tried() -> None:
    _, orders = tried_ways(PieceSpec("hoop", Size(70.1, 70.1), goes_in=LID))
    assert orders[0].size == Size(70.1, 70.1)


def test_what_an_envelope_takes_is_told_by_its_width_or_both_sides() -> None:
    square = Envelope.from_size(100, 100, is_circle=False)
    assert [_takes(one, is_round=False) for one in (square, C6)] == ["94 mm", "156 x 108 mm"]
    assert [_takes(one, is_round=True) for one in (square, C6, LID)] == ["94 mm", "108 mm", "70 mm"]
