"""A rest filled with a smaller motif."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest
from fixtures.plain_motifs import arch, disc, drop, husk, leaf, plain_rectangle, pod, scallop
from fixtures.rows import D100, KNIFE, row_of

from frameforge.errors import FrameforgeError, GeometryError, InputError
from frameforge.frame.fit import Fit
from frameforge.frame.make import make_piece
from frameforge.frame.model import RowModel
from frameforge.frame.piece import Piece
from frameforge.frame.rest_fill import relaid, stepped
from frameforge.frame.spec import PieceSpec, Size
from frameforge.geometry.measure import area_mm2

OVAL = Size(150, 100)


def made(*motifs: object, size: Size = D100, opening: Size | None = None, **more: object) -> Piece:
    row = row_of(*motifs, rest="filler", **more)  # type: ignore[arg-type]
    return make_piece(PieceSpec("hoop", size, opening=opening, rows=(row,)), KNIFE)


def test_the_filler_is_part_of_the_piece_and_told_as_a_row_of_its_own() -> None:
    piece = made(leaf(), size=OVAL, gap_mm=3.0, filler=scallop(), opening=Size(110, 60))
    (row,) = piece.rows
    assert (row.count, len(row.repeats)) == (25, 25)
    assert row.seam_gap_mm is not None
    assert round(row.seam_gap_mm, 6) == 12.187808
    assert (row.gap_mm, row.gap_max_mm) == pytest.approx((3, 3), abs=1e-9)
    assert row.filler is not None
    assert (row.filler.motif_name, row.filler.count, round(row.filler.scale, 6)) == ("scallop", 1, 0.849168)
    assert row.filler.start_deg == pytest.approx(180.0, abs=1e-9)
    assert (row.filler.gap_mm, row.filler.gap_max_mm) == pytest.approx((3, 3), abs=1e-9)
    speck = made(leaf(), size=OVAL, gap_mm=3.0, filler=plain_rectangle(3, 0.5), opening=Size(110, 60))
    assert 12 < area_mm2(piece.region) - area_mm2(speck.region) < 13


def test_repeats_and_filler_are_numbered_together_from_the_top() -> None:
    (row,) = made(plain_rectangle(18), gap_mm=2.0, filler=husk(), seam_deg=90.0).rows
    assert row.filler is not None
    numbers = {repeat.position for repeat in (*row.repeats, *row.filler.repeats)}
    assert numbers == set(range(1, 17))
    assert row.filler.repeats[0].position == 5
    assert row.pitch_deg == pytest.approx(math.degrees(2 * (math.asin(0.18) + math.asin(0.02))), abs=1e-9)


@pytest.mark.parametrize(
    ("motifs", "more", "count"),
    [
        ((husk(), drop()), {}, 28),
        ((pod(),), {"is_mirrored_every_other": True}, 12),
        ((arch(),), {"count": 14}, 14),
        ((plain_rectangle(10, 4),), {"place": "in", "opening": Size(76, 76)}, 17),
        ((disc(4),), {"place": "window", "inset_mm": 8.0, "gap_mm": 3.1}, 23),
        ((leaf(),), {"starts_with_gap": True, "size": OVAL}, 26),
        ((arch(),), {"between": "flat"}, 17),
        ((leaf(),), {"seat": "bent"}, 19),
    ],
    ids=[
        "pattern",
        "mirrored",
        "a stated count",
        "into an opening",
        "windows",
        "a gap opposite",
        "flat between",
        "bent",
    ],
)
def test_it_goes_with_other_ways_of_a_row(motifs: tuple[object, ...], more: dict[str, object], count: int) -> None:
    wanted = {"gap_mm": 2.0, "filler": scallop(), **more}
    (row,) = made(*motifs, **wanted).rows  # type: ignore[arg-type]
    assert row.count == count
    assert row.filler is not None
    assert (row.gap_mm, row.gap_max_mm) == pytest.approx((wanted["gap_mm"],) * 2, abs=1e-9)


def test_a_row_that_closes_needs_no_filler() -> None:
    size = Size(102.339179826692, 102.339179826692)
    (row,) = made(plain_rectangle(18), gap_mm=2.0, size=size).rows
    assert (row.count, row.filler) == (16, None)


def says(*motifs: object, **more: object) -> str:
    with pytest.raises(FrameforgeError) as caught:
        made(*motifs, **more)  # type: ignore[arg-type]
    assert isinstance(caught.value, InputError | GeometryError)
    return str(caught.value)


@pytest.mark.parametrize(
    ("more", "part"),
    [
        ({"filler": None}, "no motif is named to fill the 14.62 mm at the seam"),
        ({"skip": (1,)}, "Leave out skip or rest."),
        ({"keep_free": (30.0, 0.0)}, "Leave out keep_free or rest."),
        ({"spread": "equal-arc"}, "Leave out spread."),
        ({"scale": "find", "count": 12}, "where the scale is to be found the row closes without a rest"),
        ({"gap_mm": "find", "count": 12}, "where the gap is to be found"),
        ({"count": 40}, "40 arches do not go round a 100 mm circle with gaps of 2 mm; 17 do and leave 8.97 mm"),
        ({"count": 2}, "a rest lies between 3 repeats or more, not 2; 17 do"),
        ({"count": 15, "starts_with_gap": True}, "needs an even count, not 15; 16 do and leave 26.7"),
        ({"gap_mm": 2.4, "filler": husk()}, "no husk that this card can bear goes into the"),
        ({"start_deg": 15.0, "seam_deg": 90.0}, "Leave out the start or the seam."),
    ],
)
def test_what_does_not_go_together_is_said(more: dict[str, object], part: str) -> None:
    wanted = {"gap_mm": 2.0, "filler": husk(), **more}
    motif = plain_rectangle(18) if "filler" in more and more["filler"] is None else arch()
    assert part in says(motif, **wanted)


def test_on_an_edge_for_two_there_is_no_rest() -> None:
    assert "fewer than 3 rectangles go round a 100 mm circle" in says(plain_rectangle(94), gap_mm=2.0, filler=husk())


def test_a_size_to_be_found_leaves_no_rest() -> None:
    row = row_of(arch(), count=12, gap_mm=2.0, rest="filler", filler=husk())
    with pytest.raises(InputError, match="where the size is to be found the row closes"):
        make_piece(PieceSpec("hoop", "find", rows=(row,)), KNIFE)


def test_slits_beside_a_filler_are_told_with_the_gap_to_take() -> None:
    piece = made(arch(), gap_mm=0.5, filler=husk())
    found = [one for one in piece.findings if one.code == "narrow-slot"]
    assert len(found) == 19
    (finding,) = {one.say: one for one in found}.values()
    assert finding.say.startswith("19 slits of 0.5 mm between the arches, this card needs 1.0 mm. Take --gap 1mm")


def test_the_scale_that_keeps_roots_in_the_rim_is_that_of_the_row_as_it_is_filled_then() -> None:
    """The offered scale is typed back with the same filler, and the next larger one is refused."""
    order: dict[str, Any] = {"opening": Size(96, 96), "gap_mm": 2.0, "filler": scallop()}
    fault = says(plain_rectangle(27, 4), **order)
    scale = float(fault.rsplit("--scale ", 1)[1].removesuffix("."))
    assert made(plain_rectangle(27, 4), **order, scale=scale).rows[0].filler is not None
    assert "come out at the opening" in says(plain_rectangle(27, 4), **order, scale=scale + 0.01)


def test_refusals_of_fillers_word_for_word() -> None:
    assert says(plain_rectangle(18), gap_mm=2.0) == (
        'hoop: no motif is named to fill the 14.62 mm at the seam. Write filler, for example filler = "scallop".'
    )
    said = "no husk that this card can bear goes into the {} at the seam with {} of {} mm on both sides. "
    said += "Take another filler, or spread the rest."
    row = row_of(arch(), gap_mm=2.4, rest="filler", filler=husk())
    with pytest.raises(GeometryError) as caught:
        stepped(RowModel(PieceSpec("hoop", D100, rows=(row,)), row, KNIFE), Fit(D100, 17, 1.0))
    assert caught.value.code == "no-filler"
    gap = caught.value.numbers["seam_gap_mm"]
    assert caught.value.numbers == {"seam_gap_mm": gap, "wanted_mm": 2.4}
    assert caught.value.say == said.format(f"{math.floor(gap * 100) / 100:g} mm", "gaps", "2.4")


def test_a_filled_row_is_told_field_by_field() -> None:
    """Bars of 18 mm, 2 mm apart: 15 turns of 2 (asin .18 + asin .02); the filler stands opposite the start."""
    (row,) = made(plain_rectangle(18), gap_mm=2.0, filler=husk(), start_deg=30.0).rows
    filler = row.filler
    assert filler is not None
    turn = math.degrees(2 * (math.asin(0.18) + math.asin(0.02)))
    assert (row.count, row.spread, row.start_deg) == (15, None, pytest.approx(30.0))
    assert row.pitch_deg == pytest.approx(turn)
    assert row.seam_gap_mm == pytest.approx(100 * math.sin(math.radians(360 - 14 * turn) / 2 - math.asin(0.18)))
    assert (filler.count, filler.motif_name, filler.start_deg) == (1, "husk", 210.0)
    assert (filler.pitch_deg, filler.seam_gap_mm, filler.filler) == (None, None, None)
    assert len(filler.repeats) == 1
    assert filler.repeats[0].motif.name == "husk"
    assert all(repeat.motif.name == "rectangle" for repeat in row.repeats)
    assert filler.foot_gap_mm is not None
    assert filler.foot_gap_mm >= 2.0
    assert filler.gap_mm == pytest.approx(2.0, abs=1e-9)
    assert filler.scale != row.scale == 1.0
    (oval,) = made(plain_rectangle(18), size=OVAL, gap_mm=2.0, filler=husk()).rows
    assert oval.spread == "equal-gap"


def test_a_row_as_it_would_stand_at_another_scale() -> None:
    fit = Fit(D100, 12, 1.0)
    row = row_of(arch(), count=12)
    plain = RowModel(PieceSpec("hoop", D100, rows=(row,)), row, KNIFE)
    smaller = relaid(plain, fit, 0.5)
    assert smaller is not None
    assert len(smaller.seats) == 12
    assert smaller.readies[0].scale == 0.5
    rest = replace(row, rest="filler", gap_mm=2.0, count=None, foot_mm=16.0, filler=scallop())
    filled = RowModel(PieceSpec("hoop", D100, rows=(rest,)), rest, KNIFE)
    anew = relaid(filled, fit, 0.5)
    assert anew is not None
    assert {ready.motif.name for ready in anew.readies} == {"arch", "scallop"}
    assert len(anew.readies) > 20
    assert relaid(RowModel(filled.spec, replace(rest, filler=None), KNIFE), fit, 0.5) is None
