"""Allowances for the machine through the command: said, written, kept, and off unless asked for."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

DISC = ("make", "--size", "100mm", "--name", "hoop", "--formats", "svg,dxf")


def _path(name: str = "hoop") -> str:
    found = re.findall(r' d="([^"]*)"', Path(f"out/{name}.svg").read_text())
    assert len(found) == 1
    return str(found[0])


def test_nothing_is_allowed_unless_it_is_asked_for(run: Callable[..., Any]) -> None:
    """The laser preset has a kerf and both presets an overcut; neither is in the file."""
    piece = run(*DISC, "--preset", "card-240-laser", "--json").json["pieces"][0]
    assert piece["cut_length_mm"] == pytest.approx(100 * math.pi, abs=1e-9)
    assert piece["kerf_mm"] == 0
    assert "Allowed for the machine" not in Path("out/report.md").read_text()


def test_kerf_of_the_preset_leaves_the_size_that_was_wanted(run: Callable[..., Any]) -> None:
    ran = run(*DISC, "--preset", "card-240-laser", "--kerf", "preset", "--json")
    (piece,) = ran.json["pieces"]
    assert (piece["kerf_mm"], piece["width_mm"]) == (0.15, 100)
    assert piece["cut_length_mm"] == pytest.approx(100.15 * math.pi, abs=1e-9)
    assert "this piece must measure 100 mm across" in ran.err


def test_bridges_leave_lines_open_and_the_report_says_so(run: Callable[..., Any]) -> None:
    (piece,) = run(*DISC, "--bridges", "4 x 0.6mm", "--json").json["pieces"]
    assert piece["cut_length_mm"] == pytest.approx(311.759, abs=5e-4)
    assert (_path().count("M"), _path().count("Z")) == (4, 0)
    report = Path("out/report.md").read_text()
    assert "4 bridges of 0.6 mm in the outside line" in report
    assert "Lines of this file are left open on purpose." in report


def test_a_file_with_allowances_makes_itself_again(run: Callable[..., Any]) -> None:
    allowed = ("--kerf", "0.2mm", "--overcut", "preset", "--lead-in", "2mm", "--bridges", "0.6mm every 60mm")
    assert run(*DISC, *allowed).code == 0
    first = [Path(f"out/hoop.{kind}").read_bytes() for kind in ("svg", "dxf")]
    for kind in ("svg", "dxf"):
        assert run("make", f"out/hoop.{kind}", "--out", "again").code == 0
        assert [Path(f"again/hoop.{kind}").read_bytes() for kind in ("svg", "dxf")] == first


def test_a_card_carries_its_kerf(run: Callable[..., Any]) -> None:
    Path("hoops.toml").write_text(
        '[card.moss]\nkerf = 0.2\n\n[[piece]]\nname = "hoop"\ncard = "moss"\nsize = 100\n\n'
        '[[piece]]\nname = "disc"\ncard = "moss"\nsize = 60\nkerf = 0\n'
    )
    hoop, disc = run("make", "hoops.toml", "--json").json["pieces"]
    assert (hoop["kerf_mm"], disc["kerf_mm"]) == (0.2, 0)
    assert hoop["cut_length_mm"] == pytest.approx(100.2 * math.pi, abs=1e-9)


@pytest.mark.parametrize(
    ("option", "code", "say"),
    [
        (("--kerf", "7mm"), 2, 'make, --kerf "7mm": 7 mm is more than any kerf (5 mm). Write a length such as 0.15mm,'),
        (("--overcut", "-1"), 2, 'make, --overcut "-1": a length below 0 does not work here.'),
        (("--bridges", "some"), 2, 'make, --bridges "some": it does not say how many and how wide.'),
        (("--bridges", "0 x 1mm"), 2, 'make, --bridges "0 x 1mm": 0 bridges hold nothing.'),
        (("--bridges", "400 x 1mm"), 3, "hoop: 400 bridges of 1 mm leave too little of the 314.15 mm line cut. "
                                        "Take 157 or fewer, or narrower ones."),
        (("--hole", "2mm top", "--kerf", "2.5mm"), 3, "hoop: 1 hole or slot is narrower (2 mm) than the 2.5 mm that"),
    ],
)  # fmt: skip
def test_what_cannot_be_allowed_is_one_line(
    run: Callable[..., Any], option: tuple[str, ...], code: int, say: str
) -> None:
    ran = run(*DISC, *option)
    assert ran.code == code
    assert len(ran.faults) == 1
    assert ran.faults[0].startswith(say)
    assert not Path("out").exists()


def test_the_test_piece_comes_with_its_marks_apart_and_its_sum(run: Callable[..., Any]) -> None:
    ran = run("make", "--test-piece")
    assert ran.code == 0
    assert {path.name for path in Path("out").iterdir()} == {
        "test-piece.svg", "test-piece.cut.svg", "test-piece.mark.svg", "test-piece.dxf", "test-piece.png", "report.md",
        "run.json",
    }  # fmt: skip
    assert "kerf = 12 mm wanted less what you measure" in ran.out
    assert '    least_neck = "1.5mm"' in ran.out.splitlines()
    assert Path("out/test-piece.mark.svg").read_text().count("<path") == 1


@pytest.mark.parametrize(("preset", "kerf"), [("card-240-laser", 0.15), ("card-160-knife", 0.0)])
def test_the_lines_to_keep_work_where_they_are_to_lie(
    run: Callable[..., Any], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, preset: str, kerf: float
) -> None:
    """Pasted into the file that is named, they are the preset that the last line types."""
    for variable in ("XDG_DATA_HOME", "APPDATA"):
        monkeypatch.setenv(variable, str(tmp_path / "home"))
    said = run("make", "--test-piece", "--preset", preset, "--out", "trial").out.splitlines()
    (place,) = [line.removeprefix("in ").partition(", or in ")[0] for line in said if "presets.toml" in line]
    Path(place).parent.mkdir(parents=True)
    Path(place).write_text("\n".join(line.strip() for line in said if line.startswith("    ")))
    (typed,) = [line.partition(": ")[2].split() for line in said if line.startswith("Then cut with")]
    ran = run(*DISC, *typed, "--json")
    assert f"Limits of my-{preset}." in ran.err
    assert ran.json["pieces"][0]["kerf_mm"] == kerf


def test_the_test_piece_makes_itself_again(run: Callable[..., Any]) -> None:
    assert run("make", "--test-piece", "--preset", "card-240-laser", "--one-file", "--formats", "svg,dxf").code == 0
    assert run("make", "out/test-piece.dxf", "--out", "again").code == 0
    names = sorted(path.name for path in Path("out").iterdir())
    assert names == ["report.md", "run.json", "test-piece.dxf", "test-piece.svg"]
    for name in names:
        assert Path("again", name).read_bytes() == Path("out", name).read_bytes()


@pytest.mark.parametrize("option", [("--size", "30mm"), ("--motif", "arch"), ("--hole", "4mm top"), ("--rim", "9mm")])
def test_a_test_piece_has_its_own_shape(run: Callable[..., Any], option: tuple[str, str]) -> None:
    ran = run("make", "--test-piece", *option)
    assert (ran.code, ran.faults) == (
        2,
        [f"make, {option[0]}: a test piece has its own size and shape. Leave this out."],
    )
