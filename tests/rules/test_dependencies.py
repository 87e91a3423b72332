"""Every package that is imported is declared with a lower bound, and nothing is declared that nobody imports."""

from __future__ import annotations

import ast
import re
import sys
import tomllib
from collections.abc import Iterable
from pathlib import Path

from fixtures.source import ROOT, imported_names, modules

PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
IMPORTED_AS = {
    "fonttools": "fontTools",
    "markdown-it-py": "markdown_it",
    "pillow": "PIL",
    "pytest-xdist": "xdist",
    "python-bidi": "bidi",
    "tomli-w": "tomli_w",
}
TOOLS = {"pytest-xdist", "hatchling", "lxml", "heroicons", "lucide"}
"""Named for what they do, not for an import of their own name in a test."""


def _declared(requirements: list[str]) -> dict[str, str]:
    """Return the bound of each requirement by its import name."""
    found = {}
    for requirement in requirements:
        match = re.fullmatch(r"([A-Za-z0-9_.-]+)(.*)", requirement)
        assert match is not None
        found[IMPORTED_AS.get(match[1], match[1]).replace("-", "_")] = match[2]
    return found


def _foreign(sources: set[str]) -> set[str]:
    tops = {source.split(".")[0] for source in sources}
    return tops - set(sys.stdlib_module_names) - {"frameforge", "desk", "fixtures", "golden", ""}


def test_run_time_packages_are_those_imported() -> None:
    imported = _foreign({source for module in modules() for source, _ in imported_names(module)})
    assert imported == set(_declared(PROJECT["dependencies"]))


def _sources(paths: Iterable[Path]) -> set[str]:
    """Return what files import, dotted names; modules beside them left out."""
    sources = set()
    for path in paths:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Import):
                sources |= {alias.name for alias in node.names}
            elif isinstance(node, ast.ImportFrom) and not node.level:
                sources.add(node.module or "")
    return sources


MEASURING = [path for folder in ("coverage", "mutation") for path in (ROOT / "tests" / folder).rglob("*.py")]
"""What measures the tests has an extra of its own, which no test needs."""


def test_test_packages_are_declared() -> None:
    sources = _sources(path for path in (ROOT / "tests").rglob("*.py") if path not in MEASURING)
    declared = _declared(PROJECT["dependencies"] + PROJECT["optional-dependencies"]["test"])
    assert _foreign(sources) - set(declared) == set()


def test_what_measures_is_declared_apart() -> None:
    extras = PROJECT["optional-dependencies"]
    declared = _declared(PROJECT["dependencies"] + extras["test"] + extras["measure"])
    assert _foreign(_sources(MEASURING)) - {path.stem for path in MEASURING} - set(declared) == set()
    assert not {"coverage", "cosmic_ray", "pytest_cov"} & set(_declared(extras["test"]))


def test_every_requirement_has_a_lower_bound() -> None:
    groups = [PROJECT["dependencies"], *PROJECT["optional-dependencies"].values()]
    bounds = {name: bound for group in groups for name, bound in _declared(group).items() if name not in STUBS}
    assert all(bound.startswith(">=") for bound in bounds.values()), bounds
    assert len(bounds) > 15


STUBS = {"types_defusedxml"}
"""Released by date; any of them will do."""
