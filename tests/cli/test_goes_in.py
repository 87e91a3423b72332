"""Pieces that have to go into something: the largest that does, what is refused, and what is offered instead."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

QUICK = ("--formats", "svg", "--json")


def made(run: Callable[..., Any], *words: str) -> Any:
    ran = run("make", *words, *QUICK)
    assert ran.code == 0, ran.err
    return ran.json["pieces"][0]


def test_the_largest_circle_with_sixteen_leaves_goes_into_a_c6(run: Callable[..., Any]) -> None:
    """Foot w 4.4, height h 16: D = 2 sqrt((L/2 - h)^2 + w^2/4) with L = 114 - 6: elementary geometry of the chord."""
    ran = run("make", "--motif", "bean-leaf", "--count", "16", "--size", "find", "--goes-in", "C6", *QUICK)
    assert ran.code == 0, ran.err
    (piece,) = ran.json["pieces"]
    assert piece["name"] == "bean-leaf-16-on-76.1mm"
    assert piece["width_mm"] == pytest.approx(108, abs=1e-4)
    assert "Goes into a C6 envelope with 3 mm to spare each side." in ran.err
    kept = run("make", f"out/{piece['files']['svg']}", "--out", "again", *QUICK)
    assert kept.json["pieces"][0]["width_mm"] == piece["width_mm"]
    wide = made(run, "--motif", "bean-leaf", "--count", "16", "--size", "76.127mm")["width_mm"]
    assert wide == pytest.approx(2 * (math.sqrt(76.127**2 / 4 - 2.2**2) + 16), abs=2e-4)
    assert wide == pytest.approx(108, abs=5e-4)


def test_what_is_too_large_is_refused_with_the_circle_that_goes_in(run: Callable[..., Any]) -> None:
    leaves = ("--motif", "bean-leaf", "--count", "16", "--name", "invitation", "--goes-in", "C6")
    ran = run("make", *leaves, "--size", "80mm")
    assert ran.faults == [
        "invitation: 111.9 mm across, a C6 envelope takes 108 mm with 3 mm each side. "
        "Make the circle 76.1 mm or less, or name a larger envelope."
    ]
    assert ran.code == 3
    assert run("make", *leaves, "--size", "80mm", "--json").json["error"]["code"] == "too-big-for-envelope"
    assert made(run, *leaves, "--size", "76.1mm")["width_mm"] < 108
    assert run("make", *leaves, "--size", "76.2mm").code == 3


@pytest.mark.parametrize(("size", "across", "code"), [("76mm", 107.873, 0), ("77mm", 108.874, 3)])
def test_a_millimetre_decides(run: Callable[..., Any], size: str, across: float, code: int) -> None:
    """2 (sqrt(D^2/4 - 2.2^2) + 16): 107.873 goes into 114 - 6, 108.874 does not, however it is turned."""
    leaves = ("--motif", "bean-leaf", "--count", "16", "--size", size, *QUICK)
    assert run("make", *leaves).json["pieces"][0]["width_mm"] == pytest.approx(across, abs=5e-4)
    assert run("make", *leaves, "--goes-in", "C6").code == code


@pytest.mark.parametrize(
    ("words", "wide"),
    [
        (["--size", "find", "--goes-in", "C6"], 108),
        (["--size", "find", "--goes-in", "76mm"], 70),
        (["--size", "find", "--goes-in", "3in"], 70.2),
        (["--size", "find", "--goes-in", "4.5 x 6 in"], 4.5 * 25.4 - 6),
        (["--size", "find", "--ratio", "1.5", "--goes-in", "120x200mm"], 171),
        (["--size", "find", "--grow-from", "90x80mm", "--goes-in", "66x206mm"], 70),
    ],
)
def test_plain_card_fills_what_it_goes_into(run: Callable[..., Any], words: list[str], wide: float) -> None:
    """Width of the piece; ratio 1.5 in 114 x 194: height 114; grown by 10 in 60 x 200: 70 x 60."""
    assert made(run, *words)["width_mm"] == pytest.approx(wide, abs=2e-4)


def test_ovals_with_motifs_are_as_large_as_goes_in(run: Callable[..., Any]) -> None:
    words = ("--motif", "arch", "--count", "14", "--ratio", "1.4", "--goes-in", "C5")
    found = made(run, *words, "--size", "find")
    width, height = (float(v) for v in re.findall(r"[\d.]+", found["name"].split("on-")[1])[:2])
    assert width / height == pytest.approx(1.4, abs=2e-3)
    assert run("make", *words, "--size", f"{width + 0.3}x{height + 0.3}mm").code == 3
    assert run("make", *words, "--size", f"{width - 0.2:.1f}x{height - 0.2:.1f}mm", *QUICK).code == 0


@pytest.mark.slow
def test_an_oval_that_is_too_large_is_offered_smaller_in_its_proportion(run: Callable[..., Any]) -> None:
    words = ("--motif", "cabbage-edge", "--count", "16", "--opening", "60x30mm", "--goes-in", "C6")
    ran = run("make", *words, "--size", "150x100mm")
    say = r"make: 170.1 x 121.9 mm across, a C6 envelope takes 156 x 108 mm with 3 mm each side. Make the oval (\S+) x (\S+) mm or less, or name a larger envelope."  # noqa: E501
    (line,) = ran.faults
    found = re.fullmatch(say, line)
    assert found, line
    assert float(found[1]) / float(found[2]) == pytest.approx(1.5, abs=2e-3)
    assert run("make", *words, "--size", f"{found[1]}x{found[2]}mm", *QUICK).code == 0


@pytest.mark.slow
def test_a_size_that_count_and_gap_decide_is_compared(run: Callable[..., Any]) -> None:
    words = ("--motif", "bean-leaf", "--size", "find", "--goes-in", "C6")
    ran = run("make", *words, "--count", "16", "--gap", "5")
    assert ran.faults == [
        "make: 116.1 mm across, a C6 envelope takes 108 mm with 3 mm each side. "
        "Take --count 14, leave out the gap, or name a larger envelope."
    ]
    assert made(run, *words, "--count", "14", "--gap", "5")["width_mm"] < 108
    assert made(run, *words, "--count", "16")["width_mm"] == pytest.approx(108, abs=1e-4)


@pytest.mark.slow
def test_without_a_count_as_many_go_round_as_fit_the_found_size(run: Callable[..., Any]) -> None:
    piece = made(run, "--motif", "bean-leaf", "--size", "find", "--goes-in", "C6")
    assert piece["rows"][0]["count"] == 17
    assert piece["rows"][0]["gap_mm"] >= 2


def test_what_cannot_be_made_at_the_found_size_is_told(run: Callable[..., Any]) -> None:
    words = ("--motif", "arch", "--size", "find", "--goes-in", "76mm")
    (line,) = run("make", *words, "--count", "12").faults
    assert line.startswith("make: 12 arches do not go round a 56.3 mm circle with gaps of 2 mm; 9 do.")
    assert "That is about the largest that goes into a circle of 76 mm." in line
    assert "--size" not in line
    for offer in re.findall(r"--(\w+) (\d+(?:\.\d+)?)", line):
        count = ("--count", "12") if offer[0] != "count" else ()
        assert run("make", *words, *count, f"--{offer[0]}", offer[1], *QUICK).code == 0


@pytest.mark.parametrize(
    ("value", "part"),
    [
        ("C9", 'make, --goes-in "C9": no envelope or sheet of that name; the nearest is C'),
        ("5mm", 'make, --goes-in "5mm": 5 mm leave no room with 3 mm each side. Write more than 6 mm'),
        ("-4", 'make, --goes-in "-4": a size must be above 0'),
    ],
)
def test_what_is_no_envelope_is_told(run: Callable[..., Any], value: str, part: str) -> None:
    ran = run("make", "--size", "60mm", f"--goes-in={value}")
    assert ran.code == 2
    assert ran.faults[0].startswith(part)


def test_a_recipe_says_it_in_one_line(run: Callable[..., Any]) -> None:
    for value in ('"C6"', "[114, 162]", '"114 x 162 mm"'):
        Path("a.toml").write_text(f'[[piece]]\nname = "a"\nsize = 108\ngoes_in = {value}\n', encoding="utf-8")
        assert run("make", "a.toml", *QUICK).code == 0
    Path("a.toml").write_text('[[piece]]\nname = "a"\nsize = 71\ngoes_in = 76\n', encoding="utf-8")
    assert run("make", "a.toml").faults == [
        "a: 71 mm across, a circle of 76 mm takes 70 mm with 3 mm each side. "
        "Make the circle 70 mm or less, or write a larger one."
    ]


@pytest.mark.slow
def test_a_row_far_too_large_for_what_it_goes_into_is_refused_in_one_line(run: Callable[..., Any]) -> None:
    """Ways out are tried on bases that would have to shrink by more than they are wide."""
    ran = run("make", "--motif", "arch", "--count", "12", "--size", "find", "--goes-in", "12mm", *QUICK)
    assert ran.code == 3
    assert ran.faults == [
        "make: nothing goes into a circle of 12 mm with these motifs. Name a larger one, or take other motifs."
    ]


@pytest.mark.slow
def test_where_nothing_goes_in_other_motifs_are_named_and_no_scale_that_would_not_do(run: Callable[..., Any]) -> None:
    """An oval 30 mm wider than high is too wide for 30 mm whatever stands on it."""
    words = ("--motif", "pea-pod", "--size", "find", "--goes-in", "30mm", "--grow-from", "60x30mm")
    ran = run("make", *words, *QUICK)
    assert ran.code == 3
    assert ran.faults == [
        "make: nothing goes into a circle of 30 mm with these motifs. Name a larger one, or take other motifs."
    ]
