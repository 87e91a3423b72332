"""Every refusal says where: the line of the recipe, the piece, or the command."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

CORNERS = """[[piece]]
size = 67
opening = [55, 16.5]

[[piece.row]]
motif = "sprout-corner"
place = "in"
rest = "filler"
"""


@pytest.mark.slow
def test_a_row_that_is_refused_before_its_piece_is_put_together(run: Callable[..., Any]) -> None:
    """While its rest is settled: then nothing knows yet what the piece is called."""
    Path("r.toml").write_text(CORNERS, encoding="utf-8")
    ran = run("make", "r.toml", "--formats", "svg")
    assert ran.code == 3
    assert ran.faults[0].startswith("r.toml line 1: ")
    Path("r.toml").write_text(CORNERS.replace("size = 67", 'size = 67\nname = "hoop"'), encoding="utf-8")
    assert run("make", "r.toml", "--formats", "svg").faults[0].startswith("hoop: ")
