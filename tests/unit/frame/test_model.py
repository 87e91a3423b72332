"""One row as a function of size, count and scale: what the order says of it, and the gap that comes of it."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest
from fixtures.plain_motifs import arch, disc, husk, leaf, plain_rectangle, pod
from fixtures.rows import D100, KNIFE, model_of, row_of

from frameforge.errors import GeometryError, InputError
from frameforge.frame import model as module
from frameforge.frame.base import Edge
from frameforge.frame.layout import Start
from frameforge.frame.model import RowModel, edges_of
from frameforge.frame.spec import Ornament, PieceSpec, RowSpec, Size
from frameforge.frame.trying import SPENT
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.motif.motif import Motif

OVAL = Size(150, 100)
O60 = Size(60, 60)


def bar_gap(count: int, width: float) -> float:
    return 100 * math.sin(math.pi / count - math.asin(width / 100))


@pytest.mark.parametrize(
    ("motifs", "more", "unit", "step"),
    [
        ((arch(),), {}, 1, 1),
        ((arch(), leaf(), husk()), {}, 3, 3),
        ((arch(),), {"is_mirrored_every_other": True}, 2, 2),
        ((arch(), leaf()), {"is_mirrored_every_other": True}, 2, 2),
        ((arch(), leaf(), husk()), {"is_mirrored_every_other": True}, 6, 6),
        ((arch(), leaf()), {"keep_free": (30.0, 0.0)}, 2, 1),
        ((arch(), leaf()), {"keep_free": (30.0, 0.0), "free": "leave"}, 2, 2),
    ],
)
def test_counts_are_whole_patterns_but_beside_a_zone(
    motifs: tuple[Any, ...], more: dict[str, Any], unit: int, step: int
) -> None:
    model = model_of(*motifs, **more)
    assert (model.unit, model.step) == (unit, step)
    assert model.zone == (more.get("keep_free") if step < unit else None)


def test_motifs_follow_the_pattern_and_every_other_one_is_mirrored() -> None:
    model = model_of(pod(), leaf(), arch(), is_mirrored_every_other=True)
    readies = model.readies(8, 1.0)
    assert [one.motif.name for one in readies] == ["pod", "leaf", "arch"] * 2 + ["pod", "leaf"]
    assert readies[6] is readies[0]
    assert readies[3] is not readies[0], "the second pod is mirrored"
    assert readies[3].box.left == pytest.approx(-readies[0].box.right)


def test_equal_gaps_unless_it_is_said() -> None:
    assert model_of(arch()).spread == "equal-gap"
    assert model_of(arch(), spread="equal-arc").spread == "equal-arc"
    assert model_of(arch(), start_deg=90.0, starts_with_gap=True).start() == Start(math.pi / 2, True)


def test_the_scale_that_is_stated_by_scale_or_by_foot() -> None:
    assert model_of(arch()).given_scale == 1
    assert model_of(arch(), scale=0.5).given_scale == 0.5
    assert model_of(arch(), foot_mm=4.0).given_scale == 0.25
    assert model_of(arch(), scale="find").given_scale == model_of(arch(), foot_mm="find").given_scale == 1
    row = RowSpec((Ornament(arch(), scale=2.0), Ornament(leaf())), foot_mm=4.0)
    assert RowModel(PieceSpec("hoop", D100, rows=(row,)), row, KNIFE).given_scale == 0.125


@pytest.mark.parametrize(
    ("motif", "more", "line"),
    [
        (arch(), {"scale": 1.0, "foot_mm": 4.0}, "scale and foot say the same thing twice. Leave one of them out."),
        (arch(), {"scale": "find", "foot_mm": 4.0}, "scale and foot say the same thing twice. Leave one of them out."),
        (disc(), {"foot_mm": 4.0}, "disc has no foot to size. Give a scale."),
        (arch(), {"scale": 0.0}, "the motif's scale comes to 0. It must be above 0."),
        (arch(), {"scale": -0.5}, "the motif's scale comes to -0.5. It must be above 0."),
        (arch(), {"scale": math.inf}, "the motif's scale comes to inf. It must be above 0."),
    ],
)
def test_a_scale_that_is_none_is_refused(motif: Any, more: dict[str, Any], line: str) -> None:
    with pytest.raises(InputError) as caught:
        _ = model_of(motif, **more).given_scale
    assert str(caught.value) == f"hoop: {line}"


def test_feet_are_at_least_a_neck_wide_where_they_are_not_stated() -> None:
    assert model_of(arch()).neck_mm == model_of(arch(), foot_mm="find").neck_mm == KNIFE.least_neck_mm
    assert model_of(arch(), foot_mm=4.0).neck_mm is None
    assert model_of(arch(), place="window").neck_mm is None


def rimmed(size: Size, rim: float) -> tuple[Edge, Edge | None]:
    return edges_of(PieceSpec("hoop", size, rim_mm=rim), size)


def test_the_edges_of_a_piece() -> None:
    assert edges_of(PieceSpec("hoop", D100), D100) == (Edge(50, 50), None)
    assert edges_of(PieceSpec("hoop", D100, opening=O60), OVAL) == (Edge(75, 50), Edge(30, 30))
    assert rimmed(D100, 12.0) == (Edge(50, 50), Edge(38, 38))
    assert rimmed(OVAL, 12.0) == (Edge(75, 50), Edge(75, 50, -12))


@pytest.mark.parametrize(
    ("size", "rim", "line"),
    [
        (D100, 50.0, "a rim of 50 mm takes all of a 100 mm circle, and nothing is left for a hole in the middle. "
         "Take --rim 49.9mm or less."),
        (OVAL, 34.0, "a rim of 34 mm cannot be as wide all round a 150 x 100 mm oval: 33.33 mm in from its ends the "
         "inner edge comes to a point. Take --rim 33.3mm or less or --opening 82x32mm in place of --rim."),
        (OVAL, 60.0, "a rim of 60 mm cannot be as wide all round a 150 x 100 mm oval: 33.33 mm in from its ends the "
         "inner edge comes to a point. Take --rim 33.3mm or less."),
        (Size(1.6, 1.6), 1.0, "a rim of 1 mm takes all of a 1.6 mm circle, and nothing is left for a hole in the "
         "middle. Take --rim 0.7mm or less."),
        (Size(0.1, 0.1), 1.0, "a rim of 1 mm takes all of a 0.1 mm circle, and nothing is left for a hole in the "
         "middle. Take a narrower rim, or leave it out."),
    ],
)  # fmt: skip
def test_a_rim_too_wide_is_told_with_the_widest_that_holds(size: Size, rim: float, line: str) -> None:
    with pytest.raises(GeometryError) as caught:
        rimmed(size, rim)
    assert str(caught.value) == f"hoop: {line}"
    short, long = sorted((size.width_mm / 2, size.height_mm / 2))
    assert (caught.value.code, caught.value.numbers) == (
        "rim", {"rim_mm": rim, "limit_mm": pytest.approx(short * short / long)},
    )  # fmt: skip


def test_the_gap_is_that_of_the_ring() -> None:
    bar = plain_rectangle(16, 4)
    assert model_of(bar).clearance_mm(D100, 12, 1.0) == pytest.approx(bar_gap(12, 16))
    assert model_of(bar).clearance_mm(D100, 12, 0.5) == pytest.approx(bar_gap(12, 8))
    assert model_of(bar).clearance_mm(D100, 1, 1.0) == math.inf
    assert model_of(bar).clearance_mm(Size(15, 15), 3, 1.0) == -math.inf


def test_a_gap_between_feet_is_told_only_where_nothing_overlaps() -> None:
    """Leaves are 13 mm wide on feet of 4.4."""
    by_foot = model_of(leaf(), foot_gap_mm=1.0)
    assert by_foot.clearance_mm(D100, 12, 1.0) == pytest.approx(bar_gap(12, 4.4))
    crowded = by_foot.clearance_mm(D100, 30, 1.0)
    assert crowded == pytest.approx(model_of(leaf()).clearance_mm(D100, 30, 1.0))
    assert crowded < 0 < bar_gap(30, 4.4)


def test_a_try_that_is_spent_is_no_gap(monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(code: str) -> None:
        def laid(*_: object) -> None:
            raise GeometryError("no.", code=code)

        monkeypatch.setattr(RowModel, "_laid_out", laid)

    refused("no-seat")
    assert model_of(arch()).clearance_mm(OVAL, 20, 1.0) == -math.inf
    refused(SPENT)
    with pytest.raises(GeometryError):
        model_of(arch()).clearance_mm(OVAL, 20, 1.0)


def test_a_crowd_round_an_oval_is_told_as_round_a_circle_that_is_as_long() -> None:
    """Perimeter of 150 x 100: 396.635989732265 (complete elliptic integral); deep is a quarter of the width."""
    model = model_of(plain_rectangle(16, 4))
    across = 396.635989732265 / math.pi

    def wanted(count: int) -> float:
        return model.clearance_mm(Size(across, across), count, 1.0)

    assert model.crowded_mm(OVAL, 200, 1.0) == pytest.approx(wanted(200), abs=1e-9)
    assert model.crowded_mm(OVAL, 24, 5.0) is None
    assert model.crowded_mm(OVAL, 25, 5.0) is not None
    assert model.crowded_mm(D100, 200, 1.0) is None
    assert model_of(plain_rectangle(16, 4), seat="bent").crowded_mm(OVAL, 200, 1.0) is None
    shallow = next(count for count in range(25, 60) if wanted(count) < -1)
    assert wanted(shallow) > -4
    assert model.crowded_mm(OVAL, shallow, 1.0) is None


def test_beside_a_zone_a_crowd_has_what_is_left_of_the_edge() -> None:
    """As many in half of the edge as twice as many less one all round."""
    model = model_of(plain_rectangle(16, 4), keep_free=(180.0, 0.0))
    half, whole = model.crowded_mm(OVAL, 101, 1.0), model_of(plain_rectangle(16, 4)).crowded_mm(OVAL, 200, 1.0)
    assert half is not None
    assert half < -4
    assert whole is not None
    assert half == pytest.approx(whole, abs=0.5)
    third = model_of(plain_rectangle(16, 4), keep_free=(240.0, 0.0)).crowded_mm(OVAL, 101, 1.0)
    thrice = model_of(plain_rectangle(16, 4)).crowded_mm(OVAL, 300, 1.0)
    assert third is not None
    assert thrice is not None
    assert third == pytest.approx(thrice, abs=0.5)
    assert third < half - 0.5


def test_one_turn_of_a_pattern_is_enough_where_neighbours_are_nearest() -> None:
    assert model_of(arch())._turn(D100, 12, 1.0) is not None
    assert model_of(arch(), leaf())._turn(D100, 12, 1.0) is None
    assert model_of(arch(), place="in", opening=O60)._turn(D100, 6, 1.0) is None
    assert model_of(arch(), keep_free=(30.0, 0.0))._turn(D100, 12, 1.0) is None
    assert model_of(arch())._turn(OVAL, 12, 1.0) is None
    assert model_of(arch())._turn(D100, 1, 1.0) is None


def test_others_than_neighbours_count_where_they_are_nearer() -> None:
    """Low bars between high ones of 16 mm, which draw together over an opening: those meet first."""
    model = model_of(plain_rectangle(8, 14), plain_rectangle(2, 1), place="in", opening=O60)
    layout = model.layout(D100, 12, 1.0)
    gaps = model.gaps_mm(O60, layout)
    assert len(gaps) == 18
    tip = math.sqrt(900 - 16) - 14
    across = 2 * (tip * math.sin(math.pi / 6) - 4 * math.cos(math.pi / 6))
    assert min(gaps) == pytest.approx(across, abs=1e-9)
    assert model.clearance_mm(D100, 12, 1.0) == pytest.approx(across, abs=1e-9)


def test_the_edge_of_the_card_that_a_row_stands_at() -> None:
    inner = model_of(leaf(), place="in", opening=O60)
    assert inner.own_edge(D100, inner.layout(D100, 4, 1.0)) == Edge(30, 30)
    outer = model_of(leaf(), opening=O60)
    assert outer.own_edge(D100, outer.layout(D100, 4, 1.0)) == Edge(50, 50)
    window = model_of(disc(), opening=O60, place="window", on="opening", inset_mm=8.0)
    assert window.own_edge(D100, window.layout(D100, 4, 1.0)) == Edge(50, 50)


def test_an_order_with_its_size_settled_is_the_same_otherwise() -> None:
    model = model_of(leaf(), size="find", opening=O60)
    assert model.sized(OVAL) == replace(model.spec, size=OVAL)


def test_refusals_of_a_track_name_the_piece() -> None:
    with pytest.raises(InputError, match=r"^hoop: the row stands on the opening, and there is none\."):
        model_of(leaf(), on="opening").track(D100, 1.0)
    with pytest.raises(GeometryError, match=r"^hoop: an inset of 12\.00 mm") as caught:
        model_of(disc(), place="window", inset_mm=12.0).track(Size(60, 20), 1.0)
    assert caught.value.code == "inset"
    assert caught.value.numbers["inset_mm"] == 12


def test_windows_lie_in_by_the_tallest_motif() -> None:
    """Half of 12 mm and two webs of 1.5 mm."""
    track = model_of(disc(2.0), disc(6.0), place="window").track(D100, 1.0)
    assert track.edge.half_width_mm == 50 - 6 - 2 * KNIFE.least_web_mm
    assert model_of(disc(6.0), place="window").track(D100, 0.5).edge.half_width_mm == 50 - 3 - 2 * KNIFE.least_web_mm


def test_only_bent_motifs_fold() -> None:
    """A bar 40 mm high bent into a hole of 35 mm radius."""
    hole = Size(70, 70)
    order: dict[str, Any] = {"place": "in", "opening": hole, "count": 4}
    assert model_of(plain_rectangle(8, 40), seat="bent", **order).folds(D100, 4, 1.0)
    assert not model_of(plain_rectangle(8, 40), seat="bent", **order).folds(D100, 4, 0.8)
    assert not model_of(plain_rectangle(8, 40), **order).folds(D100, 4, 1.0)
    with pytest.raises(GeometryError) as caught:
        model_of(plain_rectangle(8, 40), seat="bent", **order).layout(D100, 4, 1.0)
    assert caught.value.code == "folds"


def test_without_ways_a_rim_may_be_left_out() -> None:
    assert module._or_no_rim([]) == " Take a narrower rim, or leave it out."
    assert module._or_no_rim(["--rim 3mm"]) == " Take --rim 3mm."


def test_a_ring_that_is_laid_out_is_whole_and_one_beside_a_zone_open() -> None:
    layout = model_of(arch(), count=12).layout(D100, 12, 1.0)
    assert layout.is_there == (True,) * 12
    assert (layout.is_open, layout.spread) == (False, "equal-gap")
    assert model_of(row_of(arch()).pattern[0].motif, keep_free=(60.0, 0.0)).layout(D100, 12, 1.0).is_open


SPEAR_POINTS = (0j, -2 - 3j, -0.8 - 3j, -0.8 - 9j, 0.8 - 9j, 0.8 - 3j, 2 - 3j)
SPEAR = Motif(
    "spear", (Region(Outline.from_points(SPEAR_POINTS)),), 12.0, cut_away=(Region(rectangle(-6, -8, 6, 0.3)),)
)


@pytest.mark.parametrize(
    ("kinds", "teeth"), [("s", 6), ("sb", 0), ("ssb", 2), ("sbs", 2), ("bss", 2), ("sssbbb", 2), ("bsssbs", 2)]
)
def test_corner_motifs_in_an_opening_have_teeth_between_them_and_gaps_to_others(kinds: str, teeth: int) -> None:
    """Also between the last and the first."""
    motifs = [SPEAR if kind == "s" else plain_rectangle(4, 6) for kind in kinds]
    model = model_of(*motifs, place="in", opening=Size(90, 90))
    layout = model.layout(Size(140, 140), 6, 1.0)
    found = model.gaps_mm(Size(140, 140), layout)
    widths = model.tooth_widths_mm(Size(140, 140), layout)
    assert len(widths) == teeth
    assert found[:teeth] == widths
    assert len(found) == 6
