"""Where presets are looked for: the recipe, the file beside it, the maker's own folder, what travels with us."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path

import pytest

from frameforge.errors import InputError
from frameforge.job.make import MakeOrder, make
from frameforge.job.presets import find_preset
from frameforge.job.recipe_file import recipe_of


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A maker's own folder, as the system names it."""
    place = tmp_path / "data"
    monkeypatch.setenv("XDG_DATA_HOME", str(place))
    monkeypatch.setenv("APPDATA", str(place))
    (place / "frameforge").mkdir(parents=True)
    return place / "frameforge"


def shelf(place: Path, kerf: float, name: str = "mine") -> None:
    """Write a presets.toml with one preset."""
    (place / "presets.toml").write_text(f'[{name}]\nlike = "card-240-laser"\nkerf = {kerf}\n', encoding="utf-8")


def test_the_folder_of_the_maker_is_looked_in(home: Path, tmp_path: Path) -> None:
    with pytest.raises(InputError, match="no preset"):
        find_preset("mine", tmp_path)
    shelf(home, 0.2)
    found = find_preset("mine", tmp_path)
    assert (found.preset.kerf_mm, found.notes) == (0.2, ())


def test_what_lies_beside_the_recipe_comes_first_and_says_so(home: Path, tmp_path: Path) -> None:
    shelf(home, 0.2)
    shelf(tmp_path, 0.3)
    found = find_preset("mine", tmp_path)
    assert found.preset.kerf_mm == 0.3
    (note,) = found.notes
    assert (note.code, note.severity) == ("took", "note")
    assert note.say.startswith("preset mine: took the one in ")
    assert f"left out the one in {(home / 'presets.toml').as_posix()}." in note.say


def order(tmp_path: Path, recipe: str, options: Mapping[str, str] | None = None) -> MakeOrder:
    """Return the order for a recipe in a folder of its own."""
    path = tmp_path / "r.toml"
    path.write_text(recipe, encoding="utf-8")
    return MakeOrder(path, options or {}, tmp_path / "out")


def test_a_piece_keeps_the_preset_of_its_maker(home: Path, tmp_path: Path) -> None:
    shelf(tmp_path, 0.3)
    recipe = '[[piece]]\nname = "a"\nsize = 80\npreset = "mine"\n[files]\nformats = ["svg"]\n'
    made = make(order(tmp_path, recipe), lambda *_: None)
    (tmp_path / "presets.toml").unlink()
    again = recipe_of(tmp_path / "out" / "a.svg", {})
    assert find_preset("mine", None, again.tables.preset, "a.svg").preset.kerf_mm == 0.3
    assert json.dumps(made.as_json())


def test_single_limits_of_a_card_stand_in_place_of_the_presets(tmp_path: Path) -> None:
    recipe = (
        '[card.moss]\npreset = "card-300-knife"\nspeed = 12\npasses = 3\nlift_time = 0.9\ncrumb = 6\n'
        'tip = 30\nnear_miss = 0.2\nleast_web = 1\n[[piece]]\nname = "a"\nsize = 80\ncard = "moss"\n'
    )
    preset = make(order(tmp_path, recipe), lambda *_: None).pieces[0].preset
    assert (preset.speed_mm_s, preset.passes, preset.lift_s) == (12.0, 3, 0.9)
    assert (preset.crumb_mm2, preset.tip_deg, preset.near_miss_mm, preset.least_web_mm) == (6.0, 30.0, 0.2, 1.0)
    assert preset.least_neck_mm == 1.8


def test_an_unknown_preset_is_told_where_it_was_named(tmp_path: Path) -> None:
    recipe = '[[piece]]\nname = "a"\nsize = 80\npreset = "card-240-lasr"\n'
    with pytest.raises(InputError) as caught:
        make(order(tmp_path, recipe), lambda *_: None)
    say = 'line 4, preset "card-240-lasr": there is no preset "card-240-lasr". The nearest is card-240-laser.'
    assert str(caught.value).endswith(say)
