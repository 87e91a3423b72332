"""Which of size, count, gap and scale is open, and what is said when too many or none are."""

from __future__ import annotations

import math
from typing import Any

import pytest
from fixtures.plain_motifs import arch, husk, plain_rectangle
from fixtures.rows import D100, model_of

from frameforge.card.preset import load_preset
from frameforge.errors import FrameforgeError, GeometryError, InputError
from frameforge.frame.fit import default_gap_mm, fit_row
from frameforge.frame.model import RowModel
from frameforge.frame.spec import Size


def test_the_default_gap_is_2_mm_or_the_least_slot() -> None:
    model = model_of(arch())
    assert default_gap_mm(model) == max(2.0, load_preset("card-240-knife").least_slot_mm)


def test_nothing_said_gives_as_many_as_go_and_tells_so() -> None:
    fit = fit_row(model_of(arch()), D100)
    assert (fit.count, fit.scale) == (17, 1.0)
    assert fit.took == ("took as many as go round with gaps of at least 2 mm",)


def test_a_stated_gap_is_no_choice_of_ours() -> None:
    fit = fit_row(model_of(arch(), gap_mm=4.0), D100)
    assert fit.took == ()
    assert fit.count == 15


def test_a_stated_count_leaves_the_gap_open() -> None:
    assert fit_row(model_of(arch(), count=10), D100).count == 10


def test_four_numbers_that_agree_are_taken() -> None:
    gap = 100 * math.sin(math.pi / 12 - math.asin(0.16))
    fit = fit_row(model_of(plain_rectangle(16), count=12, gap_mm=round(gap, 4), scale=1.0), D100)
    assert (fit.count, fit.took) == (12, ())
    for off in (0.002, -10.0):
        with pytest.raises(GeometryError, match=r"cannot all hold|do not go round"):
            fit_row(model_of(plain_rectangle(16), count=12, gap_mm=gap + off, scale=1.0), D100)


def test_a_gap_that_comes_out_wider_is_taken_where_no_more_go_round() -> None:
    """17 arches leave 2.41 mm on D 100 and 18 do not leave 2: what is typed of an offer holds with the gap kept."""
    fit = fit_row(model_of(arch(), count=17, gap_mm=2.0), D100)
    assert fit.took == ("took gaps of 2.41 mm; no more go round with 2 mm",)
    with pytest.raises(GeometryError, match=r"16 arches .* cannot all hold; the gap comes to 3\.56 mm"):
        fit_row(model_of(arch(), count=16, gap_mm=2.0), D100)


def test_one_alone_has_no_gap_to_agree_with() -> None:
    assert fit_row(model_of(arch(), count=1, gap_mm=2.0), D100).count == 1


def test_scale_and_size_are_found() -> None:
    found = fit_row(model_of(plain_rectangle(16), count=12, gap_mm=3.0, scale="find"), D100)
    assert 100 * math.sin(math.pi / 12 - math.asin(0.16 * found.scale)) == pytest.approx(3.0, abs=1e-8)
    sized = fit_row(model_of(plain_rectangle(16), count=12, gap_mm=3.0), None)
    width = sized.size.width_mm
    assert width * math.sin(math.pi / 12 - math.asin(16 / width)) == pytest.approx(3.0, abs=1e-8)


def test_a_foot_to_find_is_a_scale_to_find() -> None:
    by_scale = fit_row(model_of(arch(), count=12, gap_mm=3.0, scale="find"), D100)
    assert fit_row(model_of(arch(), count=12, gap_mm=3.0, foot_mm="find"), D100).scale == by_scale.scale


def test_a_foot_gap_is_between_feet() -> None:
    fit = fit_row(model_of(husk(), foot_gap_mm=8.0), D100)
    model = model_of(husk(), foot_gap_mm=8.0)
    assert model.clearance_mm(D100, fit.count, 1.0) >= 8 > model.clearance_mm(D100, fit.count + 1, 1.0)
    assert fit.count < fit_row(model_of(husk(), foot_gap_mm=4.0), D100).count


def _says(model: RowModel, size: Size | None) -> str:
    with pytest.raises(FrameforgeError) as caught:
        fit_row(model, size)
    return str(caught.value)


@pytest.mark.parametrize(
    ("more", "part"),
    [({"count": "find", "gap_mm": "find"}, "count and gap cannot both be found"),
     ({"scale": "find", "gap_mm": 2.0}, "scale and count are both open"),
     ({"scale": "find"}, "scale, count and gap are all open. Write a count and a gap, for example --count 16 --gap"),
     ({"scale": "find", "count": 12}, "scale and gap are both open"),
     ({"count": 12, "gap_mm": 200.0, "scale": "find"}, "no scale lets 12 arches go round a 100 mm circle"),
     ({"gap_mm": 0.0, "scale": 0.001}, "Take --scale 0.1 or more")],
)  # fmt: skip
def test_what_is_open_is_named(more: dict[str, Any], part: str) -> None:
    assert part in _says(model_of(arch(), **more), D100)


def test_no_size_is_found_from_a_row_on_an_opening_that_has_its_own() -> None:
    said = _says(model_of(arch(), opening=Size(19, 19), place="in", gap_mm=0.0, count=7), None)
    assert "stands on the opening, a 19 mm circle whatever the size" in said
    assert said.endswith("Write a size, for example 100mm.")


def test_the_scale_offered_for_a_pattern_serves_its_narrowest_foot() -> None:
    pair = (plain_rectangle(6.0), plain_rectangle(5.0))
    said = _says(model_of(*pair, scale=0.1, gap_mm=2.0), D100)
    assert said.endswith("a foot is 0.5 mm wide, this card needs 1.5 mm. Take --scale 0.3 or more.")
    assert fit_row(model_of(*pair, scale=0.3, gap_mm=2.0), D100).scale == 0.3


def test_more_than_anybody_cuts_is_refused() -> None:
    crumb = plain_rectangle(1.0, 1.0)
    assert "more than 2000 rectangles would go round" in _says(model_of(crumb, gap_mm=0.0), Size(900, 900))


def test_a_row_without_a_motif_is_refused() -> None:
    with pytest.raises(InputError, match="names no motif"):
        fit_row(model_of(), D100)


def test_refusals_of_foot_gaps_speak_of_foot_gaps() -> None:
    model = model_of(husk(), foot_gap_mm=8.0, count=60)
    with pytest.raises(GeometryError, match=r"with foot gaps of 8 mm; \d+ do\. Take --count \d+ \(foot gap \d"):
        fit_row(model, D100)


def test_no_rest_is_filled_where_feet_are_apart_and_motifs_stand_in_each_other() -> None:
    """Husks are 8.5 mm wide over feet of 6: a foot gap of 1 lets them overlap by 1.5 or so."""
    model = model_of(husk(), foot_gap_mm=1.0, rest="filler")
    with pytest.raises(GeometryError, match="stand in each other above their feet"):
        fit_row(model, D100)
