"""The closing gap as ``fit`` tells it."""

from __future__ import annotations

from pathlib import Path

import pytest
from fixtures.plain_motifs import arch, drop, husk, leaf, plain_rectangle
from fixtures.rows import D100, model_of

from frameforge.errors import InputError
from frameforge.frame.model import RowModel
from frameforge.frame.spec import Size
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle
from frameforge.job.closing_answers import ClosingTold, check_asks_for_rest, closing_for, closing_told
from frameforge.job.fit_question import FitOrder, FitQuestion, read_question
from frameforge.motif.bare_foot import bare_foot
from frameforge.motif.motif import Motif

PIERCED = Motif("seed", husk().join, 6.0, window=(Region(circle(5j, 0.9)),))


def told(model: RowModel, size: Size, gap_mm: float, *motifs: Motif) -> ClosingTold:
    found = closing_told(model, size, 1.0, gap_mm, motifs)
    assert found is not None
    return found


def test_three_ways_side_by_side_and_what_was_left_out() -> None:
    found = told(model_of(arch()), D100, 2.0, drop(), PIERCED, husk())
    assert found.lines() == [
        "With gaps of 2 mm 17 arches leave 8.97 mm at 6 o'clock. Ways to close it:",
        "  --rest spread  17 with gaps of 2.41 mm",
        "  --rest size    97.8 mm closes with 17, 103.6 mm closes with 18",
        "  --rest filler  husk at scale 0.73, drop at scale 0.57",
        "  left out, too small for this card: seed",
    ]


def test_as_answers_each_tells_its_kind() -> None:
    """Gap 2.844922 spread, sizes 96.005313 and 102.339180 (chord geometry, computed twice)."""
    answers = [answer.as_json() for answer in told(model_of(plain_rectangle(18)), D100, 2.0, husk()).answers]
    assert [answer["kind"] for answer in answers] == ["spread", "size", "size", "filler"]
    spread, smaller, larger, filler = answers
    assert (spread["count"], round(spread["gap_mm"], 6)) == (15, 2.844922)
    assert (smaller["count"], round(smaller["size_mm"], 6)) == (15, 96.005313)
    assert (larger["count"], round(larger["size_mm"], 6), larger["pitch_deg"]) == (16, 102.339180, 22.5)
    assert (filler["count"], filler["size_mm"], filler["pitch_deg"], filler["filler"]) == (15, 100, None, "husk")
    assert filler["filler_scale"] == pytest.approx(1.6199, abs=1e-4)
    assert filler["gap_mm"] == pytest.approx(2.0, abs=1e-9)
    assert all(answer["filler"] is None for answer in answers[:3])


def test_a_bare_foot_is_filled_by_a_bare_foot() -> None:
    """The largest foot with 2 mm on both sides is 10.657178 (chord geometry, computed twice)."""
    found = told(model_of(bare_foot(18.0), foot_gap_mm=2.0), D100, 2.0, bare_foot(18.0))
    assert found.lines()[0] == "With gaps of 2 mm 15 feet leave 14.62 mm at 6 o'clock. Ways to close it:"
    assert found.lines()[-1] == "  --rest filler  a foot of up to 10.65 mm"
    answer = found.answers[-1].as_json()
    assert (answer["kind"], answer["filler"]) == ("filler", "foot")
    assert round(answer["filler_scale"] * 18, 6) == 10.657178
    assert answer["gap_mm"] == answer["foot_gap_mm"] == pytest.approx(2.0, abs=1e-9)


def test_more_fillers_than_a_line_holds_are_counted() -> None:
    motifs = [plain_rectangle(10, height) for height in (4, 5, 6, 7, 8)]
    named = [Motif(f"tile-{k}", motif.join, motif.foot_mm) for k, motif in enumerate(motifs)]
    line = told(model_of(leaf()), D100, 3.0, *named).lines()[-1]
    assert line.count("tile") == 3
    assert line.endswith(", 2 more")


def test_without_a_filler_it_says_so() -> None:
    assert told(model_of(arch()), D100, 2.0).lines()[-1] == "  --rest filler  none that this card can bear"


def test_a_row_that_closes_and_one_of_two() -> None:
    found = told(model_of(plain_rectangle(50)), D100, 0.0)
    assert found.lines() == ["With gaps of 0 mm 6 rectangles close the row; nothing is left over."]
    assert found.answers == ()
    assert closing_told(model_of(plain_rectangle(94)), D100, 1.0, 2.0, []) is None


def test_a_named_filler_is_told_with_its_fault() -> None:
    found = told(model_of(arch(), rest="filler", filler=PIERCED), D100, 2.0, PIERCED)
    assert [answer.filler for answer in found.answers if answer.kind == "filler"] == ["seed"]
    assert found.lines()[3] == "  --rest filler  seed at scale 0.73"
    assert found.lines()[4].startswith("  take care, seed: A hole of 1.32 mm, this card needs 2 mm.")


def _asked(**options: object) -> ClosingTold | None:
    return closing_for(_question(**options), None)


def _question(**options: object) -> FitQuestion:
    return read_question(FitOrder({"motif": ("arch",), "size": ("100mm",), **options}, Path()))


def test_only_what_was_asked_for_is_told() -> None:
    found = _asked(rest="size", seam="left")
    assert found is not None
    assert found.lines() == [
        "With gaps of 2 mm 17 arches leave 8.97 mm at 9 o'clock. Ways to close it:",
        "  --rest size    97.8 mm closes with 17, 103.6 mm closes with 18",
    ]
    named = _asked(filler="scallop", gap="2mm")
    assert named is not None
    assert [(answer.kind, answer.filler) for answer in named.answers] == [("filler", "scallop")]


@pytest.mark.parametrize(
    "options",
    [{}, {"gap": "2mm", "count": ("16",)}, {"gap": "2mm", "size": ("100mm", "80mm")}, {"size": (), "count": ("16",)},
     {"gap": "2mm", "scale": "find", "count": ("16",)}, {"gap": "2mm", "spread": "equal-arc", "size": ("100x80mm",)}],
)  # fmt: skip
def test_other_questions_leave_no_rest(options: dict[str, object]) -> None:
    assert _asked(**options) is None


def test_a_rest_in_another_question_is_refused() -> None:
    with pytest.raises(InputError, match="a rest is told for one size with one gap, the count left open"):
        check_asks_for_rest(_question(rest="filler", size=("100mm", "80mm")))
