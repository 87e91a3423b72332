"""Presets: what card and machine can do, as named sets of limits."""

from __future__ import annotations

import difflib
import math
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from importlib import resources

from frameforge.errors import InputError

__all__ = ["Preset", "load_preset", "preset_names"]


@dataclass(frozen=True, slots=True)
class Preset:
    """The limits of one card on one machine, in mm, mm2, degrees, mm/s and seconds.

    ``least_hole_mm`` is a diameter. ``least_web_mm`` is card between two holes, ``least_neck_mm`` card that carries a
    part, ``least_finger_mm`` card that carries nothing, ``least_slot_mm`` waste between two edges. ``overcut_mm``
    is how far a knife runs on when that is asked for.
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

    def __post_init__(self) -> None:
        """Refuse limits below zero, a speed of zero and no pass at all."""
        for field in fields(self)[1:]:
            value = getattr(self, field.name)
            if not (math.isfinite(value) and value >= 0):
                raise InputError(f"{field.name} is {value}. Write a number of 0 or more.", where=f"preset {self.name}")
        if self.speed_mm_s == 0 or self.passes < 1:
            say = f"speed {self.speed_mm_s} mm/s in {self.passes} passes cuts nothing. Write at least 1 of each."
            raise InputError(say, where=f"preset {self.name}")

    def with_values(self, values: Mapping[str, float]) -> Preset:
        """Return the preset with some limits replaced, by field name. Raises InputError for a limit out of range."""
        known = {field.name for field in fields(self)[1:]}
        for name in values:
            if name not in known:
                raise InputError(f'there is no limit "{name}".{_nearest(name, sorted(known))}', where=self.name)
        exact = {name: int(value) if name == "passes" else float(value) for name, value in values.items()}
        return replace(self, **exact)  # type: ignore[arg-type]  # the names were checked against the fields


def preset_names() -> tuple[str, ...]:
    """Return the names of the presets that travel with the program, in their order."""
    return tuple(_table())


def load_preset(name: str) -> Preset:
    """Return the preset called ``name``. Raises InputError, with the nearest name, when there is none."""
    table = _table()
    if name not in table:
        raise InputError(f'there is no preset "{name}".{_nearest(name, list(table))}', where="preset")
    return Preset(name=name, **table[name])  # type: ignore[arg-type]  # passes is a whole number in the table


def _table() -> dict[str, dict[str, float]]:
    text = resources.files("frameforge.card").joinpath("presets.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def _nearest(name: str, known: list[str]) -> str:
    near = difflib.get_close_matches(name, known, n=1, cutoff=0.4)
    return f" The nearest is {near[0]}." if near else f" There are: {', '.join(known)}."
