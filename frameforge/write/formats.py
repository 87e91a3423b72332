"""The kinds of file that a recipe may ask for, in the order in which they are named and written."""

from __future__ import annotations

from typing import Final, Literal

__all__ = ["CUT_FORMATS", "FORMATS", "CutFormat"]

CutFormat = Literal["svg", "dxf"]
"""A kind of file that a machine cuts along."""

CUT_FORMATS: Final[tuple[CutFormat, ...]] = ("svg", "dxf")

FORMATS: Final = (*CUT_FORMATS, "png")
"""All kinds. Where a recipe does not choose, all of them are written: a kind for the few needs a list of its own."""
