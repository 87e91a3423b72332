"""``demo``: five pieces, every file sound, and a recipe to go on from."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import ezdxf
import pytest
from fixtures.process import Demo

from frameforge.job.demo import demo_text

NAMES = ["gate-sign", "invitation", "seal", "badge", "jar-collar"]


@pytest.fixture(scope="module")
def folder(demo: Demo) -> Path:
    """Return the folder of the demo."""
    return demo.folder


def test_five_pieces_with_all_their_files(folder: Path) -> None:
    names = {path.name for path in folder.iterdir()}
    pieces = {f"{name}.{kind}" for name in NAMES for kind in ("svg", "dxf", "png")}
    assert names == pieces | {"contact-sheet.png", "demo.toml", "report.md", "run.json"}
    for name in NAMES:
        assert (folder / f"{name}.png").read_bytes().startswith(b"\x89PNG")
        assert ezdxf.readfile(folder / f"{name}.dxf").dxfversion == "AC1015"


def test_the_recipe_that_lies_beside_makes_the_same(folder: Path, run: Callable[..., Any], tmp_path: Path) -> None:
    assert (folder / "demo.toml").read_text(encoding="utf-8") == demo_text()
    assert run("make", str(folder / "demo.toml"), "--formats", "svg,dxf").code == 0
    for name in NAMES:
        # The recipe kept inside tells the formats asked for, so only the drawings are compared.
        ours = (tmp_path / "out" / f"{name}.svg").read_text(encoding="utf-8").partition('<g id="cut">')[2]
        theirs = (folder / f"{name}.svg").read_text(encoding="utf-8").partition('<g id="cut">')[2]
        assert ours == theirs != ""


def test_measures_of_the_seed_swap(folder: Path) -> None:
    """Sizes by the union of the drawn motifs; the invitation must go into a C6 envelope, 114 x 162 mm (ISO 269)."""
    report = (folder / "report.md").read_text(encoding="utf-8")
    assert "This piece must measure 107.87 mm across." in report
    assert 107.87 + 2 * 3 <= 114
    assert "touching" in report


def test_it_says_what_it_made_and_what_to_mind(demo: Demo) -> None:
    assert (demo.code, demo.err) == (0, "")
    assert demo.folder.parts[-2:] == ("out", "demo")
    assert "16 bean leaves round 76 mm (2.99 in), gap" in demo.out
    assert "14 scallops round 57.2 mm (2 1/4 in), touching." in demo.out
    assert demo.out.splitlines()[-1].startswith("Sharp blade: fingers clear")


def test_its_json_names_the_same_files(run: Callable[..., Any], monkeypatch: pytest.MonkeyPatch) -> None:
    text = '[files]\nformats = "svg"\n' + demo_text()
    monkeypatch.setattr("frameforge.job.demo.demo_text", lambda: text)
    ran = run("demo", "--out", "there", "--json")
    assert ran.code == 0
    assert [piece["name"] for piece in ran.json["pieces"]] == NAMES
    assert ran.json["out"] == str(Path("there").resolve())
