"""Refusals of fits with no way out at hand: what is said in general."""

from __future__ import annotations

import math
from typing import Any

import pytest
from fixtures.plain_motifs import arch, disc, leaf, plain_rectangle
from fixtures.rows import D100, model_of, row_of

from frameforge.errors import InputError
from frameforge.frame.fit import fit_row
from frameforge.frame.fit_refusals import check_count, check_scale, no_scale, no_size
from frameforge.frame.offers import offered_size
from frameforge.frame.spec import PieceSpec, Size
from frameforge.frame.ways import RefusedError
from frameforge.motif.motif import Motif


def test_where_no_size_holds_fewer_or_a_smaller_gap_do() -> None:
    fault = no_size(model_of(leaf()), Size(3000, 3000), 12, 900.0)
    assert fault.say == (
        "no size up to the 3000 mm that can be made lets 12 leaves close with a gap of 900 mm. "
        "Take fewer, or a smaller gap."
    )
    assert fault.numbers == {"count": 12, "wanted_mm": 900.0}
    assert "up to" not in no_size(model_of(leaf()), None, 12, 900.0).say


def test_where_no_scale_holds_the_gap_that_the_feet_leave_is_offered() -> None:
    """So small that feet are as narrow as the card bears, twelve leaves leave less than the chord of 30 degrees."""
    fault = no_scale(model_of(leaf()), D100, 12, 30.0)
    said = "no scale lets 12 leaves go round a 100 mm circle with 30 mm between them. Take --gap "
    assert fault.say.startswith(said)
    gap = float(fault.say.removeprefix(said).removesuffix("mm or less."))
    assert 100 * math.sin(math.radians(15)) - 6 < gap < 100 * math.sin(math.radians(15))
    assert fault.code == "no-scale"
    assert no_scale(model_of(leaf()), D100, 400, 30.0).say.endswith(" Take fewer, or a smaller gap.")


@pytest.mark.parametrize(
    ("motifs", "count", "at", "say"),
    [
        ((leaf(), disc(), arch()), 7, None, "7 repeats do not close a pattern of 3; the last one would stand beside the wrong one. Take 6 or 9."),  # noqa: E501
        ((leaf(), disc(), arch()), 2, (D100, 1.0), "Take 3 (gap 82.36 mm)."),
        ((arch(), leaf()), 41, (D100, 1.0), "Take a count that is a multiple of 2."),
        ((arch(30), leaf()), 9, (D100, 1.0), "Take 8 (gap 3.18 mm)."),
    ],
)  # fmt: skip
def test_a_count_that_leaves_a_pattern_open_is_refused_with_neighbours_that_go_round(
    motifs: tuple[Motif, ...], count: int, at: tuple[Size, float] | None, say: str
) -> None:
    with pytest.raises(RefusedError) as fault:
        check_count(model_of(*motifs), count, at)
    told = fault.value.tried(PieceSpec("hoop", D100, rows=(row_of(*motifs),)), lambda spec: True, list)
    assert told.say.endswith(say)
    assert told.code == "pattern-open"


@pytest.mark.parametrize(("row", "way"), [({}, "--scale 0.35"), ({"foot_mm": 4.4}, "--foot 1.5mm")])
def test_a_foot_too_narrow_is_widened_as_it_was_stated(row: dict[str, Any], way: str) -> None:
    """A foot of 4.4 mm at a tenth; the card needs 1.5 mm: 1.5 / 4.4 = .341."""
    model = model_of(leaf(), **row)
    with pytest.raises(RefusedError, match=rf"at scale 0.1 a foot is 0.44 mm wide.* Take {way} or more\.$"):
        check_scale(model, 0.1)


@pytest.mark.parametrize(
    ("row", "way"),
    [
        ({"scale": 1000.0}, "--scale 1.25"),
        ({"scale": 1000.0, "place": "window"}, "--scale 1.25"),
        ({"foot_mm": 16000.0, "seat": "bent"}, "--foot 20mm"),
    ],
)
def test_a_motif_larger_than_any_piece_is_refused_before_it_is_placed(row: dict[str, Any], way: str) -> None:
    """An arch of 16 mm made 16 m wide; 20 mm are handy: 20 / 16 = 1.25."""
    with pytest.raises(RefusedError) as fault:
        fit_row(model_of(arch(), count=6, **row), D100)
    assert fault.value.say == f"the arch would be 16000 mm across; a whole piece can be 3000 mm. Take {way}."
    assert fault.value.code == "too-large"
    assert fault.value.numbers == {"across_mm": pytest.approx(16000), "limit_mm": 3000}


def test_a_size_beyond_what_can_be_made_is_no_size() -> None:
    with pytest.raises(RefusedError, match="no size up to the 3000 mm that can be made lets 900 leaves close"):
        fit_row(model_of(leaf(), count=900, gap_mm=20.0), None)
    assert offered_size(model_of(leaf()), D100, 2000, 20.0, 1.0) is None, "feet of 88 mm each"
    assert offered_size(model_of(leaf()), D100, 200, 1.0, 50.0) is None, "200 x 54 mm are a circle of 3.4 m"


def test_a_pattern_of_which_not_one_goes_round_is_refused() -> None:
    """Two feet of 30 mm find no seat on a circle of 20 mm; two of 10 mm stand no 40 mm apart on it."""
    size = Size(20, 20)
    wide, narrow = plain_rectangle(30), plain_rectangle(10)
    with pytest.raises(RefusedError, match="2 rectangles do not go round a 20 mm circle with gaps of 2 mm"):
        fit_row(model_of(wide, wide, size=size), size)
    with pytest.raises(RefusedError, match="2 rectangles do not go round a 20 mm circle with gaps of 40 mm"):
        fit_row(model_of(narrow, narrow, size=size, gap_mm=40.0), size)


def test_a_motif_without_a_foot_has_none_to_size() -> None:
    with pytest.raises(InputError, match=r"^hoop: disc has no foot to size\. Give a scale\.$"):
        model_of(disc(), foot_mm=3.0).given_scale  # noqa: B018  a property that refuses
