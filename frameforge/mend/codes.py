"""The findings that can be mended, by their words."""

from __future__ import annotations

from typing import Final

__all__ = ["ALL_CODES", "MENDABLE"]

MENDABLE: Final = (
    "thin-web", "thin-neck", "thin-finger", "spike", "narrow-slot", "small-hole", "card-crumb", "waste-crumb", "loose",
    "point-touch", "near-miss", "double-line", "open-line",
)  # fmt: skip
"""The findings that can be mended; the last two in cut files of any make, before the card they enclose is looked at."""

ALL_CODES: Final = tuple(code for code in MENDABLE if code != "waste-crumb")
"""What "all" stands for: every finding that can be mended but waste crumbs, which are no fault, only a note."""
