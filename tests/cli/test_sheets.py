"""``make`` with cards: pieces laid on sheets, each sheet an SVG and a DXF, all of them in one picture."""

from __future__ import annotations

import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from frameforge.geometry.box import Box
from frameforge.geometry.measure import area_mm2, bounds, length_mm
from frameforge.geometry.outline import Outline
from frameforge.read.cut_drawing import FileLine
from frameforge.read.cut_dxf import read_cut_dxf
from frameforge.read.cut_svg import read_cut_svg

Run = Callable[..., Any]

THREE = """
[card.moss]
sheets = "A4 landscape"
price = 0.4
[card.sand]
sheets = "A4 landscape"
price = 0.4
[card.brick]
sheets = "A4 landscape"
price = 0.4

[sheets]
tries = 0

[files]
formats = ["svg", "dxf"]

"""
DISC = '[[piece]]\nname = "badge-{card}"\ncard = "{card}"\ncopies = 8\nsize = 70\n'


def recipe(folder: Path, text: str, name: str = "swap.toml") -> str:
    """Write a recipe and return its name."""
    (folder / name).write_text(text, encoding="utf-8")
    return name


def closed(lines: tuple[FileLine, ...]) -> list[Outline]:
    return [Outline(line.segments) for line in lines if line.is_closed]


def centres(lines: tuple[FileLine, ...]) -> list[complex]:
    return [bounds(outline).center for outline in closed(lines)]


@pytest.fixture(scope="module")
def three(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Make badges of three colours once, in a folder of their own."""
    from frameforge.job.make import MakeOrder, make

    folder = tmp_path_factory.mktemp("three")
    text = THREE + "".join(DISC.format(card=card) for card in ("moss", "sand", "brick"))
    order = MakeOrder(folder / recipe(folder, text), {}, folder / "out")
    made = make(order, lambda done, total, name: None)
    (folder / "said.txt").write_text("\n".join(made.lines()), encoding="utf-8")
    return folder


def test_every_colour_has_sheets_of_its_own(three: Path) -> None:
    """24 discs of 70 mm, 8 of each colour: 24 x 35^2 pi / (3 x 297 x 210) = 49.36 % of the card (job F66, F69)."""
    said = (three / "said.txt").read_text(encoding="utf-8").splitlines()
    assert "24 badges on 3 sheets: moss 1, sand 1, brick 1. Card used 49 %." in said
    assert "Cost of the sheets: 1.20." in said
    report = (three / "out" / "report.md").read_text(encoding="utf-8")
    assert "Waste 50.64 %" in report
    assert "| moss-sheet-1 | moss | A4 landscape (297 x 210 mm) | 1 | 8 x badge-moss | 49.36 % |" in report


@pytest.mark.parametrize("card", ["moss", "sand", "brick"])
def test_svg_and_dxf_of_a_sheet_hold_the_pieces_at_their_size_apart_and_inside(three: Path, card: str) -> None:
    name = f"{card}-sheet-1"
    svg = read_cut_svg((three / "out" / f"{name}.svg").read_bytes(), where=name).lines
    dxf = read_cut_dxf((three / "out" / f"{name}.dxf").read_bytes(), where=name).lines
    assert len(svg) == len(dxf) == 8
    for lines in (svg, dxf):
        for outline in closed(lines):
            assert abs(area_mm2(outline)) == pytest.approx(3848.45, abs=0.3)
        at = centres(lines)
        assert min(abs(a - b) for k, a in enumerate(at) for b in at[:k]) >= 73 - 1e-3
        box = bounds(segment for line in lines for segment in line.segments)
        assert Box(4.999, 4.999, 292.001, 205.001).contains(complex(box.left, box.bottom))
        assert Box(4.999, 4.999, 292.001, 205.001).contains(complex(box.right, box.top))
    for a, b in zip(centres(svg), centres(dxf), strict=True):
        assert abs(a - b) < 0.02
    text = (three / "out" / f"{name}.svg").read_text(encoding="utf-8")
    assert all(part in text for part in ('width="297mm"', 'height="210mm"', 'viewBox="0 0 297 210"'))
    assert text.count("<path") == 8


def test_json_tells_every_sheet(run: Run) -> None:
    ran = run("make", "--size", "70mm", "--copies", "2", "--card", "moss", "--sheet", "A4", "--price", "0,3",
              "--tries", "0", "--formats", "svg", "--json")  # fmt: skip
    assert ran.code == 0
    (sheet,) = ran.json["sheets"]
    assert sheet["card"] == "moss"
    assert sheet["files"] == {"svg": "moss-sheet-1.svg"}
    assert sheet["cost"] == 0.3
    assert sheet["card_used"] == pytest.approx(2 * 3848.451 / 62370, rel=1e-6)
    assert sheet["cut_s"] == pytest.approx(2 * (219.911 / 20 + 0.5), abs=1e-3)
    assert [(piece["name"], piece["copy"]) for piece in sheet["pieces"]] == [("plain-70mm", 1), ("plain-70mm", 2)]
    lines = read_cut_svg(Path("out/moss-sheet-1.svg").read_bytes(), where="sheet").lines
    for piece, at in zip(sheet["pieces"], centres(lines), strict=True):
        assert (piece["x_mm"], piece["y_mm"]) == pytest.approx((at.real, at.imag), abs=1e-3)
    assert run("make", "--size", "70mm", "--json", "--formats", "svg").json["sheets"] is None


@pytest.mark.slow
def test_sizes_in_inches_take_a_craft_sheet(run: Run) -> None:
    ran = run("make", "--size", "3in", "--turn", "half", "--tries", "0", "--formats", "svg", "--json")
    assert ran.json["sheets"][0]["width_mm"] == 304.8


def test_a_piece_too_big_is_refused_with_a_sheet_that_takes_it(run: Run) -> None:
    refused = run("make", "--size", "300mm", "--name", "hoop", "--sheet", "A4")
    assert refused.code == 3
    assert refused.faults == [
        "hoop: 300 mm across, an A4 sheet with 5 mm margin takes 200 mm. "
        "Make it smaller, or use --sheet A2 (takes 410 mm)."
    ]
    assert not Path("out").exists()


def test_distances_hold_after_kerf(run: Run) -> None:
    """Two discs of 70 mm with a kerf of 1 mm are cut 71 mm wide, and lie 71 + 3 mm from middle to middle at least."""
    ran = run("make", "--size", "70mm", "--copies", "4", "--sheet", "A4", "--kerf", "1mm", "--tries", "0",
              "--formats", "svg", "--json")  # fmt: skip
    lines = read_cut_svg(Path("out/sheet-1.svg").read_bytes(), where="sheet").lines
    at = centres(lines)
    assert [round(bounds(outline).width_mm, 3) for outline in closed(lines)] == [71.0] * 4
    assert min(abs(a - b) for k, a in enumerate(at) for b in at[:k]) >= 74 - 1e-3
    assert ran.json["sheets"][0]["card_used"] == pytest.approx(4 * 3848.451 / 62370, rel=1e-6)


def test_lines_left_open_for_the_machine_go_along(run: Run) -> None:
    ran = run("make", "--size", "60mm", "--copies", "3", "--sheet", "A4", "--bridges", "4 x 0.6mm", "--tries", "0",
              "--formats", "svg,dxf", "--json")  # fmt: skip
    lines = read_cut_svg(Path("out/sheet-1.svg").read_bytes(), where="sheet").lines
    assert len(lines) == 12
    long = length_mm(segment for line in lines for segment in line.segments)
    assert long == pytest.approx(3 * (188.4956 - 2.4), abs=1e-2)
    assert ran.json["sheets"][0]["cut_length_mm"] == pytest.approx(long, abs=1e-2)
    assert ran.json["sheets"][0]["lifts"] == 12


@pytest.mark.slow
def test_one_path_joins_all_pieces_of_a_sheet(run: Run) -> None:
    run("make", "--size", "60mm", "--copies", "3", "--sheet", "A4", "--one-path", "--tries", "0", "--formats", "svg")
    text = Path("out/sheet-1.svg").read_text(encoding="utf-8")
    assert text.count("<path") == 1
    assert text.count("M") == 3 + text.count("Metadata")


def test_marks_have_a_file_of_their_own_on_the_same_sheet(run: Run) -> None:
    ran = run(
        "make", "--test-piece", "--copies", "2", "--sheet", "A4", "--tries", "0", "--formats", "svg,dxf", "--json"
    )
    files = ran.json["sheets"][0]["files"]
    assert list(files) == ["svg", "cut.svg", "mark.svg", "dxf"]
    mark = Path("out/sheet-1.mark.svg").read_text(encoding="utf-8")
    assert 'viewBox="0 0 210 297"' in mark
    assert mark.count("<path") == 2
    assert 'id="cut"' not in mark


def test_stacks_take_as_many_sheets_as_the_formula_says(run: Run) -> None:
    """ceil(N / (k per)) stacks for N pieces, per on a sheet, k sheets at once (job F60); of discs of 70 mm at least 9
    lie on an A4 sheet, and in rows 6 do (job F67)."""
    words = ("make", "--size", "70mm", "--sheet", "A4 landscape", "--tries", "0", "--formats", "svg", "--json")
    per = max(len(sheet["pieces"]) for sheet in run(*words, "--copies", "24").json["sheets"])
    assert per >= 9
    sheets = run(*words, "--copies", "100", "--stack", "3").json["sheets"]
    assert len(sheets) == math.ceil(100 / (3 * per))
    assert {sheet["stack"] for sheet in sheets} == {3}
    assert sum(len(sheet["pieces"]) for sheet in sheets) == math.ceil(100 / 3)


@pytest.mark.slow
def test_our_files_alone_are_replaced(run: Run) -> None:
    words = ("make", "--size", "60mm", "--name", "badge", "--sheet", "A4", "--tries", "0", "--formats", "svg")
    assert run(*words).code == 0
    assert run(*words, "--copies", "2").code == 0
    text = Path("out/sheet-1.svg").read_text(encoding="utf-8")
    Path("out/sheet-1.svg").write_text(text.replace("M", "M ", 1), encoding="utf-8")
    refused = run(*words)
    assert refused.code == 4
    assert refused.faults[0].startswith("out/sheet-1.svg: frameforge did not write this file and leaves it alone.")
    assert run(*words, "--force").code == 0


def test_a_begun_sheet_goes_first_and_what_is_gone_stays_free(run: Run) -> None:
    """One A5 sheet begun with a disc in its lower left corner, then as many A4 sheets as are needed."""
    page = '<svg xmlns="http://www.w3.org/2000/svg" width="148mm" height="210mm" viewBox="0 0 148 210">'
    Path("off-cut.svg").write_text(f'{page}<circle cx="40" cy="170" r="35" fill="none" stroke="#000"/></svg>')
    ran = run("make", "--size", "60mm", "--copies", "4", "--sheet", "A4", "--used", "off-cut.svg", "--price", "1",
              "--tries", "0", "--formats", "svg", "--json")  # fmt: skip
    begun = ran.json["sheets"][0]
    assert (begun["size"], begun["cost"]) == ("off-cut", 0)
    assert begun["pieces"]
    for piece in begun["pieces"]:
        assert abs(complex(piece["x_mm"], piece["y_mm"]) - (40 + 40j)) >= 35 + 30 + 3 - 1e-6
    assert sum(len(sheet["pieces"]) for sheet in ran.json["sheets"]) == 4


def test_a_begun_sheet_must_tell_its_card_where_there_are_several(run: Run, tmp_path: Path) -> None:
    text = '[sheets]\nused = "off-cut.svg"\n' + DISC.format(card="moss") + DISC.format(card="sand")
    refused = run("make", recipe(tmp_path, text))
    assert refused.code == 2
    assert refused.faults == [
        "swap.toml line 2: the pieces are of several cards (moss, sand). Write used below the card it is of."
    ]


def test_a_piece_may_insist_on_its_sheet(run: Run, tmp_path: Path) -> None:
    text = (
        '[sheets]\ntries = 0\n[[piece]]\nname = "hoop"\ncard = "moss"\nsize = 280\nsheet = "A3"\n'
        '[[piece]]\nname = "seal"\ncard = "moss"\nsize = 40\n'
    )
    ran = run("make", recipe(tmp_path, text), "--formats", "svg", "--json")
    found = [(sheet["name"], sheet["size"], [p["name"] for p in sheet["pieces"]]) for sheet in ran.json["sheets"]]
    assert found == [("moss-sheet-1", "A3", ["hoop"]), ("moss-sheet-2", "A4", ["seal"])]


def test_a_margin_too_wide_and_an_unknown_sheet_are_told_with_their_option(run: Run) -> None:
    wide = run("make", "--size", "60mm", "--sheet", "A4", "--margin", "110mm")
    assert (wide.code, wide.faults[0][:60]) == (2, "make, --margin: a margin of 110 mm leaves nothing of an A4 s")
    unknown = run("make", "--size", "60mm", "--sheet", "A44")
    assert unknown.faults[0].startswith('make, --sheet "A44": no sheet of that name; the nearest is A4.')


def test_a_sheet_keeps_the_recipe_of_all_that_was_made(three: Path, run: Run) -> None:
    """Made again from one of its sheets, the whole run is the same to the byte: another run too, by the same token."""
    ran = run("make", str(three / "out" / "sand-sheet-1.dxf"), "--out", "again")
    assert ran.code == 0
    assert sorted(file.name for file in Path("again").iterdir()) == sorted(f.name for f in (three / "out").iterdir())
    for file in (three / "out").iterdir():
        assert (Path("again") / file.name).read_bytes() == file.read_bytes(), file.name
