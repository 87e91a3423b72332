"""Words: one for one thing, none that blames the maker, none from the geometry book. No source but our word list.

Read are all sentences in the source (a text with a space in it that is no docstring and no message for programmers),
and the help of every command as it is printed.
"""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from collections.abc import Iterator

import pytest
from fixtures.source import Module, modules, parsed
from fixtures.words import BLAMING, GEOMETRY

# The word on the left is not used; the one on the right is.
INSTEAD = {
    "diameter": "size",
    "radius": "size",
    "spacing": "gap",
    "pitch": "gap",
    "reveal": "border",
    "offset": "border or rim",
    "ornaments round": "motifs",
    "instances": "repeats",
    "mat board": "card",
    "cardstock": "card",
    "aperture": "opening",
    "colour of paper": "card",
    "artboard": "sheet",
    "weld": "join",
    "stencil": "motif",
}
FOR_PROGRAMMERS = {"ValueError", "TypeError", "AssertionError", "RuntimeError", "NotImplementedError", "KeyError"}
OF_OTHERS = {"Illegal character"}
"""Beginnings of what tomllib says, by which our own sentence is found."""
HELP_PAGES = ((), ("make",), ("demo",), ("fit",), ("motif",), ("motif", "list"), ("motif", "show"), ("desk",))


def _sentences(module: Module) -> Iterator[str]:
    """Yield the texts of a module that a maker may read; of an f-string the parts between its values."""
    skipped = {id(node) for quiet in _quiet(module.tree) for node in ast.walk(quiet)}
    for node in ast.walk(module.tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in skipped:  # noqa: SIM102
            if re.search(r"[A-Za-z] [A-Za-z]|[a-z][.!]$|^[.!]", node.value) and node.value not in OF_OTHERS:
                yield node.value


def _quiet(tree: ast.Module) -> Iterator[ast.AST]:
    """Yield what no maker reads: docstrings, messages of programming faults, patterns, texts compared with."""
    for node in ast.walk(tree):
        match node:
            case ast.Expr(value=ast.Constant() | ast.JoinedStr()) | ast.Compare():
                yield node
            case ast.Raise(exc=ast.Call(func=ast.Name(id=name))) if name in FOR_PROGRAMMERS:
                yield node
            case ast.Call(func=ast.Attribute(value=ast.Name(id="re"))):
                yield node
            case ast.Dict():
                yield from (key for key in node.keys if key is not None)


def _faults(sentence: str, *, is_about_files: bool = False) -> list[str]:
    """Return the words that do not belong into a sentence for the maker.

    The writers' own checks speak of what stands in a DXF or SVG, in the words of those standards.
    """
    patterns = (BLAMING,) if is_about_files else (BLAMING, GEOMETRY)
    found = [match.group(0) for pattern in patterns for match in pattern.finditer(sentence)]
    return found + [word for word in INSTEAD if re.search(rf"\b{word}\b", sentence, re.IGNORECASE)]


@pytest.mark.parametrize(
    "module", [m for m in modules() if m.folder not in ("geometry", "picture")], ids=lambda module: module.name
)
def test_sentences_speak_of_card(module: Module) -> None:
    is_about_files = module.folder == "write"
    said = {sentence: _faults(sentence, is_about_files=is_about_files) for sentence in _sentences(module)}
    assert {sentence: faults for sentence, faults in said.items() if faults} == {}


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ('raise InputError("this is an invalid size")', "invalid"),
        ('raise InputError(f"{n} mm is an error. Try again.")', "error"),
        ('say(["Done making it!"])', "!"),
        ('Option("SIZE", "the diameter of the base")', "diameter"),
        ('help="how the polygon is cut"', "polygon"),
    ],
)
def test_a_planted_word_is_found(text: str, fault: str) -> None:
    assert any(fault in _faults(sentence) for sentence in _sentences(parsed("cli.make", text)))


@pytest.mark.parametrize(
    "text",
    [
        '"""An error of the polygon."""',
        'raise ValueError("a polygon needs three points")',
        'x = {"error": 1, "segments": 2}',
        're.compile("an error [a-z] of")',
        'y = "a != b"',
    ],
)
def test_words_for_programmers_are_let_be(text: str) -> None:
    assert [fault for sentence in _sentences(parsed("cli.make", text)) for fault in _faults(sentence)] == []


def test_there_are_sentences_to_read() -> None:
    assert sum(1 for module in modules() for _ in _sentences(module)) > 300


@pytest.fixture(scope="module")
def help_texts() -> dict[str, str]:
    """The help of each command, printed by the command itself."""
    script = "import sys, frameforge.cli.entry as entry; sys.exit(entry.main())"
    texts = {}
    for words in HELP_PAGES:
        run = subprocess.run(
            [sys.executable, "-c", script, *words, "--help"], capture_output=True, text=True, timeout=60, check=False
        )
        assert run.returncode == 0, run.stderr
        texts[" ".join(words)] = run.stdout
    return texts


def test_help_uses_one_word_for_one_thing(help_texts: dict[str, str]) -> None:
    for command, text in help_texts.items():
        kept = "\n".join(line for line in text.splitlines() if "--json" not in line)
        assert _faults(kept) == [], command
        assert "JSON" not in kept.replace("JSON object", ""), command


def test_help_fits_a_terminal(help_texts: dict[str, str]) -> None:
    """80 columns, the width of a terminal that nobody changed."""
    for command, text in help_texts.items():
        assert max(len(line) for line in text.splitlines()) <= 80, command
        assert "Usage: frameforge" in text


def test_lengths_name_their_unit(help_texts: dict[str, str]) -> None:
    assert "mm" in help_texts["make"]
    for option in ("--size", "--opening", "--count", "--gap", "--motif", "--out", "--force", "--json"):
        assert option in help_texts["make"]
