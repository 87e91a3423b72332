"""One row built: what it came to, field by field, what it does to the card, and what is said of it."""

from __future__ import annotations

import math
from dataclasses import fields
from typing import Any

import pytest
from fixtures.plain_motifs import arch, disc, husk, leaf, plain_rectangle, pod
from fixtures.rows import D100, KNIFE, model_of, row_of

from frameforge.frame import row as module
from frameforge.frame.fit import Fit
from frameforge.frame.model import RowModel
from frameforge.frame.piece import RowResult
from frameforge.frame.row import BuiltRow, build_row
from frameforge.frame.spec import FoldSpec, PieceSpec, Size, StandSpec
from frameforge.frame.unite import RowParts
from frameforge.geometry.combine import Copies, Expression
from frameforge.geometry.measure import bounds
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.motif.motif import Motif
from frameforge.tolerances import ROOT_MM

O60 = Size(60, 60)


def built(model: RowModel, count: int, size: Size = D100, *, is_trial: bool = False) -> BuiltRow:
    return build_row(model, Fit(size, count, 1.0), is_trial=is_trial)


def told(result: RowResult) -> dict[str, Any]:
    """Return all but the repeats."""
    return {field.name: getattr(result, field.name) for field in fields(result) if field.name != "repeats"}


def parts(built: BuiltRow) -> dict[str, int]:
    """Return how many expressions a row has of each kind, of those it has any."""
    counts = {field.name: len(getattr(built.parts, field.name)) for field in fields(RowParts)}
    return {name: count for name, count in counts.items() if count}


def test_a_row_is_told_with_all_that_was_measured() -> None:
    row = built(model_of(plain_rectangle(16, 4), count=12, skip=(2,), start_deg=15.0), 12)
    gap = pytest.approx(100 * math.sin(math.pi / 12 - math.asin(0.16)))
    assert told(row.result) == {
        "motif_name": "rectangle", "count": 11, "gap_mm": gap, "foot_gap_mm": gap, "gap_max_mm": gap, "pitch_deg": 30.0,
        "start_deg": 15.0, "seam_gap_mm": None, "scale": 1.0, "seat": "as-drawn", "place": "out", "spread": None,
        "filler": None, "is_of_teeth": False,
    }  # fmt: skip
    assert [repeat.position for repeat in row.result.repeats] == [1, *range(3, 13)]
    assert [round(repeat.direction_deg, 9) for repeat in row.result.repeats] == [15, *range(75, 360, 30)]
    assert len(row.readies) == 11
    assert row.findings == ()


def test_a_single_one_has_no_gaps() -> None:
    result = built(model_of(arch(), count=1), 1).result
    assert (result.gap_mm, result.gap_max_mm, result.foot_gap_mm, result.spread) == (None, None, None, None)


@pytest.mark.parametrize(
    ("motifs", "size", "spread"),
    [
        ((arch(),), D100, None),
        ((husk(), arch()), D100, None),
        ((husk(), arch(), arch()), D100, "equal-gap"),
        ((arch(),), Size(102, 100), "equal-gap"),
    ],
)
def test_a_spread_is_told_where_the_turns_differ(motifs: tuple[Motif, ...], size: Size, spread: str | None) -> None:
    result = built(model_of(*motifs, count=6), 6, size).result
    assert result.spread == spread
    assert result.motif_name == "+".join(motif.name for motif in motifs)


def test_positions_count_clockwise_from_the_top_wherever_a_row_starts() -> None:
    assert module._positions([350.0, 10.0, 180.0]) == [3, 1, 2]
    assert module._positions([180.0, 359.9999999999, 10.0]) == [3, 1, 2], "a hair before the top is the top"
    assert module._positions([180.0, 359.99999, 359.5]) == [1, 3, 2]


def regions(expressions: tuple[Expression, ...]) -> list[Region]:
    return [
        item.region if isinstance(item, Copies) else item for item in expressions if isinstance(item, Copies | Region)
    ]


def test_motifs_on_the_base_are_added_with_their_roots_below_the_foot_line() -> None:
    row = built(model_of(arch(), count=12), 12)
    assert parts(row) == {"adds": 1}
    (region,) = regions(row.parts.adds)
    assert bounds(region.outer).bottom == pytest.approx(-ROOT_MM)
    assert isinstance(row.parts.adds[0], Copies)
    assert len(row.parts.adds[0].placements) == 12


def test_motifs_of_one_kind_are_added_together_and_none_that_is_left_out() -> None:
    row = built(model_of(arch(), leaf(), count=12, skip=(1, 3)), 12)
    assert [len(item.placements) for item in row.parts.adds if isinstance(item, Copies)] == [6, 4]


def test_windows_are_cut_out_and_nothing_else_is_done() -> None:
    assert parts(built(model_of(disc(3), count=12, place="window"), 12)) == {"pierces": 1}


def test_windows_of_a_motif_are_cut_out_of_what_is_added() -> None:
    pane = Motif("pane", plain_rectangle(6, 8).join, 6.0, window=(Region(rectangle(-1, 3, 1, 5)),))
    assert parts(built(model_of(pane, count=12), 12)) == {"adds": 1, "pierces": 1}


def test_what_a_motif_cuts_away_is_cleared() -> None:
    notch = Motif("notch", plain_rectangle(3, 8).join, 3.0, cut_away=(Region(rectangle(-4, -3, 4, 1)),))
    row = built(model_of(notch, count=12), 12)
    assert parts(row) == {"clears": 1, "adds": 1}
    (region,) = regions(row.parts.clears)
    box = bounds(region.outer)
    # The edge stands 50 - sqrt(50^2 - 1.5^2) over the foot line; what is drawn 1 mm high stays as drawn.
    assert (box.left, box.bottom, box.right, box.top) == pytest.approx((-4, -3, 4, 1))
    low = Motif("notch", plain_rectangle(8, 8).join, 8.0, cut_away=(Region(rectangle(-4, -3, 4, 0.0)),))
    (region,) = regions(built(model_of(low, count=12), 12).parts.clears)
    assert bounds(region.outer).top == pytest.approx(50 - math.sqrt(2500 - 16) + ROOT_MM)
    within = built(model_of(low, count=6, place="in", on="base", opening=O60), 6)
    (region,) = regions(within.parts.clears)
    assert bounds(region.outer).top == 0, "inside the card there is no edge to come out at"


@pytest.mark.parametrize(("opening", "is_rooted"), [(60.0, True), (95.03, True), (95.06, False)])
def test_into_an_opening_roots_follow_its_edge_where_the_rim_is_narrow(opening: float, *, is_rooted: bool) -> None:
    """A foot of 16 mm lies r - sqrt(r^2 - 64) deep, its root .3 more, and 1.5 mm of neck must be left of the rim."""
    row = built(model_of(arch(), count=8, place="in", opening=Size(opening, opening)), 8)
    assert parts(row) == {"adds": 1 if is_rooted else 9}
    drawn = regions(row.parts.adds)[0]
    deep = opening / 2 - math.sqrt(opening**2 / 4 - 64) + ROOT_MM
    assert bounds(drawn.outer).bottom == pytest.approx(-deep if is_rooted else 0.0, abs=1e-9)


def test_inside_the_card_motifs_have_no_roots() -> None:
    row = built(model_of(plain_rectangle(4, 8), count=6, place="in", on="base", opening=O60), 6)
    assert bounds(regions(row.parts.adds)[0].outer).bottom == 0


def test_places_that_a_zone_takes_are_told_and_nothing_where_it_takes_none() -> None:
    zone: dict[str, Any] = {"count": 16, "keep_free": (60.0, 0.0), "free": "leave"}
    row = built(model_of(leaf(), **zone), 16)
    assert row.result.count == 13
    assert [finding.say for finding in row.findings] == ["left out 3 of 16 places, for the 60 degrees kept free."]
    assert [(finding.code, finding.severity, finding.piece) for finding in row.findings] == [("took", "note", "hoop")]
    assert built(model_of(leaf(), count=16, keep_free=(60.0, 0.0)), 16).findings == ()
    assert built(model_of(leaf(), **zone), 16, is_trial=True).findings == ()


def test_mirrored_repeats_hold_their_own_motif_and_kind() -> None:
    row = built(model_of(pod(), is_mirrored_every_other=True, count=4), 4)
    first, second, third, _ = row.readies
    assert first is third
    assert first is not second
    assert row.result.repeats[0].motif == first.motif
    assert row.result.repeats[1].motif == second.motif


def test_beside_slots_and_behind_a_fold_repeats_are_left_out() -> None:
    """A stand of one foot takes the bar at the bottom; a fold 10 mm below the top that at the top."""
    bar = row_of(plain_rectangle(10, 8), count=4)
    for more in ({"stand": StandSpec(60, 1)}, {"fold": FoldSpec(10.0)}):
        spec = PieceSpec("sign", D100, rows=(bar,), **more)
        row = built(RowModel(spec, bar, KNIFE), 4)
        assert row.result.count == 3
        assert len(row.readies) == 3
        assert any("left out 1 of 4 rectangles" in finding.say for finding in row.findings)
