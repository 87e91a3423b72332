"""Only geometry.boolean calls shapely's union, offset and repair: result types and directions are settled there."""

from __future__ import annotations

import ast

import pytest
from fixtures.source import Module, imported_names, modules, parsed

ADAPTER = "geometry.boolean"
OPERATIONS = {
    "buffer", "coverage_union", "coverage_union_all", "difference", "disjoint_subset_union", "intersection",
    "intersection_all", "line_merge", "make_valid", "node", "offset_curve", "polygonize", "polygonize_full",
    "set_precision", "simplify", "snap", "symmetric_difference", "unary_union", "union", "union_all",
}  # fmt: skip


def _operations(module: Module) -> set[str]:
    """Return the operations of shapely that the module calls or takes by name, where it imports shapely at all."""
    sources = tuple(imported_names(module))
    if module.name == ADAPTER or not any(source.split(".")[0] == "shapely" for source, _ in sources):
        return set()
    taken = {name for source, name in sources if source.split(".")[0] == "shapely" and name in OPERATIONS}
    return taken | {
        node.func.attr
        for node in ast.walk(module.tree)
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in OPERATIONS
        if (isinstance(node.func.value, ast.Name) and node.func.value.id == "shapely") or node.func.attr == "buffer"
    }


@pytest.mark.parametrize("module", modules(), ids=lambda module: module.name)
def test_shapely_decides_in_one_place(module: Module) -> None:
    assert _operations(module) == set()


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("import shapely\nx = shapely.union_all(y)", {"union_all"}),
        ("from shapely import make_valid", {"make_valid"}),
        ("from shapely.ops import unary_union", {"unary_union"}),
        ("from shapely import Polygon\nx = Polygon(y).buffer(2)", {"buffer"}),
        ("import shapely\nx = box.union(other)", set()),
        ("x = box.union(other)", set()),
    ],
)
def test_a_planted_call_is_found(text: str, found: set[str]) -> None:
    assert _operations(parsed("geometry.box", text)) == found
    assert _operations(parsed(ADAPTER, text)) == set()


def test_the_adapter_is_there_and_uses_shapely() -> None:
    adapter = next(module for module in modules() if module.name == ADAPTER)
    assert any(source.split(".")[0] == "shapely" for source, _ in imported_names(adapter))
