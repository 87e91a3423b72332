"""The steps of a guide."""

from __future__ import annotations

import pytest

from frameforge.picture.paper.guide_steps import piece_steps


@pytest.mark.parametrize(
    ("faces_in", "side"),
    [
        ([], "outside the edge"),
        ([False, False], "outside the edge"),
        ([True], "into the opening"),
        ([True, True], "into the opening"),
        ([False, True], "outside the edge, that of the inner marks into the opening"),
    ],
)
def test_every_row_is_told_where_its_ornament_goes(faces_in: list[bool], side: str) -> None:
    steps = piece_steps(["100 mm"], is_oval=False, is_bare=False, faces_in=faces_in, is_tiled=False)
    assert steps[0] == "100 mm"
    assert steps[4] == f"4. Its foot goes from mark to mark, the ornament {side}. Go clockwise from 1 at the top."
    assert [step[:2] for step in steps[1:6]] == ["1.", "2.", "3.", "4.", "5."]
    assert len(steps) == 8


def test_a_guide_of_several_pages_says_how_to_join_them() -> None:
    tiled = piece_steps([], is_oval=True, is_bare=True, faces_in=[], is_tiled=True)
    assert tiled[1].startswith("2. Trim each page at its crop marks")
    assert tiled[3].startswith("4. Line up the middle of your punch with the line of its number (on an oval")
