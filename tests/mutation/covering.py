"""Which tests run which line, and how long each takes: measured once, kept, and asked for every mutant."""

from __future__ import annotations

import ast
import json
import os
import re
import subprocess
import sys
from collections.abc import Iterable, Iterator
from functools import cached_property
from pathlib import Path

from coverage.sqldata import CoverageData
from mutants import FOLDERS, ROOT, Mutant

__all__ = ["OUT", "Covering", "measure"]

OUT = ROOT / "out" / "mutation"
"""Results lie here; nothing of it is kept by git."""
MAP = OUT / "map.sqlite"
TIMES = OUT / "times.json"


def measure(tests: list[str]) -> None:
    """Run tests under coverage, each line with the names of the tests that ran it, and each test with its CPU time."""
    OUT.mkdir(parents=True, exist_ok=True)
    settings = OUT / "coverage.ini"
    folders = ",".join(f"frameforge/{folder}/*" for folder in FOLDERS)
    settings.write_text(f"[run]\nbranch = false\ninclude = {folders}\ndata_file = {MAP}\nrelative_files = true\n")
    environment = {**os.environ, "CPU_TIMES": str(TIMES), "PYTHONPATH": str(Path(__file__).parent)}
    options = ["-q", "-p", "cpu_times", "--cov", f"--cov-config={settings}", "--cov-context=test", "--cov-report="]
    run = subprocess.run([sys.executable, "-m", "pytest", *options, *tests], cwd=ROOT, env=environment, check=False)
    if run.returncode:
        raise SystemExit("The tests do not pass as they are: mend them first.")


class Covering:
    """The map from lines to tests."""

    def __init__(self, maps: Iterable[Path] = (MAP,), times: Iterable[Path] = (TIMES,)) -> None:
        self.tests: dict[str, dict[int, set[str]]] = {}
        for path in maps:
            data = CoverageData(str(path))
            data.read()
            for name in data.measured_files():
                lines = self.tests.setdefault(name, {})
                for line, contexts in data.contexts_by_lineno(name).items():
                    lines.setdefault(line, set()).update(context.rsplit("|", 1)[0] for context in contexts if context)
        self.seconds: dict[str, float] = {}
        for path in times:
            self.seconds |= json.loads(path.read_text())

    def chosen(self, mutant: Mutant, cap_s: float, most_files: int) -> list[str]:
        """Return tests for a mutant in the order to run them, together at most ``cap_s`` seconds (the first always).

        Those of the module's own test file come first, then whole pieces compared to the byte, then the cheapest.
        """
        own = f"test_{Path(mutant.path).stem}.py"
        found = sorted(
            (name for name in self._of(mutant) if name in self.seconds),
            key=lambda name: (own not in name, "/golden/" not in name, self.seconds[name], name),
        )
        chosen: list[str] = []
        files: set[str] = set()
        left = cap_s
        for name in found:
            file = name.split("::")[0]
            if (file not in files and len(files) == most_files) or (chosen and self.seconds[name] > left):
                continue
            chosen.append(name)
            files.add(file)
            left -= self.seconds[name]
        return chosen

    def _of(self, mutant: Mutant) -> set[str]:
        """Return the tests that run the line; where only imports do, those that run what is defined or named there.

        A line that is run as its module is imported counts for whichever test came first, so that says nothing.
        """
        lines = self.tests.get(mutant.path, {})
        tree = ast.parse((ROOT / mutant.path).read_text(encoding="utf-8"))
        if not _is_in_function(tree, mutant.line):
            return self._of_import(mutant, lines, tree)
        for span in _spans(tree, mutant.line):
            if found := _union(lines, span):
                return found
        return _union(lines, lines)

    def _of_import(self, mutant: Mutant, lines: dict[int, set[str]], tree: ast.Module) -> set[str]:
        """Return the tests that run the functions defined around a line, or a line that names what is defined there."""
        found: set[str] = set()
        for name, inside in _defined(tree, mutant.line):
            found |= _union(lines, inside) | self._naming({name}, mutant.path)
        names = set(re.findall(r"^(_?[A-Z][A-Z0-9_]+)\b", mutant.before)) | set(
            re.findall(r", (_[A-Z][A-Z0-9_]+)\b(?=.* = )", mutant.before)
        )
        if names:
            found |= self._naming(names, mutant.path)
        return found or _union(lines, lines)

    def _naming(self, names: set[str], path: str) -> set[str]:
        """Return the tests that run a line with one of the names: in this module, or anywhere where it is public."""
        word = re.compile(r"(?<!\w)(" + "|".join(map(re.escape, names)) + r")\b")
        found: set[str] = set()
        for other, lines in self.tests.items():
            if other != path and all(name.startswith("_") for name in names):
                continue
            text = self._text[other]
            found |= _union(lines, (i for i, line in enumerate(text, 1) if word.search(line)))
        return found

    @cached_property
    def _text(self) -> dict[str, list[str]]:
        return {name: (ROOT / name).read_text(encoding="utf-8").split("\n") for name in self.tests}


def _union(lines: dict[int, set[str]], span: Iterable[int]) -> set[str]:
    return set().union(*(lines.get(line, set()) for line in span))


def _is_in_function(tree: ast.Module, line: int) -> bool:
    """Return whether a line is run when a function is called, not where it is defined."""
    return any(
        isinstance(node, ast.FunctionDef) and node.body[0].lineno <= line <= (node.end_lineno or 0)
        for node in ast.walk(tree)
    )


def _defined(tree: ast.Module, line: int) -> Iterator[tuple[str, list[int]]]:
    """Yield what a line outside of functions belongs to: the name, and the lines of functions that belong to it."""
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef | ast.ClassDef) and _first(node) <= line <= (node.end_lineno or 0):
            inner = [part for part in ast.walk(node) if isinstance(part, ast.FunctionDef)]
            yield node.name, [k for part in inner for k in range(part.body[0].lineno, (part.end_lineno or 0) + 1)]


def _spans(tree: ast.Module, line: int) -> Iterator[range]:
    """Yield line ranges to ask, from the statement outwards to the function or class; the module is not among them."""
    around = [
        node for node in ast.walk(tree) if isinstance(node, ast.stmt) and _first(node) <= line <= (node.end_lineno or 0)
    ]
    yield range(line, line + 1)
    for node in sorted(around, key=lambda node: (node.end_lineno or 0) - _first(node)):
        body = getattr(node, "body", None)
        if not body:
            yield range(node.lineno, (node.end_lineno or 0) + 1)
        elif isinstance(node, ast.FunctionDef | ast.ClassDef):
            yield range(body[0].lineno, (node.end_lineno or 0) + 1)
        else:
            yield range(node.lineno, body[0].lineno)


def _first(node: ast.stmt) -> int:
    decorators = getattr(node, "decorator_list", [])
    return int(min([node.lineno, *(decorator.lineno for decorator in decorators)]))
