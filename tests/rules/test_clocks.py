"""The only clock is one that no hand sets: what the clock on the wall says never counts, so it may go back."""

from __future__ import annotations

import ast

import pytest
from fixtures.source import Module, imported_names, modules, parsed

STEADY = {"monotonic", "sleep"}


def _other_clocks(module: Module) -> set[str]:
    """Return what else of ``time`` is used, and modules of dates where they are."""
    imported = set(imported_names(module))
    used = {
        node.attr
        for node in ast.walk(module.tree)
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and node.value.id == "time"
    }
    used |= {name for source, name in imported if source == "time" and name}
    return (used - STEADY) | {source for source, _ in imported if source in ("datetime", "calendar")}


def test_no_clock_is_asked_that_can_go_back() -> None:
    found = {module.name: clocks for module in modules() if (clocks := _other_clocks(module))}
    assert found == {}


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("import time\nend = time.time() + 3", {"time"}),
        ("from time import time_ns", {"time_ns"}),
        ("from datetime import date", {"datetime"}),
        ("import time\ntime.sleep(time.monotonic())", set()),
    ],
)
def test_the_rule_sees_what_it_looks_for(text: str, found: set[str]) -> None:
    assert _other_clocks(parsed("job.planted", text)) == found
