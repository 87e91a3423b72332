"""The sentences at the end of a run."""

from __future__ import annotations

from dataclasses import replace

import pytest

from frameforge.card.preset import load_preset
from frameforge.finding import Finding
from frameforge.frame.piece import RowResult
from frameforge.job.closing import caution_lines, finding_lines, row_line

ROW = RowResult("arch", 17, 2.4189, 2.4107, 2.4189, 360 / 17, 0, None, 1, "as-drawn", "out", None)
ROUND = "round 100 mm (3.94 in)"


@pytest.mark.parametrize(
    ("row", "neighbours", "line"),
    [
        (ROW, {16: 3.567}, "17 arches round 100 mm (3.94 in), gap 2.41 mm each. 16 would leave 3.56 mm."),
        (
            ROW,
            {18: 1.38, 16: 3.56},
            f"17 arches {ROUND}, gap 2.41 mm each. 16 would leave 3.56 mm, 18 would leave 1.38 mm.",
        ),
        (ROW, {18: -1.0}, f"17 arches {ROUND}, gap 2.41 mm each."),
        (replace(ROW, gap_mm=1e-12, gap_max_mm=2e-12), {}, f"17 arches {ROUND}, touching."),
        (replace(ROW, is_of_teeth=True), {}, f"17 arches {ROUND}, teeth of card between them 2.41 mm wide."),
        (
            replace(ROW, gap_max_mm=5.0, is_of_teeth=True),
            {},
            f"17 arches {ROUND}, teeth of card between them 2.41 to 5 mm wide.",
        ),
        (replace(ROW, gap_max_mm=5.0), {}, f"17 arches {ROUND}, gaps 2.41 to 5 mm."),
        (replace(ROW, count=1, gap_mm=None, gap_max_mm=None), {}, f"1 arch {ROUND}."),
        (replace(ROW, motif_name="arch+scallop"), {}, f"17 motifs {ROUND}, gap 2.41 mm each."),
        (replace(ROW, motif_name="bean-leaf"), {}, f"17 bean leaves {ROUND}, gap 2.41 mm each."),
        (
            replace(ROW, seam_gap_mm=8.9709, filler=replace(ROW, motif_name="seed-husk", start_deg=180.0, scale=0.766)),
            {},
            f"17 arches {ROUND}, gap 2.41 mm each. 1 seed husk at scale 0.77 fills the 8.97 mm left at 6 o'clock.",
        ),
    ],
)
def test_a_row_in_one_sentence(row: RowResult, neighbours: dict[int, float], line: str) -> None:
    assert row_line(row, ROUND, neighbours) == line


def test_findings_that_say_the_same_are_told_once_under_their_number() -> None:
    twice = Finding("narrow-slot", "warning", "A slit of 0.73 mm.", where="leaf 4, at 2 o'clock", x_mm=8.0, y_mm=5.0)
    other = Finding("white-box", "note", "a box.")
    assert finding_lines([other, twice, replace(twice, x_mm=-8.0, where="leaf 9, at 10 o'clock")]) == [
        "  1 x2, warning, narrow-slot: leaf 4, at 2 o'clock, and 1 more: a slit of 0.73 mm.",
        "  note, white-box: a box.",
    ]


def test_of_one_code_the_least_few_are_told() -> None:
    found = [
        Finding("narrow-slot", "warning", f"{k / 10} mm.", x_mm=1.0, y_mm=float(k), measured=k / 10)
        for k in (7, 3, 5, 4, 9, 6)
    ]
    assert finding_lines(found) == [
        "  1, warning, narrow-slot: 0.3 mm.",
        "  2, warning, narrow-slot: 0.4 mm.",
        "  3, warning, narrow-slot: 0.5 mm.",
        "  4, warning, narrow-slot: 0.6 mm.",
        "  warning, narrow-slot: 2 more kinds of place, in the report.",
    ]
    assert finding_lines(found[1:])[-1] == "  warning, narrow-slot: 1 more kind of place, in the report."


@pytest.mark.parametrize(
    ("limits", "machines"),
    [
        ([("card-240-knife", 0.0)], ["Sharp blade"]),
        ([("card-240-laser", 0.0)], ["Laser"]),
        ([("card-240-knife", 0.15)], ["Laser"]),
        ([("card-240-knife", 0.0), ("card-160-laser", 0.1)], ["Sharp blade", "Laser"]),
        ([], ["Sharp blade"]),
    ],
)
def test_cautions_fit_the_machines_of_a_run(limits: list[tuple[str, float]], machines: list[str]) -> None:
    """A kerf means a laser, whatever the preset; its cautions name air, fire, watch, coats and the manual."""
    told = " ".join(caution_lines((load_preset(name), kerf) for name, kerf in limits))
    assert [word for word in ("Sharp blade", "Laser") if word in told] == machines
    assert "manual" in told
    if "Laser" in machines:
        assert all(word in told for word in ("fumes", "never left alone", "fire", "PVC", "vinyl", "unknown coat"))


def test_a_laser_of_ones_own_is_known_by_its_kerf() -> None:
    mine = replace(load_preset("card-240-knife"), name="mine", kerf_mm=0.12)
    assert caution_lines([(mine, 0.0)])[0].startswith("Laser")
