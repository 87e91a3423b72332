"""Pieces made: places, parts, holes, order of rows; and what is refused, with numbers and ways out that hold."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from typing import Any

import pytest
import shapely
from fixtures.plain_motifs import arch, disc, husk, leaf, plain_rectangle, pod

from frameforge.card.preset import load_preset
from frameforge.errors import FrameforgeError, GeometryError, InputError
from frameforge.frame import last_ways
from frameforge.frame import make as module
from frameforge.frame.layout import measured
from frameforge.frame.make import can_make, make_piece
from frameforge.frame.model import RowModel
from frameforge.frame.piece import Piece
from frameforge.frame.row_limits import standing_in_each_other
from frameforge.frame.spec import FlangeSpec, HoleSpec, Ornament, PieceSpec, RowSpec, Size
from frameforge.frame.ways import RefusedError, Way
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle
from frameforge.motif.motif import Motif

KNIFE = load_preset("card-240-knife")
D100 = Size(100, 100)


def test_motifs_that_reach_out_by_metres_are_refused_with_a_scale_that_does_not() -> None:
    """Three spokes of 9 m: the tips of two of them are sqrt(3) times 9 m apart, 6 m is the most."""
    spokes = row(plain_rectangle(8.0, 9000.0), count=3)
    with pytest.raises(GeometryError) as caught:
        make_piece(PieceSpec("hoop", D100, rows=(spokes,)), KNIFE)
    say = str(caught.value)
    assert re.match(
        r"hoop: 156\d\d(\.\d)? mm across, 6000 mm is the most that can be made\. Take --scale 0\.\d+, or ", say
    )
    scale = float(say.split("--scale ")[1].split(",")[0])
    box = bounds(make_piece(PieceSpec("hoop", D100, rows=(replace(spokes, scale=scale),)), KNIFE).region)
    assert 5400 < max(box.width_mm, box.height_mm) <= 6000
    with pytest.raises(GeometryError, match=r"the most that can be made\. Draw the motif smaller\.$"):
        make_piece(PieceSpec("hoop", D100, rows=(spokes, row(arch(), place="window", count=3))), KNIFE)


def test_motifs_on_a_foot_of_nearly_nothing_are_refused_before_they_are_put_together() -> None:
    """Bars .001 mm wide and 8 mm high, on feet as wide as 9 mm: 72 m high."""
    bars = row(plain_rectangle(0.001, 8.0), count=3, foot_mm=9.0)
    with pytest.raises(GeometryError, match=r"^hoop: the rectangle would be 72000 mm across; a whole piece"):
        make_piece(PieceSpec("hoop", D100, rows=(bars,)), KNIFE)


def test_an_inset_past_the_curve_says_what_to_do() -> None:
    spec = PieceSpec("hoop", Size(60, 20), rows=(row(disc(), count=4, place="window", inset_mm=12.0),))
    with pytest.raises(FrameforgeError, match=r"it can be less than 3\.33 mm\. Take (--|a larger size)"):
        make_piece(spec, KNIFE)


def row(*motifs: Motif, **more: object) -> RowSpec:
    return RowSpec(tuple(Ornament(m) for m in motifs), **more)  # type: ignore[arg-type]


def make(*rows: RowSpec, size: Size = D100, **more: object) -> Piece:
    return make_piece(PieceSpec("hoop", size, rows=rows, **more), KNIFE)  # type: ignore[arg-type]


def refused(*rows: RowSpec, size: Size = D100, **more: object) -> str:
    with pytest.raises(FrameforgeError) as caught:
        make(*rows, size=size, **more)
    return str(caught.value)


def test_a_plain_disc_needs_no_row() -> None:
    piece = make()
    assert area_mm2(piece.region) == pytest.approx(math.pi * 2500, abs=1e-9)
    assert piece.rows == ()


def test_one_motif_on_a_tag() -> None:
    piece = make(row(leaf(), count=1), size=Size(40, 40))
    result = piece.rows[0]
    assert (result.count, result.gap_mm, result.gap_max_mm) == (1, None, None)
    assert bounds(piece.region).top > 35


def test_the_order_of_rows_does_not_matter() -> None:
    outer, inner = row(arch(), count=12), row(disc(2), count=20, place="window", inset_mm=8.0)
    assert make(outer, inner).region == make(inner, outer).region


def test_default_is_as_many_as_go_with_two_mm() -> None:
    piece = make(row(arch()))
    assert piece.rows[0].count == 17
    assert [f.code for f in piece.findings] == ["took"]


def test_a_row_in_the_opening_and_windows_in_the_rim() -> None:
    piece = make(row(husk(), count=12, place="in"), row(disc(2.0), count=16, place="window"), opening=Size(70, 70))
    assert len(piece.region.holes) == 17
    middles = [r.placement.apply(2j) for r in piece.rows[1].repeats]
    assert all(abs(m) == pytest.approx(42.5, abs=1e-9) for m in middles)


def test_a_rim_is_an_opening_of_even_width() -> None:
    assert make(rim_mm=12.0).region == make(opening=Size(76, 76)).region


def test_a_hanging_hole_keeps_its_margin_or_the_middle_of_the_rim() -> None:
    solid = make(holes=(HoleSpec(4.0),))
    assert bounds(solid.region.holes[0]).top == pytest.approx(48)
    rim = make(holes=(HoleSpec(4.0, 90.0),), opening=Size(84, 84))
    hole = min(rim.region.holes, key=lambda o: bounds(o).width_mm)
    assert bounds(hole).center.real == pytest.approx(46)
    assert "Make the hole 5 mm or less" in refused(holes=(HoleSpec(6.0),), opening=Size(84, 84))


def test_positions_count_from_the_top_whatever_the_start() -> None:
    piece = make(row(arch(), count=12, start_deg=100.0))
    directions = {r.position: r.direction_deg for r in piece.rows[0].repeats}
    assert directions[1] == pytest.approx(10)
    assert directions[4] == pytest.approx(100)


@pytest.mark.parametrize(("word", "position"), [("top", 1), ("right", 4), ("bottom", 7), ("left", 10)])
def test_sides_can_be_skipped_by_name(word: str, position: int) -> None:
    piece = make(row(arch(), count=12, skip=(word,)))
    assert set(range(1, 13)) - {r.position for r in piece.rows[0].repeats} == {position}


def test_a_zone_kept_free_holds_no_part_of_a_motif() -> None:
    piece = make(row(leaf(), count=16, keep_free=(60.0, 0.0), free="leave"))
    for repeat in piece.rows[0].repeats:
        corners = [repeat.placement.apply(complex(x, y)) for x in (-6.5, 6.5) for y in (4.0, 8.0)]
        assert all(abs(math.degrees(math.atan2(c.real, c.imag))) > 29 for c in corners)


def test_steep_seats_are_named() -> None:
    piece = make(row(plain_rectangle(60, 40), count=2, start_deg=90.0), size=Size(150, 70))
    steep = [f for f in piece.findings if f.code == "steep-seat"]
    assert len(steep) == 2
    assert "o'clock" in steep[0].where


REFUSED = [
    ("too many", (row(arch(), count=18, gap_mm=2.0),), {},
     "hoop: 18 arches do not go round a 100 mm circle with gaps of 2 mm; 17 do. "
     "Take --count 17 (gap 2.41 mm), --size 103.6mm or --scale 0.96."),
    ("four given", (row(arch(), count=16, gap_mm=5.0),), {},
     "hoop: size 100 mm, 16 arches at full scale and a gap of 5 mm cannot all hold; the gap comes to 3.56 mm. "
     "Leave out one of them, or take --size 107.3mm."),
    ("odd", (row(pod(), count=11, is_mirrored_every_other=True),), {},
     "hoop: every-other mirroring needs an even count; with 11, two neighbours lean the same way. "
     "Take 10 (gap 9.22 mm) or 12 (gap 3.99 mm)."),
    ("overlap", (row(arch(), count=25),), {},
     "hoop: 25 arches do not go round a 100 mm circle with gaps of 2 mm; 17 do. "
     "Take --count 17 (gap 2.41 mm), --size 143.6mm or --scale 0.65."),
    ("opening", (), {"opening": Size(98, 98)},
     "hoop: an opening of 98 mm leaves a rim of 1 mm, this card needs 1.5 mm. Take --opening 97mm or less."),
    ("no rim", (), {"opening": Size(120, 120)},
     "hoop: an opening of 120 mm takes all of a 100 mm circle, no rim is left. Take --opening 97mm or less."),
    ("root", (row(plain_rectangle(30), count=4),), {"opening": Size(96, 96)},
     "hoop: the roots of the rectangles go 2.6 mm into the rim and come out at the opening. "
     "Take --opening 94.7mm or --scale 0.86."),
]  # fmt: skip


@pytest.mark.parametrize(("rows", "more", "line"), [case[1:] for case in REFUSED], ids=[case[0] for case in REFUSED])
def test_refusals_word_for_word(rows: tuple[RowSpec, ...], more: dict[str, Any], line: str) -> None:
    assert refused(*rows, **more) == line


def _plain(motif: Motif, **more: object) -> Piece:
    return make(row(motif, **more))


def test_every_offer_of_a_refusal_works() -> None:
    """Too many arches: the count, size and scale that are offered make a piece, and no slit is named."""
    line = refused(row(arch(), count=18, gap_mm=2.0))
    size = float(re.search(r"--size ([\d.]+)mm", line)[1])  # type: ignore[index]
    scale = float(re.search(r"--scale (\d.\d+)", line)[1])  # type: ignore[index]
    for piece in (
        _plain(arch(), count=17),
        make(row(arch(), count=18), size=Size(size, size)),
        _plain(arch(), count=18, scale=scale),
    ):
        assert piece.rows[0].gap_mm is not None
        assert piece.rows[0].gap_mm >= 2
        assert not piece.findings


def test_a_motif_wider_than_the_base_is_refused_with_ways_out() -> None:
    line = refused(row(plain_rectangle(120), count=1))
    size = float(re.search(r"--size ([\d.]+)mm", line)[1])  # type: ignore[index]
    scale = float(re.search(r"--scale (\d.\d+)", line)[1])  # type: ignore[index]
    assert make(row(plain_rectangle(120), count=1), size=Size(size, size)).rows[0].count == 1
    assert make(row(plain_rectangle(120), count=1, scale=scale)).rows[0].count == 1


def test_a_piece_that_falls_apart_is_refused() -> None:
    """A window row as wide as the rim cuts it into bits."""
    wide = row(plain_rectangle(4, 30), count=6, place="window", inset_mm=10.0)
    assert "falls into" in refused(wide, opening=Size(70, 70))


@pytest.mark.parametrize(
    ("more", "part"),
    [({"count": 0}, "1 to 2000"), ({"count": 10**6}, "1 to 2000"), ({"gap_mm": -1.0}, "at 0 they touch"),
     ({"gap_mm": math.nan}, "at 0 they touch"), ({"scale": 0.05}, "Take --scale 0.1 or more"),
     ({"scale": 0.0}, "above 0"), ({"foot_mm": 0.0}, "above 0"), ({"scale": 1.0, "foot_mm": 3.0}, "twice"),
     ({"gap_mm": 1.0, "foot_gap_mm": 1.0}, "Leave one of them out"), ({"count": 12, "skip": (13,)}, "1 to 12"),
     ({"count": "most", "scale": "find"}, "cannot both be found"), ({"place": "in", "on": "opening"}, "there is none")],
)  # fmt: skip
def test_bad_numbers_get_their_range(more: dict[str, object], part: str) -> None:
    assert part in refused(row(arch(), **more))


def test_a_size_to_find_needs_count_and_gap() -> None:
    with pytest.raises(InputError, match="Write a gap"):
        make_piece(PieceSpec("x", "find", rows=(row(arch(), count=16),)), KNIFE)
    with pytest.raises(InputError, match="Write a count"):
        make_piece(PieceSpec("x", "find", rows=(row(arch(), gap_mm=2.0),)), KNIFE)
    with pytest.raises(InputError, match="needs a row"):
        make_piece(PieceSpec("x", "find"), KNIFE)


def test_motifs_that_meet_past_their_neighbours_are_found() -> None:
    """Forced to stand on three spokes close together, the first and third bar cross."""
    order = row(plain_rectangle(4, 10), count=6)
    model = RowModel(PieceSpec("x", D100, rows=(order,)), order, KNIFE)
    readies, track = model.readies(6, 1.0), model.track(D100, 1.0)
    close = measured(track, readies, (0.0, 0.02, 0.04, 2.0, 3.0, 4.0), (True,) * 6, None)
    assert standing_in_each_other(close) == [(0, 2)]
    assert standing_in_each_other(model.layout(D100, 6, 1.0)) == []


def test_card_of_which_a_last_step_leaves_nothing_is_refused() -> None:
    order = PieceSpec("hoop", D100)
    halved = Region(circle(0, 25))
    assert make_piece(order, KNIFE, lambda regions: (halved,)).region is halved
    with pytest.raises(GeometryError, match=r"^hoop: nothing is left of the card\. Make the opening or the windows"):
        make_piece(order, KNIFE, lambda regions: ())


def test_a_flange_is_part_of_the_piece() -> None:
    """A circumference of 314.16 mm: 31 teeth about 10 mm wide; they stand 8 mm proud and lean in."""
    piece = make_piece(PieceSpec("lid", D100, flange=FlangeSpec(8.0)), KNIFE)
    assert piece.flange
    assert piece.flange.teeth == 31
    assert math.pi * 50**2 < area_mm2(piece.region) < math.pi * 58**2


def test_a_mirrored_motif_is_the_mirror_image() -> None:
    """A pod is higher on one side: mirrored, its row is the image of the row in the upright axis."""

    def outline(*, is_mirrored: bool) -> shapely.Polygon:
        order = RowSpec((Ornament(pod(), is_mirrored=is_mirrored),), count=1)
        return to_polygon(make_piece(PieceSpec("hoop", D100, rows=(order,)), KNIFE).region)

    turned = shapely.transform(outline(is_mirrored=True), lambda points: points * [-1, 1])
    assert shapely.symmetric_difference(turned, outline(is_mirrored=False)).area < 0.01
    assert shapely.symmetric_difference(outline(is_mirrored=True), outline(is_mirrored=False)).area > 1


def test_motifs_that_face_in_from_the_base_stand_on_its_edge_and_need_a_hole_to_reach_into() -> None:
    """Within the card they add nothing."""
    inner = row(plain_rectangle(4, 8), count=6, place="in", on="base")
    piece = make_piece(PieceSpec("hoop", D100, opening=Size(60, 60), rows=(inner,)), KNIFE)
    assert area_mm2(piece.region) == pytest.approx(math.pi * (50**2 - 30**2), abs=1e-6)
    assert "needs a hole to reach into" in refused(inner)


@pytest.mark.parametrize(
    ("say", "ways", "line"),
    [
        ("There is no room.", ["--count 3"], "There is no room. Take --count 3."),
        ("There is no room.", [], "There is no room. Take a larger size, or a smaller motif."),
        ("No room. Make it smaller.", ["--count 3", "--scale 0.5"],
         "No room. Make it smaller. For example --count 3 or --scale 0.5."),
        ("No room. Make it smaller.", [], "No room. Make it smaller."),
        ("no gap; take equal-arc.", ["--spread equal-arc"], "no gap; take equal-arc. For example --spread equal-arc."),
    ],
)  # fmt: skip
def test_ways_are_what_to_do_or_an_example_of_what_is_said_already(say: str, ways: list[str], line: str) -> None:
    assert module._said_with(say, ways) == line


@pytest.mark.parametrize(
    ("fault", "line"),
    [
        (GeometryError("no seat.", where="x", code="no-seat", width_mm=3.0), "x: no seat. Take --count 3."),
        (GeometryError("no seat. Take --scale 0.4.", where="x", code="no-seat"), "x: no seat. Take --scale 0.4."),
        (GeometryError("no card.", where="x", code="loose"), "x: no card."),
    ],
)
def test_refusals_of_fits_without_a_way_get_the_last_ones(
    fault: GeometryError, line: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(last_ways, "last_ways", lambda *_: ["--count 3"])
    spec = PieceSpec("hoop", D100)
    told = module.with_ways_out(fault, spec, spec, KNIFE)
    assert (str(told), told.code) == (line, fault.code)
    assert told.numbers == fault.numbers


def test_an_order_that_contradicts_itself_comes_before_ways_that_were_not_found(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(last_ways, "last_ways", lambda *_: [])
    against = PieceSpec("hoop", D100, rows=(row(arch(), scale=1.0, foot_mm=3.0),))
    ways = [Way("--size 90mm", piece={"size": Size(90, 90)})]
    told = module.with_ways_out(RefusedError("no room.", ways, where="hoop"), against, against, KNIFE)
    assert isinstance(told, InputError)
    assert "twice" in str(told)
    plain = PieceSpec("hoop", D100, rows=(row(arch(), count=12),))
    told = module.with_ways_out(RefusedError("no room.", ways, where="hoop"), plain, plain, KNIFE)
    assert str(told) == "hoop: no room. Take --size 90mm."


def test_whether_an_order_can_be_made() -> None:
    def can(*rows: RowSpec, size: Size = D100, **more: object) -> bool:
        return can_make(PieceSpec("hoop", size, rows=rows, **more), KNIFE)  # type: ignore[arg-type]

    assert can()
    assert can(row(arch(), count=12))
    assert not can(row(arch(), count=40))
    assert not can(row(arch(), scale=1.0, foot_mm=3.0))
    assert not can(row(plain_rectangle(4, 30), count=6, place="window", inset_mm=10.0), opening=Size(70, 70))
    assert not can(row(plain_rectangle(8.0, 9000.0), count=3))


def test_a_hole_is_told_with_where_it_lies() -> None:
    (place,) = make(holes=(HoleSpec(4.0, 90.0),)).holes
    assert place.middle == pytest.approx(46 + 0j, abs=1e-6)
    assert (place.diameter_mm, place.at_deg) == (4.0, 90.0)


def test_gaps_that_cannot_be_made_equal_are_refused_with_the_spreads_that_hold() -> None:
    order = PieceSpec("x", Size(150, 100), rows=(row(arch(), leaf(), count=8),))
    fault = GeometryError("the gaps of 8 motifs could not be made equal.", code="no-equal-gap", count=8)
    told = module.with_ways_out(fault, order, order, KNIFE)
    assert told.say == (
        "the gaps of 8 motifs could not be made equal. Take --spread equal-arc or --spread equal-chord."
    )
    for spread in ("equal-arc", "equal-chord"):
        assert make(row(arch(), leaf(), count=8, spread=spread), size=Size(150, 100)).region
    two = replace(order, rows=(row(arch(), count=8, spread="equal-arc"), row(leaf(), count=9, place="window")))
    assert module._other_spreads(two)[0].words == "--spread equal-arc in row 2"
