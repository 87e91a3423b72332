"""Imports run one way: each folder imports only what stands before it. No source but our own layout."""

from __future__ import annotations

from graphlib import TopologicalSorter

import pytest
from fixtures.source import Module, imported_names, modules, parsed

ORDER = (
    "errors", "tolerances", "units", "finding", "geometry", "read", "card", "motif", "frame", "sets", "check", "mend",
    "sheet", "machine", "picture", "write", "recipe", "job", "desk", "cli",
)  # fmt: skip
STRANGERS = {("check", "frame"), ("check", "motif"), ("sheet", "frame"), ("sheet", "motif"), ("desk", "cli")}
"""Pairs that know nothing of each other although the order would allow it: checks and sheets take any outline."""

TOP = ("__init__", "__main__")


def _ours(module: Module) -> set[str]:
    """Return the names below ``frameforge`` that the module imports from; relative imports keep their dots."""
    sources = {source for source, _ in imported_names(module) if source.split(".")[0] in ("frameforge", "")}
    named = {f"{source}.{name}" for source, name in imported_names(module) if source == "frameforge" and name}
    return {source.removeprefix("frameforge").removeprefix(".") for source in sources | named} - {""}


def _against_order(module: Module) -> list[str]:
    """Return what the module imports from folders that stand behind its own, or from unknown ones."""
    if module.name in TOP:
        return []
    if module.folder not in ORDER:
        return [f"{module.name}: {module.folder} is not in the order"]
    faults = []
    for target in sorted(_ours(module)):
        folder = target.split(".")[0]
        allowed = folder == "__version__" or (folder in ORDER and ORDER.index(folder) <= ORDER.index(module.folder))
        if not allowed or (module.folder, folder) in STRANGERS:
            faults.append(f"{module.name} imports {target}")
    return faults


@pytest.mark.parametrize("module", modules(), ids=lambda module: module.name)
def test_a_folder_imports_only_what_stands_before_it(module: Module) -> None:
    assert _against_order(module) == []


def test_no_two_modules_import_each_other() -> None:
    """A ring of modules, also by a way round, is named by the sorter (graphlib, CycleError)."""
    names = {module.name for module in modules()}
    graph = {module.name: _ours(module) & names for module in modules()}
    assert len(tuple(TopologicalSorter(graph).static_order())) == len(names)


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("geometry.arc", "from frameforge.motif.motif import Motif"),
        ("frame.seat", "def f():\n    import frameforge.write.svg"),
        ("check.thickness", "from frameforge.frame import piece"),
        ("desk.page", "from frameforge import cli"),
        ("geometry.arc", "from ..write import svg"),
        ("gadgets.arc", "import math"),
        ("write.svg", "from frameforge.gadgets import spanner"),
    ],
)
def test_a_planted_import_is_found(name: str, text: str) -> None:
    assert _against_order(parsed(name, text))


def test_what_stands_before_may_be_imported() -> None:
    assert _against_order(parsed("frame.seat", "from frameforge.motif.motif import Motif\nimport math")) == []


def test_there_is_something_to_hold() -> None:
    assert sum(len(_ours(module)) for module in modules()) > 100
