"""Files, clocks, chance, terminal and environment are touched at the edges only."""

from __future__ import annotations

import ast

import pytest
from fixtures.source import Module, imported_names, modules, parsed

EDGES = {"read", "write", "job", "cli", "desk"}
OUTSIDE = {
    "asyncio", "datetime", "fileinput", "getpass", "glob", "locale", "logging", "multiprocessing", "os", "pathlib",
    "platform", "random", "secrets", "shutil", "signal", "socket", "subprocess", "sys", "tempfile", "threading", "time",
    "urllib", "uuid", "webbrowser",
}  # fmt: skip
CALLS = {"open", "print", "input", "exec", "eval", "breakpoint"}

ALLOWED = {
    ("card.envelope", "importlib"): "reads envelopes.toml, a part of the package itself",
    ("card.preset", "importlib"): "reads presets.toml, a part of the package itself",
    ("card.sheet_size", "importlib"): "reads sheets.toml, a part of the package itself",
    ("motif.catalogue", "pathlib"): "names a folder; reading it is done by read.motif_folder",
}


def _touches(module: Module) -> set[str]:
    """Return which outside modules and built-in calls the module uses, but for the allowed ones."""
    if module.folder in EDGES or module.name == "__main__":
        return set()
    used = {source.split(".")[0] for source, _ in imported_names(module)} & (OUTSIDE | {"importlib"})
    used |= {
        node.func.id
        for node in ast.walk(module.tree)
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in CALLS
    }
    used |= {
        f"random.{node.attr}"
        for node in ast.walk(module.tree)
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Attribute) and node.value.attr == "random"
        if node.attr not in ("default_rng", "Generator")
    }
    return {name for name in used if (module.name, name) not in ALLOWED}


@pytest.mark.parametrize("module", [m for m in modules() if m.folder not in EDGES], ids=lambda module: module.name)
def test_the_core_touches_nothing_outside(module: Module) -> None:
    assert _touches(module) == set()


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("import os", {"os"}),
        ("def f():\n    from time import perf_counter", {"time"}),
        ("print('x')", {"print"}),
        ("data = open('x').read()", {"open"}),
        ("import numpy as np\nx = np.random.rand(3)", {"random.rand"}),
        ("import numpy as np\nx = np.random.default_rng(7)", set()),
    ],
)
def test_a_planted_touch_is_found(text: str, found: set[str]) -> None:
    assert _touches(parsed("geometry.arc", text)) == found
    assert _touches(parsed("write.svg", text)) == set()


def test_every_exception_is_still_needed() -> None:
    """An exception whose module no longer uses it is struck off the list."""
    by_name = {module.name: module for module in modules()}
    for name, outside in ALLOWED:
        assert name in by_name, name
        assert outside in {source.split(".")[0] for source, _ in imported_names(by_name[name])}, (name, outside)
