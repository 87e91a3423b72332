"""``nest``: cut files of any make placed on sheets."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from frameforge.geometry.measure import bounds
from frameforge.geometry.outline import Outline
from frameforge.job.make import MakeOrder, make
from frameforge.read.cut_dxf import read_cut_dxf
from frameforge.read.cut_svg import read_cut_svg

Run = Callable[..., Any]

FLOWER = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="90mm" height="60mm" viewBox="0 0 90 60">'
    '<path d="M 5 5 H 85 V 55 H 5 Z" fill="none" stroke="#000"/>'
    '<circle cx="45" cy="30" r="20" fill="none" stroke="#000"/></svg>'
)


@pytest.fixture(scope="module")
def drawn(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Make a ring and a disc that fits into it, once."""
    folder = tmp_path_factory.mktemp("drawn")
    for name, more in (("hoop", {"size": "120mm", "opening": "100mm"}), ("seal", {"size": "60mm"})):
        order = MakeOrder(None, {"name": name, "formats": "svg,dxf", **more}, folder)
        make(order, lambda done, total, what: None)
    return folder


@pytest.fixture
def files(run: Run, drawn: Path) -> None:
    """Put ring and disc into the folder of the test, and draw a plate with a hole."""
    shutil.copytree(drawn, "out")
    Path("flower.svg").write_text(FLOWER, encoding="utf-8")


@pytest.mark.usefixtures("files")
def test_files_of_ours_and_of_others_are_laid_with_their_copies(run: Run) -> None:
    words = (
        "out/hoop.svg",
        "out/seal.dxf:3",
        "flower.svg:2",
        "--sheet",
        "A4",
        "--tries",
        "0",
        "--formats",
        "svg",
        "--out",
        "laid",
    )
    ran = run("nest", *words, "--json")
    assert ran.code == 0
    found = ran.json
    assert list(found)[:6] == ["out", "sheets", "left_over", "off_cuts", "sheets_at_least", "card_used"]
    pieces = [piece for sheet in found["sheets"] for piece in sheet["pieces"]]
    assert sorted(piece["name"] for piece in pieces) == ["flower"] * 2 + ["hoop"] + ["seal"] * 3
    assert (found["left_over"], found["sheets_at_least"], found["interrupted"]) == ([], 1, False)
    assert set(pieces[0]) == {"name", "copy", "x_mm", "y_mm", "turn_deg", "inside_of"}
    length = sum(sheet["cut_length_mm"] for sheet in found["sheets"])
    assert length == pytest.approx(691.150 + 3 * 188.496 + 2 * (260 + 125.664), abs=0.05)
    assert found["off_cuts"] == [cut for sheet in found["sheets"] for cut in sheet["off_cuts"]]


@pytest.mark.usefixtures("files")
def test_a_piece_lies_in_the_opening_of_another_and_is_cut_first(run: Run) -> None:
    ran = run("nest", "out/hoop.svg", "out/seal.svg", "--sheet", "135x135mm", "--tries", "20", "--formats", "svg,dxf",
              "--out", "laid", "--json")  # fmt: skip
    (sheet,) = ran.json["sheets"]
    seal, hoop = sheet["pieces"]
    assert (seal["name"], hoop["name"]) == ("seal", "hoop")
    assert (seal["inside_of"], hoop["inside_of"]) == (1, None)
    svg = read_cut_svg(Path("laid/sheet-1.svg").read_bytes(), where="sheet").lines
    dxf = read_cut_dxf(Path("laid/sheet-1.dxf").read_bytes(), where="sheet").lines
    for lines in (svg, dxf):
        assert [round(bounds(line.segments).width_mm) for line in lines] == [60, 100, 120]
        middles = [bounds(Outline(line.segments)).center for line in lines]
        assert abs(middles[0] - middles[1]) <= 50 - 30 - 3 + 1e-3
        assert (middles[2].real, middles[2].imag) == pytest.approx((hoop["x_mm"], hoop["y_mm"]), abs=1e-3)


@pytest.mark.usefixtures("files")
def test_what_was_said_stands_on_the_terminal_and_in_the_report(run: Run) -> None:
    ran = run("nest", "out/seal.svg:4", "--sheet", "A4", "--card", "moss", "--price", "0.4", "--tries", "0",
              "--out", "laid")  # fmt: skip
    lines = ran.out.splitlines()
    assert lines[0].startswith("moss-sheet-1, A4 (210 x 297 mm): 4 x seal. Card used 18 %, 754 mm to cut in 4 lifts")
    assert "4 seals on 1 sheet: moss 1. Card used 18 %." in lines
    assert "Cost of the sheets: 0.40." in lines
    assert sorted(file.name for file in Path("laid").iterdir()) == [
        "moss-sheet-1.dxf", "moss-sheet-1.svg", "report.md", "run.json", "sheet-plan.png", "sheet-plan.svg",
    ]  # fmt: skip
    report = Path("laid/report.md").read_text(encoding="utf-8")
    assert "| moss-sheet-1 | moss |" in report
    assert "## Off-cuts worth keeping" in report
    assert ">moss-sheet-1</text>" in Path("laid/sheet-plan.svg").read_text(encoding="utf-8")
    assert Path("laid/sheet-plan.png").read_bytes().startswith(b"\x89PNG")


@pytest.mark.usefixtures("files")
def test_a_sheet_of_ours_is_begun_again(run: Run) -> None:
    """Its file tells what is gone: the second run lies beside the first on the same sheet, and nothing overlaps."""
    assert run("nest", "out/hoop.svg", "--sheet", "A4", "--tries", "0", "--formats", "svg", "--out", "one").code == 0
    ran = run("nest", "out/seal.svg:2", "--used", "one/sheet-1.svg", "--sheet", "A4", "--tries", "0", "--formats",
              "svg", "--out", "two", "--json")  # fmt: skip
    (sheet,) = ran.json["sheets"]
    assert sheet["size"] == "sheet-1"
    hoop = bounds(read_cut_svg(Path("one/sheet-1.svg").read_bytes(), where="one").lines[-1].segments)
    for piece in sheet["pieces"]:
        assert abs(complex(piece["x_mm"], piece["y_mm"]) - hoop.center) >= 60 + 30 + 3 - 1e-3


@pytest.mark.usefixtures("files")
def test_turns_are_told_clockwise(run: Run) -> None:
    """A plate of 80 x 50 mm on a sheet that takes it only when turned: its longer side stands upright."""
    ran = run(
        "nest", "flower.svg", "--sheet", "65x100mm", "--tries", "0", "--formats", "svg", "--out", "laid", "--json"
    )
    (piece,) = ran.json["sheets"][0]["pieces"]
    assert piece["turn_deg"] in (90, 270)
    lines = read_cut_svg(Path("laid/sheet-1.svg").read_bytes(), where="sheet").lines
    assert bounds(lines[-1].segments).height_mm == pytest.approx(80)
    refused = run("nest", "flower.svg", "--sheet", "65x100mm", "--turn", "none", "--json")
    assert refused.code == 3


@pytest.mark.usefixtures("files")
def test_a_piece_that_fits_no_sheet_is_left_over_and_nothing_is_written(run: Run) -> None:
    ran = run("nest", "out/hoop.svg:2", "out/seal.svg", "--sheet", "A6", "--out", "laid", "--json")
    assert ran.code == 3
    assert ran.json["error"]["code"] == "too-big-for-sheet"
    (left,) = ran.json["left_over"]
    assert (left["name"], left["copies"], left["usable_mm"]) == ("hoop", 2, [95, 138])
    assert ran.faults == [
        "hoop: 120 mm across, an A6 sheet with 5 mm margin takes 95 mm. "
        "Make it smaller, or use --sheet A5 (takes 138 mm)."
    ]
    assert not Path("laid").exists()


def test_every_file_that_cannot_be_laid_is_told(run: Run) -> None:
    Path("notes.txt").write_text("hello")
    refused = run("nest", "rose.svg", "notes.txt:4", "daisy.svg:0", "--sheet", "A4")
    assert refused.code == 4
    assert [line.split(": ")[0] for line in refused.faults] == ["rose.svg", "notes.txt", "nest, daisy.svg:0"]


def test_a_bare_command_names_what_is_missing(run: Run) -> None:
    refused = run("nest")
    assert refused.code == 2
    assert "FILE" in refused.faults[0]


@pytest.mark.slow
@pytest.mark.usefixtures("files")
def test_the_same_seed_gives_the_same_bytes_and_another_may_not(run: Run) -> None:
    words = ("nest", "out/seal.svg:3", "flower.svg:2", "--sheet", "A4", "--tries", "10")
    for out, seed in (("a", "7"), ("b", "7")):
        assert run(*words, "--seed", seed, "--formats", "svg,dxf", "--out", out).code == 0
    files = sorted(file.name for file in Path("a").iterdir())
    assert files == sorted(file.name for file in Path("b").iterdir())
    assert all(Path("a", name).read_bytes() == Path("b", name).read_bytes() for name in files)
