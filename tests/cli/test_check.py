"""``check`` and ``mend`` on files made elsewhere, on our own, and on recipes."""

from __future__ import annotations

import math
import shlex
from collections.abc import Callable
from pathlib import Path
from typing import Any

import ezdxf
import pytest

from frameforge.card.preset import load_preset
from frameforge.check.rough_outline import find_rough_outlines
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle
from frameforge.job.cut_file import CutFile, findings_in
from frameforge.read.cut_drawing import CutDrawing, FileLine

FLOWER = (
    '<svg xmlns="http://www.w3.org/2000/svg" {size}><g fill="none" stroke="black">'
    '<circle cx="50" cy="50" r="40"/><circle cx="50" cy="50" r="20"/><circle cx="50" cy="27.8" r="1.4"/>{more}'
    "</g></svg>"
)
SIZED = 'width="100mm" height="100mm" viewBox="0 0 100 100"'


def _flower(more: str = "", size: str = SIZED) -> None:
    Path("flower.svg").write_text(FLOWER.format(size=size, more=more))


def test_a_file_made_elsewhere_is_measured_and_checked(run: Callable[..., Any]) -> None:
    _flower()
    ran = run("check", "flower.svg", "--json")
    assert ran.code == 0
    (file,) = ran.json["files"]
    assert list(file) == [
        "file", "width_mm", "height_mm", "area_mm2", "cut_length_mm", "parts", "inside_cuts", "open_lines", "segments",
        "picture", "findings", "mended", "written",
    ]  # fmt: skip
    assert (file["file"], file["parts"], file["inside_cuts"], file["open_lines"]) == ("flower.svg", 1, 2, 0)
    assert file["area_mm2"] == pytest.approx(math.pi * (1600 - 400 - 1.96))
    assert file["cut_length_mm"] == pytest.approx(math.pi * (80 + 40 + 2.8))
    web = next(finding for finding in file["findings"] if finding["code"] == "thin-web")
    assert web["measured"] == pytest.approx(0.8, abs=1e-6)
    assert (web["x_mm"], web["y_mm"]) == (pytest.approx(50, abs=0.05), pytest.approx(70.4, abs=0.05))
    assert Path("out", file["picture"]).read_bytes()[1:4] == b"PNG"


def test_lines_as_they_lie_there_are_checked(run: Callable[..., Any]) -> None:
    _flower('<circle cx="50" cy="50" r="20"/><path d="M45 5L55 14"/>')
    (file,) = run("check", "flower.svg", "--json").json["files"]
    codes = {finding["code"] for finding in file["findings"]}
    assert {"double-line", "crossing", "open-line"} <= codes
    assert file["open_lines"] == 1
    assert file["area_mm2"] == pytest.approx(math.pi * (1600 - 400 - 1.96))


def test_strict_is_for_warnings(run: Callable[..., Any]) -> None:
    _flower()
    assert run("check", "flower.svg", "--strict").code == 3
    Path("plain.svg").write_text(
        f'<svg xmlns="http://www.w3.org/2000/svg" {SIZED}><circle cx="50" cy="50" r="40"/></svg>'
    )
    ran = run("check", "plain.svg", "--strict")
    assert ran.code == 0
    assert "  Nothing found." in ran.out.splitlines()


def test_a_file_without_a_size_is_told_its_width(run: Callable[..., Any]) -> None:
    _flower(size='viewBox="0 0 100 100"')
    assert "does not say how large it is" in run("check", "flower.svg").out
    (file,) = run("check", "flower.svg", "--width", "200mm", "--json").json["files"]
    assert file["width_mm"] == pytest.approx(200)


def test_loose_lines_are_put_in_order_before_they_are_mended(run: Callable[..., Any]) -> None:
    """Four sides that miss one another by up to .22 mm, one of them drawn twice, and a line that encloses nothing."""
    sides = "M10 10H90M90.2 10.1V70M90 70.1H10M10 70.1V10M10 10H90M20 90L50 95"
    Path("card.svg").write_text(
        f'<svg xmlns="http://www.w3.org/2000/svg" {SIZED}><path fill="none" stroke="black" d="{sides}"/></svg>'
    )
    assert "frameforge mend card.svg --out mended" in run("check", "card.svg").out
    ran = run("mend", "card.svg", "--out", "mended")
    assert "mended 1 x double-line: the second of two lines taken out." in ran.out
    assert "mended 2 x open-line: ends up to 0.5 mm apart joined." in ran.out
    assert "1 open line left out: nothing is enclosed by it." in ran.out
    (again,) = run("check", "mended/card.svg", "--out", "again", "--json").json["files"]
    assert again["area_mm2"] == pytest.approx(80 * 60, abs=20)
    assert (again["open_lines"], again["findings"]) == (0, [])
    assert "To mend what can be mended" not in run("check", "mended/card.svg", "--out", "again").out


def test_what_is_too_far_open_is_not_offered_to_be_mended(run: Callable[..., Any]) -> None:
    Path("open.svg").write_text(
        f'<svg xmlns="http://www.w3.org/2000/svg" {SIZED}><path fill="none" stroke="black" d="M9 9H90V80L10 12"/></svg>'
    )
    ran = run("check", "open.svg")
    assert "open-line" in ran.out
    assert "To mend what can be mended" not in ran.out


def test_mend_writes_the_file_anew_and_clean(run: Callable[..., Any]) -> None:
    _flower('<circle cx="50" cy="50" r="20"/>')
    before = Path("flower.svg").read_bytes()
    ran = run("mend", "flower.svg", "--out", "mended", "--json")
    (file,) = ran.json["files"]
    assert ran.code == 0
    assert file["written"] == "flower.svg"
    assert [finding["code"] for finding in file["findings"]] == []
    assert {change["code"] for change in file["mended"]} == {"double-line", "thin-web"}
    assert all(change["where"] == "at 12 o'clock" for change in file["mended"] if change["code"] == "thin-web")
    assert Path("flower.svg").read_bytes() == before
    (again,) = run("check", "mended/flower.svg", "--out", "again", "--strict", "--json").json["files"]
    assert (again["parts"], again["findings"]) == (1, [])


def test_mend_takes_only_what_it_is_told(run: Callable[..., Any]) -> None:
    _flower()
    (file,) = run("mend", "flower.svg", "--mend", "small-hole", "--out", "mended", "--json").json["files"]
    assert "thin-web" in {finding["code"] for finding in file["findings"]}


def test_dxf_in_dxf_out(run: Callable[..., Any]) -> None:
    document = ezdxf.new(units=4)
    for place, radius in (((0, 0), 40), ((0, 0), 20), ((0, 22.2), 1.4)):
        document.modelspace().add_circle(place, radius)
    document.saveas("ring.dxf")
    (file,) = run("mend", "ring.dxf", "--out", "mended", "--json").json["files"]
    assert (file["written"], file["findings"]) == ("ring.dxf", [])
    (again,) = run("check", "mended/ring.dxf", "--out", "again", "--json").json["files"]
    assert again["findings"] == []
    assert again["width_mm"] == pytest.approx(80, abs=1e-4)


def test_the_pieces_of_a_recipe_are_checked_without_being_written(run: Callable[..., Any]) -> None:
    Path("seal.toml").write_text(
        '[[piece]]\nname = "seal"\nsize = 70\n\n[[piece.row]]\nmotif = "scallop"\ncount = 14\ngap = "find"\n'
    )
    ran = run("check", "seal.toml", "--json")
    (file,) = ran.json["files"]
    assert file["file"] == "seal.toml, seal"
    assert {finding["code"] for finding in file["findings"]} >= {"thin-web", "small-hole"}
    assert not list(Path("out").glob("seal.svg"))


@pytest.mark.parametrize(
    ("words", "code", "say"),
    [
        (("check", "nope.svg"), 4, "nope.svg: no such file."),
        (("check", "notes.md"), 2, 'notes.md: ".md" is no kind of cut file. Name an .svg or a .dxf.'),
        (("check", "notes.dxf"), 2, "notes.dxf: this is no DXF, or it breaks off."),
        (("check", "flower.svg", "--width", "2mm"), 2, "flower.svg: the file says how large it is, 80 mm"),
        (("check", "flower.svg", "--width", "big"), 2, 'check, --width "big": '),
        (("check", "flower.svg", "--preset", "card-24-knife"), 2, "check, --preset card-24-knife: there is no preset"),
        (("mend", "flower.svg", "--mend", "thin"), 2, 'mend, --mend "thin": "thin" cannot be mended; the nearest is'),
        (("mend", "seal.toml"), 2, "mend, seal.toml: a recipe is mended when it is made."),
        (("check",), 2, "check: FILE is missing."),
    ],
)
def test_what_cannot_be_checked_is_one_line(
    run: Callable[..., Any], words: tuple[str, ...], code: int, say: str
) -> None:
    _flower()
    Path("notes.md").write_text("notes")
    Path("notes.dxf").write_text("notes")
    Path("seal.toml").write_text("[[piece]]\nsize = 70\n")
    ran = run(*words)
    assert ran.code == code
    assert len(ran.faults) == 1
    assert ran.faults[0].startswith(say)
    assert not Path("out").exists()


def test_all_faults_of_several_files_are_told_at_once(run: Callable[..., Any]) -> None:
    ran = run("check", "a.svg", "b.dxf")
    assert (ran.code, [line.split(":")[0] for line in ran.faults]) == (4, ["a.svg", "b.dxf"])


def _offered(out: str) -> list[str]:
    (line,) = [line for line in out.splitlines() if line.startswith("  frameforge mend")]
    return shlex.split(line)[1:]


def test_the_line_offered_mends_the_same_files_by_the_same_limits(run: Callable[..., Any]) -> None:
    """Typed back as it is printed, with a name of two words, a width and a preset."""
    _flower(size='viewBox="0 0 100 100"')
    Path("flower.svg").rename("my flower.svg")
    ran = run("check", "my flower.svg", "--width", "60mm", "--preset", "card-300-knife")
    words = _offered(ran.out)
    mended = run(*words, "--json")
    assert mended.code == 0
    (file,) = mended.json["files"]
    assert file["width_mm"] == pytest.approx(60)
    assert file["mended"] != []
    assert "Limits of card-300-knife" in mended.err
    assert Path("mended", file["written"]).is_file()


def test_nothing_to_mend_offers_nothing(run: Callable[..., Any]) -> None:
    Path("open.svg").write_text(f'<svg xmlns="http://www.w3.org/2000/svg" {SIZED}><path d="M10 10h50v50"/></svg>')
    assert "frameforge mend" not in run("check", "open.svg").out


def test_open_lines_alone_are_pictured_and_told(run: Callable[..., Any]) -> None:
    Path("open.svg").write_text(f'<svg xmlns="http://www.w3.org/2000/svg" {SIZED}><path d="M10 30H60"/></svg>')
    ran = run("check", "open.svg")
    assert "This line is open; its ends are 50 mm apart." in ran.out
    picture = Path("out/open.check.svg").read_text()
    assert picture.count('fill="none"') >= 1
    assert Path("out/open.check.png").read_bytes()[1:4] == b"PNG"
    told = run("mend", "open.svg", "--out", "mended")
    assert "1 open line left out: nothing is enclosed by it." in told.out
    assert not Path("mended/open.svg").exists()


def test_a_laser_preset_brings_its_cautions(run: Callable[..., Any]) -> None:
    _flower()
    for command in ("check", "mend"):
        out = run(command, "flower.svg", "--preset", "card-240-laser").out
        assert "never left alone while it runs" in out
        assert "Sharp blade" not in out


@pytest.mark.parametrize(
    ("room", "told"),
    [
        ("C5", ""),
        ("60mm", "100 mm across, a circle of 60 mm with 3 mm each side takes 54 mm."),
        ("90x200mm", "100 mm across, a box of 90 x 200 mm with 3 mm each side takes 84 mm."),
    ],
)
def test_what_a_file_must_go_into_is_checked(run: Callable[..., Any], room: str, told: str) -> None:
    run("make", "--size", "100mm", "--name", "disc", "--formats", "svg")
    ran = run("check", "out/disc.svg", "--goes-in", room, "--json")
    (file,) = ran.json["files"]
    found = [finding for finding in file["findings"] if finding["code"].startswith("too-big")]
    assert [finding["severity"] for finding in found] == ["warning"] * bool(told)
    assert all(told in finding["say"] for finding in found)
    assert run("check", "out/disc.svg", "--goes-in", "C66").faults == [
        'check, --goes-in "C66": no envelope or sheet of that name; the nearest is C6.'
    ]


@pytest.mark.parametrize(
    ("size", "room", "told"),
    [
        ("300mm", ("--sheet", "A4"), "300 mm across, an A4 sheet with 5 mm margin takes 200 mm. Make it smaller, or "
         "use --sheet A2 (takes 410 mm)."),
        ("300mm", ("--sheet", "a4", "--margin", "0.5in"), "300 mm across, an A4 sheet with 12.7 mm margin takes "
         "184.6 mm. Make it smaller, or use --sheet A2 (takes 394.6 mm)."),
        ("200mm", ("--sheet", "A4"), ""),
        ("200.1mm", ("--sheet", "A4"), "200.1 mm across, an A4 sheet with 5 mm margin takes 200 mm. Make it smaller, "
         "or use --sheet A3 (takes 287 mm)."),
        ("287x200mm", ("--sheet", "A4"), ""),
        ("330x180mm", ("--sheet", "A4"), "Make it smaller, or use --sheet A3 (takes 287 x 410 mm)."),
        ("310mm", ("--sheet", "12x12in", "--margin", "2mm"), "310 mm across, a 12 x 12 in sheet with 2 mm margin takes "
         "300.8 mm."),
    ],
)  # fmt: skip
def test_a_file_too_big_for_its_sheet(run: Callable[..., Any], size: str, room: tuple[str, ...], told: str) -> None:
    run("make", "--size", size, "--name", "hoop", "--formats", "svg", "--out", "made")
    (file,) = run("check", "made/hoop.svg", *room, "--json").json["files"]
    found = [finding for finding in file["findings"] if finding["code"].startswith("too-big")]
    assert [(finding["code"], finding["severity"]) for finding in found] == [("too-big-for-sheet", "warning")] * bool(
        told
    )
    assert all(told in finding["say"] for finding in found)
    if "use --sheet " in told:
        offer = found[0]["say"].split("use --sheet ")[1].split(" (")[0]
        (again,) = run("check", "made/hoop.svg", "--sheet", offer, *room[2:], "--json").json["files"]
        assert not [finding for finding in again["findings"] if finding["code"].startswith("too-big")]


@pytest.mark.parametrize(
    ("words", "fault"),
    [
        (("--sheet", "A44"), 'check, --sheet "A44": no sheet of that name; the nearest is A4'),
        (("--margin", "5"), 'check, --margin "5": of which sheet. Name it too, for example: --sheet A4'),
        (("--sheet", "A4", "--margin", "105mm"), 'check, --margin "105mm": a margin of 105 mm leaves nothing of an A4 '
         "sheet. Write less than 105mm."),
        (("--sheet", "A4", "--margin", "wide"), 'check, --margin "wide": '),
        (("--sheet", "A4", "--margin", "-1mm"), "check"),
    ],
)  # fmt: skip
def test_what_is_no_sheet_is_one_line(run: Callable[..., Any], words: tuple[str, ...], fault: str) -> None:
    _flower()
    ran = run("check", "flower.svg", *words)
    assert ran.code == 2
    (line,) = ran.faults
    assert line.startswith(fault)


@pytest.mark.parametrize(
    ("paint", "is_told"),
    [
        ('fill="white"', True), ('fill="#fdfdf8"', True), ('fill="black"', True), ("", True),
        ('fill="none" stroke="black"', False), ('fill="white" stroke="black"', False),
    ],
)  # fmt: skip
def test_a_box_behind_a_drawing_is_told(run: Callable[..., Any], paint: str, is_told: bool) -> None:
    box = f'<rect width="100" height="100" {paint}/>'
    Path("card.svg").write_text(
        f'<svg xmlns="http://www.w3.org/2000/svg" {SIZED}>{box}<circle cx="50" cy="50" r="40"/></svg>'
    )
    (file,) = run("check", "card.svg", "--json").json["files"]
    found = [finding for finding in file["findings"] if finding["code"] == "white-box"]
    assert [(finding["severity"], finding["where"]) for finding in found] == [("note", "rect 1")] * is_told
    text = Path("card.svg").read_text()
    Path("less.svg").write_text(text.replace(box, box.replace('height="100"', 'height="99.9"')))
    (file,) = run("check", "less.svg", "--json").json["files"]
    assert "white-box" not in {finding["code"] for finding in file["findings"]}


def test_where_lines_cross_nothing_is_told_twice(run: Callable[..., Any]) -> None:
    _flower('<circle cx="50" cy="60" r="20"/>')
    (file,) = run("check", "flower.svg", "--json").json["files"]
    codes = [finding["code"] for finding in file["findings"]]
    assert codes.count("crossing") == 2
    assert "point-touch" not in codes


def test_a_size_that_no_card_has_is_replaced_by_a_width(run: Callable[..., Any]) -> None:
    """A DXF in metres, as some programs save it by default."""
    document = ezdxf.new(units=6)
    document.modelspace().add_lwpolyline([(0, 0), (100, 0), (100, 80), (0, 80)], close=True)
    document.saveas("plate.dxf")
    ran = run("check", "plate.dxf")
    assert (ran.code, ran.faults) == (
        2, ["plate.dxf: 100000 mm (3937.01 in) across is larger than any card. Give its true size with --width."],
    )  # fmt: skip
    (file,) = run("check", "plate.dxf", "--width", "100mm", "--json").json["files"]
    assert (file["width_mm"], file["height_mm"]) == (pytest.approx(100), pytest.approx(80))
    assert run("check", "plate.dxf", "--width", "100mm").code == 0


def test_shapes_that_all_but_lie_in_one_another_are_cut_as_short_lines_and_told() -> None:
    """Whoever unites the lines names the places; the check passes them on, each once."""
    spots = (3 + 4j, 3.01 + 4j, 7j)
    found = find_rough_outlines(spots)
    assert [(one.code, one.severity, one.place) for one in found] == [
        ("rough-outline", "warning", 3 + 4j), ("rough-outline", "warning", 7j),
    ]  # fmt: skip
    file = CutFile(CutDrawing((FileLine(circle(0, 40).segments),)), (Region(circle(0, 40)),), spots)
    findings = findings_in(file, load_preset("card-240-knife"))
    assert [one.place for one in findings if one.code == "rough-outline"] == [3 + 4j, 7j]


def test_kinds_that_are_not_told_stand_in_the_json(run: Callable[..., Any]) -> None:
    """A check writes no report to look into."""
    _flower("".join(f'<circle cx="{26 + 8 * k}" cy="80" r="{0.4 + 0.07 * k}"/>' for k in range(7)))
    ran = run("check", "flower.svg", "--json")
    assert "warning, small-hole: 3 more kinds of place, told with --json." in ran.err
    assert sum(finding["code"] == "small-hole" for finding in ran.json["files"][0]["findings"]) == 7
