"""Numbers, titles and warnings of a fit, as they are read."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from frameforge.frame.spec import Size
from frameforge.job.fit_answer import FitAnswer, Remark
from frameforge.job.fit_question import FitOrder, FitQuestion, read_question
from frameforge.job.fit_words import gap_text, miss_text, size_inches, size_mm, title, turn_text, warning_lines


def question(**options: Any) -> FitQuestion:
    return read_question(FitOrder(options, Path("out")))


def answer(size: Size, count: int, **more: Any) -> FitAnswer:
    return FitAnswer(size, count, 1.0, "equal-gap", is_even=True, **more)


@pytest.mark.parametrize(
    ("options", "words"),
    [
        ({"motif": ("arch",)}, "How many arches go round, gaps of 2 mm or more"),
        ({"motif": ("arch",), "gap": "0"}, "How many arches go round, touching or nearly so"),
        ({"foot": "20", "count": ("8",), "gap": "4"}, "On which size feet of 20 mm (0.79 in) close, gaps of 4 mm"),
        ({"foot": "20", "count": ("8",), "gap": "0"}, "On which size feet of 20 mm (0.79 in) close, touching"),
        (
            {"motif": ("seed-husk",), "foot_gap": "1/8 in", "size": ("90",)},
            "How many seed husks go round, foot gaps of 3.175 mm or more",
        ),
        (
            {"motif": ("arch", "scallop", "pea-pod"), "size": ("90",), "count": ("9",)},
            "Gaps between arch, scallop and pea pod in turn, by size and count",
        ),
        (
            {"foot": "find", "size": ("90",), "count": ("9",), "gap": "0"},
            "How large feet are that fill the edge, touching",
        ),
    ],
)
def test_titles_say_what_is_asked(options: dict[str, Any], words: str) -> None:
    assert title(question(**options)) == words


def test_sizes_found_are_rounded_up_and_gaps_are_cut() -> None:
    assert size_mm(Size(62.0481, 62.0481), is_found=True) == "62.05"
    assert size_mm(Size(57.15, 57.15)) == "57.15"
    assert size_mm(Size(150, 100)) == "150 x 100"
    assert size_mm(None) == "-"
    assert (size_inches(Size(57.15, 57.15)), size_inches(Size(150, 100))) == ("2 1/4", "5.91 x 3.94")
    assert (gap_text(2.4199), gap_text(1.9999999999), gap_text(-1e-12), gap_text(None)) == ("2.41", "2.00", "0.00", "-")


@pytest.mark.parametrize(("count", "turn", "miss"), [(15, "24", "-"), (7, "51.43", "0.62"), (16, "22.50", "0.72")])
def test_degrees_are_whole_or_to_a_hundredth(count: int, turn: str, miss: str) -> None:
    found = answer(Size(165.1, 165.1), count)
    assert (turn_text(found), miss_text(found)) == (turn, miss)


def test_warnings_are_told_once_a_kind_for_the_chosen_answer() -> None:
    hard = Remark("hard-to-hold", "hard to hold", "50 mm is hard to hold.")
    steep = [Remark("steep-seat", "steep seats", f"falls away by {deg}.") for deg in (46, 50)]
    small, large = answer(Size(50, 50), 4, remarks=(hard, steep[0])), answer(Size(60, 60), 5, remarks=(hard, steep[1]))
    chart = question(motif=("arch",))
    assert warning_lines(chart, (small, large), large) == [
        "warning, hard-to-hold: sizes under 57.15 mm (2 1/4 in). Lift them with care.",
        "warning, steep-seat, on 60 mm: falls away by 50.",
    ]
    single = question(motif=("arch",), size=("50",))
    assert warning_lines(single, (small,), small)[0] == "warning, hard-to-hold: 50 mm is hard to hold."
