"""What rows do to each other, to edges and to holes: areas by closed form, slits by distance, ways out that hold."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import replace
from types import SimpleNamespace
from typing import Any, cast

import pytest
from fixtures.plain_motifs import disc, leaf, plain_rectangle
from fixtures.rows import D100, KNIFE, row_of

from frameforge.finding import Finding
from frameforge.frame import encounters as encounters_module
from frameforge.frame.make import make_piece
from frameforge.frame.piece import RowResult
from frameforge.frame.spec import HoleSpec, PieceSpec, RowSpec, Size
from frameforge.geometry.affine import Affine
from frameforge.motif.motif import Motif


def found(*rows: RowSpec, code: str = "chopped", **more: object) -> list[Finding]:
    size = more.pop("size", D100)
    piece = make_piece(PieceSpec("hoop", size, rows=rows, **more), KNIFE)  # type: ignore[arg-type]
    return [finding for finding in piece.findings if finding.code == code]


def cap_mm2(radius: float, height: float) -> float:
    """Return the area of a circle's segment of a height."""
    half = math.acos(1 - height / radius)
    return radius**2 * (half - math.sin(half) * math.cos(half))


def test_nothing_is_chopped_where_all_keep_their_place() -> None:
    outer, inner = row_of(leaf(), count=12), row_of(disc(2.0), count=12, place="window", inset_mm=6.0)
    assert not found(outer, inner, opening=Size(60, 60), holes=(HoleSpec(3.0, 15.0),))


def lens_mm2(radius: float, small: float, apart: float) -> float:
    """Return what two circles share, from the angles at their middles."""
    a = math.acos((apart**2 + radius**2 - small**2) / (2 * apart * radius))
    b = math.acos((apart**2 + small**2 - radius**2) / (2 * apart * small))
    return radius**2 * (a - math.sin(a) * math.cos(a)) + small**2 * (b - math.sin(b) * math.cos(b))


def test_windows_that_run_over_the_edge_are_listed_with_what_lies_outside() -> None:
    """Discs of radius 3 whose middles lie 1 inside a circle of radius 50."""
    row = row_of(disc(3.0), count=6, place="window", inset_mm=1.0)
    hits = found(row)
    assert [hit.measured for hit in hits] == pytest.approx([math.pi * 9 - lens_mm2(50, 3, 49)] * 6, abs=1e-6)
    assert hits[0].unit == "mm2"
    assert hits[0].where == "disc 1, at 12 o'clock"
    inset = float(re.search(r"Take --inset ([\d.]+)mm\.$", hits[0].say)[1])  # type: ignore[index]
    assert not found(replace(row, inset_mm=inset))


@pytest.mark.slow
def test_windows_that_run_into_the_opening_are_listed() -> None:
    row = row_of(disc(3.0), count=6, place="window", inset_mm=19.0)
    hits = found(row, opening=Size(60, 60))
    assert [hit.measured for hit in hits] == pytest.approx([lens_mm2(30, 3, 31)] * 6, abs=1e-6)


def test_windows_beyond_a_trimmed_edge_are_listed() -> None:
    """A square of flat sides between four bars leaves no card where the windows of the second row were to be."""
    bars = row_of(plain_rectangle(20, 10), count=4, between="flat")
    dots = row_of(disc(2.0), count=4, place="window", inset_mm=4.0, start_deg=45.0)
    hits = found(bars, dots)
    assert [hit.measured for hit in hits] == pytest.approx([math.pi * 4] * 4, abs=1e-6)
    assert "lie where there is no card to cut" in hits[0].say


def test_a_hole_through_a_motif_is_listed_and_its_place_can_be_left_out() -> None:
    """A square of 8 mm sunk 6 mm: a hole of 4 mm, its middle 46 mm out, lies wholly on it, or half beside it."""
    row = row_of(plain_rectangle(8, 8), count=8, inset_mm=6.0)
    (hit,) = found(row, holes=(HoleSpec(4.0),))
    assert hit.measured == pytest.approx(4 * math.pi, abs=1e-6)
    assert hit.say.endswith("cut off by a window or a hole. Take --skip 1.")
    assert (hit.x_mm, hit.y_mm) == pytest.approx((0.0, 46.0), abs=1e-9)
    assert not found(replace(row, skip=(1,)), holes=(HoleSpec(4.0),))


def test_the_windows_of_one_row_cut_the_motifs_of_another() -> None:
    bars = row_of(plain_rectangle(8, 8), count=8, inset_mm=6.0)
    dots = row_of(disc(1.0), count=4, place="window", inset_mm=3.0)
    hits = found(bars, dots, opening=Size(60, 60))
    assert [hit.measured for hit in hits] == pytest.approx([math.pi] * 4, abs=1e-6)
    assert {hit.where.split(",")[0] for hit in hits} == {"rectangle 1", "rectangle 3", "rectangle 5", "rectangle 7"}
    assert hits[0].say.endswith("Take --start half in row 1.")
    assert not found(replace(bars, starts_with_gap=True), dots, opening=Size(60, 60))


def test_motifs_across_that_reach_into_the_opening_are_listed() -> None:
    """Discs of radius 6 half out of a ring 4 wide: 2 mm of each stand in the opening."""
    row = row_of(disc(6.0), count=8, place="across")
    hits = found(row, opening=Size(92, 92))
    assert [hit.measured for hit in hits] == pytest.approx([lens_mm2(46, 6, 50)] * 8, abs=1e-6)
    assert "reach into the opening" in hits[0].say
    scale = float(re.search(r"Take --scale ([\d.]+)\.$", hits[0].say)[1])  # type: ignore[index]
    assert not found(replace(row, scale=scale), opening=Size(92, 92))


@pytest.mark.slow
def test_motifs_on_the_opening_that_come_out_at_the_base_are_listed() -> None:
    row = row_of(disc(6.0), count=8, place="across", on="opening")
    hits = found(row, opening=Size(92, 92))
    assert [hit.measured for hit in hits] == pytest.approx([math.pi * 36 - lens_mm2(50, 6, 46)] * 8, abs=1e-6)
    assert "reach out beyond the base" in hits[0].say


def _slat(height: float) -> Motif:
    return replace(plain_rectangle(6.0, height), name="slat")


def test_a_slit_between_two_rows_is_named_once_for_each_place_with_a_scale_that_closes_none() -> None:
    """Slats 6 wide on 24 spokes: those of one row stand between those of the other, feet 7.06 or so apart."""
    size = Size(2 * 24.3, 2 * 24.3)
    first, second = row_of(_slat(8.0), count=12), row_of(_slat(5.0), count=12, starts_with_gap=True)
    gap = 2 * 24.3 * math.sin(math.pi / 24 - math.asin(3 / 24.3))
    assert 0 < gap < KNIFE.least_slot_mm
    hits = found(first, second, code="narrow-slot", size=size)
    assert [hit.measured for hit in hits] == pytest.approx([gap] * 24, abs=1e-9)
    assert len({(round(hit.x_mm or 0, 6), round(hit.y_mm or 0, 6)) for hit in hits}) == 24
    scale = float(re.search(r"Take --scale ([\d.]+) in row 2\.$", hits[0].say)[1])  # type: ignore[index]
    assert not found(first, replace(second, scale=scale), code="narrow-slot", size=size)


def test_rows_that_meet_or_keep_apart_make_no_slit() -> None:
    first = row_of(_slat(8.0), count=12)
    assert not found(first, row_of(_slat(5.0), count=12, starts_with_gap=True), code="narrow-slot", size=Size(45, 45))
    assert not found(first, row_of(_slat(5.0), count=12, starts_with_gap=True), code="narrow-slot", size=Size(60, 60))


def test_card_between_two_rows_is_no_slit() -> None:
    """Two rows of slats sunk into the card, side by side there: what lies between their sides is card."""
    size = Size(2 * 24.3, 2 * 24.3)
    sunk = {"count": 12, "inset_mm": 3.0}
    low = replace(_slat(2.0), join=tuple(r.transformed(Affine.from_move(0)) for r in _slat(2.0).join))
    hits = found(row_of(low, **sunk), row_of(low, starts_with_gap=True, **sunk), code="narrow-slot", size=size)
    assert not hits


def stubs(height_mm: float, count: int) -> RowSpec:
    """Return rectangles 6 mm wide that stand on an opening and face out."""
    return row_of(plain_rectangle(6, height_mm), count=count, place="out", on="opening")


def test_motifs_that_reach_from_the_opening_beyond_the_base_are_listed() -> None:
    """A chord of 6 mm in R = 40 and 15 mm more reach y = 54.886; of a circle of R = 50 the strip below y is left."""
    hits = found(stubs(15, 6), opening=Size(80, 80))
    high = math.sqrt(40**2 - 3**2) + 15
    within = 3 * math.sqrt(50**2 - 3**2) + 50**2 * math.asin(3 / 50)
    assert [hit.measured for hit in hits] == pytest.approx([6 * high - within] * 6, abs=1e-6)
    scale = float(re.search(r"reach out beyond the base. Take --scale ([\d.]+)\.$", hits[0].say)[1])  # type: ignore[index]
    assert not found(replace(stubs(15, 6), scale=scale), opening=Size(80, 80))
    assert all("Leave the row out." in hit.say for hit in found(stubs(40, 3), opening=Size(80, 80)))


def test_many_places_are_left_out_where_no_smaller_motif_will_do() -> None:
    """At half their height of 16 those at the ends of a 90 mm opening reach 45 + 8 mm, beyond the base of 50."""
    hits = found(stubs(16, 12), opening=Size(90, 60))
    assert [hit.where.split(",")[0] for hit in hits] == [f"rectangle {k}" for k in (3, 4, 5, 9, 10, 11)]
    assert {hit.say.split(". ")[1] for hit in hits} == {"Take --skip 3,4,5,9,10,11."}
    assert not found(replace(stubs(16, 12), skip=(3, 4, 5, 9, 10, 11)), opening=Size(90, 60))


def test_a_window_longer_than_the_rim_is_wide_is_moved_in_vain() -> None:
    """30 mm high in a rim of 20 mm, its middle 5 mm in: wherever it stands, and at any scale that is tried."""
    (hit,) = found(row_of(plain_rectangle(6, 30), count=1, place="window", inset_mm=5.0), opening=Size(60, 60))
    assert hit.say.endswith("of the rectangle lie where there is no card to cut. Leave the row out.")


def ways(row: RowSpec, *where: str, code: str = "chopped", count: int = 8, scale: float = 1.0) -> list[str]:
    """Return the words of all ways tried for findings at places, in their order, each checked against its change."""
    mine = [Finding(code, "warning", "no.", one) for one in where]
    result = cast("RowResult", SimpleNamespace(count=count, scale=scale))
    found = []
    for words, changed in encounters_module._ways(row, result, mine):
        key, value = words.split(" ")
        reads: dict[str, Callable[[RowSpec], str]] = {
            "--skip": lambda c: ",".join(map(str, c.skip)),
            "--inset": lambda c: f"{c.inset_mm:g}mm",
            "--start": lambda c: "half" if c.starts_with_gap else "",
            "--scale": lambda c: f"{c.scale:g}" if c.foot_mm is None else "",
        }
        kept = reads[key](changed)
        assert kept == value
        found.append(words)
    return found


SCALES = [f"--scale {scale:g}" for scale in (0.95, 0.9, 0.85, 0.8, 0.7, 0.6, 0.5)]


def test_a_few_places_are_left_out_first_and_many_last() -> None:
    row = row_of(plain_rectangle(8, 8), count=8)
    three = ["rectangle 5, at 6 o'clock", "rectangle 1, at 12 o'clock", "rectangle 5, at 6 o'clock", "rectangle 3, x"]
    assert ways(row, *three) == ["--skip 1,3,5", "--start half", *SCALES, "--skip 1,3,5"]
    four = [*three, "rectangle 7, at 9 o'clock"]
    assert ways(row, *four) == ["--start half", *SCALES, "--skip 1,3,5,7"]


def test_places_are_left_out_only_of_what_is_chopped_and_not_all_nor_beside_others_left_out() -> None:
    row = row_of(plain_rectangle(8, 8), count=8)
    kept = ["--start half", *SCALES]
    assert ways(row, "rectangle 1 to 2, at 12 o'clock", code="narrow-slot") == kept
    assert ways(row, "rectangle 1, x", "rectangle 2, x", count=2) == kept
    assert ways(row, "rectangle 1, x", "rectangle 2, x", count=3)[0] == "--skip 1,2"
    assert ways(replace(row, skip=(4,)), "rectangle 1, x") == kept


def test_windows_are_moved_in_then_out_as_far_as_they_lie_in_the_card() -> None:
    row = row_of(disc(2.0), count=8, place="window", inset_mm=2.0)
    inward = [f"--inset {2 + by:g}mm" for by in (0.5, 1, 1.5, 2, 3, 4, 6, 8, 12)]
    assert ways(row, "disc 1, x", count=1) == [*inward, *(f"--inset {2 - by:g}mm" for by in (0.5, 1, 1.5)), "--start half", *SCALES]  # noqa: E501  # fmt: skip
    assert not any("--inset" in one for one in ways(replace(row, inset_mm=0.0), "disc 1, x"))


@pytest.mark.parametrize("more", [{"starts_with_gap": True}, {"start_deg": 15.0}])
def test_a_row_whose_start_was_stated_is_not_turned(more: dict[str, Any]) -> None:
    row = row_of(plain_rectangle(8, 8), count=8, foot_mm=4.0, **more)
    smaller = [f"--scale {scale:g}" for scale in (0.47, 0.45, 0.42, 0.4, 0.35, 0.3, 0.25)]
    assert ways(row, code="chopped", scale=0.5) == smaller


def test_a_chopped_motif_is_a_warning_with_its_area_place_and_a_way_out() -> None:
    (hit,) = found(row_of(plain_rectangle(8, 8), count=8, inset_mm=6.0), holes=(HoleSpec(4.0),))
    assert hit.say == "12.57 mm2 of the rectangle are cut off by a window or a hole. Take --skip 1."
    assert (hit.code, hit.severity, hit.limit, hit.unit, hit.piece) == ("chopped", "warning", 0.0, "mm2", "hoop")
    assert hit.where == "rectangle 1, at 12 o'clock"
