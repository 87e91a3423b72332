"""The seed swap of the Brackenmoor Allotment Society (invented), laid on sheets: counts of sheets are at most these."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Run = Callable[..., Any]

SWAP = Path(__file__).parent.parent / "fixtures" / "swap"


def pieces_of(sheets: list[Any]) -> Counter[str]:
    """Return how many copies of each piece lie on sheets."""
    return Counter(piece["name"] for sheet in sheets for piece in sheet["pieces"])


@pytest.mark.slow
def test_24_badges_take_one_sheet_of_each_colour(run: Run) -> None:
    """Staggered, 8 badges of 76 mm lie on an A4 sheet; in rows 6 do (job F66)."""
    ran = run("make", str(SWAP / "badges.toml"), "--tries", "0", "--formats", "svg")
    assert ran.code == 0
    assert "24 badges on 3 sheets: moss 1, sand 1, brick 1. Card used 41 %." in ran.out.splitlines()


@pytest.mark.slow
def test_two_gate_signs_lie_on_one_sheet_when_turned(run: Run) -> None:
    """Each is 170.0 x 121.9 mm; turned both ways they need 2 x 121.9 + 3 of 287 mm."""
    words = ("make", "--size", "150x100mm", "--opening", "110x60mm", "--motif", "cabbage-edge", "--count", "16",
             "--copies", "2", "--sheet", "A4", "--tries", "0", "--formats", "svg")  # fmt: skip
    ran = run(*words, "--json")
    assert [len(sheet["pieces"]) for sheet in ran.json["sheets"]] == [2]


def test_rings_share_their_lines_on_the_sheet(run: Run) -> None:
    """Plain rings 60 to 140 are 5 lines of 1570.796 mm in all; two sets on a sheet are twice that (job F34)."""
    ran = run("make", "--rings", "60-140 by 20", "--copies", "2", "--sheet", "12x12in", "--tries", "0", "--formats",
              "svg", "--json")  # fmt: skip
    (sheet,) = ran.json["sheets"]
    assert sheet["lifts"] == 10
    assert sheet["cut_length_mm"] == pytest.approx(3141.593, abs=0.01)
    text = (Path("out") / sheet["files"]["svg"]).read_text(encoding="utf-8")
    assert text.count("Z") == 10


def test_creases_of_tent_cards_lie_on_a_layer_and_in_a_file_of_their_own(run: Run) -> None:
    ran = run("make", "--size", "100mm", "--fold", "10mm top", "--flat", "8mm", "--copies", "2", "--sheet", "A4",
              "--tries", "0", "--formats", "svg", "--json")  # fmt: skip
    (sheet,) = ran.json["sheets"]
    assert list(sheet["files"]) == ["svg", "cut.svg", "crease.svg"]
    for kind, cut, crease in (("svg", 1, 1), ("cut.svg", 1, 0), ("crease.svg", 0, 1)):
        text = (Path("out") / sheet["files"][kind]).read_text(encoding="utf-8")
        assert (text.count('id="cut"'), text.count('id="crease"')) == (cut, crease)
        assert 'viewBox="0 0 210 297"' in text


@pytest.mark.slow
def test_the_whole_swap_takes_no_more_sheets_than_it_may(run: Run) -> None:
    """2 gate signs on 1 A4; 20 invitations with 6 buntings on 4 + 2 craft sheets; 48 seals on 4 A4; 6 collars on 2
    craft sheets; 6 buntings on 2 (staggered counts by circles round the pieces; fewer is better)."""
    ran = run("make", str(SWAP / "swap.toml"), "--formats", "svg", "--json")
    sheets = ran.json["sheets"]
    by_kind = Counter((sheet["card"], sheet["size"]) for sheet in sheets)
    most = {("moss", "A4"): 1, ("moss", "12 x 12 in"): 2, ("sand", "12 x 12 in"): 6, ("sand", "A4"): 4,
            ("brick", "12 x 12 in"): 2}  # fmt: skip
    assert set(by_kind) == set(most)
    for kind, count in by_kind.items():
        assert count <= most[kind], kind
    wanted = {"gate-sign": 2, "invitation": 20, "seal": 48, "jar-collar": 6, "bunting-sand": 6, "bunting-brick": 6}
    assert pieces_of(sheets) == wanted
    assert ran.json["sheets"][0]["cost"] == 0.3
