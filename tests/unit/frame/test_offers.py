"""What is offered instead holds, and the next step towards what was asked does not."""

from __future__ import annotations

from dataclasses import replace

import pytest
from fixtures.plain_motifs import arch, husk, plain_rectangle
from fixtures.rows import D100, model_of

from frameforge.frame.model import RowModel
from frameforge.frame.offers import count_offer, offered_scale, offered_size, things, ways_out
from frameforge.frame.spec import Size
from frameforge.frame.wording import round_words


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
