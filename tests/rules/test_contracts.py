"""What a docstring must say beyond being there: errors raised, units of numbers, shapes of arrays.

A unit may stand in the name (``gap_mm``, ``turn_rad``) or in the text; a field's also in the text of its class, or in
that of its module where one line holds for all. An error counts where the function raises it itself or by private
functions of its module.
"""

from __future__ import annotations

import ast
import builtins
import re
from collections.abc import Iterator
from typing import NamedTuple

import pytest
from fixtures.source import Module, modules, parsed

from frameforge import errors
from frameforge.frame import ways

Function = ast.FunctionDef | ast.AsyncFunctionDef

UNIT_IN_NAME = re.compile(r"_(mm|mm2|rad|deg|s|px|share|percent|of|times|g|per_mm|mm_s|mm2_s|gsm)$")
PURE = {"cost", "price", "ratio", "scale", "scales", "t"}
"""Names that say it all: times as large, parts of one, a curve's own parameter, money."""
UNIT_IN_TEXT = re.compile(
    r"\b(mm2?|radians?|rad|degrees?|deg|seconds?|minutes?|px|pixels?|grams?|radii|ratio|share|part|factor|times|scale|"
    r"turns?|widths|units?|numbers?|steps|parameters?|costs?|t|q|0 \.\. 1|0\.\.1|from 0 to 1)\b|%",
    re.IGNORECASE,
)
ARRAY = re.compile(r"\b(NDArray|Floats|Complexes|Ints|Indices|Bools|Keys|\w+Array)\b")
SHAPE = re.compile(
    r"\bshape|\((n|m|\d+), ?(n|m|\d+)?\)|\b(each|every|one row|rows?|arrays?|same|in order|pairs|in its shape|"
    r"one (for|a|of)|entry by entry|as many)\b"
)


class Told(NamedTuple):
    """A public function or method: its dotted name, its tree, the docstrings of itself and of its class."""

    name: str
    node: Function
    text: str
    around: str


def _functions(module: Module) -> Iterator[Told]:
    """Yield the public functions and methods; overloads have their text once only."""

    def within(parent: ast.Module | ast.ClassDef, prefix: str, around: str) -> Iterator[Told]:
        for node in parent.body:
            if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                yield from within(node, f"{node.name}.", ast.get_docstring(node) or "")
            elif isinstance(node, Function) and not node.name.startswith("_") and ast.get_docstring(node):
                yield Told(prefix + node.name, node, ast.get_docstring(node) or "", around)

    yield from within(module.tree, "", "")


def _error_of(raised: ast.expr, functions: dict[str, Function]) -> str:
    """Return the class of what is raised: by name, or what the function that makes it says it returns."""
    target = raised.func if isinstance(raised, ast.Call) else raised
    name = ast.unparse(target).split(".")[-1]
    maker = functions.get(name)
    return ast.unparse(maker.returns) if maker is not None and maker.returns is not None else name


def _kinds(name: str) -> set[str]:
    """Return the names that tell of an error: its own, and those of what it is a kind of."""
    found = next((vars(place)[name] for place in (errors, ways, builtins) if name in vars(place)), None)
    return {kind.__name__ for kind in found.__mro__} if isinstance(found, type) else {name}


def _raised(function: Function, functions: dict[str, Function], seen: frozenset[str] = frozenset()) -> set[str]:
    """Return the names of the errors that leave a function, also by way of private functions of its module."""

    def leaving(node: ast.AST, caught: frozenset[str]) -> Iterator[str]:
        if isinstance(node, Function | ast.Lambda | ast.ClassDef):
            return
        if isinstance(node, ast.Try):
            held = frozenset(name for handler in node.handlers for name in _caught(handler))
            for part in node.body:
                yield from leaving(part, caught | held)
            rest: list[ast.AST] = [*node.handlers, *node.orelse, *node.finalbody]
            for other in rest:
                yield from leaving(other, caught)
            return
        if isinstance(node, ast.Raise) and node.exc is not None:
            name = _error_of(node.exc, functions)
            if name.isidentifier() and name.endswith("Error") and not _kinds(name) & caught:
                yield name
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id.startswith("_"):
            called = functions.get(node.func.id)
            if called is not None and called.name not in seen:
                inner = _raised(called, functions, seen | {called.name})
                yield from (name for name in inner if not _kinds(name) & caught)
        for child in ast.iter_child_nodes(node):
            yield from leaving(child, caught)

    return {name for part in function.body for name in leaving(part, frozenset())}


def _caught(handler: ast.ExceptHandler) -> Iterator[str]:
    """Yield the names of what a handler takes."""
    if handler.type is None:
        yield "BaseException"
    else:
        kinds = handler.type.elts if isinstance(handler.type, ast.Tuple) else [handler.type]
        yield from (ast.unparse(kind).split(".")[-1] for kind in kinds)


def _untold_errors(module: Module) -> list[str]:
    """Return "function: error" for every error that a docstring does not name; our own faults need no name."""
    functions = {node.name: node for node in module.tree.body if isinstance(node, Function)}
    return [
        f"{told.name}: {name}"
        for told in _functions(module)
        for name in sorted(_raised(told.node, functions))
        if name != "FrameforgeError" and not any(re.search(rf"\b{kind}\b", told.text) for kind in _kinds(name))
    ]


def _is_number(annotation: ast.expr | None) -> bool:
    """Whether a float is meant, also one of several; what is called or looked up is not looked into."""
    text = ast.unparse(annotation) if annotation is not None else ""
    return bool(re.search(r"\bfloat\b", text)) and "Callable" not in text


def _is_said(name: str) -> bool:
    """Whether a name tells its unit, or that it has none."""
    return name.split("_")[-1] in PURE or bool(UNIT_IN_NAME.search(name))


def _untold_units(module: Module) -> list[str]:
    """Return the public numbers whose unit stands neither in the name nor in the text."""
    found = []
    for told in _functions(module):
        if UNIT_IN_TEXT.search(told.text):
            continue
        if _is_number(told.node.returns) and not _is_said(told.node.name):
            found.append(f"{told.name}: what it returns")
        arguments = told.node.args.posonlyargs + told.node.args.args + told.node.args.kwonlyargs
        found += [
            f"{told.name}: {each.arg}"
            for each in arguments
            if _is_number(each.annotation) and not _is_said(each.arg) and not UNIT_IN_TEXT.search(told.around)
        ]
    return found + list(_fields(module))


def _fields(module: Module) -> Iterator[str]:
    """Yield the public fields that are numbers without a unit."""
    if re.search(r"\bin mm\b", ast.get_docstring(module.tree) or ""):
        return
    for owner in module.tree.body:
        if not isinstance(owner, ast.ClassDef) or owner.name.startswith("_"):
            continue
        for node, after in zip(owner.body, [*owner.body[1:], ast.Pass()], strict=True):
            if not isinstance(node, ast.AnnAssign) or not isinstance(node.target, ast.Name):
                continue
            text = f"{ast.get_docstring(owner)} {ast.unparse(after) if isinstance(after, ast.Expr) else ''}"
            name = node.target.id
            is_told = name.startswith("_") or _is_said(name) or UNIT_IN_TEXT.search(text)
            if _is_number(node.annotation) and not is_told:
                yield f"{owner.name}.{name}"


def _untold_shapes(module: Module) -> list[str]:
    """Return the public functions that take or return arrays and do not say how these are laid out."""
    return [
        told.name
        for told in _functions(module)
        if any(ARRAY.search(ast.unparse(each)) for each in _annotations(told.node))
        if not SHAPE.search(f"{told.text} {told.around}")
    ]


def _annotations(node: Function) -> list[ast.expr]:
    """Return what is said of arguments and result."""
    given = [each.annotation for each in [*node.args.args, *node.args.kwonlyargs]]
    return [each for each in [*given, node.returns] if each is not None]


@pytest.mark.parametrize("untold", [_untold_errors, _untold_units, _untold_shapes])
def test_docstrings_are_complete(untold: object) -> None:
    assert callable(untold)
    assert [f"{module.name} {name}" for module in modules() for name in untold(module)] == []


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("def f():\n '''Do.'''\n raise ValueError('x')", ["f: ValueError"]),
        ("def f():\n '''Do. Raises ValueError.'''\n raise ValueError('x')", []),
        ("def f():\n '''Do.'''\n _g()\ndef _g():\n raise ValueError", ["f: ValueError"]),
        ("def f():\n '''Do.'''\n raise _g()\ndef _g() -> InputError: ...", ["f: InputError"]),
        ("def f():\n '''Do.'''\n try:\n  _g()\n except ValueError: ...\ndef _g():\n raise ValueError", []),
        ("def f():\n '''Do.'''\n try:\n  _g()\n except KeyError: ...\ndef _g():\n raise ValueError", ["f: ValueError"]),
        ("class A:\n def f(self):\n  '''Do.'''\n  raise InputError('x')", ["A.f: InputError"]),
        ("def f():\n '''Raises FrameforgeError.'''\n raise InputError('x')", []),
        ("def f():\n '''Do.'''\n def g():\n  raise ValueError", []),
    ],
)
def test_planted_errors_are_found(text: str, found: list[str]) -> None:
    assert _untold_errors(parsed("geometry.arc", text)) == found


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("def f() -> float:\n '''Return how long.'''", ["f: what it returns"]),
        ("def f() -> float:\n '''Return how long, mm.'''", []),
        ("def f_mm() -> float:\n '''Return how long.'''", []),
        ("def f(x: float) -> None:\n '''Take x.'''", ["f: x"]),
        ("def f(x_deg: float) -> None:\n '''Take x.'''", []),
        ("class A:\n '''A.'''\n x: float\n y_mm: float\n _z: float", ["A.x"]),
        ("class A:\n '''A.'''\n x: tuple[float, ...]\n '''In mm.'''", []),
        ("'''All in mm.'''\nclass A:\n '''A.'''\n x: float", []),
    ],
)
def test_planted_numbers_are_found(text: str, found: list[str]) -> None:
    assert _untold_units(parsed("geometry.arc", text)) == found


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("def f(z: Floats) -> None:\n '''Take z.'''", ["f"]),
        ("def f(z: Floats) -> None:\n '''Take z, one for each row.'''", []),
        ("def f() -> npt.NDArray[np.bool_]:\n '''Return what is.'''", ["f"]),
        ("def f() -> ComplexArray:\n '''Return points, shape (n, 2).'''", []),
        ("def f(z: float) -> None:\n '''Take z, mm.'''", []),
    ],
)
def test_planted_arrays_are_found(text: str, found: list[str]) -> None:
    assert _untold_shapes(parsed("geometry.arc", text)) == found
