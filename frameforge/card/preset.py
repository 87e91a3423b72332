"""Presets: what card and machine can do, as named sets of limits."""

from __future__ import annotations

import difflib
import math
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cache
from importlib import resources
from types import MappingProxyType
from typing import Final

from frameforge.errors import InputError

__all__ = ["FIELD_OF", "Preset", "load_preset", "no_such_preset", "preset_names"]

FIELD_OF: Final[Mapping[str, str]] = MappingProxyType(
    {
        "thickness": "thickness_mm",
        "least_web": "least_web_mm",
        "least_neck": "least_neck_mm",
        "least_finger": "least_finger_mm",
        "least_slot": "least_slot_mm",
        "least_hole": "least_hole_mm",
        "crumb": "crumb_mm2",
        "tip": "tip_deg",
        "near_miss": "near_miss_mm",
        "kerf": "kerf_mm",
        "overcut": "overcut_mm",
        "speed": "speed_mm_s",
        "passes": "passes",
        "lift_time": "lift_s",
        "dash": "dash_mm",
        "dash_space": "dash_space_mm",
    }
)
"""The key by which a maker writes each limit, and its field here."""


@dataclass(frozen=True, slots=True)
class Preset:
    """The limits of one card on one machine, in mm, mm2, degrees, mm/s and seconds.

    ``least_hole_mm`` is a diameter. ``least_web_mm`` is card between two holes, ``least_neck_mm`` card that carries a
    part, ``least_finger_mm`` card that carries nothing, ``least_slot_mm`` waste between two edges. ``overcut_mm``
    is how far a knife runs on when that is asked for. A dashed crease has dashes of ``dash_mm`` with at least
    ``dash_space_mm`` of card between them. ``origin`` names the file that a preset of the maker's own
    stands in; it is empty for those that travel with the program.
    """

    name: str
    thickness_mm: float
    least_web_mm: float
    least_neck_mm: float
    least_finger_mm: float
    least_slot_mm: float
    least_hole_mm: float
    crumb_mm2: float
    tip_deg: float
    near_miss_mm: float
    kerf_mm: float
    overcut_mm: float
    speed_mm_s: float
    passes: int
    lift_s: float
    dash_mm: float
    dash_space_mm: float
    origin: str = ""

    def __post_init__(self) -> None:
        """Refuse limits below zero, a speed of zero and no pass at all."""
        for field in FIELD_OF.values():
            value = getattr(self, field)
            if not (math.isfinite(value) and value >= 0):
                raise InputError(f"{field} is {value}. Write a number of 0 or more.", where=f"preset {self.name}")
        if self.speed_mm_s == 0 or self.passes < 1:
            say = f"speed {self.speed_mm_s} mm/s in {self.passes} passes cuts nothing. Write at least 1 of each."
            raise InputError(say, where=f"preset {self.name}")

    def with_values(self, values: Mapping[str, float]) -> Preset:
        """Return the preset with some limits replaced, by field name. Raises InputError for a limit out of range."""
        known = set(FIELD_OF.values())
        for name in values:
            if name not in known:
                raise InputError(f'there is no limit "{name}".{_nearest(name, sorted(known))}', where=self.name)
        exact = {name: int(value) if name == "passes" else float(value) for name, value in values.items()}
        return replace(self, **exact)  # type: ignore[arg-type]  # the names were checked against the fields

    def as_table(self) -> dict[str, float | str]:
        """Return the limits as a maker writes them, by key, lengths with their unit."""
        values = {key: (field, getattr(self, field)) for key, field in FIELD_OF.items()}
        return {key: f"{value!r}mm" if field.endswith("_mm") else value for key, (field, value) in values.items()}


def preset_names() -> tuple[str, ...]:
    """Return the names of the presets that travel with the program, in their order."""
    return tuple(_table())


def load_preset(name: str) -> Preset:
    """Return the preset called ``name`` that travels with the program.

    Raises InputError, with the nearest name, when there is none.
    """
    table = _table()
    if name not in table:
        raise no_such_preset(name, table)
    values = {FIELD_OF[key]: value for key, value in table[name].items()}
    return Preset(name=name, **values)  # type: ignore[arg-type]  # passes is a whole number in the table


def no_such_preset(name: str, known: Iterable[str]) -> InputError:
    """Return the refusal of a name that no preset has, with the nearest of the known ones."""
    return InputError(f'there is no preset "{name}".{_nearest(name, list(known))}', where="preset", code="no-preset")


@cache
def _table() -> dict[str, dict[str, float]]:
    text = resources.files("frameforge.card").joinpath("presets.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def _nearest(name: str, known: list[str]) -> str:
    near = difflib.get_close_matches(name.lower(), known, n=1, cutoff=0.4)
    return f" The nearest is {near[0]}." if near else f" There are: {', '.join(known)}."
