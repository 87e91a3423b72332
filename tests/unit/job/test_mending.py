"""Pieces mended as they are made: places in words, amounts, what is offered and what is kept."""

from __future__ import annotations

from pathlib import Path

import pytest

from frameforge.check.many_points import TINY_MM
from frameforge.errors import InputError
from frameforge.finding import Finding
from frameforge.geometry.measure import length_mm
from frameforge.job.made import Made
from frameforge.job.make import MakeOrder, make
from frameforge.job.mending import MendedPlace, can_be_mended, mended_lines, mended_rows
from frameforge.recipe.mend_fields import as_mend

BEETLES = {"motif": ("beetle",), "count": "4", "size": "70mm", "opening": "40mm", "formats": "svg"}


def made(tmp_path: Path, **more: object) -> Made:
    """Return what options come to."""
    return make(MakeOrder(None, {**BEETLES, **more}, tmp_path, replaces_foreign=True), lambda *step: None)


def test_places_are_named_and_amounts_add_up(tmp_path: Path) -> None:
    before, after = made(tmp_path).pieces[0], made(tmp_path, mend="all").pieces[0]
    change = sum(place.added_mm2 - place.removed_mm2 for place in after.mended)
    assert after.area_mm2 - before.area_mm2 == pytest.approx(change, abs=1e-6)
    assert all(place.where.startswith("beetle ") for place in after.mended)
    assert {place.code for place in after.mended} == {"thin-finger", "small-hole", "narrow-slot"}
    assert {finding.code for finding in after.findings if finding.severity == "warning"} == set()
    assert list(after.as_json()["mended"][0]) == ["code", "where", "added_mm2", "removed_mm2"]


def test_new_edges_are_few_and_no_slivers(tmp_path: Path) -> None:
    """Eight feelers, each two or three curves a side and one arc round its end, four slits of four arcs; holes gone."""
    before, after = made(tmp_path).pieces[0], made(tmp_path, mend="all").pieces[0]
    old = {segment for outline in before.piece.region.outlines for segment in outline.segments}
    new = [s for outline in after.piece.region.outlines for s in outline.segments if s not in old]
    assert min(length_mm(segment) for segment in new) >= TINY_MM
    assert after.segments <= 1.1 * before.segments
    assert len(new) <= 6 * len(after.mended)


def test_only_what_is_named_is_mended(tmp_path: Path) -> None:
    piece = made(tmp_path, mend="thin-finger").pieces[0]
    assert {place.code for place in piece.mended} == {"thin-finger"}
    codes = {finding.code for finding in piece.findings}
    assert "thin-finger" not in codes
    assert {"small-hole", "narrow-slot"} <= codes
    assert piece.can_be_mended


def test_nothing_is_mended_by_stealth(tmp_path: Path) -> None:
    piece = made(tmp_path).pieces[0]
    assert (piece.mended, piece.can_be_mended) == ((), True)
    assert piece.as_json()["mended"] == []


@pytest.mark.slow
def test_the_kept_recipe_mends_again_to_the_same_bytes(tmp_path: Path) -> None:
    first = made(tmp_path / "a", mend="thin-finger, narrow-slot")
    name = first.pieces[0].files["svg"]
    again = make(MakeOrder(tmp_path / "a" / name, {}, tmp_path / "b"), lambda *step: None)
    assert (again.out / name).read_bytes() == (first.out / name).read_bytes()


def test_the_report_holds_a_line_for_each_place(tmp_path: Path) -> None:
    run = made(tmp_path, mend="all")
    text = (tmp_path / "report.md").read_text(encoding="utf-8")
    assert "Mended:" in text
    assert text.count("| thin-finger | beetle ") == 8
    assert any(line.strip().startswith("mended 8 x thin-finger: ") for line in run.pieces[0].lines())


def test_lines_say_only_what_was_done() -> None:
    places = [MendedPlace("thin-web", "leaf 1", 1.234, 0.0), MendedPlace("thin-web", "leaf 2", 1.0, 0.0),
              MendedPlace("spike", "", 0.0, 0.5)]  # fmt: skip
    assert mended_lines(places) == [
        "mended 2 x thin-web: 2.23 mm2 of card added.",
        "mended 1 x spike: 0.50 mm2 of card taken off.",
    ]
    assert mended_rows(places)[1] == ("thin-web", "leaf 1", "1.23", "0.00")


def test_notes_and_what_was_asked_for_are_not_offered() -> None:
    note, warning = Finding("waste-crumb", "note", "a"), Finding("thin-web", "warning", "b")
    assert not can_be_mended([note], ())
    assert can_be_mended([note, warning], ("spike",))
    assert not can_be_mended([warning], ("thin-web",))
    assert not can_be_mended([Finding("hard-to-hold", "warning", "c")], ())


def test_words_are_the_codes_of_findings() -> None:
    assert as_mend("spike, thin_web") == ("thin-web", "spike")
    assert as_mend(["Loose"]) == ("loose",)
    assert "waste-crumb" not in as_mend("all")
    with pytest.raises(InputError, match="the nearest is thin-finger"):
        as_mend("thin-fingr")
    with pytest.raises(InputError):
        as_mend(3)


@pytest.mark.slow
@pytest.mark.parametrize("motif", ["beetle", "sprout-corner"])
def test_tips_that_bend_away_from_what_is_swept_along_them_are_mended(tmp_path: Path, motif: str) -> None:
    """So small that the line of a slit runs on past the whole of its tip."""
    small = {"motif": (motif,), "count": "3", "size": "40mm", "opening": "20mm", "scale": "0.35", "mend": "all"}
    piece = made(tmp_path, **small).pieces[0]
    assert {finding.code for finding in piece.findings if finding.severity != "note"} <= {"hard-to-hold"}
