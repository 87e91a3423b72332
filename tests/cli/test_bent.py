"""Bent seats from the command line: made, told, kept in the file, refused with a line that works."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Run = Callable[..., Any]


def test_a_bent_row_is_made_told_and_made_again_from_its_file(run: Run, tmp_path: Path) -> None:
    words = ("make", "--motif", "seed-husk", "--count", "12", "--size", "76x60mm", "--seat", "bent")
    ran = run(*words, "--formats", "svg,dxf", "--json")
    assert ran.code == 0, ran.err
    (piece,) = ran.json["pieces"]
    assert piece["name"] == "seed-husk-12-bent-on-76x60mm"
    assert (piece["parts"], piece["rows"][0]["seat"]) == (1, "bent")
    assert piece["rows"][0]["gap_max_mm"] - piece["rows"][0]["gap_mm"] <= 1e-9
    made = tmp_path / "out" / piece["files"]["svg"]
    assert "As drawn and bent, 12 seed husks" in (tmp_path / "out" / "report.md").read_text(encoding="utf-8")
    again = run("make", str(made), "--out", "again")
    assert again.code == 0, again.err
    assert (tmp_path / "again" / made.name).read_bytes() == made.read_bytes()


def test_fit_shows_both_seats_side_by_side(run: Run) -> None:
    ran = run("fit", "--foot", "20", "--size", "100mm", "--count", "15", "--seat", "both", "--json")
    assert ran.code == 0, ran.err
    gaps = {seat["seat"]: seat["foot_gap_mm"] for seat in ran.json["seats"]}
    assert gaps == {"as-drawn": pytest.approx(0.808, abs=5e-4), "bent": pytest.approx(0.944, abs=5e-4)}
    assert "  bent            14    0.94      0.94" in ran.err


def test_a_fold_is_refused_in_one_line_with_a_scale_that_works(run: Run) -> None:
    words = ("make", "--motif", "bean-leaf", "--count", "4", "--size", "100mm", "--opening", "57mm", "--place", "in")
    ran = run(*words, "--seat", "bent", "--scale", "2", "--formats", "svg")
    assert (ran.code, len(ran.faults)) == (3, 1)
    assert ran.faults[0].startswith(
        "make: bent so far in, the bean leaf folds over itself: it reaches 32.00 mm in, and"
    )
    scale = ran.faults[0].split("--scale ")[1].split()[0].rstrip(".")
    assert run(*words, "--seat", "bent", "--scale", scale, "--formats", "svg").code == 0
