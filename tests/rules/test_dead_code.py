"""Nothing is kept that the program does not use: no public name that only tests, or nobody, take.

What is not public (methods, fields, variables) is vulture's to find; it runs with the linter, takes all of ``__all__``
for used, and knows a private name of one module from that of another by nothing: those are looked at here too.
"""

from __future__ import annotations

import ast
import re

import pytest
from fixtures.source import Module, imported_names, modules, parsed

ALLOWED = {
    ("card.sheet_size", "sheet_names"): "every sheet in the table is tried by its name",
    ("frame.spacing", "arc_steps_mm"): "measures what equal-arc promises",
    ("geometry.arclength", "ellipse_parameter_rad"): "the inverse of the length, against published values",
    ("geometry.stroke", "stroke_region"): "the plain face of strokes_with_report",
    ("machine.trial_piece", "kerf_of"): "a formula told to makers in words",
    ("sheet.shared_opening", "discs_from_opening"): "a closed form that placing is held against",
    ("sheet.verify", "faults_of"): "proves a whole layout; the program proves sheet by sheet",
    ("tolerances", "FILES_AGREE_MM"): "what the kinds of file promise each other",
    ("write.dxf", "DXF_STYLES"): "every way of writing DXF is tried",
}
"""Public names that only tests take, and why they stay."""


def _used(module: Module) -> set[str]:
    """Return all names that a module reads: plain ones, those after a dot, and those it imports."""
    used = {node.id for node in ast.walk(module.tree) if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Load)}
    used |= {node.attr for node in ast.walk(module.tree) if isinstance(node, ast.Attribute)}
    return used | {name for _, name in imported_names(module)}


def _dead(found: tuple[Module, ...]) -> set[tuple[str, str]]:
    """Return (module, name) of what stands in an ``__all__`` and is read nowhere; texts to be evaluated later count."""
    used = set().union(*(_used(module) for module in found))
    return {
        (module.name, name)
        for module in found
        for node in module.tree.body
        if isinstance(node, ast.Assign) and any(isinstance(t, ast.Name) and t.id == "__all__" for t in node.targets)
        for name in ast.literal_eval(node.value)
        if name not in used
    }


def test_every_public_name_is_used() -> None:
    assert _dead(modules()) - set(ALLOWED) == set()


def test_every_exception_is_still_needed() -> None:
    assert set(ALLOWED) - _dead(modules()) == set()


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("__all__ = ['f']\ndef f(): ...", {("geometry.arc", "f")}),
        ("__all__ = ['f']\ndef f(): ...\nf()", set()),
        ("__all__ = ['LIMIT']\nLIMIT = 3", {("geometry.arc", "LIMIT")}),
    ],
)
def test_planted_dead_code_is_found(text: str, found: set[tuple[str, str]]) -> None:
    assert _dead((parsed("geometry.arc", text),)) == found
    assert (
        _dead((parsed("geometry.arc", text), parsed("frame.a", "from frameforge.geometry.arc import f, LIMIT")))
        == set()
    )


def _idle(module: Module) -> set[str]:
    """Return private functions, classes and constants of a module that nothing in it reads; decorators may."""
    used = _used(module) | {
        word
        for node in ast.walk(module.tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
        for word in re.findall(r"\w+", node.value)
    }
    return {name for node in module.tree.body for name in _private(node) if name not in used}


def _private(node: ast.stmt) -> list[str]:
    """Return the private names that a statement of a module makes."""
    names: list[str] = []
    if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
        names = [] if node.decorator_list else [node.name]
    elif isinstance(node, ast.Assign | ast.AnnAssign):
        targets = node.targets if isinstance(node, ast.Assign) else [node.target]
        names = [target.id for target in targets if isinstance(target, ast.Name)]
    return [name for name in names if name.startswith("_") and not name.startswith("__")]


def test_every_private_name_is_used_where_it_stands() -> None:
    imported = {name for module in modules() for _, name in imported_names(module)}
    assert {(module.name, name) for module in modules() for name in _idle(module) - imported} == set()


def test_planted_private_names_are_found() -> None:
    text = "_A = 1\n_B: int = 2\ndef _f(): ...\n@told\ndef _g(): ...\nclass _C: ...\ndef h() -> '_C':\n    return _B\n"
    assert _idle(parsed("geometry.arc", text)) == {"_A", "_f"}
