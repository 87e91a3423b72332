"""``fit`` through the command line: counts by sizes, sizes by counts, gaps by both, the chart, and the line to type."""

from __future__ import annotations

import math
import re
import shlex
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

ANSWER_KEYS = [
    "size_mm", "count", "gap_mm", "foot_gap_mm", "scale", "pitch_deg", "divides_360", "spread", "gap_max_mm", "kind",
    "filler", "filler_scale", "note",
]  # fmt: skip
INCHES = ("2.25in", "3in", "3.5in", "4in", "4.5in", "5in", "5.5in", "6in", "6.5in")


def _fit(run: Callable[..., Any], *words: str) -> Any:
    """Run ``fit``; the picture as SVG only, where no formats are named: that is quicker."""
    return run("fit", *words, *(() if "--formats" in words else ("--formats", "svg")))


def _asked(ran: Any) -> list[dict[str, Any]]:
    assert ran.code == 0, ran.err
    return [answer for answer in ran.json["answers"] if answer["kind"] == "asked"]


def _many(option: str, *values: object) -> list[str]:
    return [word for value in values for word in (option, str(value))]


def _next_line(out: str) -> list[str]:
    """Return the words of the line to copy, without the program's name."""
    (line,) = re.findall(r"^    frameforge (make .*)$", out, re.MULTILINE)
    return shlex.split(line)


def test_how_many_arches_go_round_100_mm(run: Callable[..., Any]) -> None:
    """17 with a foot gap of 2.411: chord geometry, D sin(pi/n - asin(w/D)) with D 100, w 16."""
    (answer,) = _asked(_fit(run, "--motif", "arch", "--size", "100mm", "--gap", "2", "--json"))
    assert list(answer) == ANSWER_KEYS
    assert (answer["size_mm"], answer["count"], answer["scale"], answer["spread"]) == (100, 17, 1, "equal-gap")
    assert answer["foot_gap_mm"] == pytest.approx(100 * math.sin(math.pi / 17 - math.asin(0.16)), abs=1e-9)
    assert round(answer["foot_gap_mm"], 3) == 2.411
    assert answer["gap_mm"] == pytest.approx(answer["gap_max_mm"], abs=1e-9)
    assert answer["pitch_deg"] == pytest.approx(360 / 17)
    assert (answer["divides_360"], answer["filler"], answer["note"]) == (False, None, None)


@pytest.mark.parametrize(("gap", "size"), [("4", 62.048), ("0", 52.263)])
def test_the_size_on_which_8_feet_of_20_mm_close(run: Callable[..., Any], gap: str, size: float) -> None:
    """sqrt(w^2 + g^2 + 2wg cos(pi/n)) / sin(pi/n): chord geometry."""
    (answer,) = _asked(_fit(run, "--foot", "20", "--count", "8", "--gap", gap, "--json"))
    assert round(answer["size_mm"], 3) == size
    assert answer["gap_mm"] == answer["foot_gap_mm"] == pytest.approx(float(gap), abs=1e-9)
    assert (answer["pitch_deg"], answer["divides_360"]) == (45, True)


def test_motifs_scaled_to_fill_the_edge_exactly(run: Callable[..., Any]) -> None:
    """57.15 sin(pi/14) = 12.717, 1.0598 times a foot of 12: chord geometry; bare, or with scallops on their feet."""
    words = ("--size", "57.15mm", "--count", "14", "--gap", "0", "--json")
    (bare,) = _asked(_fit(run, "--foot", "find", *words))
    (drawn,) = _asked(_fit(run, "--motif", "scallop", "--scale", "find", *words))
    assert round(bare["scale"], 3) == 12.717
    assert round(drawn["scale"], 4) == 1.0598
    assert drawn["foot_gap_mm"] == pytest.approx(0, abs=1e-8)


def test_nine_sizes_in_inches_for_a_foot_of_20_mm(run: Callable[..., Any]) -> None:
    """8 .. 25 by floor(pi / asin(w/D)); the same when nothing but inches is said."""
    asked = _asked(_fit(run, "--foot", "20mm", "--gap", "0", *_many("--size", *INCHES), "--json"))
    assert [answer["count"] for answer in asked] == [8, 11, 13, 15, 17, 19, 21, 23, 25]
    usual = _asked(_fit(run, "--foot", "20mm", "--gap", "0", "--units", "in", "--json"))
    assert [answer["size_mm"] for answer in usual] == pytest.approx([answer["size_mm"] for answer in asked])


def test_left_alone_it_tells_of_50_to_200_mm_and_both_ways(run: Callable[..., Any]) -> None:
    ran = _fit(run, "--foot", "20", "--gap", "0")
    assert (ran.code, ran.err) == (0, "")
    (sizes, counts) = (part.splitlines() for part in ran.out.split("Counts in whole degrees"))
    rows = [found for line in sizes if (found := re.match(r"[> ] +(\d+) +[\d. /]+?  +(\d+)  +[\d.]+ ", line))]
    assert [float(row[1]) for row in rows] == list(range(50, 201, 10))
    assert all(int(row[2]) == math.floor(math.pi / math.asin(20 / float(row[1])) + 1e-9) for row in rows)
    turned = [found for line in counts if (found := re.match(r" +(\d+) +([\d.]+) ", line))]
    assert [int(row[1]) for row in turned] == [n for n in range(int(rows[0][2]), 32) if 360 % n == 0]
    for row in turned:
        exact = 20 / math.sin(math.pi / int(row[1]))
        assert exact <= float(row[2]) < exact + 0.0101, "sizes are rounded up, so that the feet still go round"


def test_answers_stand_in_the_order_asked(run: Callable[..., Any]) -> None:
    words = (*_many("--size", "120mm", "60mm", "150x100mm"), *_many("--count", 12, 6), "--json")
    asked = _asked(_fit(run, "--motif", "arch", *words))
    found = [(answer["size_mm"], answer["count"]) for answer in asked]
    assert found == [(120, 12), (120, 6), (60, 12), (60, 6), ([150, 100], 12), ([150, 100], 6)]
    assert asked[2]["gap_mm"] is None
    assert asked[2]["note"].startswith("refused: 12 arches do not go round a 60 mm circle")
    assert all(answer["gap_mm"] > 0 for k, answer in enumerate(asked) if k != 2)


def test_json_is_one_object_and_the_rest_goes_to_stderr(run: Callable[..., Any]) -> None:
    ran = run("fit", "--motif", "arch", "--size", "100mm", "--out", "there", "--json")
    assert list(ran.json) == ["out", "answers", "files"]
    assert ran.json["out"] == str(Path("there").resolve())
    assert ran.json["files"] == {"svg": "fit-arch.svg", "png": "fit-arch.png"}
    assert Path("there/fit-arch.png").read_bytes().startswith(b"\x89PNG")
    assert all(Path("there", name).is_file() for name in ran.json["files"].values())
    assert "17 arches round 100 mm (3.94 in), gap 2.41 mm each." in ran.err
    assert _next_line(ran.err)[:3] == ["make", "--motif", "arch"]


@pytest.mark.parametrize(
    "words",
    [
        ["--foot", "20", "--count", "8", "--gap", "4"],
        ["--foot", "20", "--count", "8", "--gap", "0"],
        ["--foot", "0.8 in", "--count", "9", "--count", "10"],
        ["--motif", "scallop", "--size", "2 1/4 in", "--count", "14", "--gap", "0", "--scale", "find"],
        ["--motif", "bean-leaf", "--motif", "arch", "--size", "80mm", "--size", "100mm", "--units", "mm"],
        ["--motif", "arch", "--place", "in", "--size", '4"', "--opening", "2 1/2 in"],
        ["--motif", "rose-drop", "--place", "window", "--size", "80", "--scale", "0.7", "--rim", "25"],
        ["--motif", "pea-pod", "--mirror", "every-other", "--count", "12", "--gap", "2", "--start", "half"],
    ],
)
def test_the_line_to_type_makes_what_was_told(run: Callable[..., Any], words: list[str]) -> None:
    ran = _fit(run, *words)
    assert (ran.code, ran.err) == (0, "")
    told = " ".join(ran.out.splitlines())
    sentence = re.search(r" (\d+) [a-z ]+ (?:round|in an opening of) [^:]*?(?:gap ([\d.]+) mm each|touching)\.", told)
    assert sentence
    made = run(*_next_line(ran.out), "--formats", "svg", "--json")
    assert made.code == 0, made.err
    (row,) = made.json["pieces"][0]["rows"]
    assert row["count"] == int(sentence[1])
    assert row["gap_mm"] >= float(sentence[2] or 0) - 1e-6, "rounded sizes leave no narrower gaps"
    assert row["gap_mm"] == pytest.approx(float(sentence[2] or 0), abs=0.05)


def test_an_oval_warns_of_squared_paper_and_a_circle_does_not(run: Callable[..., Any]) -> None:
    """150 x 100 by 45 degrees 56.413 / 42.746, by diagonals 43.371 / 55.788, even 49.579 (no printed source)."""
    ran = _fit(run, "--motif", "bean-leaf", "--size", "150x100mm", "--count", "25", "--json")
    (answer,) = _asked(ran)
    assert answer["note"].startswith("uneven-spokes: ")
    assert re.findall(r"\d+\.\d{3}", answer["note"]) == ["56.413", "42.746", "43.371", "55.788", "49.579"]
    assert (answer["count"], answer["pitch_deg"]) == (25, None)
    assert answer["gap_max_mm"] - answer["gap_mm"] <= 1e-9
    assert "warning, uneven-spokes: " in ran.err
    assert "turn deg" not in ran.err
    assert "uneven" not in _fit(run, "--motif", "bean-leaf", "--size", "100mm").out


def test_a_spread_that_is_not_even_tells_the_greatest_gap_too(run: Callable[..., Any]) -> None:
    ran = _fit(run, "--motif", "bean-leaf", "--size", "150x100mm", "--count", "22", "--spread", "equal-arc", "--json")
    (answer,) = _asked(ran)
    assert answer["spread"] == "equal-arc"
    assert answer["gap_max_mm"] - answer["gap_mm"] > 1
    assert "up to" in ran.err


@pytest.mark.parametrize(("size", "is_hard"), [("57.14mm", True), ("57.15mm", False), ("2 1/4 in", False)])
def test_sizes_under_two_and_a_quarter_inches_are_hard_to_hold(
    run: Callable[..., Any], size: str, is_hard: bool
) -> None:
    (answer,) = _asked(_fit(run, "--motif", "arch", "--size", size, "--json"))
    assert ("hard to hold" in (answer["note"] or "")) is is_hard


def test_whole_degrees_are_marked_and_a_protractor_is_measured(run: Callable[..., Any]) -> None:
    """7 and 16 spokes on 165.1 mm miss by .62 and .72 when rounded to whole degrees (no printed source)."""
    ran = _fit(run, "--motif", "arch", "--size", "6 1/2 in", *_many("--count", 7, 16, 18))
    rows = [line.split() for line in ran.out.splitlines() if " 165.1 " in line]
    assert [row[-2:] for row in rows[:3]] == [["51.43", "0.62"], ["22.50", "0.72"], ["20*", "-"]]


def test_refused_cells_say_why(run: Callable[..., Any]) -> None:
    words = (*_many("--size", "80mm", "30mm", "200x16mm"), *_many("--count", 8, 13))
    ran = _fit(run, "--motif", "arch", "--motif", "scallop", *words)
    assert ran.code == 0
    assert all(word in ran.out for word in ("open end", "too many", "no seat"))
    assert "refused, 80 mm with 13: 13 repeats do not close a pattern of 2." in ran.out


@pytest.mark.parametrize(
    "words",
    [
        ["--motif", "arch"],
        ["--motif", "arch", "--size", "100mm", "--gap", "2"],
        ["--motif", "bean-leaf", *_many("--size", "150x100mm", "50x40mm"), "--gap", "3"],
        ["--motif", "cabbage-edge", "--motif", "strawberry-corner", *_many("--size", 90, 130, 40),
         *_many("--count", 4, 6, 8, 10, 12, 14, 16, 18)],
        ["--foot", "17.4mm", *_many("--count", 5, 9, 12)],
    ],
)  # fmt: skip
def test_the_terminal_stays_within_80_columns(run: Callable[..., Any], words: list[str]) -> None:
    ran = _fit(run, *words)
    assert ran.code == 0, ran.err
    wide = [line for line in ran.out.splitlines() if len(line) > 80]
    assert all("frameforge make" in line or "Files in " in line for line in wide), "but for what cannot be broken"
    assert not re.search(r"[^\x20-\x7e\n]", ran.out)


@pytest.mark.parametrize(
    ("words", "code", "line"),
    [
        ([], 2, "fit: neither a motif nor a foot. Add --motif, for example --motif arch, or --foot 20mm."),
        (
            ["--foot", "20", "--count", "8", "--gap", "-2"],
            2,
            'fit, --gap "-2": below 0 the repeats would lie over each other. '
            "Write 0 (they touch) or more, for example 2mm.",
        ),
        (
            ["--foot", "0"],
            2,
            'fit, --foot "0": a foot of 0 mm has nothing to stand on. '
            'Write a length, for example 57mm, 4in or "2 1/4 in", or "find".',
        ),
        (
            ["--foot", "20", "--count", "0"],
            2,
            'fit, --count 0: a row takes 1 to 2000 repeats. Write a whole number from 1 to 2000, "most" or "find".',
        ),
        (
            ["--foot", "20", "--count", "1000000"],
            2,
            "fit, --count 1000000: a row takes 1 to 2000 repeats. "
            'Write a whole number from 1 to 2000, "most" or "find".',
        ),
        (
            ["--foot", "20", "--count", "5000"],
            2,
            'fit, --count 5000: a row takes 1 to 2000 repeats. Write a whole number from 1 to 2000, "most" or "find".',
        ),
        (
            ["--motif", "arch", "--size", "200x10mm"],
            3,
            "fit: a 200 x 10 mm oval is too narrow for a foot of 16 mm: no arch can stand at its ends. "
            "Take --size 200x16.1mm or --scale 0.62.",
        ),
        (
            ["--motif", "arch", "--size", "100mm", "--scale", "0.05"],
            3,
            "fit: at scale 0.05 a foot is 0.8 mm wide, this card needs 1.5 mm. Take --scale 0.1 or more.",
        ),
        (["--foot", "0.5"], 3, "fit: a foot of 0.5 mm, this card needs 1.5 mm. Take --foot 1.5mm or more."),
        (
            ["--foot", "300"],
            3,
            "fit: 1 foot does not go round a 200 mm circle with gaps of 2 mm. Take --size 300.1mm or --foot 198mm.",
        ),
        (
            ["--motif", "arch", "--size", "100mm", "--count", "18", "--gap", "2"],
            3,
            "fit: 18 arches do not go round a 100 mm circle with gaps of 2 mm; 17 do. "
            "Take --count 17 (gap 2.41 mm), --size 103.6mm or --scale 0.96.",
        ),
        (
            ["--motif", "arch", "--size", "100mm", "--count", "16", "--gap", "5"],
            3,
            "fit: size 100 mm, 16 arches at full scale and a gap of 5 mm cannot all hold; the gap comes to 3.56 mm. "
            "Leave out one of them, or take --size 107.3mm.",
        ),
        (
            ["--foot", "20", "--place", "window"],
            2,
            'fit, --place "window": a foot alone stands out or in; a motif is needed for this. '
            "Add --motif, for example --motif arch.",
        ),
        (
            ["--motif", "arch", "--formats", "dxf"],
            2,
            'fit, --formats "dxf": a chart is drawn as svg or png. Write --formats svg, --formats png or svg,png.',
        ),
        (
            ["--motif", "arch", "--size", "find", "--size", "100mm"],
            2,
            "fit, --size: sizes that are stated and one to be found do not go together. Leave out one kind.",
        ),
    ],
)
def test_what_cannot_be_is_refused_in_one_line(run: Callable[..., Any], words: list[str], code: int, line: str) -> None:
    ran = _fit(run, *words)
    assert (ran.faults, ran.code, ran.out) == ([line], code, "")
    assert not Path("out").exists(), "a refused run leaves no folder"


def test_every_fault_of_a_line_is_told_at_once(run: Callable[..., Any]) -> None:
    ran = _fit(run, "--motif", "arch", *_many("--size", "100 mils", "50mm", "x"), *_many("--count", 3, "four"))
    assert ran.code == 2
    assert [line.split(":")[0] for line in ran.faults] == [
        'fit, --size "100 mils"', 'fit, --size "x"', 'fit, --count "four"',
    ]  # fmt: skip
    as_json = _fit(run, "--motif", "arch", "--gap", "-1", "--json")
    assert as_json.json["error"]["exit"] == 2


def test_too_large_a_chart_is_refused(run: Callable[..., Any]) -> None:
    ran = _fit(run, "--foot", "20", *_many("--size", *range(50, 80)), *_many("--count", *range(3, 30)))
    assert ran.faults == [
        "fit: 30 sizes times 27 counts are more than the 400 that one chart takes. Ask for fewer at a time."
    ]


def test_a_chart_that_is_not_ours_is_left_alone(run: Callable[..., Any]) -> None:
    Path("out").mkdir()
    Path("out/fit-arch.svg").write_text("<svg/>", encoding="utf-8")
    assert _fit(run, "--motif", "arch", "--size", "100mm").code == 4
    assert Path("out/fit-arch.svg").read_text(encoding="utf-8") == "<svg/>"
    assert _fit(run, "--motif", "arch", "--size", "100mm", "--force").code == 0
    Path("out/run.json").unlink()
    assert _fit(run, "--motif", "arch", "--size", "90mm").code == 0, "our own chart proves itself by its marker"


def test_only_the_formats_asked_for_are_written(run: Callable[..., Any]) -> None:
    ran = _fit(run, "--motif", "arch", "--size", "100mm", "--json")
    assert ran.json["files"] == {"svg": "fit-arch.svg"}
    assert {path.name for path in Path("out").iterdir()} == {"fit-arch.svg", "run.json"}


def test_fit_offers_only_what_the_opening_bears(run: Callable[..., Any]) -> None:
    """Fewer would go round the circle of 73 mm, but its opening leaves no rim there."""
    asked = ("fit", "--motif", "arch", "--count", "44", "--gap", "12", "--opening", "71mm")
    ran = run(*asked, "--size", "73mm")
    assert (ran.code, "--count" in ran.err) == (3, False)
    (size,) = re.findall(r"Take --size ([\d.]+mm)\.$", ran.err.strip())
    assert run(*asked, "--size", size).code == 0
