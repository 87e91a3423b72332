"""Fonts of the maker's own: read before they are kept, shown as curves, found nowhere but in the chosen folder."""

from __future__ import annotations

import io
import json
import zipfile
from collections.abc import Callable
from importlib import resources
from pathlib import Path
from typing import Any

import pytest

from frameforge.cli.entry import main
from frameforge.desk.fonts import font_names, is_font_name

from .conftest import RECIPE, TOKEN, Client, Here

Ask = Callable[..., dict[str, Any]]
GOOD = {"x-desk-token": TOKEN}
FONT = resources.files("frameforge.picture").joinpath("fonts", "Overpass-Bold.ttf").read_bytes()
WORDS = RECIPE + '\n[[piece.text]]\nwords = "Seed swap"\n'
LETTERED = WORDS + 'font = "mine.ttf"\n'


def _handed_in(client: Client, name: str, data: bytes = FONT) -> dict[str, Any]:
    response = client.post("/font", content=data, headers={**GOOD, "x-desk-name": name})
    assert response.status_code == 200
    values = response.json()
    assert isinstance(values, dict)
    return values


def _said(values: dict[str, Any]) -> str:
    return "".join(part["words"] for part in values["refused"][0])


def test_a_font_is_kept_under_a_plain_name_and_never_over_another(client: Client, tmp_path: Path) -> None:
    out = tmp_path / "out"
    assert _handed_in(client, "..%2F..%2FMy%20Hand%20(2).TTF") == {"font": "my-hand-2.ttf", "words": "Overpass Bold"}
    assert _handed_in(client, "My Hand (2).ttf")["font"] == "my-hand-2.ttf"
    (out / "my-hand-2.ttf").write_bytes(b"mine")
    (out / "my-hand-2-2.ttf").symlink_to(tmp_path / "elsewhere.ttf")
    assert _handed_in(client, "My Hand (2).ttf")["font"] == "my-hand-2-3.ttf"
    assert (out / "my-hand-2.ttf").read_bytes() == b"mine"
    assert not (tmp_path / "elsewhere.ttf").exists()
    assert (out / "my-hand-2-3.ttf").read_bytes() == FONT
    assert {path.name for path in out.iterdir()} == {"my-hand-2.ttf", "my-hand-2-2.ttf", "my-hand-2-3.ttf"}


@pytest.mark.parametrize("data", [b"", b"\0\1\0\0", b"wOF2", b"<svg/>", FONT[:3000], b"OTTO" + b"\xff" * 500])
def test_what_is_no_font_is_refused_in_a_sentence_and_not_kept(client: Client, tmp_path: Path, data: bytes) -> None:
    assert "no font with outlines" in _said(_handed_in(client, "mine.ttf", data))
    assert not (tmp_path / "out").exists()


def test_the_fonts_there_are_come_as_curves_with_the_words_set_in_them(
    client: Client, ask: Ask, tmp_path: Path
) -> None:
    _handed_in(client, "mine.ttf")
    (tmp_path / "out" / "broken.otf").write_bytes(b"OTTO")
    (tmp_path / "out" / "led-away.ttf").symlink_to(tmp_path / "out" / "mine.ttf")
    (tmp_path / "out" / "notes.txt").write_bytes(FONT)
    ours, mine = ask("fonts", words="Seed \u2603 swap")["fonts"]
    assert (ours["name"], ours["words"], mine["name"], mine["words"]) == (None, "our own", "mine.ttf", "Overpass Bold")
    assert ours["path"] != mine["path"]
    assert mine["path"].startswith("M ")
    assert mine["missing"] == "\u2603"
    assert "path" in ask("fonts", words="\u2603")["fonts"][1]
    response = client.post("/fonts", content="{}", headers=GOOD)
    assert FONT[1000:1040] not in response.content
    assert client.get("/out/mine.ttf").status_code == 404


@pytest.mark.slow
def test_words_in_a_font_of_ones_own_are_made_alike_by_the_command(client: Client, ask: Ask, tmp_path: Path) -> None:
    out = tmp_path / "out"
    _handed_in(client, "mine.ttf")
    recipe = ask("see", recipe=WORDS, options={"text.0.font": "mine.ttf"}, at="piece.0")["recipe"]
    assert 'font = "mine.ttf"' in recipe
    response = client.post("/take", content=json.dumps({"recipe": recipe}), headers=GOOD)
    with zipfile.ZipFile(io.BytesIO(response.content)) as held:
        taken = {name: held.read(name) for name in held.namelist()}
    for text, option in ((recipe, []), (WORDS, ["--font", "mine.ttf"])):
        (out / "saved.toml").write_text(text, encoding="utf-8")
        made = tmp_path / f"made-{len(option)}"
        assert main(["make", str(out / "saved.toml"), *option, "--out", str(made)]) == 0
        assert taken == {path.name: path.read_bytes() for path in made.iterdir()}


def test_a_font_that_is_not_there_is_told_and_one_handed_in_later_does(client: Client, ask: Ask) -> None:
    values = ask("see", recipe=LETTERED)
    assert values["is_changed"] is True
    assert (
        _said(values)
        == "Recipe, font: mine.ttf is not among the fonts here. Drop it onto the page, or choose another font."
    )
    assert "not among the fonts" in _said(ask("take", recipe=LETTERED))
    _handed_in(client, "mine.ttf")
    mine, ours = (ask("see", recipe=recipe)["pieces"][0]["marks"] for recipe in (LETTERED, WORDS))
    assert mine
    assert mine != ours


def test_a_font_that_leads_elsewhere_is_not_read(ask: Ask, tmp_path: Path) -> None:
    (tmp_path / "elsewhere.ttf").write_bytes(FONT)
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "mine.ttf").symlink_to(tmp_path / "elsewhere.ttf")
    for kind in ("see", "take", "put", "as-cut", "sheets"):
        assert "not among the fonts" in _said(ask(kind, recipe=LETTERED)), kind
    assert font_names(tmp_path / "out") == []


@pytest.mark.parametrize(
    ("name", "is_one"),
    [
        ("mine.ttf", True), ("Grüße 2 (thin).OTF", True), ("../mine.ttf", False), ("/etc/mine.ttf", False),
        ("a\\mine.ttf", False), ("c:mine.ttf", False), (".mine.ttf", False), ("mine.woff2", False),
        ("mine.ttf\n", False), ("..ttf", False), ("mine\0.ttf", False), (7, False),
    ],
)  # fmt: skip
def test_only_bare_names_of_fonts_are_names_of_fonts(name: object, is_one: bool) -> None:
    assert is_font_name(name) is is_one


def test_a_font_is_as_large_as_a_drawing_at_most(client: Client, here: Here) -> None:
    assert client.post("/font", content=b"\0" * 16_100_000, headers=GOOD).status_code == 413
    assert here.asked == []
