"""What is offered instead holds, and the next step towards what was asked does not."""

from __future__ import annotations

from dataclasses import replace

import pytest
from fixtures.plain_motifs import arch, disc, husk, leaf, plain_rectangle, pod
from fixtures.rows import D100, KNIFE, model_of, row_of

from frameforge.frame import offers
from frameforge.frame.model import RowModel
from frameforge.frame.offers import (
    count_offer,
    edge_said,
    foot_holds,
    gap_kind,
    offered_scale,
    offered_size,
    scale_way,
    size_way,
    things,
    ways_out,
)
from frameforge.frame.spec import Ornament, PieceSpec, RowSpec, Size
from frameforge.frame.ways import Way
from frameforge.frame.wording import round_words
from frameforge.motif.bare_foot import bare_foot

O60 = Size(60, 60)


def test_motifs_and_bases_as_words() -> None:
    assert things(model_of(arch()), 2) == "arches"
    assert things(model_of(arch()), 1) == "arch"
    assert things(model_of(arch(), husk()), 2) == "motifs"
    assert (round_words(D100), round_words(Size(150, 100))) == ("a 100 mm circle", "a 150 x 100 mm oval")


@pytest.mark.parametrize("given", [D100, Size(150, 100)])
def test_the_size_offered_is_the_least_that_holds(given: Size) -> None:
    model = model_of(arch())
    count = 18 if given.is_circle else 22
    size = offered_size(model, given, count, 1.0, 2.0)
    assert size is not None
    assert size.width_mm / size.height_mm == pytest.approx(given.width_mm / given.height_mm, abs=2e-3)
    assert model.clearance_mm(size, count, 1.0) >= 2 - 1e-9
    ratio = given.width_mm / given.height_mm
    smaller = Size(size.width_mm - 0.2, round((size.width_mm - 0.2) / ratio, 1))
    assert model.clearance_mm(smaller, count, 1.0) < 2


def test_the_scale_offered_is_the_greatest_that_holds() -> None:
    model = model_of(arch())
    scale = offered_scale(model, D100, 18, 2.0)
    assert scale == pytest.approx(0.96)
    assert scale is not None
    assert model.clearance_mm(D100, 18, scale) >= 2 > model.clearance_mm(D100, 18, scale + 0.01)


def test_nothing_is_offered_where_nothing_holds() -> None:
    assert offered_scale(model_of(arch()), D100, 12, 500.0) is None


def test_a_count_is_offered_with_its_gap() -> None:
    assert count_offer(model_of(arch()), D100, 17, 1.0) == "--count 17 (gap 2.41 mm)"
    assert count_offer(model_of(arch()), D100, 1, 1.0) == "--count 1"


def test_a_scale_that_starves_the_foot_is_no_way_out() -> None:
    ways = ways_out(model_of(plain_rectangle(4.0, 30.0)), D100, 120, 1.0, 1.6)
    assert [way.words.split()[0] for way in ways] == ["--count", "--size"]


def test_of_a_base_that_others_share_no_other_size_is_offered() -> None:
    free = model_of(arch(), count=30)
    bound = RowModel(replace(free.spec, is_size_fixed=True), free.row, free.preset)
    words = {m: [way.words for way in ways_out(m, D100, 30, 1.0, 2.0)] for m in (free, bound)}
    assert [word.split()[0] for word in words[free]] == ["--count", "--size", "--scale"]
    assert words[bound] == [words[free][0], words[free][2]] == ["--count 17 (gap 2.41 mm)", "--scale 0.52"]


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ({}, "a 100 mm circle"),
        ({"opening": O60}, "a 100 mm circle"),
        ({"opening": O60, "place": "in"}, "a 60 mm opening"),
        ({"opening": O60, "on": "opening"}, "a 60 mm opening"),
        ({"opening": O60, "place": "in", "on": "base"}, "a 100 mm circle"),
        ({"opening": Size(60, 45.55), "place": "in"}, "a 60 x 45.6 mm opening"),
        ({"keep_free": (60.0, 0.0)}, "a 100 mm circle, 60 degrees of it kept free,"),
        ({"keep_free": (60.0, 0.0), "free": "leave"}, "a 100 mm circle"),
    ],
)
def test_the_edge_is_said_with_what_of_it_is_kept_free(more: dict[str, object], words: str) -> None:
    assert edge_said(model_of(arch(), **more), D100) == words  # type: ignore[arg-type]


def test_an_opening_that_a_rim_leaves_is_said_by_its_size() -> None:
    row = row_of(arch(), place="in")
    model = RowModel(PieceSpec("hoop", D100, rim_mm=12.0, rows=(row,)), row, KNIFE)
    assert edge_said(model, D100) == "a 76 mm opening"


def test_a_gap_between_feet_is_called_so_but_for_bare_feet() -> None:
    assert gap_kind(model_of(arch(), gap_mm=2.0)) == "gap"
    assert gap_kind(model_of(arch(), foot_gap_mm=2.0)) == "foot gap"
    assert gap_kind(model_of(bare_foot(5.0), foot_gap_mm=2.0)) == "gap"
    assert gap_kind(model_of(bare_foot(5.0), arch(), foot_gap_mm=2.0)) == "foot gap"
    assert count_offer(model_of(arch(), foot_gap_mm=2.0), D100, 17, 1.0) == "--count 17 (foot gap 2.41 mm)"


@pytest.mark.parametrize(
    ("opening", "count", "gap", "words"),
    [(O60, 9, 3.0, "62mm"), (Size(60, 50), 10, 2.0, "69.8x58.2mm")],
)
def test_of_a_row_in_an_opening_a_larger_one_is_offered(opening: Size, count: int, gap: float, words: str) -> None:
    model = model_of(leaf(), opening=opening, place="in")
    way = size_way(model, D100, count, 1.0, gap)
    assert way is not None
    assert way.words == f"--opening {words}"
    assert set(way.piece) == {"opening"}
    offered, short = way.piece["opening"], Size(*(side - 0.1 for side in (opening.width_mm, opening.height_mm)))
    assert offered.width_mm > short.width_mm

    def clearance(size: Size) -> float:
        return model_of(leaf(), opening=size, place="in").clearance_mm(D100, count, 1.0)

    assert clearance(offered) >= gap - 1e-9
    less = round(offered.width_mm - 0.1, 1)
    assert clearance(Size(less, round(less * opening.height_mm / opening.width_mm, 1))) < gap


def test_no_size_is_offered_beyond_the_largest() -> None:
    """588 bars of 16 mm touch at 2994.7 mm; 589 at 2999.8, which leaves no room for steps; feet of 590 are too long."""
    model = model_of(plain_rectangle(16, 4))
    assert offered_size(model, D100, 588, 1.0, 0.0) == Size(2994.7, 2994.7)
    assert offered_size(model, D100, 589, 1.0, 0.0) is None
    assert offered_size(model, D100, 590, 1.0, 0.0) is None


def test_ways_out_change_the_row_that_they_are_of() -> None:
    free = model_of(arch(), foot_mm=16.0)
    other = row_of(husk())
    for rows, index in (((free.row, other), 0), ((other, free.row), 1), ((other,), 0)):
        model = RowModel(replace(free.spec, rows=rows), free.row, KNIFE)
        assert [*ways_out(model, D100, 18, 1.0, 2.0)] == [
            Way("--count 17 (gap 2.41 mm)", row={"count": 17}, index=index),
            Way("--size 103.6mm", piece={"size": Size(103.6, 103.6)}),
            Way("--foot 15.36mm", row={"foot_mm": 15.36}, index=index),
        ]
        plain = RowModel(replace(free.spec, rows=rows), replace(free.row, foot_mm=None), KNIFE)
        assert scale_way(plain, 0.5) == Way("--scale 0.5", row={"scale": 0.5}, index=0)


def test_no_count_is_offered_that_is_the_one_asked_or_none() -> None:
    assert [way.words.split()[0] for way in ways_out(model_of(arch()), D100, 17, 1.0, 2.0)] == ["--size", "--scale"]


def test_a_count_offered_is_of_whole_patterns() -> None:
    mirrored = model_of(pod(), is_mirrored_every_other=True)
    assert next(ways_out(mirrored, D100, 14, 1.0, 2.0)).words == "--count 12 (gap 3.99 mm)"


def test_a_scale_is_told_by_the_foot_where_that_was_typed_or_is_bare() -> None:
    by_foot = model_of(leaf(), foot_mm=8.8)
    assert scale_way(by_foot, 0.5) == Way("--foot 2.2mm", row={"foot_mm": 2.2})
    assert scale_way(model_of(bare_foot(5.0)), 0.333) == Way("--foot 1.66mm", row={"foot_mm": 1.66})
    assert scale_way(model_of(leaf(), bare_foot(5.0)), 0.333).words == "--scale 0.333"


def test_a_foot_holds_from_the_least_neck_on_and_none_always_does() -> None:
    """This card's least neck is 1.5 mm: a foot of 3 mm holds at half the size."""
    model = model_of(plain_rectangle(3.0, 8), place="window")
    assert foot_holds(model, 0.5)
    assert not foot_holds(model, 0.499)
    assert foot_holds(model_of(disc(5), place="window"), 0.01)
    assert not foot_holds(model_of(plain_rectangle(3.0, 8), plain_rectangle(2.9, 8), place="window"), 0.5)


def test_the_foot_told_is_that_of_the_motif_at_its_own_scale() -> None:
    row = RowSpec((Ornament(leaf(), scale=2.0),), foot_mm=8.8)
    assert scale_way(RowModel(PieceSpec("hoop", D100, rows=(row,)), row, KNIFE), 0.5).words == "--foot 4.4mm"


def test_scales_are_tried_in_hundredths_down_and_none_of_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    tried: list[float] = []

    def clearance(_: RowModel, size: Size, count: int, scale: float) -> float:
        tried.append(scale)
        return 2.0 if scale <= 0.17 else 1.0

    monkeypatch.setattr(RowModel, "clearance_mm", clearance)
    monkeypatch.setattr(offers, "scale_for", lambda *_, **__: 0.2049)
    assert offered_scale(model_of(arch()), D100, 18, 2.0) == 0.17
    assert tried == [0.2, 0.19, 0.18, 0.17]
    tried.clear()
    monkeypatch.setattr(offers, "scale_for", lambda *_, **__: 0.039)
    assert offered_scale(model_of(arch()), D100, 18, 3.0) is None
    assert tried == [0.03, 0.02, 0.01]


def test_sizes_are_tried_in_tenths_up(monkeypatch: pytest.MonkeyPatch) -> None:
    tried: list[Size] = []

    def clearance(_: RowModel, size: Size, count: int, scale: float) -> float:
        tried.append(size)
        return size.width_mm - 140.15

    found = PieceSpec("hoop", Size(139.97, 93.31))
    monkeypatch.setattr(RowModel, "clearance_mm", clearance)
    monkeypatch.setattr(offers, "closing_sizes", lambda *_, **__: (found, found.size))
    assert offered_size(model_of(arch()), Size(150, 100), 18, 1.0, 0.0) == Size(140.2, 93.5)
    assert tried == [Size(140.0, 93.3), Size(140.1, 93.4), Size(140.2, 93.5)]
    tried.clear()
    assert offered_size(model_of(arch()), Size(150, 100), 18, 1.0, 9.0) is None
    assert len(tried) == 20
