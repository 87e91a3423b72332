"""The gap between any two repeats, as the desk measures it: that of the rows, and that of another library."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import shapely

from frameforge.desk.drawing import drawn_piece
from frameforge.desk.made_pieces import made_pieces
from frameforge.desk.measure import measure, measured
from frameforge.desk.repeats import Repeat, repeats_of
from frameforge.errors import InputError
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.region import Region
from frameforge.job.motif_source import MotifSource

from .conftest import RECIPE

Ask = Callable[..., dict[str, Any]]


SOURCE = MotifSource(Path("out"))


def repeats(recipe: str) -> tuple[Repeat, ...]:
    return repeats_of(made_pieces(recipe, SOURCE)[1][0].piece)


def by_shapely(one: Repeat, other: Repeat) -> float:
    """The distance of both on chords within 0.00001 mm of their curves."""
    shapes = [
        shapely.union_all([to_polygon(Region(o.transformed(r.placed.placement)), 1e-5) for o in r.outlines])
        for r in (one, other)
    ]
    return float(shapely.distance(*shapes))


@pytest.mark.parametrize(
    "row",
    [
        'motif = "bean-leaf"\ncount = 7',
        'motif = "arch"\ncount = 6\nplace = "window"\nscale = 0.8',
        'motif = ["arch", "rose-drop"]\ncount = 6\nmirror = "every-other"',
    ],
)
def test_a_gap_is_the_distance_of_the_outlines(row: str) -> None:
    """Neighbours and all others, on an oval, where each gap is another."""
    found = repeats(f'[[piece]]\nsize = "90x70mm"\n\n[[piece.row]]\n{row}\n')
    for one, other in ((0, 1), (1, 0), (0, 2), (1, 4), (3, len(found) - 1)):
        gap = measured(found[one], found[other])
        assert gap.gap_mm == pytest.approx(by_shapely(found[one], found[other]), abs=4e-5)
        assert abs(gap.ends[1] - gap.ends[0]) == pytest.approx(gap.gap_mm, abs=1e-9)


def test_neighbours_have_the_gap_that_their_row_tells() -> None:
    found = repeats(RECIPE)
    row = found[0].result
    for k in (0, 7, 15):
        gap = measured(found[k], found[(k + 1) % 16])
        assert gap.gap_mm == pytest.approx(row.gap_mm, abs=1e-9)
    assert gap.words == "bean leaf 16 to bean leaf 1: 3.38 mm"


def test_a_stated_gap_of_bent_motifs_is_told_as_it_was_stated() -> None:
    """Their fitted curves lie up to 0.002 mm beside the true ones; cut to .01 that would read 2.99."""
    row = 'motif = "bean-leaf"\nseat = "bent"\ncount = "most"\ngap = "3mm"\nrest = "size"'
    found = repeats(f'[[piece]]\nsize = "50mm"\n\n[[piece.row]]\n{row}\n')
    assert measured(found[0], found[1]).value == "3 mm"


def test_what_touches_or_is_one_has_no_gap() -> None:
    row = 'motif = "scallop"\ncount = 12\ngap = 0\nscale = "find"'
    touching = repeats(f'[[piece]]\nsize = "60mm"\n\n[[piece.row]]\n{row}\n')
    assert measured(touching[0], touching[1]).words == "scallop 1 to scallop 2: touching"
    one = touching[0]
    assert measured(one, one).value == "joined"


def test_repeats_are_named_by_their_row_where_names_are_shared() -> None:
    row = '[[piece.row]]\nmotif = "arch"\ncount = {}\nplace = "{}"\nscale = 0.6\n'
    recipe = f'[[piece]]\nsize = "90mm"\nopening = "60mm"\n\n{row.format(8, "out")}\n{row.format(4, "in")}'
    words = [repeat.words for repeat in repeats(recipe)]
    assert words[0] == "row 1, arch 1"
    assert words[-1] == "row 2, arch 4"
    assert len(set(words)) == 12


def test_the_measure_is_drawn_with_its_ends_on_the_picture_that_was_seen() -> None:
    piece = drawn_piece(made_pieces(RECIPE, SOURCE)[1][0], 500)
    question = {"recipe": RECIPE, "piece": 0, "map": piece["map"]}
    listed = measure(question, SOURCE)["repeats"]
    assert [repeat["words"] for repeat in listed[:2]] == ["bean leaf 1", "bean leaf 2"]
    assert len(listed) == 16
    found = measure({**question, "from": 3, "to": 4}, SOURCE)
    assert found["words"] == "bean leaf 4 to bean leaf 5: 3.38 mm"
    numbers = [float(n) for n in re.findall(r"-?[\d.]+", found["line"])]
    a, b = complex(*numbers[:2]), complex(*numbers[2:4])
    assert abs(b - a) / piece["map"][0] == pytest.approx(3.3855, abs=0.01)
    on = [shapely.LineString(re.findall(r"(-?[\d.]+) (-?[\d.]+)(?= [A-Z]|$)", listed[k]["path"])) for k in (3, 4)]
    for end, outline in zip((a, b), on, strict=True):
        assert outline.distance(shapely.Point(end.real, end.imag)) < 3
    assert found["leader"].startswith("M ")
    far = measure({**question, "from": 0, "to": 8}, SOURCE)
    assert far["leader"] == ""


def test_it_is_asked_as_the_page_asks(ask: Ask) -> None:
    recipe = '[[piece]]\nsize = "60mm"\n\n[[piece.row]]\nmotif = "arch"\ncount = 4\n'
    question = {"recipe": recipe, "piece": 0, "map": [5.0, 250.0, 250.0]}
    assert len(ask("measure", **question)["repeats"]) == 4
    assert ask("measure", **question, **{"from": 0, "to": 2})["words"].startswith("arch 1 to arch 3: ")
    assert len(ask("measure", **question, **{"from": 1, "to": 1})["refused"]) == 1


@pytest.mark.parametrize(
    "odd",
    [{"from": 3, "to": 3}, {"from": 0, "to": 99}, {"from": -1, "to": 2}, {"from": True, "to": 2}, {"piece": 7},
     {"map": None}, {"map": [1, 2]}, {"map": ["a", 0, 0]}, {"map": [0, 1, 1]}],
)  # fmt: skip
def test_odd_questions_are_answered_in_one_line(odd: dict[str, Any]) -> None:
    with pytest.raises(InputError) as fault:
        measure({"recipe": RECIPE, "piece": 0, "map": [5.0, 250.0, 250.0], **odd}, SOURCE)
    assert len(fault.value.lines) == 1
