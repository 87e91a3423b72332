"""Rows that tie or drop loose parts: in all places, alike in all repeats, told; and what cannot be helped so."""

from __future__ import annotations

from typing import Any

import pytest
from fixtures.plain_motifs import arch, disc
from fixtures.rows import D100, KNIFE, row_of

from frameforge.errors import GeometryError, InputError
from frameforge.frame.make import make_piece
from frameforge.frame.piece import Piece
from frameforge.frame.spec import SEATS, Ornament, PieceSpec, RowSpec, Seat, Size
from frameforge.geometry.affine import Affine
from frameforge.geometry.measure import area_mm2
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle
from frameforge.motif.motif import Motif

OVAL = Size(150, 100)


def lantern() -> Motif:
    """Return a frame of 10 x 14 mm, foot 10 mm, with an island of 4 mm in its window and a dot of 3 mm on top."""
    island = rectangle(-2, 5, 2, 9)
    window = Region(rectangle(-4, 2, 4, 12), (island.reversed(),))
    join = Region(rectangle(-5, 0, 5, 14)), Region(circle(16.5j, 1.5))
    return Motif("lantern", join, 10.0, (), (window,))


def made(row: RowSpec, **more: object) -> Piece:
    piece = make_piece(PieceSpec("hoop", **{"size": D100, "opening": None, **more}, rows=(row,)), KNIFE)  # type: ignore[arg-type]
    assert isinstance(piece.region, Region)
    return piece


def said(piece: Piece) -> str:
    return " ".join(finding.say for finding in piece.findings if finding.code == "took")


def slow(*values: object) -> Any:
    return pytest.param(*values, marks=pytest.mark.slow)


@pytest.mark.parametrize(
    ("row", "more"),
    [
        ({}, {}),
        ({}, {"size": OVAL}),
        ({"place": "in"}, {"opening": Size(80, 80), "size": Size(130, 130)}),
        slow({"place": "in"}, {"opening": Size(120, 80), "size": Size(170, 130)}),
        slow({"place": "across"}, {"size": OVAL}),
        slow({"inset_mm": 1.0}, {}),
        slow({"seat": "bent"}, {}),
        slow({"seat": "bent"}, {"size": OVAL}),
        slow({"is_mirrored_every_other": True}, {}),
        slow({"scale": "find", "gap_mm": 2.0}, {"size": OVAL}),
        slow({"between": "hollow", "depth_mm": 1.0}, {}),
    ],
)
def test_a_drawing_of_three_parts_is_made_whole_in_any_place(row: dict[str, Any], more: dict[str, Any]) -> None:
    order = row_of(lantern(), count=8, **row)
    tied = made(RowSpec(**{**_fields(order), "loose": "tie"}), **more)
    dropped = made(RowSpec(**{**_fields(order), "loose": "drop"}), **more)
    assert "each lantern, by" in said(tied)
    assert "loose part" in said(dropped)
    if row.get("place") != "across":
        assert area_mm2(tied.region) > area_mm2(dropped.region) + 8 * 16
    assert tied.rows[0].count == dropped.rows[0].count == 8


def _fields(row: RowSpec) -> dict[str, Any]:
    return {name: getattr(row, name) for name in row.__dataclass_fields__}


def test_what_is_dropped_is_all_that_is_missing() -> None:
    """8 lanterns without dot and island: the card of the frames alone, to the bit."""
    whole = lantern()
    frame = Motif("lantern", whole.join[:1], 10.0, (), (Region(whole.window[0].outer),))
    dropped = made(row_of(whole, count=8, loose="drop"))
    assert area_mm2(dropped.region) == pytest.approx(area_mm2(made(row_of(frame, count=8)).region), abs=1e-9)
    assert said(dropped) == "left out 2 loose parts of each lantern, which nothing holds."


def test_ties_are_told_and_alike_in_every_repeat() -> None:
    """The island hangs on one tie through its window, the dot on one of 1 mm; the holes of all frames are equal."""
    tied = made(row_of(lantern(), count=8, loose="tie"), size=OVAL)
    assert said(tied) == "tied 2 loose parts of each lantern, by 2 ties 1.5 mm wide."
    areas = sorted(area_mm2(Region(hole.reversed())) for hole in tied.region.holes)
    assert len(areas) == 8
    assert areas[-1] - areas[0] < 1e-6


@pytest.mark.parametrize("seat", [SEATS[0], slow(SEATS[1])])
def test_a_leaning_motif_is_tied_before_it_leans(seat: Seat) -> None:
    row = RowSpec((Ornament(lantern(), 1.0, 20.0),), count=8, loose="tie", seat=seat)
    assert "tied 2 loose parts" in said(made(row))
    dropped = RowSpec((Ornament(lantern(), 1.0, -20.0),), count=8, loose="drop", seat=seat)
    assert "left out 2 loose parts" in said(made(dropped))


def test_what_holds_stays_as_it_is() -> None:
    """Two feet that both stand on the edge are no loose parts, nor is anything of an arch."""
    feet = Motif("feet", (Region(rectangle(-6, 0, -2, 5)), Region(rectangle(2, 0, 6, 5))), 12.0)
    for motif in (feet, arch()):
        kept = made(row_of(motif, count=8))
        for loose in ("tie", "drop"):
            piece = made(row_of(motif, count=8, loose=loose))
            assert piece.region == kept.region
            assert said(piece) == said(kept)


def test_of_a_pattern_each_motif_has_its_own() -> None:
    piece = made(row_of(lantern(), arch(), count=8, loose="drop"))
    assert said(piece) == "left out 2 loose parts of each lantern, which nothing holds."
    assert [len(entry.motif.join) for entry in piece.patterns[0]] == [1, 1]


def test_windows_have_no_loose_parts() -> None:
    with pytest.raises(InputError, match=r"--loose tie is for parts that are joined on.*Leave it out\."):
        made(row_of(lantern(), count=6, place="window", loose="tie"))


@pytest.mark.slow
def test_a_motif_that_falls_off_as_a_whole_is_refused_all_the_same() -> None:
    (region,) = disc(4.0).join
    coin = Motif("coin", (region.transformed(Affine.from_move(0.4j)),), 0.0)
    for loose in ("tie", "drop"):
        with pytest.raises(GeometryError, match="falls into 7 parts") as caught:
            made(row_of(coin, count=6, loose=loose))
        assert "--loose" not in str(caught.value)
