"""What ``fit`` was asked: sizes and counts in their order, usual ones where none are, the row they are told for."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from frameforge.errors import InputError
from frameforge.frame.spec import Size
from frameforge.job.fit_question import INCH_SIZES, MM_SIZES, FitOrder, FitQuestion, read_question


def ask(**options: Any) -> FitQuestion:
    return read_question(FitOrder(options, Path("out")))


def test_usual_sizes_are_those_of_the_makers_unit() -> None:
    assert [size.width_mm for size in ask(foot="20").sizes if size] == list(MM_SIZES)
    for inches in ({"foot": "0.8 in"}, {"foot": "20mm", "units": "in"}, {"motif": ("arch",), "gap": '1/8"'}):
        asked = ask(**inches)
        assert [size.width_mm for size in asked.sizes if size] == pytest.approx([25.4 * size for size in INCH_SIZES])
        assert (asked.in_inches, asked.is_default, asked.counts) == (True, True, (None,))
    assert not ask(foot="0.8in", units="mm").in_inches


def test_sizes_and_counts_keep_their_order_and_how_they_were_typed() -> None:
    asked = ask(motif=("arch",), size=("120mm", "150x100", " 2 1/4 in "), count=("12", "8"))
    assert asked.sizes == (Size(120, 120), Size(150, 100), Size(57.15, 57.15))
    assert asked.typed == ("120mm", "150x100", "2 1/4 in")
    assert asked.counts == (12, 8)
    assert not asked.is_single


@pytest.mark.parametrize("open_count", ["most", "find", " Most "])
def test_words_for_what_is_open_leave_it_open(open_count: str) -> None:
    assert ask(motif=("arch",), size=("90",), count=(open_count,)).counts == (None,)
    assert ask(motif=("arch",), size=("find",), count=("9",)).sizes == (None,)


def test_a_bare_foot_is_told_by_the_gap_between_feet() -> None:
    asked = ask(foot="20", gap="4", size=("90",))
    assert (asked.is_bare, asked.row.gap_mm, asked.row.foot_gap_mm) == (True, None, 4.0)
    assert asked.row.pattern[0].motif.foot_mm == 20
    assert asked.model.given_scale == 1
    drawn = ask(motif=("arch",), foot="20", gap="4", size=("90",))
    assert (drawn.is_bare, drawn.row.gap_mm, drawn.model.given_scale) == (False, 4.0, 1.25)


def test_the_usual_gap_is_the_wider_of_2_mm_and_the_cards_slot() -> None:
    assert (ask(motif=("arch",)).wanted_gap_mm, ask(motif=("arch",)).stated_gap_mm) == (2.0, None)
    assert ask(motif=("arch",), gap="0").stated_gap_mm == 0


@pytest.mark.parametrize(
    ("options", "part"),
    [
        ({}, "neither a motif nor a foot"),
        ({"scale": "0.5"}, "neither a motif nor a foot"),
        ({"foot": "20", "scale": "0.5"}, "both say how large the motif is"),
        ({"foot": "20", "place": "across"}, "a foot alone stands out or in"),
        ({"motif": ("arch",), "size": ("90", "find")}, "sizes that are stated and one to be found"),
        ({"motif": ("arch",), "count": ("most", "9")}, "counts that are stated and one to be found"),
        ({"motif": ("arch",), "preset": "card"}, 'there is no preset "card"'),
        ({"motif": ("arch",), "on": "opening"}, "there is no opening to stand on"),
        ({"motif": ("arch",), "gap": "1", "foot_gap": "1"}, "both say how far apart"),
    ],
)
def test_what_makes_no_question_is_told(options: dict[str, Any], part: str) -> None:
    with pytest.raises(InputError, match=part):
        ask(**options)


def test_each_fault_is_told_once_however_many_sizes_are_asked() -> None:
    with pytest.raises(InputError) as caught:
        ask(motif=("arch",), size=("90", "100", "x"), gap="wide", count=("9", "nine"))
    assert [line.split(":")[0] for line in caught.value.lines] == [
        'fit, --gap "wide"', 'fit, --size "x"', 'fit, --count "nine"',
    ]  # fmt: skip
