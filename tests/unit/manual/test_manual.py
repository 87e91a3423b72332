"""The manual: a page of fixed headings for every word of the list, with a picture that the tool itself makes."""

from __future__ import annotations

import re

import pytest
from fixtures.finding_examples import EXAMPLES, example
from fixtures.manual_pages import PAGES
from fixtures.source import ROOT
from fixtures.words import BLAMING, GEOMETRY

from frameforge.finding import CODES, SEVERITIES
from frameforge.mend.codes import MENDABLE
from frameforge.picture.piece import piece_picture

MANUAL = ROOT / "frameforge" / "manual"
HEADINGS = ["What is measured", "Why it matters", "What to do"]
NUMBER = re.compile(r"-?\d+\.?\d*")
STEP_PX = 0.02


def page(code: str) -> str:
    return (MANUAL / f"{code}.md").read_text(encoding="utf-8")


def test_every_word_has_its_page_and_no_page_is_left_over() -> None:
    assert {path.stem for path in MANUAL.glob("*.md")} >= {*CODES, "README", "findings"}
    assert {path.stem for path in (MANUAL / "pictures").glob("*.svg")} == set(CODES) == set(EXAMPLES)
    index = page("findings")
    assert re.findall(r"\[([a-z-]+)\]\(\1\.md\)", index) == list(CODES)


@pytest.mark.parametrize("code", CODES)
def test_pages_have_one_shape(code: str) -> None:
    text = page(code)
    assert text.startswith(f"# {code}\n\nSeverity: ")
    assert re.findall(r"^## (.*)$", text, re.MULTILINE) == HEADINGS
    assert f"![{code}](pictures/{code}.svg)" in text
    assert all(len(line) <= 100 for line in text.splitlines())
    words = text.replace("![", "[")
    assert not BLAMING.search(words)
    assert not GEOMETRY.search(words)
    if code in MENDABLE and code != "waste-crumb":
        assert f"--mend {code}" in text


@pytest.mark.parametrize("code", CODES)
def test_the_severity_told_is_the_one_found(code: str) -> None:
    severities = {group.first.severity for group in example(code).findings}
    (told,) = re.findall(r"^Severity: (\w+)\.$", page(code), re.MULTILINE)
    assert severities == {told}
    assert told in SEVERITIES
    assert f"| [{code}]({code}.md) | {told} |" in page("findings")


@pytest.mark.parametrize("code", CODES)
def test_the_picture_is_what_the_tool_draws(code: str) -> None:
    kept, drawn = (MANUAL / "pictures" / f"{code}.svg").read_text(encoding="utf-8"), piece_picture(example(code))
    assert NUMBER.sub("#", drawn) == NUMBER.sub("#", kept), "tests/golden/renew.py draws it anew"
    for ours, theirs in zip(NUMBER.findall(drawn), NUMBER.findall(kept), strict=True):
        assert float(ours) == pytest.approx(float(theirs), abs=STEP_PX)


@pytest.mark.parametrize("name", PAGES)
def test_a_page_made_from_the_code_is_what_the_code_says(name: str) -> None:
    assert (MANUAL / name).read_text(encoding="utf-8") == PAGES[name](), "tests/golden/renew.py writes it anew"
