"""Edges between repeats that do not go with a row: each refused with its whole line, and those that go, let pass."""

from __future__ import annotations

from typing import Any

import pytest
from fixtures.plain_motifs import disc, plain_rectangle
from fixtures.rows import D100, KNIFE, model_of, row_of

from frameforge.errors import InputError
from frameforge.frame.between_asked import NOT_OF_MOTIF, check_between
from frameforge.frame.between_ways import with_between_ways
from frameforge.frame.spec import PieceSpec, RowSpec, Size
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.motif.motif import Motif

BAR = plain_rectangle(8, 6)
NOTCH = Motif("notch", (), 8.0, cut_away=(Region(rectangle(-4, -4, 4, 0.3)),))
STANDING = "goes with motifs that stand on an edge: out from the base or into the opening. Leave it out."
ON_OPENING: dict[str, Any] = {"place": "out", "on": "opening", "opening": Size(70, 70)}
INTO_OPENING: dict[str, Any] = {"place": "in", "opening": Size(70, 70)}


@pytest.mark.parametrize(
    ("motif", "row", "say"),
    [
        (BAR, {"depth_mm": 2.0}, "a depth goes with a hollow or a raised edge. Leave it out."),
        (NOTCH, {"depth_mm": 2.0, **ON_OPENING}, "a depth goes with a hollow or a raised edge. Leave it out."),
        (BAR, {"between": "flat", "depth_mm": 2.0}, "a flat edge has no depth. Leave it out."),
        (BAR, {"between": "hollow"}, "a hollow edge needs a depth, for example --depth 2mm. Write one."),
        (BAR, {"between": "raised"}, "a raised edge needs a depth, for example --depth 2mm. Write one."),
        (BAR, {"between": "flat", **ON_OPENING}, f"between flat {STANDING}"),
        (disc(2.0), {"between": "raised", "depth_mm": 1.0, "place": "window"}, f"between raised {STANDING}"),
        (BAR, {"between": "flat", "place": "in", "on": "base"}, f"between flat {STANDING}"),
    ],
)
def test_an_edge_or_a_depth_that_does_not_go_is_told_what_to_leave_out_or_write(
    motif: Motif, row: dict[str, Any], say: str
) -> None:
    with pytest.raises(InputError) as fault:
        check_between(model_of(motif, count=8, **row))
    assert (fault.value.say, fault.value.where) == (say, "hoop")
    assert fault.value.code != NOT_OF_MOTIF


@pytest.mark.parametrize(
    ("motif", "row", "say"),
    [
        (NOTCH, {"between": "hollow", "depth_mm": 2.0}, "between hollow goes from foot to foot, and the notches stand on their tips. Take --between flat or level."),  # noqa: E501
        (NOTCH, {"between": "raised", "depth_mm": 2.0}, "between raised goes from foot to foot, and the notches stand on their tips. Take --between flat or level."),  # noqa: E501
        (BAR, {"between": "level"}, "between level goes with corner motifs, and the rectangles stand on their feet. Take --between flat."),  # noqa: E501
    ],
)  # fmt: skip
def test_an_edge_of_other_motifs_is_told_with_those_that_go(motif: Motif, row: dict[str, Any], say: str) -> None:
    with pytest.raises(InputError) as fault:
        check_between(model_of(motif, count=8, **row))
    assert (fault.value.say, fault.value.where, fault.value.code) == (say, "hoop", NOT_OF_MOTIF)


@pytest.mark.parametrize(
    ("motif", "row"),
    [
        (BAR, {}),
        (BAR, {"between": "flat"}),
        (BAR, {"between": "hollow", "depth_mm": 2.0}),
        (BAR, {"between": "raised", "depth_mm": 2.0, "on": "base"}),
        (BAR, {"between": "flat", **INTO_OPENING}),
        (NOTCH, {"between": "flat"}),
        (NOTCH, {"between": "level"}),
        (NOTCH, {"between": "level", "depth_mm": 2.0}),
        (NOTCH, {"depth_mm": 2.0}),
        (disc(2.0), {"place": "window"}),
    ],
)
def test_what_goes_is_let_pass(motif: Motif, row: dict[str, Any]) -> None:
    check_between(model_of(motif, count=8, **row))


def offered(row: RowSpec, *goes: tuple[str, float | None], rows: tuple[RowSpec, ...] = ()) -> tuple[str, list[Any]]:
    """Return what is said, and (edge, depth) of each order that was tried; those in ``goes`` can be made."""
    seen: list[Any] = []
    spec = PieceSpec("hoop", D100, rows=(*rows, row))

    def can_make(order: PieceSpec) -> bool:
        last = order.rows[-1]
        seen.append((last.between, last.depth_mm))
        return (last.between, last.depth_mm) in goes

    fault = InputError("between level goes with corner motifs. Take --between flat.", where="hoop", code=NOT_OF_MOTIF)
    told = with_between_ways(fault, spec, KNIFE, can_make)
    assert (told.where, told.code) == ("hoop", NOT_OF_MOTIF)
    return told.say.removeprefix("between level goes with corner motifs. "), seen


def test_other_edges_are_tried_in_turn_first_with_the_depth_then_without() -> None:
    level = row_of(BAR, count=8, between="level", depth_mm=2.0)
    keeps = ("flat", 2.0), ("keep", 2.0), ("flat", None), ("keep", None)
    said, seen = offered(level, keeps[3])
    assert (said, seen) == ("Take --between keep without a depth.", [*keeps])
    assert offered(level, *keeps)[0] == "Take --between flat or --between keep."
    assert offered(level, keeps[1], keeps[2])[0] == "Take --between keep or --between flat without a depth."
    plain = row_of(BAR, count=8, between="level")
    assert offered(plain, ("flat", None)) == ("Take --between flat.", [("flat", None), ("keep", None)])


def test_of_several_rows_the_one_at_fault_is_named() -> None:
    level, good = row_of(BAR, count=8, between="level"), row_of(BAR, count=8, between="flat")
    assert offered(level, ("flat", None), rows=(good,))[0] == "Take --between flat in row 2."
    hollow = row_of(NOTCH, count=8, between="hollow", depth_mm=2.0)
    assert offered(hollow, ("level", 2.0))[0] == "Take --between level."


def test_where_no_other_edge_will_do_one_is_told_with_what_else_is_to_be_changed() -> None:
    level = row_of(BAR, count=8, between="level")
    assert offered(level)[0].endswith("another motif.")
    spec = PieceSpec("hoop", D100, rows=(level,))
    fault = InputError("no. Take more.", where="hoop")

    def is_small(order: PieceSpec) -> bool:
        return order.rows[0].between == "flat" and order.rows[0].scale == 0.6

    assert with_between_ways(fault, spec, KNIFE, is_small).say == "no. Take --between flat --scale 0.6."
