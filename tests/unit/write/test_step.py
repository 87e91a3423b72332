"""What rounding makes of thin things, and how it is cleaned away."""

from __future__ import annotations

from frameforge.write.step import Step, cleaned_outline, cleaned_run

SQUARE = [
    Step("L", (0, 0), (10, 0)),
    Step("L", (10, 0), (10, 10)),
    Step("L", (10, 10), (0, 10)),
    Step("L", (0, 10), (0, 0)),
]


def _with(*steps: Step) -> list[Step]:
    """Return the square with steps put in at its corner (10, 0)."""
    return [SQUARE[0], *steps, *SQUARE[1:]]


def test_a_clean_outline_stays_as_it_is() -> None:
    assert cleaned_outline(SQUARE) == SQUARE


def test_steps_without_length_go() -> None:
    dot = (10, 0, 11, 1)
    assert cleaned_outline(_with(Step("L", (10, 0), (10, 0)), Step("C", (10, 0), (10, 0), dot))) == SQUARE


def test_a_loop_of_a_cubic_that_comes_back_to_its_start_stays() -> None:
    loop = Step("C", (10, 0), (10, 0), (900, 500, 900, -500))
    assert loop in cleaned_outline(_with(loop))


def test_a_way_there_and_back_goes_whatever_its_curve() -> None:
    for out, back in (
        (Step("L", (10, 0), (30, 0)), Step("L", (30, 0), (10, 0))),
        (Step("C", (10, 0), (30, 0), (12, 5, 20, 5)), Step("C", (30, 0), (10, 0), (20, 5, 12, 5))),
        (Step("A", (10, 0), (30, 0), (50, 40, 0, 1)), Step("A", (30, 0), (10, 0), (50, 40, 0, 0))),
        (Step("B", (10, 0), (30, 0), (123,)), Step("B", (30, 0), (10, 0), (-123,))),
    ):
        assert cleaned_outline(_with(out, back)) == SQUARE


def test_arcs_on_both_sides_of_a_chord_are_no_spike() -> None:
    lens = [Step("B", (10, 0), (30, 0), (123,)), Step("B", (30, 0), (10, 0), (123,))]
    assert cleaned_outline(lens) == lens


def test_a_spike_of_two_lines_of_unlike_length_is_shortened() -> None:
    spike = [Step("L", (10, 0), (30, 0)), Step("L", (30, 0), (15, 0)), Step("L", (15, 0), (10, 10))]
    kept = cleaned_outline([SQUARE[0], *spike, *SQUARE[2:]])
    assert [step.end for step in kept] == [(10, 0), (15, 0), (10, 10), (0, 10), (0, 0)]


def test_spikes_within_spikes_go_too() -> None:
    there = [Step("L", (10, 0), (20, 5)), Step("B", (20, 5), (30, 0), (7,))]
    back = [Step("B", (30, 0), (20, 5), (-7,)), Step("L", (20, 5), (10, 0))]
    assert cleaned_outline(_with(*there, *back)) == SQUARE


def test_the_seam_is_cleaned_like_any_other_joint() -> None:
    spike = [Step("L", (-20, 5), (0, 0)), *SQUARE, Step("L", (0, 0), (-20, 5))]
    kept = cleaned_outline(spike)
    assert sorted(step.start for step in kept) == [(0, 0), (0, 10), (10, 0), (10, 10)]
    assert all(a.end == b.start for a, b in zip(kept, kept[1:] + kept[:1], strict=True))


def test_a_sliver_that_folds_flat_leaves_nothing() -> None:
    assert cleaned_outline([Step("L", (0, 0), (9, 0)), Step("L", (9, 0), (4, 0)), Step("L", (4, 0), (0, 0))]) == []


def test_an_open_line_keeps_its_two_ends_apart() -> None:
    assert cleaned_run(SQUARE[:3]) == SQUARE[:3]
