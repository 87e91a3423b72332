"""What geometry, frame and check hand on are values: nobody changes them, and no field is added by a slip."""

from __future__ import annotations

import dataclasses
import importlib
import re

import pytest
from fixtures.source import modules

ARRAY = re.compile(r"\b(NDArray|Floats|Complexes|Ints|Indices|Bools|\w+Array)\b")
CHANGING = {"Ends", "_Job", "_Kind"}
"""Work at hand: filled in step by step."""
FOLDERS = ("geometry", "frame", "check")


def _classes() -> list[type]:
    """Return the dataclasses of the folders, private ones too."""
    names = [module.name for module in modules() if module.folder in FOLDERS and "@dataclass" in module.text]
    loaded = [importlib.import_module(f"frameforge.{name}".removesuffix(".__init__")) for name in names]
    return [
        kind
        for module in loaded
        for kind in vars(module).values()
        if isinstance(kind, type) and kind.__module__ == module.__name__ and dataclasses.is_dataclass(kind)
    ]


@pytest.fixture(scope="module")
def classes() -> list[type]:
    found = _classes()
    assert len(found) > 100
    return found


def test_values_cannot_be_changed(classes: list[type]) -> None:
    changing = {kind.__name__ for kind in classes if not kind.__dataclass_params__.frozen}  # type: ignore[attr-defined]
    assert changing == CHANGING


def test_values_have_their_fields_and_no_others(classes: list[type]) -> None:
    """Those that keep what was worked out once have room for it."""
    open_ones = {kind.__name__ for kind in classes if "__slots__" not in vars(kind)}
    assert open_ones == {
        kind.__name__ for kind in classes if any(hasattr(value, "attrname") for value in vars(kind).values())
    }


def test_arrays_are_not_compared_as_values(classes: list[type]) -> None:
    """== of two arrays is an array, no answer: such values are equal to themselves only."""
    for kind in classes:
        types = [str(field.type) for field in dataclasses.fields(kind)]
        has_array = any(ARRAY.search(type_) and "Callable" not in type_ for type_ in types)
        assert not (has_array and kind.__dataclass_params__.eq), kind.__name__  # type: ignore[attr-defined]
