"""What is taken: ticks that stand in the recipe, and an archive of what the commands leave in one folder."""

from __future__ import annotations

import io
import json
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from frameforge.cli.entry import main
from frameforge.desk.change import Change, changed_text, checked
from frameforge.desk.on_sheets import LAYOUTS
from frameforge.desk.writes import writes_of
from frameforge.job import laying
from frameforge.sheet.lay import Laid, lay

from .conftest import TOKEN, Client
from .test_sheets import TAGS, moving

Ask = Callable[..., dict[str, Any]]


def taken(client: Client, recipe: str, **more: Any) -> dict[str, bytes]:
    body = json.dumps({"recipe": recipe, **more})
    response = client.post("/take", content=body, headers={"x-desk-token": TOKEN})
    assert response.headers["content-type"] == "application/zip", response.text
    with zipfile.ZipFile(io.BytesIO(response.content)) as held:
        return {name: held.read(name) for name in held.namelist()}


def by_commands(folder: Path, recipe: str, *commands: str) -> dict[str, bytes]:
    (folder / "recipe.toml").write_text(recipe, encoding="utf-8")
    for command in commands:
        assert main([command, str(folder / "recipe.toml"), "--out", str(folder / "made")]) == 0
    return {path.name: path.read_bytes() for path in (folder / "made").iterdir()}


def test_a_layout_that_was_moved_is_taken_as_the_command_writes_it(client: Client, ask: Ask, tmp_path: Path) -> None:
    only = changed_text(TAGS, Change({"files.formats": "svg, dxf"}, ()))
    laid = {**ask("sheets", recipe=only, width=420), "recipe": only}
    recipe = moving(ask, "moved", laid, 2, 20.3 + 30j, turn=30)["recipe"]
    found = taken(client, recipe)
    assert found == by_commands(tmp_path, recipe, "make")
    assert {"moss-sheet-1.svg", "moss-sheet-1.dxf", "tag.svg", "tag.dxf", "report.md", "run.json"} == found.keys()
    assert b"rotate" not in found["moss-sheet-1.svg"]  # what is moved is written where it lies, in plain lines


def test_a_layout_that_does_not_hold_is_not_taken(ask: Ask) -> None:
    recipe = moving(ask, "moved", ask("sheets", recipe=TAGS, width=420), 2, -3.5j)["recipe"]
    refused = ask("take", recipe=recipe)["refused"]
    words = "".join(part["words"] for part in refused[0])
    assert "tag 3 lies 1.5 mm from tag 2, 3 mm wanted" in words
    assert any("apart" in part["words"] and part.get("options") for part in refused[0])


@pytest.mark.slow
def test_a_layout_that_was_looked_at_is_taken_and_not_looked_for_again(
    client: Client, ask: Ask, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    laid: list[int] = []

    def counted(*args: Any, **more: Any) -> Laid:
        laid.append(1)
        return lay(*args, **more)

    monkeypatch.setattr(laying, "lay", counted)
    recipe = (
        '[[piece]]\nname = "disc"\nsize = "60mm"\ncopies = 3\n[[piece.row]]\nmotif = "scallop"\ncount = 6\n'
        '[sheets]\nsheet = "A6"\ntries = 2\n[files]\nformats = ["svg"]\n'
    )
    LAYOUTS.clear()
    ask("sheets", recipe=recipe, width=420)
    found = taken(client, recipe)
    assert len(laid) == 1
    assert found == by_commands(tmp_path, recipe, "make")
    assert len(laid) == 2
    taken(client, recipe.replace("tries = 2", "tries = 3"))
    assert len(laid) == 3


@pytest.mark.slow
def test_all_that_can_be_ticked_is_what_the_commands_leave_in_one_folder(client: Client, tmp_path: Path) -> None:
    change = Change({"files.hand_out": "yes", "files.as_cut": "yes"}, ())
    recipe = changed_text(TAGS, change)
    found = taken(client, recipe, guide=True)
    assert found == by_commands(tmp_path, recipe, "make", "guide")
    kinds = {name.removeprefix("tag.").removeprefix("moss-sheet-1.") for name in found}
    assert {
        "svg", "dxf", "png", "as-cut.svg", "as-cut.png", "hand-out.pdf", "guide-tag.pdf", "sheet-plan.png",
    } <= kinds  # fmt: skip


def test_ticks_stand_in_the_recipe() -> None:
    bare = TAGS.partition("[sheets]")[0]

    def writes(recipe: str) -> dict[str, Any]:
        return writes_of(checked(recipe))

    assert writes(bare) == {
        "formats": ["svg", "dxf", "png"], "as_cut": False, "hand_out": False, "sheets": False, "sheets_by": False,
        "sheet": "A4",
    }  # fmt: skip
    on = changed_text(bare, Change({"sheets.sheet": "A4", "files.hand_out": "yes", "files.formats": "svg"}, ()))
    assert {key: writes(on)[key] for key in ("sheets", "sheets_by", "hand_out", "formats")} == {
        "sheets": True, "sheets_by": True, "hand_out": True, "formats": ["svg"],
    }  # fmt: skip
    off = changed_text(on, Change({}, ["sheets", "files.hand_out", "files.formats"]))
    assert writes(off) == writes(bare)
