"""Findings go by the words of one list; under any other word a note may stand that is only told, and only there."""

from __future__ import annotations

import ast

import pytest
from fixtures.source import Module, modules

from frameforge.job.told import CODES

ONLY_TOLD = {"took", "drawing"}


def _codes(module: Module) -> set[str]:
    """Return the codes of all findings a module makes by name."""
    return {
        str(node.args[0].value)
        for node in ast.walk(module.tree)
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Name)
        and node.func.id == "Finding"
        and node.args
        and isinstance(node.args[0], ast.Constant)
    }


@pytest.mark.parametrize("module", modules(), ids=lambda module: module.name)
def test_findings_go_by_the_words_of_the_list(module: Module) -> None:
    assert _codes(module) <= set(CODES) | ONLY_TOLD


def test_codes_are_found_and_unlike() -> None:
    assert len(set(CODES)) == len(CODES) == 24
    assert len({code for module in modules() for code in _codes(module)}) > 10
