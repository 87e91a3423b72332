"""Mutants of the source: where one may stand, which are drawn by a seed, and the text each makes of its module.

The operators are those of cosmic-ray. A place is drawn, then one of the operators that change it; both by the hash of
the seed with the text of the line, so that a change elsewhere in the source leaves the rest of the sample as it is.
"""

from __future__ import annotations

import ast
import hashlib
from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import parso
from cosmic_ray.ast import ast_nodes
from cosmic_ray.mutating import mutate_code
from cosmic_ray.operators.operator import Operator
from cosmic_ray.plugins import get_operator, operator_names

__all__ = ["FOLDERS", "ROOT", "Mutant", "drawn", "sources"]

ROOT = Path(__file__).resolve().parents[2]
FOLDERS = ("geometry", "frame", "check")
UNUSED = {"core/VariableReplacer", "core/VariableInserter"}
"""Operators that want names to be given."""
_PLAIN = {"name", "newline", "string", "endmarker", "fstring_string"}
_MARKS = set(",.:;()[]{}=") | {"->"}
"""No operator changes these, and they are most of a text: passing over them saves most of the time."""


@dataclass(frozen=True, slots=True)
class Mutant:
    """One change: its module (path below the checkout), its line from 1 on, the operator, which of its places."""

    name: str
    path: str
    line: int
    operator: str
    occurrence: int
    before: str
    after: str

    @property
    def folder(self) -> str:
        """One of FOLDERS."""
        return self.path.split("/")[1]

    def text(self) -> str:
        """Return the whole module with the change in it."""
        return _mutated(self.path, self.operator, self.occurrence)


def drawn(seed: int, count: int) -> list[Mutant]:
    """Return ``count`` mutants of different places, in an order that the seed gives."""
    places = [
        (_hash(seed, path, key), path, start, changes)
        for folder in FOLDERS
        for path in _names(folder)
        for key, start, changes in _places(path)
    ]
    found: list[Mutant] = []
    for digest, path, start, changes in sorted(places):
        if len(found) == count:
            break
        operator, occurrence = changes[int(digest[:8], 16) % len(changes)]
        try:
            mutated = _mutated(path, operator, occurrence)
        except AttributeError:  # cosmic-ray's, of an exception named by its module
            continue
        if _meaning(mutated) in ("", _meaning(_source(path))):
            continue
        before, after = _changed_lines(_source(path), mutated, start[0])
        found.append(Mutant(digest[:8], path, start[0], operator.removeprefix("core/"), occurrence, before, after))
    return found


def sources() -> list[Path]:
    """Return the files that may be changed, sorted."""
    return [ROOT / path for folder in FOLDERS for path in _names(folder)]


def _names(folder: str) -> list[str]:
    return sorted(path.relative_to(ROOT).as_posix() for path in (ROOT / "frameforge" / folder).rglob("*.py"))


@cache
def _source(path: str) -> str:
    return (ROOT / path).read_text(encoding="utf-8")


def _hash(seed: int, path: str, key: str) -> str:
    return hashlib.sha256(f"{seed}|{path}|{key}".encode()).hexdigest()


@cache
def _operators() -> tuple[tuple[str, Operator], ...]:
    return tuple((name, get_operator(name)()) for name in sorted(operator_names()) if name not in UNUSED)


def _places(path: str) -> Iterator[tuple[str, tuple[int, int], list[tuple[str, int]]]]:
    """Yield (key, place, the changes possible there as (operator, occurrence)) for each place of a module.

    The key is the line's text, which of the equal lines it is, and the place within.
    """
    source = _source(path)
    changes: dict[tuple[tuple[int, int], tuple[int, int]], list[tuple[str, int]]] = defaultdict(list)
    counts: Counter[str] = Counter()
    for node in ast_nodes(parso.parse(source)):
        if node.type in _PLAIN or getattr(node, "value", "") in _MARKS:
            continue
        for name, operator in _operators():
            for start, end in operator.mutation_positions(node):
                changes[start, end].append((name, counts[name]))
                counts[name] += 1
    lines = source.split("\n")
    for (start, end), possible in sorted(changes.items()):
        text = lines[start[0] - 1]
        nth = lines[: start[0] - 1].count(text)
        yield f"{text.strip()}|{nth}|{start[1]}|{end[1]}", start, possible


def _mutated(path: str, operator: str, occurrence: int) -> str:
    name = operator if operator.startswith("core/") else f"core/{operator}"
    return mutate_code(_source(path), get_operator(name)(), occurrence) or ""


def _meaning(source: str) -> str:
    """Return the tree without annotations, which nothing evaluates here; empty for a text that does not compile."""
    try:
        tree = ast.parse(source)
        compile(tree, "mutant", "exec")
    except (SyntaxError, ValueError):
        return ""
    for node in ast.walk(tree):
        if isinstance(node, ast.arg):
            node.annotation = None
        elif isinstance(node, ast.FunctionDef):
            node.returns = None
        elif isinstance(node, ast.AnnAssign):
            node.annotation = ast.Constant(None)
    return ast.dump(tree)


def _changed_lines(before: str, after: str, line: int) -> tuple[str, str]:
    """Return the line before and after; what is left out has none."""
    old, new = before.split("\n"), after.split("\n")
    is_left_out = len(new) < len(old) or not new[line - 1].strip()
    return old[line - 1].strip(), "(left out)" if is_left_out else new[line - 1].strip()
