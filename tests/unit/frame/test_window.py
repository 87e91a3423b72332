"""What a window row cuts: whole outlines, or outlines with their islands tied, and what is said of it."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from frameforge.card.preset import load_preset
from frameforge.errors import GeometryError, InputError
from frameforge.frame.make import make_piece
from frameforge.frame.model import RowModel
from frameforge.frame.spec import Ornament, PieceSpec, RowSpec, Size
from frameforge.frame.window import check_islands, check_loose, cut_of, window_of, window_words
from frameforge.geometry.measure import area_mm2
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle
from frameforge.motif.motif import Motif

PRESET = load_preset("card-240-knife")
PANE = Motif("pane", (Region(rectangle(-5, 0, 5, 9)),), 10.0, window=(Region(circle(4.5j, 2.5)),))
ROW = RowSpec((Ornament(PANE),), count=8, place="window", inset_mm=12.0)
DISC_MM2 = math.pi * 2500


def piece(row: RowSpec) -> PieceSpec:
    return PieceSpec("plate", Size(100, 100), rows=(row,))


def ties_mm2(width: float, height: float, radius: float) -> float:
    """Return the area of a bar across a window, less the part of it in a round island (a band of a circle)."""
    half = width / 2
    band = half * math.sqrt(radius**2 - half**2) + radius**2 * math.asin(half / radius)
    return width * height - 2 * band


def said(spec: PieceSpec) -> list[str]:
    return [finding.say for finding in make_piece(spec, PRESET).findings if finding.code == "took"]


def test_islands_go_with_the_window_and_that_is_said() -> None:
    made = make_piece(piece(ROW), PRESET)
    assert len(made.region.holes) == 8
    assert area_mm2(made.region) == pytest.approx(DISC_MM2 - 8 * 90)
    assert said(piece(ROW)) == [
        "left out the 1 island of card in each pane; to keep them, held by ties, take --keep-counters."
    ]


def test_islands_are_kept_by_ties_in_one_part() -> None:
    kept = piece(replace(ROW, keeps_counters=True))
    made = make_piece(kept, PRESET)
    assert len(made.region.holes) == 16, "two ties part every window in two"
    island = math.pi * 6.25
    assert area_mm2(made.region) == pytest.approx(DISC_MM2 - 8 * (90 - island - ties_mm2(1.5, 9, 2.5)), abs=1e-5)
    assert said(kept) == ["kept the 1 island of card in each pane, held by 2 ties 1.5 mm wide."]


def test_ties_are_as_wide_on_the_card_whatever_the_scale() -> None:
    kept = piece(replace(ROW, keeps_counters=True, scale=0.8))
    wide = make_piece(kept, PRESET.with_values({"least_neck_mm": 2.5}))
    narrow = make_piece(kept, PRESET)
    more = 8 * (ties_mm2(2.5, 7.2, 2.0) - ties_mm2(1.5, 7.2, 2.0))
    assert area_mm2(wide.region) - area_mm2(narrow.region) == pytest.approx(more, abs=1e-5)


def test_a_motif_without_islands_says_nothing() -> None:
    plain = replace(ROW, pattern=(Ornament(replace(PANE, window=())),))
    assert said(piece(plain)) == []


def test_what_cannot_be_kept_is_refused() -> None:
    with pytest.raises(InputError, match=r"this row cuts none\. Take --place window, or leave it out"):
        make_piece(piece(replace(ROW, place="out", inset_mm=0, keeps_counters=True)), PRESET)
    with pytest.raises(GeometryError, match="find no place for ties of 12 mm"):
        make_piece(piece(replace(ROW, keeps_counters=True)), PRESET.with_values({"least_neck_mm": 12.0}))


def test_windows_stand_on_no_foot_that_could_be_too_narrow() -> None:
    """A drawing of 120 mm on a foot of 5 mm, made so small that 12 go round: cut out, its foot holds nothing."""
    large = Motif("tower", (Region(rectangle(-60, 0, 60, 115)),), 5.0)
    row = RowSpec((Ornament(large),), count=12, gap_mm=6.0, scale="find", place="window")
    made = make_piece(piece(row), PRESET).rows[0]
    assert made.scale * large.foot_mm < PRESET.least_neck_mm
    assert made.gap_mm == pytest.approx(6.0, abs=1e-6)


def model(row: RowSpec) -> RowModel:
    return RowModel(piece(row), row, PRESET)


def test_what_windows_cannot_do_is_told_in_full() -> None:
    with pytest.raises(InputError) as caught:
        check_islands(model(replace(ROW, place="out", keeps_counters=True)))
    assert str(caught.value) == (
        "plate: --keep-counters keeps islands of card in windows, and this row cuts none. "
        "Take --place window, or leave it out."
    )
    assert caught.value.code == "no-windows"
    with pytest.raises(InputError) as caught:
        check_loose(model(replace(ROW, loose="tie")))
    assert str(caught.value) == (
        "plate: --loose tie is for parts that are joined on, and this row cuts windows. Leave it out."
    )
    assert caught.value.code == "no-parts"


def test_what_goes_together_is_let_be() -> None:
    for row in (ROW, replace(ROW, keeps_counters=True), replace(ROW, place="out")):
        check_islands(model(row))
    for row in (ROW, replace(ROW, place="out", loose="tie"), replace(ROW, place="out")):
        check_loose(model(row))


def test_several_islands_are_counted_and_each_kind_told_once() -> None:
    twice = replace(PANE, window=(Region(circle(2.5j, 1.2)), Region(circle(6.5j, 1.2))))
    pattern = tuple(Ornament(motif) for motif in (twice, twice, replace(PANE, window=())))
    of = model(replace(ROW, pattern=pattern))
    told = "the 2 islands of card in each pane"
    assert window_words(of, of.readies(6, 1.0)) == (
        f"left out {told}; to keep them, held by ties, take --keep-counters",
    )
    kept = model(replace(ROW, pattern=pattern, keeps_counters=True))
    (words,) = window_words(kept, kept.readies(6, 1.0))
    assert words.startswith(f"kept {told}, held by ")
    assert words.endswith(" ties 1.5 mm wide")
    assert window_words(model(replace(ROW, place="out")), of.readies(6, 1.0)) == ()


def test_without_ties_a_window_is_cut_to_its_outline() -> None:
    (cut,) = cut_of(model(ROW), PANE)
    assert (cut.outer, cut.holes) == (PANE.join[0].outer, ())
    assert window_of(model(ROW), model(ROW).readies(1, 1.0)[0])[0].holes == ()


def test_an_island_that_leaves_nothing_to_cut_finds_no_place_for_ties() -> None:
    """Ties as wide as the window."""
    wide = RowModel(piece(ROW), replace(ROW, keeps_counters=True), PRESET.with_values({"least_neck_mm": 40.0}))
    with pytest.raises(GeometryError) as caught:
        cut_of(wide, PANE)
    assert str(caught.value) == (
        "plate: the islands in the panes find no place for ties of 40 mm. "
        "Take a larger --scale, or leave --keep-counters out."
    )
    assert (caught.value.code, caught.value.numbers) == ("no-ties", {"width": 40.0})


def test_motifs_with_and_without_islands_may_stand_in_any_order() -> None:
    plain = replace(PANE, window=())
    for pattern in ((plain, PANE), (PANE, plain)):
        of = model(replace(ROW, pattern=tuple(map(Ornament, pattern))))
        assert len(window_words(of, of.readies(4, 1.0))) == 1
