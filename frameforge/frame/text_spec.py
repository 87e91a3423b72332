"""Words on a piece as they were asked for."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from frameforge.read.font_file import Font

__all__ = ["USUAL_CAP_MM", "USUAL_LIMIT_DEG", "Along", "Reads", "Style", "TextSpec"]

Along = Literal["rim", "middle"]
Style = Literal["mark", "window", "join"]
Reads = Literal["outside", "inside"]

USUAL_CAP_MM: Final = 6.0
"""Height of capitals where none is asked for."""

USUAL_LIMIT_DEG: Final = 240.0
"""How much of a round edge words take at most: more would be read with the head turned round."""


@dataclass(frozen=True, slots=True)
class TextSpec:
    """Words and how they are set. Lengths in mm, directions clockwise from the top in degrees.

    ``style``: lines to be marked, holes whose islands are held by ties, or letters joined to the edge. ``reads`` tells
    from which side of the edge words along it are read; their middle lies at ``at_deg``. ``inset_mm`` goes from the
    base's edge to the middle of the capitals, None: the middle of the rim, or as near to the edge as keeps clear.
    """

    words: str
    font: Font
    style: Style = "mark"
    along: Along = "rim"
    reads: Reads = "outside"
    cap_mm: float = USUAL_CAP_MM
    at_deg: float = 0.0
    limit_deg: float = USUAL_LIMIT_DEG
    inset_mm: float | None = None
