"""Drawings of several parts, typed: refused with ways that hold, made by them, kept in the file and told."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

LANTERN = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="14mm" height="20mm" viewBox="0 0 14 20">'
    '<path fill-rule="evenodd" d="M0 20V4L7 0L14 4V20ZM2 18H12V5L7 2.3L2 5Z"/><circle cx="7" cy="11" r="3"/>'
    '<circle cx="7" cy="-3" r="2"/></svg>'
)


def test_each_way_offered_makes_the_piece_and_is_kept_in_it(run: Callable[..., Any]) -> None:
    Path("lantern.svg").write_text(LANTERN, encoding="utf-8")
    line = ("make", "--motif", "lantern.svg", "--count", "6", "--size", "100mm", "--formats", "svg")
    ran = run(*line)
    offers = re.findall(r"--loose (\w+)", ran.faults[0])
    assert (ran.code, offers) == (3, ["tie", "drop"])
    told = {"tie": "Tied 2 loose parts of each lantern, by 3 ties 1.5 mm wide.", "drop": "Left out 2 loose parts of"}
    for loose in offers:
        ran = run(*line, "--loose", loose, "--name", loose, "--force")
        assert ran.code == 0
        assert told[loose] in ran.out
        assert "do not touch" not in ran.out
    first = Path("out/tie.svg").read_bytes()
    assert run("make", "out/tie.svg", "--out", "again", "--formats", "svg").code == 0
    assert Path("again/tie.svg").read_bytes() == first
