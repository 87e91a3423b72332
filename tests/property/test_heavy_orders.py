"""Orders that took minutes or gigabytes once: each has its answer in the time and memory that any order may take."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from fixtures.fuzz_judge import answer, faults_of

TANGLED_IN_METRES = """<svg xmlns="http://www.w3.org/2000/svg" width="1in" height="1in" viewBox="-1.2 -1.2 4.8 4.8">
<path d="M3.2 -0.2384A4 4 30 1 0 3.253 -0.8C0.8 0.8 3.6 3.4 0.4 0.6z"/><path d="M1.6 -1.2C3.2 1 1.2 2 1 1.2Q1.4 0.0442
2.8 1.4H0.0564t0.4 -0.5382a0.2 1.2 -400 0 0 3 3L2 -0.4l-0.8 1.7008a1.2 0.002 0 0 1 1.2 2.4Z"/></svg>"""
"""Stands on a sliver of a foot: made as wide as the card needs it is metres across, in 9,000 chords."""

TANGLED_AND_LOOSE = """<svg xmlns="http://www.w3.org/2000/svg" width="10mm" height="10mm" viewBox="-6 -6 24 24">
<path d="M11.675 8v12C2 -4.422 1 -5 5.479 10zm9 6A20 6 0 0 0 -2.026 12H0A2 2 90 0 0 -3.288 11L-0.132 15C-3 12 12.029 12
8 3A20 0.01 -400 1 0 -4 -6c-1 8 2 18 16.679 5.78A3 1 -400 1 1 1 12z" transform="scale(0.5)"/></svg>"""

PATTERN_ON_A_METRE = """units = "in"
[[piece]]
size = "42 x 37.8"
[[piece.row]]
motif = ["seed-husk", { motif = "rose-drop" }, { motif = "bean-leaf", lean = "-20deg" }]
gap = 0
inset = "0.87 cm"
"""

CORNERS_THROUGH_A_RIM = """[[piece]]
size = "64 x 76.8"
rim = "0.94 cm"
overcut = "preset"
[[piece.row]]
motif = "strawberry-corner"
count = "find"
lean = 20.0
mirror = "every-other"
keep_free = "200deg at bottom"
"""


@pytest.mark.slow
@pytest.mark.parametrize(
    ("name", "text", "words", "code"),
    [
        ("mine.svg", TANGLED_IN_METRES, "--size=70mm --count=6 --gap=3 --seat=bent", 3),
        ("mine.svg", TANGLED_AND_LOOSE, "--size=40mm --count=most --foot=9mm --gap=0 --white=cuts", 3),
        ("r.toml", PATTERN_ON_A_METRE, "", 0),
        ("r.toml", CORNERS_THROUGH_A_RIM, "", 3),
    ],
    ids=["tangled-in-metres", "tangled-and-loose", "pattern-on-a-metre", "corners-through-a-rim"],
)
def test_a_heavy_order_is_answered(name: str, text: str, words: str, code: int, tmp_path: Path) -> None:
    before = Path.cwd()
    os.chdir(tmp_path)
    try:
        Path(name).write_text(text, encoding="utf-8")
        what = [name] if name.endswith(".toml") else [f"--motif={name}", *words.split()]
        ran = answer(["make", *what, "--formats=svg", "--json"])
        assert not faults_of(ran, Path("out"))
    finally:
        os.chdir(before)
    assert ran.code == code
