"""The sentences at the end of a run."""

from __future__ import annotations

from dataclasses import replace

import pytest

from frameforge.finding import Finding
from frameforge.frame.piece import RowResult
from frameforge.job.closing import finding_lines, row_line

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
        (replace(ROW, gap_max_mm=5.0), {}, f"17 arches {ROUND}, gaps 2.41 to 5 mm."),
        (replace(ROW, count=1, gap_mm=None, gap_max_mm=None), {}, f"1 arch {ROUND}."),
        (replace(ROW, motif_name="arch+scallop"), {}, f"17 motifs {ROUND}, gap 2.41 mm each."),
        (replace(ROW, motif_name="bean-leaf"), {}, f"17 bean leaves {ROUND}, gap 2.41 mm each."),
    ],
)
def test_a_row_in_one_sentence(row: RowResult, neighbours: dict[int, float], line: str) -> None:
    assert row_line(row, ROUND, neighbours) == line


def test_findings_that_say_the_same_are_told_once() -> None:
    twice = Finding("narrow-slot", "warning", "a slit of 0.73 mm.")
    other = Finding("white-box", "note", "a box.")
    assert finding_lines([twice, other, twice]) == [
        "  warning, narrow-slot: a slit of 0.73 mm. (x2)",
        "  note, white-box: a box.",
    ]
