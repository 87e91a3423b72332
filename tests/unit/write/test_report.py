"""The report: what it says of a piece. The words are those of our word list."""

from __future__ import annotations

from frameforge.finding import Finding
from frameforge.write.marker import is_marked
from frameforge.write.report import CAUTIONS, Report, ReportPiece, ReportRow, measure_line, report_text

COLLAR = ReportPiece(
    name="jar collar",
    width_mm=107.8731,
    height_mm=107.8731,
    files=("jar-collar.svg", "jar-collar.dxf"),
    cut_length_mm=1234.56,
    waste_mm2=(2.34, 50.0),
    copies=8,
    card="moss",
    lifts=3,
    cut_s=170,
    rows=(ReportRow("arch", 17, gap_mm=2.4199, foot_gap_mm=2.411),),
    findings=(
        Finding("narrow-slot", "warning", "slit of 0.73 mm, this card needs 1.0 mm", where="leaf 4, at 2 o'clock"),
    ),
)


def _said(piece: ReportPiece) -> list[str]:
    """Return the lines of a report of one piece."""
    return report_text(Report((piece,))).split("\n")


def test_the_size_to_measure_stands_first() -> None:
    assert measure_line(107.8731, 107.8731) == "this piece must measure 107.87 mm across"
    assert measure_line(150, 100.5) == "this piece must measure 150 mm across and 100.5 mm high"
    assert "This piece must measure 107.87 mm across." in _said(COLLAR)


def test_sizes_are_in_mm_and_inches_and_gaps_are_never_rounded_up() -> None:
    said = _said(COLLAR)
    assert "- Size: 107.9 mm (4 1/4 in) across" in said
    assert "- 17 x arch, out, as-drawn, gap 2.41 mm, gap between feet 2.41 mm" in said


def test_an_oval_has_two_sizes_and_a_range_of_gaps() -> None:
    row = ReportRow("cabbage-edge", 16, gap_mm=2, gap_max_mm=2.5, scale=0.8257, spread="equal-arc")
    oval = ReportPiece("sign", 150, 100, ("sign.svg",), 500, rows=(row,))
    said = _said(oval)
    assert "- Size: 150 mm (5.91 in) across, 100 mm (3.94 in) high" in said
    assert "- 16 x cabbage-edge, out, as-drawn, scale 0.8257, gap 2 mm to 2.5 mm, spread equal-arc" in said


def test_work_waste_card_and_files_are_listed() -> None:
    said = _said(COLLAR)
    assert "- Card: moss, 8 to cut" in said
    assert "- Cut length: 1234.6 mm, 3 lifts, about 2 min 50 s" in said
    assert "- Bits to pick out: 2, the smallest 2.3 mm2" in said
    assert "- Files: jar-collar.svg, jar-collar.dxf" in said
    assert not any("Kerf" in line for line in said)


def test_what_was_not_worked_out_is_not_said() -> None:
    plain = ReportPiece("dot", 20, 20, ("dot.svg",), 62.8)
    said = "\n".join(_said(plain))
    assert "- Cut length: 62.8 mm\n" in said
    assert "- Bits to pick out: none" in said
    assert "No findings." in said
    assert "lifts" not in said
    assert "Card" not in said.partition("## Before")[0]


def test_kerf_and_seconds_are_said_where_they_are() -> None:
    told = ("Allowed for the machine: kerf 0.15 mm.", "Lines are open.")
    laser = ReportPiece("dot", 20, 20, ("dot.svg",), 62.8, kerf_mm=0.15, machine=told, cut_s=42.4)
    said = "\n".join(_said(laser))
    assert "- Allowed for the machine: kerf 0.15 mm. Lines are open.\n" in said
    assert "about 42 s" in said


def test_findings_are_a_table() -> None:
    row = "|  | narrow-slot (warning) | leaf 4, at 2 o'clock | slit of 0.73 mm, this card needs 1.0 mm |"
    assert row in _said(COLLAR)


def test_cautions_for_blades_and_lasers_end_every_report() -> None:
    text = report_text(Report(()))
    assert all(f"- {caution}" in text for caution in CAUTIONS)
    for word in ("blade", "Laser", "PVC", "manual"):
        assert word in text


def test_names_cannot_break_the_page() -> None:
    text = report_text(Report((ReportPiece("a|b *c* <d>\n# e", 10, 10, ("x_y.svg",), 1),), notes=("1 < 2",)))
    assert "## a\\|b \\*c\\* \\<d\\> \\# e\n" in text
    assert "x\\_y.svg" in text
    assert "1 \\< 2" in text


def test_preset_and_the_missing_unit_of_r12_are_said() -> None:
    text = report_text(Report((COLLAR,), preset="card-240-knife", is_dxf_without_unit=True))
    assert "Limits of card and machine: card-240-knife." in text
    assert "carries no unit" in text


def test_same_run_same_text_and_it_proves_itself() -> None:
    text = report_text(Report((COLLAR,)))
    assert text == report_text(Report((COLLAR,)))
    assert is_marked(text.encode())
