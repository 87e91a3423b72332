"""The manual is true: every line in it works as it stands, says what is quoted, and makes the pictures shown."""

from __future__ import annotations

import re
import shlex
import tomllib
from pathlib import Path

import numpy as np
import pytest
import typer
from fixtures.manual_examples import CHAPTERS, MANUAL, blocks, pictures, shown, typed_through
from PIL import Image

from frameforge.cli.app import app
from frameforge.cli.options import OPTIONS
from frameforge.cli.usage import usage_faults
from frameforge.finding import CODES
from frameforge.recipe.walk import walk

PAGES = {path.stem: path.read_text(encoding="utf-8") for path in sorted(MANUAL.glob("*.md"))}
QUICK = {"rings", "machine"}
"""Chapters that are typed through in every run; the others, which take longer, among the slow tests."""

_CODE = re.compile(r"^```.*?^```$", re.DOTALL | re.MULTILINE)
_OF_ONE_COMMAND = {"--page", "--grid", "--overlap", "--all", "--version", "--help", "--as"}


@pytest.mark.parametrize(
    "name", [pytest.param(name, marks=[] if name in QUICK else pytest.mark.slow) for name in CHAPTERS]
)
def test_a_chapter_is_true(name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    typed = 0
    for one in typed_through(name, tmp_path):
        typed += 1
        assert one.is_as_told, f"{one.line}\n{one.said}"
        assert one.missing() == [], f"{one.line}\n{one.said}"
    assert typed > 0
    for picture in pictures(name):
        (made,) = sorted(tmp_path.rglob(picture))[:1]
        _is_the_same(shown(made), MANUAL / "pictures" / picture)


def _is_the_same(fresh: Image.Image, kept: Path) -> None:
    """Compare two pictures: at most one pixel in two hundred differs visibly."""
    old = Image.open(kept)
    assert old.size == fresh.size, f"{kept.name}: tests/golden/renew_pictures.py makes it anew"
    apart = np.abs(np.asarray(fresh.convert("L"), dtype=int) - np.asarray(old.convert("L"), dtype=int)) > 48
    assert apart.mean() < 0.005, f"{kept.name}: tests/golden/renew_pictures.py makes it anew"


def test_every_chapter_has_lines_to_type_and_quotes() -> None:
    assert {"first-piece", "size", "ovals", "rings", "mats", "class", "by-hand", "lettering", "folds"} <= set(CHAPTERS)
    assert set(CHAPTERS) >= QUICK
    assert sum(block.kind == "text" for text in PAGES.values() for block in blocks(text)) > 30


@pytest.mark.parametrize("name", PAGES)
def test_every_link_leads_somewhere(name: str) -> None:
    for target in re.findall(r"\]\(([^)]+)\)", PAGES[name]):
        assert (MANUAL / target).is_file(), target


def test_every_page_is_named_once_on_the_first() -> None:
    named = re.findall(r"\]\(([\w-]+)\.md\)", PAGES["README"])
    assert sorted(named) == sorted(set(PAGES) - set(CODES) - {"README"})


@pytest.mark.parametrize("name", PAGES)
def test_what_is_told_in_passing_is_known(name: str) -> None:
    """Options and whole lines named within a sentence."""
    root = typer.main.get_command(app)
    known = {f"--{key.strip('_').replace('_', '-')}" for key in OPTIONS} | _OF_ONE_COMMAND
    for said in re.findall(r"`([^`]+)`", _CODE.sub("", PAGES[name])):
        said = " ".join(said.split())
        if said.startswith("frameforge ") and name != "commands":
            faults = [str(fault) for fault in usage_faults(root, shlex.split(said)[1:])]
            assert [fault for fault in faults if " is missing. " not in fault] == [], said
        elif said.startswith("--"):
            assert said.split()[0] in known, said


@pytest.mark.parametrize("name", PAGES)
def test_a_part_of_a_recipe_is_sound(name: str) -> None:
    for block in blocks(PAGES[name]):
        if block.kind == "toml" and not block.more.startswith("presets"):
            assert walk(tomllib.loads(block.text))[1] == [], block.text


@pytest.mark.parametrize("name", PAGES)
def test_lines_are_short_enough_to_read(name: str) -> None:
    long = [line for line in PAGES[name].splitlines() if len(line) > 100 and not line.startswith("- `")]
    assert name in ("recipe", "commands") or long == []
