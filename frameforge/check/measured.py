"""Findings of a width or an angle under its limit, put in words."""

from __future__ import annotations

from collections.abc import Iterable

from frameforge.check.thickness import ThinPlace
from frameforge.finding import Finding
from frameforge.tolerances import WIDTH_MM
from frameforge.units import format_deg, format_floor, format_floor_deg

__all__ = ["below", "sharper"]


def below(code: str, places: Iterable[ThinPlace], limit_mm: float, what: str, remedy: str) -> tuple[Finding, ...]:
    """Return a warning with the true width (mm) for each place narrower than ``limit_mm``."""
    return tuple(
        Finding(
            code=code,
            severity="warning",
            say=f"{format_floor(place.width_mm)} {what}, this card needs {format_floor(limit_mm)}. {remedy}",
            x_mm=place.middle.real,
            y_mm=place.middle.imag,
            measured=place.width_mm,
            limit=limit_mm,
        )
        for place in places
        if place.width_mm < limit_mm - WIDTH_MM
    )


def sharper(code: str, places: Iterable[ThinPlace], limit_deg: float, what: str, remedy: str) -> tuple[Finding, ...]:
    """Return a warning with its angle (degrees) for each tip sharper than ``limit_deg``."""
    return tuple(
        Finding(
            code=code,
            severity="warning",
            say=f"{what} of {format_floor_deg(place.angle_deg)}, this card needs {format_deg(limit_deg)}. {remedy}",
            x_mm=place.middle.real,
            y_mm=place.middle.imag,
            measured=place.angle_deg,
            limit=limit_deg,
            unit="deg",
        )
        for place in places
        if place.kind == "tip" and place.angle_deg is not None and place.angle_deg < limit_deg
    )
