"""Pieces that fall apart: what is loose and where, and ways out that make a whole piece."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from fixtures.plain_motifs import arch, disc, plain_rectangle
from fixtures.rows import D100, KNIFE, row_of

from frameforge.errors import GeometryError
from frameforge.frame import loose as loose_module
from frameforge.frame.loose import falls_apart
from frameforge.frame.make import make_piece
from frameforge.frame.spec import PieceSpec, RowSpec, Size
from frameforge.frame.trying import spend
from frameforge.geometry.affine import Affine
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.motif.motif import Motif


def hovering() -> Motif:
    """Return a coin of 8 mm whose lowest point hovers .4 mm over the foot line."""
    (region,) = disc(4.0).join
    return Motif("coin", (region.transformed(Affine.from_move(0.4j)),), 0.0)


def refusal(*rows: RowSpec, opening: Size | None = None) -> GeometryError:
    with pytest.raises(GeometryError) as caught:
        make_piece(PieceSpec("hoop", D100, opening=opening, rows=rows), KNIFE)
    assert caught.value.code == "loose"
    return caught.value


def test_coins_that_hover_are_to_be_sunk_in() -> None:
    coins = row_of(hovering(), count=6)
    error = refusal(coins)
    assert "falls into 7 parts; the largest that falls off is 50.3 mm2 of coin" in str(error)
    inset = float(re.search(r"Take --inset ([\d.]+)mm", str(error))[1])  # type: ignore[index]
    assert inset == 0.5
    assert make_piece(PieceSpec("hoop", D100, rows=(replace(coins, inset_mm=inset),)), KNIFE).rows[0].count == 6


def test_the_row_to_blame_is_the_one_that_is_helped() -> None:
    good, coins = row_of(arch(), count=6, start_deg=30.0), row_of(hovering(), count=6)
    inset = float(re.search(r"Take --inset ([\d.]+)mm", str(refusal(good, coins)))[1])  # type: ignore[index]
    make_piece(PieceSpec("hoop", D100, rows=(good, replace(coins, inset_mm=inset))), KNIFE)


def test_windows_as_wide_as_the_rim_are_to_be_smaller() -> None:
    wide = row_of(plain_rectangle(4, 30), count=6, place="window")
    error = refusal(wide, opening=Size(70, 70))
    scale = float(re.search(r"--scale (\d\.\d+)", str(error))[1])  # type: ignore[index]
    assert "--inset" not in str(error)
    make_piece(PieceSpec("hoop", D100, opening=Size(70, 70), rows=(replace(wide, scale=scale),)), KNIFE)
    larger = replace(wide, scale=round(scale + 0.1, 2))
    assert "falls into" in str(refusal(larger, opening=Size(70, 70)))


def dotted() -> Motif:
    """Return a bar with a dot that hovers far above it."""
    (dot,) = disc(1.5).join
    return Motif("dotted-bar", (*plain_rectangle(6, 4).join, dot.transformed(Affine.from_move(6j))), 6.0)


def test_a_drawing_in_two_parts_is_named_and_can_be_tied_or_left_out() -> None:
    row = row_of(dotted(), count=6)
    error = refusal(row)
    assert "falls into 7 parts; the largest that falls off is 7.1 mm2 of dotted bar 1, at 12 o'clock" in str(error)
    assert str(error).endswith("Take --loose tie (held by ties) or --loose drop (left out).")
    for loose in ("tie", "drop"):
        make_piece(PieceSpec("hoop", D100, rows=(replace(row, loose=loose),)), KNIFE)


def test_parts_that_are_to_be_kept_so_can_be_cut_as_windows() -> None:
    """Where neither ties nor leaving out is to be had, as with one row in all parts: no sinking brings its dot in."""
    row = row_of(dotted(), count=6)
    spec = PieceSpec("hoop", D100, rows=(row,))
    made = make_piece(replace(spec, rows=(replace(row, loose="drop"),)), KNIFE)

    def parts(tried: PieceSpec) -> int:
        return 1 if not tried.rows or tried.rows[0].place == "window" else 7

    loose = (made.region, Region(rectangle(60, 60, 61, 61)))
    assert str(falls_apart(spec, loose, made.rows, parts)).endswith("Take --place window.")


def test_of_several_rows_the_one_to_change_is_told() -> None:
    error = refusal(row_of(arch(), count=6, start_deg=30.0), row_of(dotted(), count=6))
    assert str(error).endswith("in row 2.")


def test_card_cut_through_by_two_rows_together_names_the_scale_of_one() -> None:
    """Two rows of slots end to end part a rim; neither does so alone."""
    slot = plain_rectangle(3.0, 14.0)
    outer = row_of(slot, count=4, place="window", inset_mm=5.0)
    inner = row_of(slot, count=4, place="window", inset_mm=15.0)
    error = refusal(outer, inner, opening=Size(60, 60))
    assert "of card, at" in str(error)
    scale = float(re.search(r"Take --scale ([\d.]+) in row 1\.$", str(error))[1])  # type: ignore[index]
    make_piece(PieceSpec("hoop", D100, opening=Size(60, 60), rows=(replace(outer, scale=scale), inner)), KNIFE)


def test_every_row_is_made_smaller_where_each_alone_cuts_the_card_through() -> None:
    """Windows as wide as the rim in two rows: leaving out either one does not help."""
    wide = row_of(plain_rectangle(4, 30), count=3, place="window")
    error = refusal(wide, replace(wide, start_deg=60.0), opening=Size(70, 70))
    scales = [float(x) for x in re.findall(r"scale ([\d.]+) in row", str(error))]
    rows = (replace(wide, scale=scales[0]), replace(wide, start_deg=60.0, scale=scales[1]))
    make_piece(PieceSpec("hoop", D100, opening=Size(70, 70), rows=rows), KNIFE)


def test_windows_that_would_touch_in_a_point_are_no_way_out() -> None:
    """Two squares corner on corner: the upper one falls off, and as windows they would meet in that corner."""
    squares = (Region(rectangle(-6, 0, 0, 6)), Region(rectangle(0, 6, 6, 12)))
    error = refusal(row_of(Motif("steps", squares, 4.0), count=6))
    assert "Take" in str(error)
    assert "--place window" not in str(error)


def test_ways_that_take_too_long_to_be_tried_are_left_out_and_the_one_that_is_known_is_told() -> None:
    """Without its row the piece was seen to be whole before; all else costs more than may be spent."""
    row, tried = row_of(dotted(), count=6), []

    def parts(spec: PieceSpec) -> int:
        tried.append(spec)
        spend(100 if not spec.rows else 4000)
        return len(spec.rows) + 1

    spec = PieceSpec("hoop", D100, rows=(row,))
    loose = (Region(rectangle(-50, -50, 50, 50)), Region(rectangle(60, 60, 61, 61)))
    error = falls_apart(spec, loose, make_piece(replace(spec, rows=(row_of(arch(), count=6),)), KNIFE).rows, parts)
    assert str(error).endswith("Take the piece without this row.")
    assert sum(1 for spec in tried if not spec.rows) == 1


def beside_nothing(*rows: RowSpec) -> str:
    """Return what is said of a piece in two parts of which no other order is whole."""
    parts = (Region(rectangle(-40, -40, 40, 40)), Region(rectangle(-2, 50, 2, 54)))
    made = make_piece(PieceSpec("hoop", D100, rows=rows), KNIFE)
    return falls_apart(PieceSpec("hoop", D100, rows=rows), parts, made.rows, lambda spec: 2).say


def test_where_no_way_out_holds_the_drawing_or_the_rows_are_to_be_changed() -> None:
    """The loose part lies 50 to 54 mm above the middle: on a bar that stands there, or on none."""
    first = "the piece falls into 2 parts; the largest that falls off is 16.0 mm2 "
    assert beside_nothing(row_of(plain_rectangle(6, 8), count=2)) == first + (
        "of rectangle 1, at 12 o'clock. Draw the parts of the rectangle so that they hang together, or take another "
        "motif."
    )
    beside = row_of(plain_rectangle(6, 8), count=2, start_deg=90.0)
    without = "of card, at 12 o'clock. Make the piece without its rows, or with fewer motifs."
    assert beside_nothing(beside) == first + without
    assert beside_nothing() == first + without


def test_of_a_size_to_be_found_the_only_row_is_the_one_that_is_helped() -> None:
    """Without its row no piece can be tried: nothing else decides the size."""
    row = row_of(dotted(), count=8, gap_mm=2.0)
    with pytest.raises(GeometryError) as caught:
        make_piece(PieceSpec("hoop", "find", rows=(row,)), KNIFE)
    assert str(caught.value).endswith("Take --loose tie (held by ties) or --loose drop (left out).")
    make_piece(PieceSpec("hoop", "find", rows=(replace(row, loose="tie"),)), KNIFE)


def test_motifs_offered_as_windows_keep_the_edge_between_as_it_is() -> None:
    """Windows have no edge between them: what was asked of it is taken back in the same breath."""
    flat = row_of(plain_rectangle(6, 4), count=6, between="hollow", depth_mm=2.0, on="base")
    words, changed = next(way for way in loose_module._others(flat) if "window" in way[0])
    assert words == "--place window --between keep without a depth"
    assert changed == replace(flat, place="window", between="keep", depth_mm=None)
    plain, _ = next(way for way in loose_module._others(row_of(plain_rectangle(6, 4))) if "window" in way[0])
    assert plain == "--place window"
