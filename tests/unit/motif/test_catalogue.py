"""Motifs by name and by path."""

from __future__ import annotations

from pathlib import Path

import pytest

from frameforge.errors import FileError, InputError
from frameforge.motif.catalogue import is_ours, is_path, load_motif, names
from frameforge.read import motif_folder

SQUARE = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="{w}mm" height="9mm" viewBox="0 0 {w} 9">'
    '<path d="M1 1H5V8H1Z"/></svg>'
)


def _draw(path: Path, width: int = 9) -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(SQUARE.format(w=width), encoding="utf-8")
    return path


def test_the_catalogue_holds_the_twelve() -> None:
    twelve = (
        "arch bean-leaf beetle cabbage-edge pea-pod plum-blossom rose-drop scallop seed-husk snail trellis twig-scroll"
    )
    assert set(twelve.split()) <= set(names())
    assert list(names()) == sorted(names())


def test_a_motif_is_found_by_its_name() -> None:
    motif = load_motif("bean-leaf")
    assert (motif.name, motif.foot_mm, motif.is_foot_stated) == ("bean-leaf", 4.4, True)


@pytest.mark.parametrize("said", ["Bean leaf", "bean_leaf", " BEAN-LEAF "])
def test_capitals_spaces_and_underscores_do_not_matter(said: str) -> None:
    assert load_motif(said) is load_motif("bean-leaf")


def test_an_unknown_name_gets_the_nearest_word_for_word() -> None:
    with pytest.raises(InputError) as caught:
        load_motif("beanleaf", where="make, --motif beanleaf")
    said = "make, --motif beanleaf: no such motif; the nearest is bean-leaf. See all with: frameforge motif list"
    assert str(caught.value) == said
    assert caught.value.exit_code == 2


def test_a_name_like_no_other_gets_the_list_only() -> None:
    with pytest.raises(InputError) as caught:
        load_motif("qqqq")
    assert str(caught.value) == "motif qqqq: no such motif. See all with: frameforge motif list"


def test_the_makers_own_folder_comes_first(tmp_path: Path) -> None:
    _draw(tmp_path / "arch.svg")
    _draw(tmp_path / "My Gate.svg")
    assert load_motif("arch", folder=tmp_path).foot_mm == 4
    assert load_motif("arch").foot_mm == 16
    assert load_motif("my-gate", folder=tmp_path).name == "My Gate"
    assert {"My Gate", "arch", "snail"} <= set(names(tmp_path))
    assert len(names(tmp_path)) == len(names()) + 1
    with pytest.raises(InputError, match="the nearest is my-gate"):
        load_motif("mygate", folder=tmp_path)


def test_a_motif_of_her_own_in_the_place_of_ours_is_told(tmp_path: Path) -> None:
    _draw(tmp_path / "Bean Leaf.SVG")
    motif = load_motif("bean-leaf", folder=tmp_path)
    assert motif.foot_mm == 4
    assert motif.notes[0] == "took your own Bean Leaf, not the one that comes with frameforge."
    assert [name for name in names(tmp_path) if "eaf" in name] == ["Bean Leaf"]
    assert all("your own" not in note for note in load_motif(str(tmp_path / "Bean Leaf.SVG")).notes)
    assert load_motif("arch", folder=tmp_path).notes == ()


def test_which_names_are_ours(tmp_path: Path) -> None:
    _draw(tmp_path / "arch.svg")
    assert [is_ours(name) for name in ("arch", "Bean leaf", "gate", "arch.svg", "./arch")] == [
        True, True, False, False, False
    ]  # fmt: skip
    assert [is_ours(name, tmp_path) for name in ("arch", "ARCH", "snail")] == [False, False, True]
    assert [is_path(name) for name in ("arch", "a.SVG", "a.svgz", "art/arch", "art\\arch")] == [False, *[True] * 4]


def test_a_drawing_called_without_its_ending_is_offered(tmp_path: Path) -> None:
    _draw(tmp_path / "Daisy.svg")
    with pytest.raises(InputError) as caught:
        load_motif("daisy", beside=tmp_path, where="make, --motif daisy")
    assert str(caught.value) == "make, --motif daisy: no such motif. For the drawing of that name write Daisy.svg"


def test_a_folder_that_is_not_there_holds_nothing(tmp_path: Path) -> None:
    assert names(tmp_path / "none") == names()


def test_a_path_is_beside_the_recipe(tmp_path: Path) -> None:
    _draw(tmp_path / "art" / "gate.svg")
    motif = load_motif("art/gate.svg", beside=tmp_path)
    assert (motif.name, motif.foot_mm, motif.is_foot_stated) == ("gate", 4, False)
    assert load_motif(str(tmp_path / "art" / "gate.svg")).foot_mm == 4


def test_a_path_that_is_not_there_is_named_as_it_was_typed(tmp_path: Path) -> None:
    with pytest.raises(FileError) as caught:
        load_motif("daisy.svg", beside=tmp_path)
    assert str(caught.value) == "daisy.svg: no such file. Look at its name and folder."


def test_what_is_no_drawing_is_refused_by_its_name(tmp_path: Path) -> None:
    (tmp_path / "notes.svg").write_text("hello", encoding="utf-8")
    with pytest.raises(InputError, match=r"^notes\.svg"):
        load_motif("notes.svg", beside=tmp_path)


def test_the_same_content_is_read_once_and_a_changed_file_anew(tmp_path: Path) -> None:
    path = _draw(tmp_path / "gate.svg")
    first = load_motif(str(path))
    assert load_motif(str(path)) is first
    _draw(path, width=12)
    assert load_motif(str(path)) is not first


def test_another_card_needs_another_neck(tmp_path: Path) -> None:
    path = tmp_path / "spike.svg"
    path.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">'
        '<path d="M10 19 L15 1 L5 1 Z"/></svg>',
        encoding="utf-8",
    )
    assert load_motif(str(path)).foot_mm == pytest.approx(1.5)
    assert load_motif(str(path), least_neck_mm=1.0).foot_mm == pytest.approx(1.0)


def test_every_drawing_of_the_folder_loads_without_a_note() -> None:
    place = motif_folder.folder()
    for name in motif_folder.names_in(place):
        motif = load_motif(name)
        assert motif.is_foot_stated
        assert motif.notes == ()
