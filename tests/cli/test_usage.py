"""Command lines that cannot be understood: our own words, one line a fault, exit 2."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
import typer

from frameforge import __version__
from frameforge.cli.app import app
from frameforge.errors import InputError

COMMANDS = ", ".join(typer.main.get_command(app).commands)  # type: ignore[attr-defined]  # a group has them


@pytest.mark.parametrize(
    ("words", "lines"),
    [
        (
            "make --size 100 mm",
            ['make: "mm" stands alone after --size 100. Write 100mm without a space, or "100 mm" in quotes.'],
        ),
        (
            "make --motif arch --size 3 1/4 in",
            ['make: "1/4 in" stands alone after --size 3. Write "3 1/4 in" in quotes.'],
        ),
        (
            "make --size 150 x 100 mm",
            ['make: "x 100 mm" stands alone after --size 150. Write "150 x 100 mm" in quotes.'],
        ),
        ("make --hole 4mm top", ['make: "top" stands alone after --hole 4mm. Write "4mm top" in quotes.']),
        ("make --sise 3", ["make, --sise: no such option; the nearest is --size."]),
        ("make --sise=3 badge.toml", ["make, --sise: no such option; the nearest is --size."]),
        ("make --colour moss", ["make, --colour: no such option; it is called --card."]),
        ("make --diameter 3in", ["make, --diameter: no such option; it is called --size."]),
        ("make --number 3", ["make, --number: no such option; it is called --count."]),
        ("make --offset 3", ["make, --offset: no such option; it is called --rim."]),
        ("make --spacing 3", ["make, --spacing: no such option; it is called --gap."]),
        ("make --qqqq", ["make, --qqqq: no such option. See all with: frameforge make --help"]),
        ("make -x", ["make, -x: no such option. See all with: frameforge make --help"]),
        ("make --motif --size 100mm", ["make, --motif: its value is missing. Write --motif and then the value."]),
        ("make --motif=--size", ["make, --motif: its value is missing. Write --motif and then the value."]),
        ("make --size", ["make, --size: its value is missing. Write --size and then the value."]),
        ("make --one-path=yes", ["make, --one-path: it is a switch and takes no value. Write it alone."]),
        (
            "make --size 100mm --size 50mm",
            ["make, --size: it stands here twice, with 100mm and 50mm. Write it once."],
        ),
        ("make arch", ['make, "arch": a recipe ends in .toml, .svg or .dxf. For a motif write --motif arch']),
        (
            "make a.toml b.toml",
            ['make, "b.toml": one word too many. Leave it out, or write the option it belongs to before it.'],
        ),
        ("mke", ['frameforge: no such command as "mke"; the nearest is make.']),
        ("zzzz", [f'frameforge: no such command as "zzzz". There are {COMMANDS}.']),
        ("badge.toml", ["frameforge: a file needs a command. Write frameforge make badge.toml"]),
        ("--size 100mm", ["frameforge, --size: no such option. See all with: frameforge --help"]),
        ("motif shwo", ['frameforge motif: no such command as "shwo"; the nearest is show.']),
        (
            "motif show",
            ["motif show: MOTIF is missing. Write frameforge motif show MOTIF, with the name in its place."],
        ),
        (
            "motif list arch",
            ['motif list, "arch": one word too many. Leave it out, or write the option it belongs to before it.'],
        ),
    ],
)
def test_a_line_that_cannot_be_understood_is_answered_in_one_line(
    run: Callable[..., Any], words: str, lines: list[str]
) -> None:
    ran = run(*words.split())
    assert ran.faults == lines
    assert (ran.code, ran.out) == (2, "")


def test_all_faults_of_a_line_are_told_at_once(run: Callable[..., Any]) -> None:
    ran = run("make", "--size", "100", "mm", "--colour", "moss", "--motif", "--force=1", "arch")
    assert ran.faults == [
        'make: "mm" stands alone after --size 100. Write 100mm without a space, or "100 mm" in quotes.',
        "make, --colour: no such option; it is called --card.",
        "make, --motif: its value is missing. Write --motif and then the value.",
        "make, --force: it is a switch and takes no value. Write it alone.",
        'make, "arch": a recipe ends in .toml, .svg or .dxf. For a motif write --motif arch',
    ]


def test_values_below_zero_and_signs_of_inches_are_values(run: Callable[..., Any]) -> None:
    """They reach the recipe's checks instead of being taken for options or lone units."""
    assert run("make", "--size", "-5").faults == [
        'make, --size "-5": a size must be above 0. Write 100mm for a circle, 150x100mm for an oval.'
    ]
    assert run("make", "--size", '3"', "--rim", "3 ells").faults == [
        'make, --rim "3 ells": no such unit. Write mm, cm or in, for example 100mm, 4in, "3 1/4 in".'
    ]


def test_a_fault_of_usage_is_json_too(run: Callable[..., Any]) -> None:
    ran = run("make", "--size", "100", "mm", "--json")
    say = 'make: "mm" stands alone after --size 100. Write 100mm without a space, or "100 mm" in quotes.'
    assert ran.code == 2
    assert ran.json == {"error": {"code": "usage", "exit": 2, "where": "make", "say": say}, "findings": []}
    assert ran.faults == [say]


@pytest.mark.parametrize("words", [[], ["make"]])
def test_alone_it_asks_four_questions_with_four_lines(run: Callable[..., Any], words: list[str]) -> None:
    ran = run(*words)
    assert (ran.code, ran.err) == (0, "")
    assert sum(line.endswith("?") for line in ran.out.splitlines()) == 4
    assert sum(line.startswith("    frameforge ") for line in ran.out.splitlines()) == 4


def test_help_is_plain_and_fits_80_columns(run: Callable[..., Any]) -> None:
    for words in (["--help"], ["make", "--help"], ["make", "-h"], ["demo", "--help"], ["motif", "list", "--help"]):
        ran = run(*words)
        assert (ran.code, ran.err) == (0, "")
        assert all(len(line) <= 80 for line in ran.out.splitlines())
        assert not any(sign in ran.out for sign in "╭│─\x1b")


def test_the_version_is_told(run: Callable[..., Any]) -> None:
    assert run("--version") == (0, f"frameforge {__version__}\n", "")


def test_stopped_by_the_maker(run: Callable[..., Any], monkeypatch: pytest.MonkeyPatch) -> None:
    def stop(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("frameforge.cli.answer.question_lines", stop)
    ran = run()
    assert ran.code == 130
    assert ran.faults[-1] == "frameforge: stopped. Pieces that were finished are complete."


def test_a_fault_of_our_own_is_one_line(run: Callable[..., Any], monkeypatch: pytest.MonkeyPatch) -> None:
    def break_down(*_: object) -> None:
        raise KeyError("x")

    monkeypatch.setattr("frameforge.cli.answer.question_lines", break_down)
    ran = run()
    assert ran.code == 70
    (line,) = ran.faults
    assert line.startswith("frameforge: a fault of our own (KeyError at test_usage.py:")
    assert line.endswith("Report it as DEVELOPERS.md says.")


def test_an_unforeseen_fault_of_typer_is_one_line_too(run: Callable[..., Any], monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever our own look at the words lets pass, typer's boxes are never seen."""
    monkeypatch.setattr("frameforge.cli.answer.usage_faults", lambda *_: [])
    ran = run("make", "--sise", "3")
    assert (ran.code, ran.out, len(ran.faults)) == (2, "", 1)


def test_errors_know_their_exit_code() -> None:
    assert InputError("x").exit_code == 2


@pytest.mark.parametrize("words", ["check", "mend", "make", "motif show"])
def test_help_names_no_types_of_python(run: Callable[..., Any], words: str) -> None:
    ran = run(*words.split(), "--help")
    assert ran.code == 0
    assert "Arguments:" in ran.out
    assert "<" not in ran.out
