"""Every module, and every public function, class and method says what it is for."""

from __future__ import annotations

import ast
from collections.abc import Iterator

import pytest
from fixtures.source import Module, modules, parsed


def _silent(module: Module) -> list[str]:
    """Return the public things without a docstring."""
    if module.is_empty or module.name == "__init__":
        return []
    silent = [] if ast.get_docstring(module.tree) else ["the module"]
    return silent + [name for name, node in _public(module.tree, "") if not ast.get_docstring(node)]


def _public(
    parent: ast.Module | ast.ClassDef, prefix: str
) -> Iterator[tuple[str, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef]]:
    """Yield public functions and classes, methods too, with dotted names; overloads have their text once only."""
    for node in parent.body:
        if not isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef) or node.name.startswith("_"):
            continue
        if any(isinstance(d, ast.Name) and d.id == "overload" for d in node.decorator_list):
            continue
        yield prefix + node.name, node
        if isinstance(node, ast.ClassDef):
            yield from _public(node, f"{node.name}.")


@pytest.mark.parametrize("module", modules(), ids=lambda module: module.name)
def test_nothing_public_is_silent(module: Module) -> None:
    assert _silent(module) == []


def test_a_planted_silence_is_found() -> None:
    text = "def f(): ...\nclass A:\n    '''Told.'''\n    def g(self): ...\n    def _h(self): ...\n"
    assert _silent(parsed("geometry.arc", text)) == ["the module", "f", "A.g"]


def test_there_is_something_to_hold() -> None:
    assert sum(1 for module in modules() for _ in _public(module.tree, "")) > 150
