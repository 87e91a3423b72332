"""Every closed form of the job is held twice: by its known values, and on random sets by a second road."""

from __future__ import annotations

import ast
from functools import cache
from typing import NamedTuple

import pytest
from fixtures.source import ROOT

SETS = 3
"""Random sets a form is tried on at the least."""


class Held(NamedTuple):
    """A closed form of the job: its number and what it is of, the test of its values, that of its random sets."""

    number: str
    of: str
    values: str
    random: str


CLOSED, SPACING, FIT = "outside/test_closed_forms.py", "outside/test_spacing.py", "property/test_fit.py"
SIZES, ROWS, ANY = "property/test_spacing_forms.py", "property/test_row_forms.py", "property/test_closed_forms.py"
REST, HAND, BENT = "outside/test_closing_gap.py", "unit/frame/test_hand_spokes.py", "outside/test_bent_forms.py"
EDGES = "unit/frame/test_between.py"

FORMS = (
    Held("F01", "how many fit", f"{CLOSED}::test_how_many_fit_and_the_gap_after_spreading",
         f"{FIT}::test_as_many_go_round_as_leave_the_gap"),
    Held("F02", "size for a count", f"{CLOSED}::test_size_for_eight_feet_of_20",
         f"{FIT}::test_the_size_for_a_count_is_the_closed_form"),
    Held("F03", "scale that fills", f"{CLOSED}::test_scale_at_which_feet_touch",
         f"{FIT}::test_the_foot_that_fills_the_edge_is_found_by_bisection"),
    Held("F04", "chart of sizes", f"{CLOSED}::test_feet_of_20_that_touch_on_inch_sizes",
         f"{FIT}::test_as_many_go_round_as_leave_the_gap"),
    Held("F05", "length of an oval", f"{SPACING}::test_twenty_places_on_150_x_100_have_the_known_steps",
         f"{SIZES}::test_equal_arcs_on_an_oval_are_its_length_by_the_count"),
    Held("F06", "oval for a count", "outside/test_fit_sizes.py::test_ovals_grow_until_they_close",
         f"{SIZES}::test_an_oval_grows_until_its_gaps_are_those_asked_for"),
    Held("F07", "two feet in turn", f"{CLOSED}::test_two_feet_in_turn",
         f"{ANY}::test_an_alternating_pattern_closes_where_its_angles_fill_a_half_turn"),
    Held("F08", "any pattern", f"{SPACING}::test_equal_gap_rings_come_to_the_tabled_gap_and_places",
         f"{ANY}::test_any_pattern_closes_where_its_angles_sum_to_a_turn"),
    Held("F09", "filler of a rest", f"{REST}::test_feet_of_18_on_100_leave_14_625_mm",
         f"{REST}::test_on_circles_the_rest_follows_from_angles"),
    Held("F10", "rest spread or closed", f"{REST}::test_25_leaves_on_an_oval_leave_12_188_mm_at_the_bottom",
         f"{REST}::test_the_sizes_that_close_are_those_of_the_closed_form"),
    Held("F11", "where the seam lies", f"{REST}::test_the_middle_of_the_seam_lies_where_it_was_wanted",
         f"{REST}::test_on_circles_the_rest_follows_from_angles"),
    Held("F12", "whole degrees", f"{HAND}::test_whole_degrees_miss_by_the_known_measure",
         f"{SIZES}::test_whole_degrees_miss_by_the_arc_between_the_true_and_the_rounded_spoke"),
    Held("F13", "squared paper", f"{HAND}::test_squared_paper_is_even_on_a_circle_only",
         f"{SIZES}::test_squared_paper_cuts_an_oval_where_its_lines_meet_it"),
    Held("F14", "ends of an oval", "outside/test_seats.py::test_seats_on_ovals_have_the_tabled_feet",
         f"{SIZES}::test_the_sagitta_at_the_ends_of_an_oval_is_that_of_an_upright_chord"),
    Held("F15", "outward", f"{CLOSED}::test_outward_feet_are_filled_down_to_the_edge",
         f"{ROWS}::test_outward_rows_stand_with_both_foot_ends_on_the_edge_and_leave_no_hole"),
    Held("F16", "inward", f"{CLOSED}::test_inward_rows_are_held_apart_at_their_tops",
         f"{ANY}::test_inward_rectangles_leave_the_wedge_between_their_inner_corners"),
    Held("F17", "windows", f"{CLOSED}::test_webs_between_round_windows",
         f"{ROWS}::test_round_windows_leave_a_web_between_them_and_one_to_the_rim"),
    Held("F18", "across the edge", f"{CLOSED}::test_discs_half_and_half_show_a_lens_less",
         f"{ROWS}::test_discs_across_the_edge_show_all_but_a_lens"),
    Held("F19", "bent", f"{BENT}::test_fifteen_feet_of_20_leave_808_as_drawn_and_944_bent",
         f"{ROWS}::test_a_bent_rectangle_is_a_part_of_a_ring"),
    Held("F20", "as drawn and bent", f"{BENT}::test_fifteen_feet_of_20_leave_808_as_drawn_and_944_bent",
         f"{SIZES}::test_rows_as_drawn_and_bent_differ_by_chord_and_arc"),
    Held("F21", "mirrored by turns", f"{CLOSED}::test_every_other_mirroring_needs_an_even_count",
         f"{ROWS}::test_mirrored_by_turns_a_ring_comes_round_after_two"),
    Held("F22", "start", f"{CLOSED}::test_start_is_the_direction_of_the_first_axis_or_gap",
         f"{ROWS}::test_the_start_is_where_an_axis_or_the_middle_of_a_gap_points"),
    Held("F23", "left out", f"{CLOSED}::test_a_skipped_position_leaves_its_stretch_bare",
         f"{ANY}::test_a_skipped_position_leaves_its_foot_and_two_gaps_bare"),
    Held("F24", "zone kept free", "unit/frame/test_presence.py::test_a_zone_takes_all_that_reach_into_it",
         f"{ROWS}::test_nothing_stands_in_a_zone_kept_free"),
    Held("F25", "lean", f"{CLOSED}::test_a_leaning_bar_stands_with_both_foot_ends_on_the_edge",
         f"{ROWS}::test_a_leaning_motif_keeps_both_foot_ends_on_the_edge"),
    Held("F26", "chopped", f"{CLOSED}::test_what_is_pushed_beyond_the_edge_is_listed",
         f"{ROWS}::test_what_of_a_window_lies_beyond_the_edge_is_listed_with_its_area"),
    Held("F27", "second row", f"{CLOSED}::test_second_row_at_half_pitch",
         f"{ROWS}::test_a_second_row_at_half_a_pitch_stands_between"),
    Held("F28", "edge kept", f"{CLOSED}::test_arcs_kept_between_feet",
         f"{ANY}::test_straight_edges_take_the_arcs_off"),
    Held("F29", "edge flat", f"{CLOSED}::test_arcs_kept_between_feet",
         f"{ANY}::test_straight_edges_take_the_arcs_off"),
    Held("F30", "edge hollow", f"{EDGES}::test_a_chord_of_10_094_hollowed_by_2_has_radius_7_368",
         f"{ANY}::test_hollow_edges_take_a_second_segment"),
    Held("F31", "edge raised", f"{CLOSED}::test_a_raised_edge_of_2_over_a_chord_of_10_094",
         f"{ROWS}::test_a_raised_edge_is_an_arc_from_foot_to_foot_without_a_slit"),
    Held("F32", "slits", f"{CLOSED}::test_a_narrow_slit_is_named_with_ways_out_that_hold",
         f"{ROWS}::test_gaps_narrower_than_the_slot_are_told_and_wider_ones_are_not"),
)  # fmt: skip


@cache
def _tests(file: str) -> dict[str, ast.FunctionDef]:
    tree = ast.parse((ROOT / "tests" / file).read_text(encoding="utf-8"))
    return {node.name: node for node in tree.body if isinstance(node, ast.FunctionDef)}


def _marks(place: str) -> list[str] | None:
    """Return what stands above a test, None where there is no such test."""
    file, name = place.split("::")
    found = _tests(file).get(name)
    return None if found is None else [ast.unparse(mark) for mark in found.decorator_list]


def _sets(file: str, mark: str) -> int:
    """Return how many random sets the settings above a test try, named or written there; 0 for any other mark."""
    tree = ast.parse((ROOT / "tests" / file).read_text(encoding="utf-8"))
    named = {ast.unparse(node.targets[0]): node.value for node in tree.body if isinstance(node, ast.Assign)}
    asked = named.get(mark, ast.parse(mark, mode="eval").body)
    if not (isinstance(asked, ast.Call) and ast.unparse(asked.func) == "settings"):
        return 0
    most = next((word.value for word in asked.keywords if word.arg == "max_examples"), None)
    return most.value if isinstance(most, ast.Constant) and isinstance(most.value, int) else SETS


def _faults(form: Held) -> list[str]:
    """Return what a form lacks."""
    values, random = _marks(form.values), _marks(form.random)
    faults = [f"{form.number} {form.of}: {place} is not there" for place, marks in
              ((form.values, values), (form.random, random)) if marks is None]  # fmt: skip
    for place, marks in ((form.values, values), (form.random, random)):
        if any("slow" in mark or "skip" in mark for mark in marks or ()):
            faults.append(f"{form.number} {form.of}: {place} is not run by default")
    if random is not None:
        file = form.random.split("::")[0]
        if not any(mark.startswith("given(") for mark in random):
            faults.append(f"{form.number} {form.of}: {form.random} tries no random sets")
        elif not any(_sets(file, mark) >= SETS for mark in random if not mark.startswith("given(")):
            faults.append(f"{form.number} {form.of}: {form.random} tries fewer than {SETS}")
    return faults


@pytest.mark.parametrize("form", FORMS, ids=lambda form: form.number)
def test_a_form_is_held_by_its_values_and_on_random_sets(form: Held) -> None:
    assert _faults(form) == []


def test_no_form_is_left_out() -> None:
    assert [form.number for form in FORMS] == [f"F{k:02}" for k in range(1, 33)]


@pytest.mark.parametrize(
    ("values", "random", "says"),
    [
        (f"{CLOSED}::test_nothing_of_the_kind", FORMS[0].random, "is not there"),
        (FORMS[0].values, FORMS[0].values, "tries no random sets"),
        ("outside/test_closed_forms.py::made", "property/test_rings.py::test_many_more_rings_are_solved", "by default"),
    ],
)
def test_a_planted_fault_is_found(values: str, random: str, says: str) -> None:
    assert any(says in fault for fault in _faults(Held("F00", "planted", values, random)))
