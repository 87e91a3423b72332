"""Every key of a recipe is a blank of the page, in a clause of its sentence, or has its reason not to be."""

from __future__ import annotations

import re
from importlib import resources

import pytest

from frameforge.recipe.checks import CHECKS, NESTED
from frameforge.write.formats import FORMATS

PAGE = resources.files("frameforge").joinpath("desk/page")

READS_NO_FILE = "the page reaches no file by its name"
CURVES = "a drawing that was dropped in is kept as its curves"
LIST = "a list of names is made by the command"
LIMITS = "limits of the maker's own are kept by the command for the test piece; the page says them of a card"
LAID = "pieces are moved on the picture of their sheet"

NOT_BLANKS = {
    ("piece", "base"): "the size tells it; the blank is its shape",
    ("piece", "test_piece"): "a piece of its own, begun by a button",
    ("rings", "clearance"): "rings share the lines between them, so it is refused there",
    ("text", "column"): LIST,
    ("text", "digest"): "a file keeps it of itself, to know its font again",
    ("card", "used"): READS_NO_FILE,
    ("sheets", "used"): READS_NO_FILE,
    **{("motif", key): CURVES for key in CHECKS["motif"]},
    **{("names", key): LIST for key in CHECKS["names"]},
    **{("preset", key): LIMITS for key in CHECKS["preset"]},
    **{("laid", key): LAID for key in CHECKS.get("laid", ())},
}
TABLES = {
    "recipe": "RECIPE", "card": "CARD", "sheets": "SHEETS", "files": "FILES", "piece": "PIECE", "row": "ROW",
    "layer": "LAYER", "rings": "RINGS", "ring_row": "RING_ROW", "hole": "HOLE", "fold": "FOLD", "lid": "LID",
    "text": "TEXT", "stand": "STAND",
}  # fmt: skip
"""The table of blanks of the page for each table of the recipe."""

ON_THE_PAGE = {("piece", "shape"), ("piece", "middle")}
"""Blanks that stand for several keys."""


def _text(name: str) -> str:
    return PAGE.joinpath(name).read_text(encoding="utf-8")


def _tables() -> dict[str, set[str]]:
    """Return the keys of every table of blanks, by its name on the page."""
    text = _text("words.js") + _text("more_words.js")
    found: dict[str, set[str]] = {}
    for name, body in re.findall(r"^(?:export )?const (\w+) = \{(.*?)\n?\};$", text, re.MULTILINE | re.DOTALL):
        keys = set(re.findall(r"^  (\w+): ", body, re.MULTILINE)) | set(re.findall(r"\.\.\.\w+, (\w+): \{", body))
        for spread in re.findall(r"\.\.\.([A-Z_]+),", body):
            keys |= found.get(spread, set())
        found[name] = keys
    return found


BLANKS = _tables()
SAID = set(re.findall(r"\{(\w+)\}", _text("clauses.js")))


def _keys() -> list[tuple[str, str]]:
    return [(table, key) for table, keys in CHECKS.items() for key in keys]


@pytest.mark.parametrize(("table", "key"), _keys(), ids=lambda part: part)
def test_every_key_is_a_blank_or_has_its_reason(table: str, key: str) -> None:
    is_blank = table in TABLES and key in BLANKS[TABLES[table]]
    assert is_blank != ((table, key) in NOT_BLANKS), f"{table}.{key}"
    if is_blank and (table, key) not in (("piece", "name"), ("rings", "name"), ("piece", "opening"), ("piece", "rim")):
        assert key in SAID, f"{table}.{key} stands in no clause"


def test_no_blank_and_no_reason_is_of_a_key_that_is_gone() -> None:
    blanks = {(table, key) for table, name in TABLES.items() for key in BLANKS[name]}
    assert blanks - set(_keys()) == ON_THE_PAGE
    assert NOT_BLANKS.keys() <= set(_keys())
    assert SAID - {"NAME"} <= {key for keys in BLANKS.values() for key in keys}


def test_every_table_of_a_piece_can_be_begun_on_the_page() -> None:
    begun = set(re.findall(r'\{\s+key: "(\w+)", words: "[^"]*"(?:, isOnce: true)?, say: ', _text("clauses.js")))
    inner = {key for (holder, key) in NESTED if holder == "piece"}
    assert inner - {"row"} <= begun


def test_a_forgotten_key_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(BLANKS, "ROW", BLANKS["ROW"] - {"lean"})
    with pytest.raises(AssertionError, match=r"row\.lean"):
        test_every_key_is_a_blank_or_has_its_reason("row", "lean")


def test_every_kind_of_file_has_its_box_and_stands_in_the_hint() -> None:
    (kinds,) = re.findall(r"^const KINDS = (\[.*\]);$", _text("taking.js"), re.MULTILINE)
    assert tuple(re.findall(r'\["(\w+)", "', kinds)) == FORMATS
    assert f'hint: "{", ".join(FORMATS)}, or some of them."' in _text("more_words.js")
    assert f'none: "{", ".join(FORMATS[:-1]).upper()} and {FORMATS[-1].upper()}"' in _text("more_words.js")
