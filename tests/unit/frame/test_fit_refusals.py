"""Refusals of fits with no way out at hand: what is said in general."""

from __future__ import annotations

import math
from typing import Any

import pytest
from fixtures.plain_motifs import arch, disc, leaf, plain_rectangle
from fixtures.rows import D100, model_of, row_of

from frameforge.errors import InputError
from frameforge.frame.fit import fit_row
from frameforge.frame.fit_refusals import (
    Statement,
    cannot_all_hold,
    check_count,
    check_found_scale,
    check_scale,
    no_scale,
    no_size,
    too_many,
)
from frameforge.frame.offers import offered_size
from frameforge.frame.spec import PieceSpec, Size
from frameforge.frame.ways import RefusedError
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
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
        ((arch(), leaf()), 1, None, "1 repeats do not close a pattern of 2; the last one would stand beside the wrong one. Take 2."),  # noqa: E501
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


@pytest.mark.parametrize(
    ("fit", "wanted", "real", "say"),
    [
        (Statement(D100, 18, 1.0), 2.0, 3.0, "size 100 mm, 18 arches at full scale and a gap of 2 mm cannot all hold; the gap comes to 3 mm. Leave out one of them, or take --size 103.6mm."),  # noqa: E501
        (Statement(D100, 12, 0.51234), 30.0, 25.0, "size 100 mm, 12 arches at scale 0.5123 and a gap of 30 mm cannot all hold; the gap comes to 25 mm. Leave out one of them, or take --size 146.8mm."),  # noqa: E501
        (Statement(D100, 18, 1.0), 2.0, 1.5, "18 arches do not go round a 100 mm circle with gaps of 2 mm; 17 do. Take --count 17 (gap 2.41 mm), --size 103.6mm or --scale 0.96."),  # noqa: E501
        (Statement(D100, 20, 1.0), 2.0, -0.5, "20 arches do not go round a 100 mm circle with gaps of 2 mm; 17 do. Take --count 17 (gap 2.41 mm), --size 115mm or --scale 0.85."),  # noqa: E501
    ],
)  # fmt: skip
def test_numbers_that_do_not_agree_are_too_many_repeats_or_one_number_too_much(
    fit: Statement, wanted: float, real: float, say: str
) -> None:
    """Neighbouring arches are nearest at their feet, 100 sin(pi/n - asin .16) apart: 2.41 mm for 17, 1.38 for 18."""
    fault = cannot_all_hold(model_of(arch()), fit, wanted, real)
    assert isinstance(fault, RefusedError)
    assert (fault.say, fault.where, fault.numbers["gap_mm"], fault.numbers["wanted_mm"]) == (say, "hoop", real, wanted)
    assert fault.code == ("cannot-all-hold" if "cannot all hold" in say else "too-many")
    assert 100 * math.sin(math.pi / 17 - math.asin(0.16)) == pytest.approx(2.41, abs=0.005)


@pytest.mark.parametrize(
    ("count", "wanted", "real", "code"),
    [
        (18, 2.0, 2.0, "cannot-all-hold"),  # as wide as wanted
        (19, 2.0, 1.5, "cannot-all-hold"),  # two more than go
        (20, 2.0, 0.0, "cannot-all-hold"),
        (20, 2.0, -1e-3, "too-many"),
        (1, 400.0, 5.0, "cannot-all-hold"),  # one is never too many
    ],
)
def test_too_many_are_one_step_more_than_go_or_overlap(count: int, wanted: float, real: float, code: str) -> None:
    assert cannot_all_hold(model_of(arch()), Statement(D100, count, 1.0), wanted, real).code == code


def test_more_than_go_round_are_told_with_how_many_do() -> None:
    two = too_many(model_of(arch()), Statement(D100, 2, 1.0), 400.0, math.inf)
    assert two.say == (
        "2 arches do not go round a 100 mm circle with gaps of 400 mm; 1 does. Take --count 1 or --size 400.4mm."
    )
    assert two.numbers == {"count": 2, "wanted_mm": 400.0, "fits": 1}, "no gap was measured"
    beside = too_many(model_of(arch()), Statement(D100, 12, 1.0), 5.0, 2.0)
    assert beside.say.startswith(
        "12 arches do not go round a 100 mm circle with gaps of 5 mm, since some that are no neighbours come nearer; "
        "14 do. Take --count 14 (gap 6.36 mm), "
    )
    assert beside.numbers == {"count": 12, "wanted_mm": 5.0, "fits": 14, "gap_mm": 2.0}
    assert "no neighbours" not in too_many(model_of(arch()), Statement(D100, 17, 1.0), 2.0, 1.0).say
    none = too_many(model_of(arch(200.0)), Statement(D100, 1, 1.0), 2.0, math.inf)
    assert none.say.startswith("1 arch does not go round a 100 mm circle with gaps of 2 mm. ")


def test_gaps_between_feet_are_named_so() -> None:
    """Feet of 1.5 mm leave 100 sin(15 deg - asin .015) = 24.43 mm between them."""
    model = model_of(arch(), foot_gap_mm=3.0)
    assert no_scale(model, D100, 12, 30.0).say == (
        "no scale lets 12 arches go round a 100 mm circle with 30 mm between their feet. "
        "Take --foot-gap 24.4mm or less."
    )
    assert no_scale(model, D100, 1, 30.0).say.endswith(" between their feet. Take fewer, or a smaller gap.")
    assert no_size(model, None, 12, 30.0).say == (
        "no size lets 12 arches close with a foot gap of 30 mm. Take fewer, or a smaller gap."
    )


def test_a_found_scale_that_makes_feet_too_narrow_is_told_with_the_gap_that_leaves_them() -> None:
    """At 1.5 / 4.4 a leaf is 4.8 mm wide some 2 mm above the edge: about 2 x 52 sin 15 deg - 4.8 are left."""
    with pytest.raises(RefusedError) as fault:
        check_found_scale(model_of(leaf()), D100, 12, 0.1)
    head = "at scale 0.1 a foot is 0.44 mm wide, this card needs 1.5 mm."
    assert (fault.value.say, fault.value.code) == (f"{head} Take --gap 22.2mm or less.", "thin-neck")
    assert fault.value.numbers == {"foot_mm": pytest.approx(0.44), "limit_mm": 1.5}
    with pytest.raises(RefusedError) as fault:
        check_found_scale(model_of(leaf()), D100, 400, 0.1)
    assert fault.value.say == f"{head} Take fewer, or a smaller gap."
    check_found_scale(model_of(leaf()), D100, 12, 0.35)


def test_a_foot_holds_from_the_least_neck_on_and_the_narrowest_counts() -> None:
    check_scale(model_of(leaf()), 1.5 / 4.4 + 1e-6)
    with pytest.raises(RefusedError, match=r"at scale 0\.341 a foot is 1\.49 mm wide, .* Take --scale 0\.35 or more"):
        check_scale(model_of(leaf()), 1.5 / 4.4 - 1e-6)
    with pytest.raises(RefusedError, match=r"a foot is 0\.9 mm wide, .* Take --scale 0\.5 or more\.$"):
        check_scale(model_of(leaf(), plain_rectangle(3, 4)), 0.3)
    with pytest.raises(RefusedError, match=r"a foot is 1\.49 mm wide, .* Take --scale 1 or more\.$"):
        check_scale(model_of(plain_rectangle(1.5, 4)), 0.999)
    check_scale(model_of(plain_rectangle(1, 4)), 0.3)  # drawn narrower than the card bears: told elsewhere
    check_scale(model_of(leaf(), place="window", inset_mm=5.0), 0.01)


@pytest.mark.parametrize("box", [(100, 0, 104, 5), (-104, 0, -100, 5), (-2, 100, 2, 104), (-2, -104, 2, -100)])
def test_how_far_a_motif_reaches_counts_from_its_foot_on(box: tuple[float, float, float, float]) -> None:
    """At 115 it reaches 11.96 m, at 116 more than 12 m, four times the largest piece."""
    model = model_of(Motif("far", (Region(rectangle(*box)),), 4.0))
    check_scale(model, 115.0)
    with pytest.raises(RefusedError) as fault:
        check_scale(model, 116.0)
    assert fault.value.say == "the far would be 12064 mm across; a whole piece can be 3000 mm. Take --scale 0.2."
