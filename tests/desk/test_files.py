"""Files in and out: the bytes of the command, drawings as curves only, and a desk that outlives what it is asked."""

from __future__ import annotations

import io
import json
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from frameforge.cli.entry import main

from .conftest import RECIPE, TOKEN, Client, Here

Ask = Callable[..., dict[str, Any]]
GOOD = {"x-desk-token": TOKEN}
DRAWING = (
    b'<svg xmlns="http://www.w3.org/2000/svg" width="12mm" height="10mm" viewBox="0 0 12 10" onload="alert(1)">'
    b"<script>alert(2)</script><path onclick='alert(3)' d='M 0 10 L 6 0 L 12 10 Z'/></svg>"
)


def _files(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def _archive(client: Client, recipe: str, **more: Any) -> dict[str, bytes]:
    response = client.post("/take", content=json.dumps({"recipe": recipe, **more}), headers=GOOD)
    assert response.status_code == 200
    assert response.headers["content-type"] == "application/zip"
    with zipfile.ZipFile(io.BytesIO(response.content)) as held:
        assert held.testzip() is None
        return {name: held.read(name) for name in held.namelist()}


def test_the_files_are_those_of_the_command_byte_for_byte(client: Client, tmp_path: Path) -> None:
    (tmp_path / "leaf.toml").write_text(RECIPE, encoding="utf-8")
    assert main(["make", str(tmp_path / "leaf.toml"), "--out", str(tmp_path / "made")]) == 0
    taken = _archive(client, RECIPE)
    assert taken == _files(tmp_path / "made")
    assert {name.rpartition(".")[2] for name in taken} == {"svg", "dxf", "png", "md", "json"}


def test_the_guide_is_that_of_the_command_byte_for_byte(client: Client, ask: Ask, tmp_path: Path) -> None:
    (tmp_path / "leaf.toml").write_text(RECIPE, encoding="utf-8")
    assert main(["guide", str(tmp_path / "leaf.toml"), "--out", str(tmp_path / "made")]) == 0
    made = _files(tmp_path / "made")
    (guide,) = (name for name in made if name.endswith(".pdf"))
    taken = _archive(client, RECIPE, guide=True)
    assert taken.keys() - _archive(client, RECIPE).keys() == {guide}
    assert taken[guide] == made[guide]
    said = ask("put", recipe=RECIPE, guide=True)["said"]
    assert f"  {guide}: 1 page of A4" in said
    assert _files(tmp_path / "out") == taken


def test_a_guide_that_cannot_be_made_leaves_nothing_half_written(ask: Ask, tmp_path: Path) -> None:
    rings = '[[rings]]\nsizes = "60-100 by 20"\n'
    for kind in ("take", "put"):
        words = "".join(part["words"] for part in ask(kind, recipe=rings, guide=True)["refused"][0])
        assert "no guide shows" in words
        assert "/" not in words
    assert not (tmp_path / "out").exists()


@pytest.mark.slow
def test_a_hand_out_and_a_picture_as_cut_are_taken_where_they_are_asked_for(client: Client, ask: Ask) -> None:
    recipe = ask("see", recipe=RECIPE, options={"hand_out": True, "as_cut": True})["recipe"]
    more = _archive(client, recipe).keys() - _archive(client, RECIPE).keys()
    assert more == {"hand-out.pdf", "bean-leaf-16-on-76mm.as-cut.svg", "bean-leaf-16-on-76mm.as-cut.png"}


def test_files_go_into_the_chosen_folder_and_never_over_one_that_is_not_ours(
    client: Client, ask: Ask, tmp_path: Path
) -> None:
    said = ask("put", recipe=RECIPE)["said"]
    assert "107.9 mm" in said[0]
    assert _files(tmp_path / "out") == _archive(client, RECIPE)
    mine = tmp_path / "out" / "bean-leaf-16-on-76mm.svg"
    mine.write_bytes(b"mine")
    refused = ask("put", recipe=RECIPE)["refused"]
    assert "did not write this file" in "".join(part["words"] for part in refused[0])
    assert mine.read_bytes() == b"mine"


def _handed_in(client: Client, kind: str, name: str, data: bytes, recipe: str = "") -> Any:
    text = recipe.encode()
    headers = {**GOOD, "x-desk-name": name, "x-desk-recipe-bytes": str(len(text))}
    return client.post(f"/{kind}", content=text + data, headers=headers)


def test_a_drawing_comes_back_as_curves_and_nothing_else(client: Client, ask: Ask) -> None:
    response = _handed_in(client, "drawing", "My%20Sprig%20(2).svg", DRAWING, RECIPE)
    assert "alert" not in response.text
    assert "<" not in response.text
    values = response.json()
    assert values["motif"] == "my-sprig-2"
    made = ask("see", recipe=values["recipe"], options={"motif": [values["motif"]], "count": "8"})
    assert "8 my sprig 2" in made["pieces"][0]["said"][0]


def test_a_piece_with_a_drawing_of_ones_own_is_made_alike_by_the_command(
    client: Client, ask: Ask, tmp_path: Path
) -> None:
    values = _handed_in(client, "drawing", "sprig.svg", DRAWING, RECIPE).json()
    recipe = ask("see", recipe=values["recipe"], options={"motif": ["sprig"], "count": "8"})["recipe"]
    (tmp_path / "sprig.toml").write_text(recipe, encoding="utf-8")
    assert main(["make", str(tmp_path / "sprig.toml"), "--out", str(tmp_path / "made")]) == 0
    assert _archive(client, recipe) == _files(tmp_path / "made")


@pytest.mark.parametrize(
    "data", [b"", b"GIF89a", b"<svg", b'<!DOCTYPE a [<!ENTITY b SYSTEM "file:///etc/passwd">]><a>&b;</a>']
)
def test_a_bad_drawing_is_refused_in_a_sentence(client: Client, data: bytes) -> None:
    response = _handed_in(client, "drawing", "x.svg", data, RECIPE)
    assert response.status_code == 200
    assert response.json()["refused"][0][0]["words"]
    assert "root:" not in response.text


def test_a_recipe_is_opened_from_its_own_file_and_from_the_files_it_made(client: Client) -> None:
    assert _handed_in(client, "open", "a.toml", RECIPE.encode()).json() == {"recipe": RECIPE}
    made = _archive(client, RECIPE)
    kept = [
        _handed_in(client, "open", name, made[name]).json()["recipe"]
        for name in made
        if name.endswith((".svg", ".dxf"))
    ]
    assert len(kept) == 2
    assert all('motif = "bean-leaf"' in text or "bean-leaf" in text for text in kept)
    assert "refused" in _handed_in(client, "open", "a.svg", DRAWING).json()


def test_a_fault_of_ours_is_one_line_and_not_the_end(client: Client, here: Here, monkeypatch: Any) -> None:
    def broken(question: dict[str, Any], folders: Any, tell: Any) -> Any:
        raise ZeroDivisionError

    monkeypatch.setitem(__import__("frameforge.desk.answers", fromlist=["_TELLING"])._TELLING, "see", broken)
    body = json.dumps({"recipe": RECIPE})
    response = client.post("/see", content=body, headers=GOOD)
    assert response.status_code == 500
    assert "ZeroDivisionError" in response.json()["refused"][0][0]["words"]
    assert client.post("/motifs", content="{}", headers=GOOD).status_code == 200


def test_the_page_and_its_files_are_served(client: Client) -> None:
    page = client.get("/")
    assert page.status_code == 200
    assert TOKEN in page.text
    assert "{{" not in page.text
    for name in ("main.js", "look.css", "Overpass-Regular.ttf", "mark.svg"):
        assert client.get(f"/page/{name}").status_code == 200
    assert client.get("/page/main.js").headers["content-type"].startswith("text/javascript")
