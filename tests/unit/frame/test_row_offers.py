"""Slits between motifs: named with what to type, each way typed back and found wide enough."""

from __future__ import annotations

import re
import shlex
from dataclasses import replace
from typing import Any

import pytest
from fixtures.plain_motifs import arch, disc, husk, leaf, scallop
from fixtures.rows import D100, KNIFE, model_of, row_of

from frameforge.finding import Finding
from frameforge.frame import row_offers
from frameforge.frame.fit import Fit
from frameforge.frame.make import make_piece
from frameforge.frame.model import RowModel
from frameforge.frame.row_offers import touching_words, ways_to_gap
from frameforge.frame.spec import PieceSpec, RowSpec, Size, Unknown
from frameforge.frame.ways import Way
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.motif.motif import Motif
from frameforge.tolerances import GAP_SLACK_MM

SMALL = Size(57.15, 57.15)


def slits(row: RowSpec, size: Size | Unknown, opening: Size | None = None) -> list[Finding]:
    """Return what is told of the row's gaps, the first of all that are told in the same words."""
    piece = make_piece(PieceSpec("seal", size, opening=opening, rows=(row,)), KNIFE)
    found = [finding for finding in piece.findings if finding.code in ("narrow-slot", "thin-web")]
    return list({finding.say: finding for finding in reversed(found)}.values())


Order = tuple[RowSpec, Size | Unknown, Size | None]


def typed(words: str, row: RowSpec, size: Size | Unknown, opening: Size | None) -> Order:
    """Return row, size and opening with options laid over them as they would be typed."""
    options = shlex.split(re.sub(r"\([^)]*\)", "", words))
    for flag, value in zip(options[::2], options[1::2], strict=True):
        number: Any = float(value.removesuffix("mm")) if value[0].isdigit() and "x" not in value else value
        if flag in ("--size", "--opening"):
            sides = [float(side) for side in value.removesuffix("mm").split("x")]
            size = Size(sides[0], sides[-1]) if flag == "--size" else size
            opening = Size(sides[0], sides[-1]) if flag == "--opening" else opening
        else:
            key = {"--gap": "gap_mm", "--foot-gap": "foot_gap_mm"}.get(flag, flag.removeprefix("--"))
            changed: dict[str, Any] = {key: int(number) if key == "count" else number}
            row = replace(row, **changed)
    return row, size, opening


CASES: list[tuple[str, RowSpec, Size | Unknown, Size | None, int]] = [
    ("message 8", row_of(scallop(), count=14), SMALL, None, 3),
    ("oval", row_of(arch(), count=24, spread="equal-arc"), Size(150, 100), None, 2),
    ("opening", row_of(arch(6.0), count=25, place="in"), Size(150, 150), Size(103, 103), 2),
    ("gap stated", row_of(arch(), gap_mm=0.5, count="most"), Size(106.5, 106.5), None, 1),
    ("size found", row_of(arch(), gap_mm=0.5, count=16), "find", None, 2),
    ("scale found", row_of(arch(), gap_mm=0.5, count=16, scale="find"), D100, None, 2),
    ("foot gap stated", row_of(arch(), foot_gap_mm=0.5, count=16, scale="find"), D100, None, 1),
    ("bellies", row_of(leaf(), gap_mm=0.5, count=20), "find", None, 1),
    ("webs", row_of(disc(2.0), count=63, place="window"), D100, None, 2),
]


@pytest.mark.parametrize(("row", "size", "opening", "count"), [c[1:] for c in CASES], ids=[c[0] for c in CASES])
def test_every_way_out_of_a_slit_holds_when_typed(
    row: RowSpec, size: Size | Unknown, opening: Size | None, count: int
) -> None:
    (found,) = slits(row, size, opening)
    assert found.measured is not None
    assert found.limit == (KNIFE.least_web_mm if row.place == "window" else KNIFE.least_slot_mm)
    ways = re.split(r", | or ", found.say.split(" Take ")[1].removesuffix("."))
    assert len(ways) == count
    for way in ways:
        assert slits(*typed(way, row, size, opening)) == []


def test_the_message_names_how_many_and_the_narrowest() -> None:
    (found,) = slits(row_of(scallop(), count=14), SMALL)
    assert found.say == (
        "14 slits of 0.73 mm between the scallops, this card needs 1.0 mm. "
        "Take --gap 0 --scale find (they touch), --count 13 (1.72 mm) or --size 58.4mm."
    )


@pytest.mark.parametrize("motif", [leaf, husk])
def test_motifs_that_would_touch_above_their_feet_are_not_told_to_touch(motif: Any) -> None:
    """Bellies that touch hang together in a point and leave holes below: no way out."""
    (found,) = slits(row_of(motif(), gap_mm=0.6, count=14), "find")
    assert "they touch" not in found.say


def test_a_count_that_was_worked_out_is_written_into_the_offer() -> None:
    found = slits(row_of(arch(), count="most", foot_gap_mm=0.6), Size(100.9, 100.9))
    assert all("--gap 0" not in finding.say for finding in found)


def test_a_gap_of_the_limit_is_no_slit() -> None:
    assert slits(row_of(arch(), gap_mm=KNIFE.least_slot_mm, count=16), "find") == []


def test_motifs_of_which_one_side_only_ends_at_its_foot_are_not_told_to_touch() -> None:
    """A block that overhangs its foot by 5 mm on the left: the foot's end is nearest on one side, the overhang on the
    other."""
    sides = {"even": (-3, 3), "left": (-8, 3), "right": (-3, 8)}
    told = {}
    for name, (left, right) in sides.items():
        block = Motif("block", (Region(rectangle(left, 0, right, 5)),), 6.0)
        model = model_of(block, count=8)
        told[name] = touching_words(model, Fit(D100, 8, 1.0), model.layout(D100, 8, 1.0))
    assert told == {"even": "--gap 0 --scale find (they touch)", "left": None, "right": None}


@pytest.mark.parametrize(
    ("more", "of_found_size", "words"),
    [
        ({"count": 16}, False, "--gap 0 --scale find (they touch)"),
        ({"count": 16}, True, "--gap 0 --scale find (they touch)"),
        ({"count": "most"}, False, "--count 16 --gap 0 --scale find (they touch)"),
        ({}, False, "--count 16 --gap 0 --scale find (they touch)"),
        ({"count": 16, "gap_mm": 0.5}, False, None),
        ({"count": 16, "gap_mm": 0.5}, True, "--gap 0 (they touch)"),
        ({"count": 16, "gap_mm": 0.5, "scale": "find"}, False, "--gap 0 (they touch)"),
        ({"count": 16, "gap_mm": 0.5, "foot_mm": "find"}, False, "--gap 0 (they touch)"),
        ({"count": 16, "gap_mm": 0.5, "foot_mm": 16.0}, False, None),
        ({"count": 16, "foot_mm": 16.0}, False, None),
        ({"count": 16, "foot_gap_mm": 0.5}, True, None),
        ({"count": 16, "place": "window"}, False, None),
        ({"count": 16, "place": "across"}, False, None),
    ],
)
def test_what_to_type_so_that_they_touch(more: dict[str, Any], words: str | None, *, of_found_size: bool) -> None:
    model = model_of(arch(), size="find" if of_found_size else D100, **more)
    assert touching_words(model, Fit(D100, 16, 1.0), model.layout(D100, 16, 1.0)) == words


def test_of_gaps_that_differ_nothing_is_told_to_touch() -> None:
    model = model_of(arch(), count=16, spread="equal-arc")
    oval = Size(110, 100)
    assert touching_words(model, Fit(oval, 16, 1.0), model.layout(oval, 16, 1.0)) is None


def ways(model: RowModel, count: int, wanted_mm: float, *, least: float | None = None) -> list[Way]:
    """Return the ways to gaps of so many mm; ``least`` is what they shall hold, the same where it is not said."""
    least = wanted_mm if least is None else least
    return ways_to_gap(
        model, Fit(D100, count, 1.0), wanted_mm, lambda _, __, made: (made.gap_mm or 0.0) >= least - GAP_SLACK_MM
    )


def test_where_no_gap_is_stated_a_count_and_a_size_are_offered() -> None:
    assert ways(model_of(arch(), count=18), 18, 2.0) == [
        Way("--count 17 (2.41 mm)", row={"count": 17}),
        Way("--size 103.6mm", piece={"size": Size(103.6, 103.6)}),
    ]
    assert ways(model_of(arch(), count=18), 18, 2.0, least=2.4) == [Way("--count 17 (2.41 mm)", row={"count": 17})]
    assert ways(model_of(arch(), count=18), 18, 2.0, least=9.0) == []


def test_of_stated_gaps_the_first_that_holds_is_offered() -> None:
    (way,) = ways(model_of(arch(), count="most", gap_mm=0.5), 19, 2.0)
    assert way == Way("--gap 2mm", row={"gap_mm": 2.0})
    by_foot = model_of(arch(), count="most", foot_gap_mm=0.5)
    (way,) = ways(by_foot, 19, 1.0)
    assert way.words == f"--foot-gap {way.row['foot_gap_mm']:g}mm"
    assert way.row["foot_gap_mm"] >= 0.5


def test_ways_are_of_the_row_that_they_are_thought_for() -> None:
    model = model_of(arch(), count=18)
    for rows, index in (((model.row, row_of(leaf())), 0), ((row_of(leaf()), model.row), 1), ((row_of(leaf()),), 0)):
        found = ways(RowModel(replace(model.spec, rows=rows), model.row, KNIFE), 18, 2.0)
        assert [way.index for way in found] == [index, index]


def test_no_count_is_offered_where_the_size_is_to_be_found_or_none_smaller_holds() -> None:
    assert [way.words.split()[0] for way in ways(model_of(arch(), count=18, size="find"), 18, 2.0)] == ["--size"]
    assert [way.words.split()[0] for way in ways(model_of(arch(), count=17), 17, 2.0)] == ["--size"]
    assert [way.words.split()[0] for way in ways(model_of(arch(), count=18), 18, 300.0)] == ["--size"]


def test_of_foot_gaps_five_are_tried_from_what_is_short_on(monkeypatch: pytest.MonkeyPatch) -> None:
    """19 arches are .465 mm apart, foot to foot: 1 mm wants .535 more than the .5 that is stated."""
    tried: list[object] = []
    monkeypatch.setattr(row_offers, "_holds", lambda _, way, __: tried.append(way.row["foot_gap_mm"]))
    assert ways(model_of(arch(), count=19, foot_gap_mm=0.5), 19, 1.0) == []
    assert tried == [1.1, 1.2, 1.3, 1.4, 1.5]


@pytest.mark.parametrize(
    ("right", "left", "are"), [(0, 0, True), (0.04, 0.04, True), (0.06, 0, False), (0, 0.06, False)]
)
def test_neighbours_are_nearest_at_their_feet_up_to_a_twentieth_of_a_mm(
    right: float, left: float, *, are: bool
) -> None:
    layout = model_of(arch(), count=16).layout(D100, 16, 1.0)
    moved = tuple(gap and replace(gap, on_a=gap.on_a + right, on_b=gap.on_b - left) for gap in layout.gaps)
    assert row_offers._are_nearest_at_feet(replace(layout, gaps=moved)) is are
    assert row_offers._are_nearest_at_feet(replace(layout, gaps=(None, *moved[1:]))) is are
