"""One concept, one module: at most 400 lines; a function at most 40 lines of code, its docstring not counted."""

from __future__ import annotations

import ast

import pytest
from fixtures.source import Module, modules, parsed

MODULE_LINES = 400
FUNCTION_LINES = 40
VAGUE = {"utils", "util", "helpers", "helper", "common", "misc", "tools"}


def _long_functions(module: Module) -> dict[str, int]:
    """Return functions longer than allowed: name to lines, from ``def`` on, less the docstring."""
    found = {}
    for node in ast.walk(module.tree):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            lines = (node.end_lineno or node.lineno) - node.lineno + 1 - _docstring_lines(node)
            if lines > FUNCTION_LINES:
                found[node.name] = lines
    return found


def _docstring_lines(node: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """Return how many lines the docstring takes; 0 without one."""
    if ast.get_docstring(node) is None:
        return 0
    return (node.body[0].end_lineno or 0) - node.body[0].lineno + 1


@pytest.mark.parametrize("module", modules(), ids=lambda module: module.name)
def test_modules_and_functions_are_short(module: Module) -> None:
    assert module.text.count("\n") <= MODULE_LINES
    assert _long_functions(module) == {}
    assert not VAGUE & set(module.name.split("."))


def test_a_planted_long_function_is_found() -> None:
    code = "def f():\n" + "    x = 1\n" * 40
    told = "def f():\n    '''One.\n" + "    two\n" * 20 + "    '''\n" + "    x = 1\n" * 39
    assert _long_functions(parsed("geometry.arc", code)) == {"f": 41}
    assert _long_functions(parsed("geometry.arc", told)) == {}


def test_most_functions_are_far_shorter() -> None:
    """Half of all functions stay under 15 lines of code: the hard stop is not the habit."""
    lengths = sorted(
        (node.end_lineno or 0) - node.lineno + 1 - _docstring_lines(node)
        for module in modules()
        for node in ast.walk(module.tree)
        if isinstance(node, ast.FunctionDef)
    )
    assert lengths[len(lengths) // 2] <= 15
