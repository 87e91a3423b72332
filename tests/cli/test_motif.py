"""``motif list`` and ``motif show``."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

HEART = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">'
    '<path d="M10 19 L1 8 A5 5 0 0 1 10 5 A5 5 0 0 1 19 8 Z"/></svg>'
)


def test_the_list_names_every_motif(run: Callable[..., Any]) -> None:
    ran = run("motif", "list")
    assert (ran.code, ran.err) == (0, "")
    lines = {line.split()[0]: line for line in ran.out.splitlines()}
    assert {"arch", "scallop", "bean-leaf", "seed-husk", "rose-drop", "pea-pod"} <= set(lines)
    # Half circle of radius 8 over one of radius 4.5 on a sill of 1.6: 8 - 1.6 - 4.5 above the window.
    assert lines["arch"].split() == ["arch", "16", "mm", "16", "mm", "8", "mm", "1.9", "mm", "-"]
    assert lines["motif"].split() == ["motif", "foot", "wide", "high", "thinnest", "slit"]
    assert max(len(line) for line in ran.out.splitlines()) <= 80
    assert not Path("out").exists(), "nothing was asked for but the list"


def test_the_list_as_json_and_as_a_picture(run: Callable[..., Any]) -> None:
    ran = run("motif", "list", "--out", "there", "--json")
    assert ran.code == 0
    assert Path("there/motifs.png").read_bytes().startswith(b"\x89PNG")
    names = [motif["name"] for motif in ran.json["motifs"]]
    assert names == sorted(names)
    assert "arch" in names


def test_the_makers_own_motifs_are_listed_too(run: Callable[..., Any]) -> None:
    Path("mine").mkdir()
    Path("mine/heart.svg").write_text(HEART, encoding="utf-8")
    assert "heart" in run("motif", "list", "--motifs", "mine").out


def test_one_motif_is_shown(run: Callable[..., Any]) -> None:
    ran = run("motif", "show", "arch", "--json")
    assert ran.code == 0
    shown = ran.json
    assert set(shown) >= {
        "name", "file", "width_mm", "height_mm", "bounds_mm", "area_mm2", "foot_mm", "thinnest_mm", "join", "cut_away",
        "window", "segments", "notes",
    }  # fmt: skip
    assert (shown["width_mm"], shown["height_mm"], shown["foot_mm"]) == pytest.approx((16, 8, 16))
    assert shown["bounds_mm"] == pytest.approx([-8, 0, 8, 8])
    # Half circle of radius 8 less half circle of radius 4.5 (pi r^2 / 2).
    assert shown["area_mm2"] == pytest.approx(3.141592653589793 * (64 - 20.25) / 2)
    assert (shown["join"], shown["cut_away"], shown["window"]) == (1, 0, 1)
    assert (shown["thinnest_mm"], shown["narrowest_slit_mm"]) == (pytest.approx(1.9), None)
    assert shown["findings"] == []
    assert Path("out/motif-arch.png").is_file()


def test_a_drawing_is_shown_with_its_notes(run: Callable[..., Any]) -> None:
    Path("heart.svg").write_text(HEART, encoding="utf-8")
    ran = run("motif", "show", "heart.svg")
    assert (ran.code, ran.err) == (0, "")
    assert "found: where the drawing stands on its lowest line" in ran.out
    assert "note: " in ran.out


def test_a_white_box_behind_a_drawing_is_told_wherever_it_is_used(run: Callable[..., Any]) -> None:
    box = HEART.replace("<path", '<rect width="20" height="20" fill="#fffef8"/><path')
    Path("boxed.svg").write_text(box, encoding="utf-8")
    say = "it fills the whole page, so all the rest is lost in one plain box. Take it out of the drawing"
    shown = run("motif", "show", "boxed.svg")
    assert [line for line in shown.out.splitlines() if f"rect 1: {say}, or use --white cuts." in line]
    (found,) = run("motif", "show", "boxed.svg", "--json").json["findings"]
    assert (found["code"], found["where"]) == ("white-box", "rect 1")
    made = run("make", "--motif", "boxed.svg", "--size", "100mm", "--formats", "svg", "--json")
    (found,) = [found for found in made.json["pieces"][0]["findings"] if found["code"] == "white-box"]
    assert (found["where"], found["say"]) == ("boxed, rect 1", f"{say}, or use --white cuts.")
    assert f"boxed, rect 1: {say}" in made.err
    assert run("motif", "show", "boxed.svg", "--white", "cuts", "--json").json["findings"] == []


@pytest.mark.parametrize(
    ("words", "code", "line"),
    [
        (
            ["motif", "show", "beanleaf"],
            2,
            "motif show beanleaf: no such motif; the nearest is bean-leaf. See all with: frameforge motif list",
        ),
        (["motif", "show", "no.svg"], 4, "no.svg: no such file. Look at its name and folder."),
        (
            ["motif", "show", "arch", "--white", "black"],
            2,
            'motif show, --white "black": no such choice. Write "keep" or "cuts".',
        ),
    ],
)
def test_what_cannot_be_shown_is_told(run: Callable[..., Any], words: list[str], code: int, line: str) -> None:
    ran = run(*words)
    assert (ran.code, ran.faults) == (code, [line])


def test_a_picture_that_is_not_ours_is_left_alone(run: Callable[..., Any]) -> None:
    Path("out").mkdir()
    Path("out/motif-arch.png").write_bytes(b"mine")
    assert run("motif", "show", "arch").code == 4
    assert run("motif", "show", "arch", "--force").code == 0


def test_a_drawing_is_added_and_found_by_its_name(run: Callable[..., Any]) -> None:
    Path("Big heart.svg").write_text(HEART, encoding="utf-8")
    ran = run("motif", "add", "Big heart.svg")
    kept = Path("data/frameforge/motifs/big-heart.svg")
    assert (ran.code, ran.err) == (0, "")
    assert ran.out.splitlines()[0].startswith("big-heart: added, foot 1.5 mm (0.06 in), 18")
    assert ran.out.splitlines()[-1] == "Use it: frameforge make --motif big-heart --size 100mm"
    Path("Big heart.svg").unlink()
    shown = run("motif", "show", "big-heart", "--json").json
    assert (shown["foot_mm"], shown["notes"]) == (pytest.approx(1.5), [])
    listed = run("motif", "list")
    assert f"Yours, in {kept.parent.resolve()}: big-heart" in listed.out.splitlines()
    assert run("motif", "list", "--json").json["own"] == ["big-heart"]
    assert run(*ran.out.splitlines()[-1].split()[3:], "--formats", "svg").code == 0
    made = run("make", "--motif", "big-heart", "--motif", "arch", "--size", "150mm", "--name", "two").out
    assert "two" in made
    assert Path("out/two.svg").read_text(encoding="utf-8").count("[motif.") == 1, "only hers is kept as curves"


def test_an_added_motif_is_the_same_motif(run: Callable[..., Any]) -> None:
    Path("heart.svg").write_text(HEART, encoding="utf-8")
    before = run("motif", "show", "heart.svg", "--json").json
    run("motif", "add", "heart.svg", "--motifs", "mine")
    after = run("motif", "show", "heart", "--motifs", "mine", "--json").json
    for key in ("width_mm", "height_mm", "foot_mm", "area_mm2", "thinnest_mm"):
        assert after[key] == pytest.approx(before[key], abs=1e-4), key
    assert [after[key] for key in ("join", "window")] == [before[key] for key in ("join", "window")]
    assert not Path("data").exists(), "nothing but the folder named"


def test_what_was_added_is_replaced_and_what_others_drew_is_not(run: Callable[..., Any]) -> None:
    Path("heart.svg").write_text(HEART, encoding="utf-8")
    kept = Path("data/frameforge/motifs/heart.svg")
    assert run("motif", "add", "heart.svg").out.startswith("heart: added")
    first = kept.read_bytes()
    assert run("motif", "add", "heart.svg").out.startswith("heart: replaced")
    assert kept.read_bytes() == first, "same drawing, same bytes"
    kept.write_bytes(first + b"<!-- mine now -->")
    refused = run("motif", "add", "heart.svg")
    say = "frameforge did not write this file and leaves it alone. Choose another --name, or replace it with --force."
    assert (refused.code, refused.faults) == (4, [f"{kept.resolve().as_posix()}: {say}"])
    assert kept.read_bytes() == first + b"<!-- mine now -->"
    assert run("motif", "add", "heart.svg", "--force").code == 0
    assert kept.read_bytes() == first
    assert [path.name for path in kept.parent.iterdir()] == ["heart.svg"], "nothing is left half done"


def test_a_motif_that_takes_the_place_of_ours_is_told(run: Callable[..., Any]) -> None:
    Path("heart.svg").write_text(HEART, encoding="utf-8")
    ran = run("motif", "add", "heart.svg", "--name", "arch")
    taken = "note: arch is also the name of one that comes with frameforge; yours is taken from now on."
    assert taken in ran.out.splitlines()
    assert "Taken instead of ours of the same name: arch" in run("motif", "list").out.splitlines()
    note = "took your own arch, not the one that comes with frameforge."
    assert note in run("motif", "show", "arch", "--json").json["notes"]
    assert note in run("make", "--motif", "arch", "--size", "100mm", "--formats", "svg").out


def test_a_drawing_that_cannot_be_used_does_not_spoil_the_list(run: Callable[..., Any]) -> None:
    Path("mine").mkdir()
    Path("mine/notes.svg").write_text("hello", encoding="utf-8")
    Path("mine/heart.svg").write_text(HEART, encoding="utf-8")
    ran = run("motif", "list", "--motifs", "mine")
    assert ran.code == 0
    (line,) = [line for line in ran.out.splitlines() if line.startswith("left out, ")]
    assert line.startswith("left out, notes.svg: ")
    assert "Yours, in mine: heart" in ran.out.splitlines()


@pytest.mark.parametrize(
    ("words", "code", "line"),
    [
        (["add", "arch"], 2, "motif add arch: name a drawing by its file, for example daisy.svg"),
        (["add", "no.svg"], 4, "no.svg: no such file. Look at its name and folder."),
        (["add", "heart.svg", "--name", "a/b"], 2,
         'motif add, --name "a/b": / cannot stand in a file name. Write a name such as daisy.'),
        (["add", "heart.svg", "--name", "  "], 2, 'motif add, --name "  ": not a name. Write a name such as daisy.'),
        (["add", "heart.svg", "--white", "no"], 2,
         'motif add, --white "no": no such choice. Write "keep" or "cuts".'),
        (["add", "heart.svg", "--motifs", "heart.svg"], 4,
         "heart.svg/heart.svg: a file stands where the folder should be. Choose another folder with --motifs."),
        (["list", "--motifs", "nowhere"], 4,
         "--motifs nowhere: no such folder. Look at its name, or make it with: "
         "frameforge motif add DRAWING.svg --motifs nowhere"),
        (["show", "arch", "--motifs", "nowhere"], 4,
         "--motifs nowhere: no such folder. Look at its name, or make it with: "
         "frameforge motif add DRAWING.svg --motifs nowhere"),
        (["add", "con.svg"], 2,
         'motif add con.svg: "con" cannot be the name of a motif: a file cannot be called so. Choose one with --name.'),
    ],
)  # fmt: skip
def test_what_cannot_be_added_is_told_in_one_line(
    run: Callable[..., Any], words: list[str], code: int, line: str
) -> None:
    Path("heart.svg").write_text(HEART, encoding="utf-8")
    ran = run("motif", *words)
    assert (ran.code, ran.faults, ran.out) == (code, [line], "")


def test_alone_it_tells_its_three_lines(run: Callable[..., Any]) -> None:
    Path("daisy.svg").write_text(HEART, encoding="utf-8")
    ran = run("motif")
    assert ran.code == 0
    for line in ran.out.splitlines():
        if line.startswith("    frameforge "):
            assert run(*line.split()[1:]).code == 0


@pytest.mark.parametrize("folder", [(), ("--motifs", "mine")], ids=["usual", "named"])
def test_fit_make_and_check_know_the_makers_own_motifs_alike(run: Callable[..., Any], folder: tuple[str, ...]) -> None:
    Path("heart.svg").write_text(HEART, encoding="utf-8")
    assert run("motif", "add", "heart.svg", *folder).code == 0
    Path("love.toml").write_text('[[piece]]\nsize = 80\n[[piece.row]]\nmotif = "heart"\ncount = 6\n', encoding="utf-8")
    for words in (
        ("fit", "--motif", "heart", "--size", "80mm", "--count", "6"),
        ("make", "love.toml"),
        ("check", "love.toml"),
    ):
        ran = run(*words, *folder)
        assert ran.code == 0, (words, ran.err)
        if folder:
            assert run(*words).code == 2, "in no other folder"
