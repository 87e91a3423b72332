"""What the maker asked for, as values."""

from __future__ import annotations

import math
from dataclasses import fields, replace

import pytest
from fixtures.plain_motifs import plain_rectangle
from fixtures.rows import row_of

from frameforge.frame.spec import (
    LARGEST_MM,
    MOST_REPEATS,
    SEATS,
    CreaseSpec,
    FlangeSpec,
    FoldSpec,
    HoleSpec,
    Ornament,
    PieceSpec,
    RowSpec,
    Size,
    StandSpec,
)
from frameforge.frame.text_spec import TextSpec
from frameforge.read.font_folder import own_font

ROWS = tuple(row_of(plain_rectangle(8, 6), count=count) for count in (4, 5, 6))
SPEC = PieceSpec("badge", Size(60, 60), rows=ROWS)


def test_one_row_is_replaced_or_left_out_and_the_others_keep_their_place() -> None:
    new = row_of(plain_rectangle(8, 6), count=9)
    assert [SPEC.with_row(k, new).rows for k in range(3)] == [
        (new, ROWS[1], ROWS[2]), (ROWS[0], new, ROWS[2]), (ROWS[0], ROWS[1], new),
    ]  # fmt: skip
    assert SPEC.with_row(1, None).rows == (ROWS[0], ROWS[2])
    assert SPEC.rows == ROWS


@pytest.mark.parametrize("sides", [(0.0, 10.0), (10.0, -1.0), (math.nan, 10.0), (10.0, math.inf)])
def test_a_size_is_two_lengths(sides: tuple[float, float]) -> None:
    with pytest.raises(ValueError, match="must be above 0"):
        Size(*sides)


def test_rows_take_the_motifs_as_they_were_made() -> None:
    made = [row_of(plain_rectangle(8, height)).pattern for height in (7, 8, 9)]
    assert [row.pattern for row in SPEC.with_patterns(made).rows] == made
    assert [row.count for row in SPEC.with_patterns(made).rows] == [4, 5, 6]
    assert SPEC.with_patterns(()) is SPEC


def defaults(kind: type, *first: object) -> dict[str, object]:
    """Return what all fields are that are not said."""
    made = kind(*first)
    return {field.name: getattr(made, field.name) for field in fields(kind)[len(first) :]}


def test_what_a_maker_does_not_say() -> None:
    bar = plain_rectangle(8, 6)
    assert defaults(Ornament, bar) == {
        "scale": 1.0, "lean_deg": 0.0, "is_mirrored": False, "tied": frozenset(), "tie_mm": 0.0, "left_out": 0,
    }  # fmt: skip
    assert defaults(RowSpec, (Ornament(bar),)) == {
        "count": None, "gap_mm": None, "foot_gap_mm": None, "scale": None, "foot_mm": None, "place": "out", "on": None,
        "inset_mm": 0.0, "seat": "as-drawn", "between": "keep", "depth_mm": None, "spread": None,
        "is_mirrored_every_other": False, "start_deg": 0.0, "starts_with_gap": False, "skip": (), "keep_free": None,
        "free": "spread", "rest": None, "seam_deg": None, "filler": None, "keeps_counters": False, "loose": "keep",
    }  # fmt: skip
    assert defaults(HoleSpec, 5.0) == {"at_deg": 0.0}
    assert defaults(CreaseSpec) == {"kind": "full", "dash_mm": None, "space_mm": None, "stop_mm": 0.0}
    assert defaults(FoldSpec, 10.0) == {"at_deg": 0.0, "flat_mm": 0.0, "crease": CreaseSpec()}
    assert defaults(FlangeSpec, 8.0) == {"teeth": None, "crease": CreaseSpec()}
    assert defaults(StandSpec, 40.0) == {"feet": 2, "layers": 1, "play_mm": 0.1}
    assert defaults(PieceSpec, "hoop", "find") == {
        "opening": None, "rim_mm": None, "rows": (), "holes": (), "goes_in": None, "ratio": None, "grow_from": None,
        "fold": None, "flange": None, "stand": None, "texts": (), "is_size_fixed": False, "unsettled": None,
    }  # fmt: skip
    assert defaults(TextSpec, "SEED", own_font(is_bold=False)) == {
        "style": "mark", "along": "rim", "reads": "outside", "cap_mm": 6.0, "at_deg": 0.0, "limit_deg": 240.0,
        "inset_mm": None,
    }  # fmt: skip


def test_the_largest_piece_and_the_most_repeats() -> None:
    assert (LARGEST_MM, MOST_REPEATS) == (3000, 2000)
    assert SEATS == ("as-drawn", "bent")


def test_a_circle_has_equal_sides_and_no_others_do() -> None:
    assert Size(60, 60).is_circle
    assert not Size(60, 60.0001).is_circle
    assert not Size(60.0001, 60).is_circle
    assert Size(0.001, 0.001).is_circle
    with pytest.raises(ValueError, match=r"^size 10 x 0 mm must be above 0$"):
        Size(10, 0)


def test_the_order_as_it_was_asked_is_neither_compared_nor_told() -> None:
    settled = replace(SPEC, unsettled=replace(SPEC, name="asked"))
    assert settled == SPEC
    assert "asked" not in repr(settled)


def test_of_rows_with_other_motifs_none_is_left_over() -> None:
    with pytest.raises(ValueError, match="zip"):
        SPEC.with_patterns([ROWS[0].pattern])
