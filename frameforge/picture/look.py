"""The tool's own look: card lying on a potting bench. Colours, type sizes, line widths of every picture.

Lengths are in picture pixels (CSS px). Text on the bench keeps a contrast of 5.9 or more (WCAG 2.2, 1.4.3 asks 4.5).
"""

from __future__ import annotations

from types import MappingProxyType
from typing import Final

__all__ = [
    "BEETROOT",
    "BENCH",
    "CARD_COLOURS",
    "DEW",
    "DRAB",
    "DRY_SLATE",
    "EDGE_PX",
    "FLEECE",
    "FONT_FAMILY",
    "LINE_STEP_PX",
    "MARGIN_PX",
    "MARROW_FLOWER",
    "NAME_PX",
    "TEXT_PX",
    "TITLE_PX",
    "WET_SLATE",
    "card_colour",
]

BENCH: Final = "#E3E8E6"
"""The page itself; openings show it."""

FLEECE: Final = "#F6F9F6"
"""Panels, and the outside of a cased line."""

WET_SLATE: Final = "#1E2A2C"
"""Text, edges of card, the inside of a cased line."""

DRY_SLATE: Final = "#4A585A"
"""Second text."""

DEW: Final = "#C3CCC9"
"""Soft rules."""

BEETROOT: Final = "#7A2140"
"""What is chosen or pointed at."""

MARROW_FLOWER: Final = "#F0C949"
"""Behind what is chosen."""

DRAB: Final = "#BDB8A9"
"""Card whose colour nobody named."""

CARD_COLOURS: Final = MappingProxyType(
    {"moss": "#74844A", "sand": "#D2B888", "brick": "#A8543C", "cream": "#EFE6CF", "drab": DRAB}
)
"""Colours of the named card stock, the same by day and by dusk."""

FONT_FAMILY: Final = "Overpass, 'DejaVu Sans', sans-serif"
"""The shipped font first; a viewer without it takes its own."""

TEXT_PX: Final = 14.0
NAME_PX: Final = 16.0
TITLE_PX: Final = 20.0
LINE_STEP_PX: Final = 20.0
"""From one baseline of small text to the next."""

MARGIN_PX: Final = 28.0
EDGE_PX: Final = 0.8
"""Width of the slate line round card."""


def card_colour(name: str | None) -> str:
    """Return the hex colour of a card by its name; drab for None and for names that are not ours."""
    return CARD_COLOURS.get(name or "", DRAB)
