"""Words as they came to lie on a piece, letter by letter."""

from __future__ import annotations

from dataclasses import dataclass

from frameforge.frame.text_spec import Style
from frameforge.geometry.region import Region

__all__ = ["SetWords"]


@dataclass(frozen=True, slots=True)
class SetWords:
    """One text in place: what it says, how it is made, and the area of every letter, mm."""

    said: str
    style: Style
    letters: tuple[tuple[Region, ...], ...]
