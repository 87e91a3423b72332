"""What a rest does not go with, word for word."""

from __future__ import annotations

from typing import Any

import pytest
from fixtures.plain_motifs import arch, husk
from fixtures.rows import D100, model_of, row_of

from frameforge.errors import InputError
from frameforge.frame.rest_limits import check_rest, check_seam
from frameforge.frame.spec import Size

TO_FIND = 'hoop: where the {} is to be found the row closes without a rest. Leave out rest, or write "spread".'
OPEN = "hoop: a zone kept free and a rest do not go together, the row is open there. Leave out keep_free or rest."
SKIPPED = "hoop: positions left out and a filler do not go together, the row is open there. Leave out skip or rest."
SPREAD = "hoop: spread {} and a filler do not go together: with a rest all gaps are alike. Leave out spread."


@pytest.mark.parametrize("rest", ["size", "filler"])
@pytest.mark.parametrize(
    ("more", "size", "line"),
    [
        ({}, None, TO_FIND.format("size")),
        ({"gap_mm": "find"}, D100, TO_FIND.format("gap")),
        ({"scale": "find"}, D100, TO_FIND.format("scale")),
        ({"foot_mm": "find"}, D100, TO_FIND.format("scale")),
        ({"keep_free": (30.0, 0.0)}, D100, OPEN),
    ],
)
def test_a_number_to_be_found_or_an_open_row_leaves_no_rest(
    rest: str, more: dict[str, Any], size: Size | None, line: str
) -> None:
    with pytest.raises(InputError) as caught:
        check_rest(model_of(arch(), rest=rest, filler=husk(), **more), size)
    assert str(caught.value) == line


@pytest.mark.parametrize(
    ("more", "line"),
    [
        ({"skip": (1,)}, SKIPPED),
        ({"spread": "equal-arc"}, SPREAD.format("equal-arc")),
        ({"spread": "equal-chord"}, SPREAD.format("equal-chord")),
    ],
)
def test_what_leaves_no_place_for_a_filler_goes_with_a_rest_by_size(more: dict[str, Any], line: str) -> None:
    with pytest.raises(InputError) as caught:
        check_rest(model_of(arch(), rest="filler", filler=husk(), **more), D100)
    assert str(caught.value) == line
    assert check_rest(model_of(arch(), rest="size", **more), D100) == D100


def test_the_size_that_a_rest_is_left_on_comes_back() -> None:
    assert check_rest(model_of(arch(), rest="filler", spread="equal-gap", gap_mm=2.0, scale=1.0), D100) == D100


def test_a_seam_goes_with_a_rest_alone() -> None:
    with pytest.raises(InputError) as caught:
        check_seam(row_of(arch(), seam_deg=90.0), "hoop")
    assert str(caught.value) == ('hoop: a seam is where a rest lies. Write rest "filler" with it, or leave it out.')
    assert caught.value.numbers == {"seam_deg": 90.0}
    check_seam(row_of(arch(), seam_deg=90.0, rest="filler"), "hoop")
    check_seam(row_of(arch()), "hoop")
