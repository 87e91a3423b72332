"""``__all__`` says what a module offers: every public function and class, every name that others take from it."""

from __future__ import annotations

import ast

import pytest
from fixtures.source import Module, imported_names, modules, parsed


def _stated(module: Module) -> list[str] | None:
    """Return the names in ``__all__``; None where there is none."""
    for node in module.tree.body:
        if isinstance(node, ast.Assign) and any(isinstance(t, ast.Name) and t.id == "__all__" for t in node.targets):
            return [str(name) for name in ast.literal_eval(node.value)]
    return None


def _defined(module: Module) -> set[str]:
    """Return all names that the module binds at its top level, also by taking them from elsewhere."""
    names = set()
    for node in ast.walk(ast.Module(_plain(module), [])):
        if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store):
            names.add(node.id)
        elif isinstance(node, ast.ImportFrom):
            names |= {alias.asname or alias.name for alias in node.names}
    return names | {
        node.name
        for node in module.tree.body
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef)
    }


def _plain(module: Module) -> list[ast.stmt]:
    """Return the top-level statements that are neither function nor class."""
    return [
        node for node in module.tree.body if not isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef)
    ]


def _callables(module: Module) -> set[str]:
    """Return the public functions and classes of the module."""
    defined = (
        node for node in module.tree.body if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef)
    )
    return {node.name for node in defined if not node.name.startswith("_")}


def _faults(module: Module, taken: set[str]) -> list[str]:
    """Return what is wrong with ``__all__``; ``taken`` are the names that other modules import from this one."""
    stated = _stated(module)
    if stated is None:
        return ["there is no __all__"]
    faults = [f"{name} is stated but not there" for name in stated if name not in _defined(module)]
    faults += [f"{name} is public but not stated" for name in sorted((_callables(module) | taken) - set(stated))]
    if len(set(stated)) != len(stated):
        faults.append("a name stands twice")
    return faults


def _is_stated_by_convention(module: Module) -> bool:
    """Whether the module needs no ``__all__``: an empty folder page, the version, the way in by ``python -m``."""
    return module.is_empty or module.name in ("__init__", "__main__")


def _taken_names() -> dict[str, set[str]]:
    """Return for each module the names that other modules import from it."""
    names = {f"frameforge.{module.name}".removesuffix(".__init__"): module.name for module in modules()}
    taken: dict[str, set[str]] = {module.name: set() for module in modules()}
    for module in modules():
        for source, name in imported_names(module):
            if source in names and name and f"{source}.{name}" not in names:
                taken[names[source]].add(name)
    return taken


TAKEN = _taken_names()


@pytest.mark.parametrize(
    "module", [m for m in modules() if not _is_stated_by_convention(m)], ids=lambda module: module.name
)
def test_all_is_complete(module: Module) -> None:
    assert _faults(module, TAKEN[module.name]) == []


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("def f(): ...", "there is no __all__"),
        ("__all__ = ['f', 'g']\ndef f(): ...", "g is stated but not there"),
        ("__all__ = ['f']\ndef f(): ...\nclass G: ...", "G is public but not stated"),
        ("__all__ = ['f']\ndef f(): ...\nLIMIT = 3", "LIMIT is public but not stated"),
        ("__all__ = ['f', 'f']\ndef f(): ...", "a name stands twice"),
    ],
)
def test_a_planted_fault_is_found(text: str, fault: str) -> None:
    assert fault in _faults(parsed("geometry.arc", text), {"LIMIT"} if "LIMIT" in text else set())


def test_names_are_taken() -> None:
    assert "Arc" in TAKEN["geometry.arc"]
