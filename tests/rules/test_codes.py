"""Findings go by the words of one list; under any other word a note may stand that is only told, and only there."""

from __future__ import annotations

import ast

import pytest
from fixtures.source import ROOT, Module, modules

from frameforge.finding import CODES

ONLY_TOLD = {"took", "drawing"}


def _codes(module: Module) -> set[str]:
    """Return the codes of all findings a module makes by name."""
    return {
        str(code.value)
        for node in ast.walk(module.tree)
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Finding"
        for code in (*node.args[:1], *(keyword.value for keyword in node.keywords if keyword.arg == "code"))
        if isinstance(code, ast.Constant)
    }


@pytest.mark.parametrize("module", modules(), ids=lambda module: module.name)
def test_findings_go_by_the_words_of_the_list(module: Module) -> None:
    assert _codes(module) <= set(CODES) | ONLY_TOLD


def test_codes_are_found_and_unlike() -> None:
    assert len(set(CODES)) == len(CODES)
    assert len({code for module in modules() for code in _codes(module)}) > 10


HOMES = {
    "steep-seat": "frame", "squeezed": "frame", "chopped": "frame", "white-box": "read", "uneven-spokes": "job",
    "too-big-for-sheet": "check.too_big", "too-big-for-envelope": "check.too_big",
}  # fmt: skip
"""Where a finding is made that the finished card does not show: folders, or modules that make two kinds."""


@pytest.mark.parametrize("code", CODES)
def test_every_finding_has_one_module_one_page_and_one_picture(code: str) -> None:
    """The module goes by the word; all others but rows, which speak for their own gaps, leave that word alone."""
    home = HOMES.get(code, "check")
    name = home if "." in home else f"{home}.{code.replace('-', '_')}"
    texts = {module.name: module.text for module in modules()}
    assert name in texts
    kind = code.removeprefix("too-big-for-")
    assert (f'"{code}"' if kind == code else 'Literal["sheet", "envelope"]') in texts[name]
    assert texts[name].startswith(f'"""{code}') or kind != code
    made_by = {module.name for module in modules() if code in _codes(module)}
    speak_too = {
        "thin-web": {"job.ring_words"}, "chopped": {"frame.words_apart"}, "narrow-slot": {"frame.rows_apart"},
        "loose": {"desk.fallen"},
    }  # fmt: skip
    assert made_by - speak_too.get(code, set()) <= {name}
    manual = ROOT / "frameforge" / "manual"
    assert (manual / f"{code}.md").is_file()
    assert (manual / "pictures" / f"{code}.svg").is_file()
