"""``make`` with a rest: another size, a filler chosen or named, and the same piece again from its own file."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from frameforge.read.motif_folder import folder

ARCHES = ("make", "--motif", "arch", "--size", "100mm", "--gap", "2mm", "--formats", "svg,dxf")


def test_the_best_filler_is_taken_told_and_kept(run: Callable[..., Any]) -> None:
    ran = run(*ARCHES, "--rest", "filler", "--json")
    assert ran.code == 0
    main, filler = ran.json["pieces"][0]["rows"]
    assert (main["motif"], main["count"]) == ("arch", 17)
    assert main["seam_gap_mm"] == pytest.approx(8.970945, abs=1e-6)
    assert (filler["motif"], filler["count"], filler["start_deg"]) == ("seed-husk", 1, 180.0)
    assert filler["gap_mm"] == pytest.approx(2.0, abs=1e-9)
    assert "gap 2 mm each. 1 seed husk at scale 0.77 fills the 8.97 mm left at 6 o'clock." in ran.err
    report = Path("out/report.md").read_text()
    assert "- 17 x arch, out, as-drawn, gap 2 mm" in report
    assert "- 1 x seed-husk, out, as-drawn, scale 0.7661, gap 2 mm" in report
    again = run("make", "out/arch-17-on-100mm.svg", "--out", "again")
    assert again.code == 0
    for kind in ("svg", "dxf"):
        name = f"arch-17-on-100mm.{kind}"
        assert Path("again", name).read_bytes() == Path("out", name).read_bytes()


def test_a_filler_of_her_own_is_named_and_kept_as_curves(run: Callable[..., Any]) -> None:
    Path("daisy.svg").write_bytes((folder() / "seed-husk.svg").read_bytes())
    ran = run(*ARCHES, "--filler", "daisy.svg", "--seam", "left")
    assert ran.code == 0
    assert "1 daisy at scale 0.77 fills the 8.97 mm left at 9 o'clock." in ran.out
    Path("daisy.svg").unlink()
    assert run("make", "out/arch-17-on-100mm.dxf", "--out", "again").code == 0
    name = "arch-17-on-100mm.svg"
    assert Path("again", name).read_bytes() == Path("out", name).read_bytes()


def test_another_size_closes(run: Callable[..., Any]) -> None:
    ran = run(*ARCHES, "--rest", "size")
    assert ran.code == 0
    assert "17 arches round 97.8 mm (3.85 in), gap 2 mm each." in ran.out
    assert "  Took 97.8 mm in place of 100 mm, where 17 arches close with gaps of 2 mm." in ran.out
    assert run("make", "out/arch-17-on-97.8mm.svg", "--out", "again").code == 0
    name = "arch-17-on-97.8mm.svg"
    assert Path("again", name).read_bytes() == Path("out", name).read_bytes()


def test_spread_is_what_is_made_without_a_rest(run: Callable[..., Any]) -> None:
    assert run(*ARCHES).code == 0
    assert run(*ARCHES, "--rest", "spread", "--out", "spread").code == 0
    name = "arch-17-on-100mm.dxf"
    bare, spread = (Path(out, name).read_text().split("ENTITIES")[1].split("OBJECTS")[0] for out in ("out", "spread"))
    assert bare == spread


@pytest.mark.parametrize(
    ("words", "code", "line"),
    [
        (
            ["--rest", "size", "--filler", "arch"], 2,
            'make, --filler "arch": a filler goes with rest "filler", not with "size". Leave out one of them.',
        ),
        (
            ["--filler", "archh"], 2,
            "make, --filler archh: no such motif; the nearest is arch. See all with: frameforge motif list",
        ),
        (
            ["--rest", "filler", "--skip", "top"], 2,
            "make: positions left out and a filler do not go together, the row is open there. Leave out skip or rest.",
        ),
        (
            ["--rest", "filler", "--count", "30"], 3,
            "make: 30 arches do not go round a 100 mm circle with gaps of 2 mm; 17 do and leave 8.97 mm at the seam. "
            "Take --count 17.",
        ),
    ],
)  # fmt: skip
def test_refusals_say_what_to_do(run: Callable[..., Any], words: list[str], code: int, line: str) -> None:
    ran = run(*ARCHES, *words)
    assert (ran.code, ran.faults) == (code, [line])
    assert not Path("out").exists()


def test_four_numbers_that_cannot_all_hold(run: Callable[..., Any]) -> None:
    ran = run("make", "--motif", "arch", "--size", "100mm", "--count", "16", "--gap", "5mm", "--scale", "1")
    assert (ran.code, ran.faults) == (
        3,
        [
            "make: size 100 mm, 16 arches at full scale and a gap of 5 mm cannot all hold; the gap comes to 3.56 mm. "
            "Leave out one of them, or take --size 107.3mm."
        ],
    )


def test_fit_tells_the_three_ways_side_by_side(run: Callable[..., Any]) -> None:
    ran = run("fit", "--motif", "arch", "--size", "100mm", "--gap", "2", "--formats", "svg", "--json")
    assert ran.code == 0
    answers = ran.json["answers"]
    assert [answer["kind"] for answer in answers] == ["asked", "spread", "size", "size", "filler"]
    assert [round(answer["gap_mm"], 4) for answer in answers] == [2.4107, 2.4107, 2.0, 2.0, 2.0]
    assert [answer["count"] for answer in answers] == [17, 17, 17, 18, 17]
    assert (answers[4]["filler"], round(answers[4]["filler_scale"], 4)) == ("seed-husk", 0.7661)
    for line in (
        "With gaps of 2 mm 17 arches leave 8.97 mm at 6 o'clock. Ways to close it:",
        "  --rest spread  17 with gaps of 2.41 mm",
        "  --rest size    97.8 mm closes with 17, 103.6 mm closes with 18",
        "  --rest filler  seed husk at scale 0.77",
    ):
        assert line in ran.err.splitlines()


def test_fit_tells_one_way_at_a_place(run: Callable[..., Any]) -> None:
    ran = run(
        "fit", "--foot", "18", "--size", "100mm", "--gap", "2", "--rest", "filler", "--seam", "left",
        "--formats", "svg",
    )  # fmt: skip
    assert "With gaps of 2 mm 15 feet leave 14.62 mm at 9 o'clock. Ways to close it:" in ran.out
    assert "  --rest filler  a foot of up to 10.65 mm" in ran.out
    assert "--rest spread" not in ran.out
