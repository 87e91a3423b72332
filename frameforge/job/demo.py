"""The demo: the pieces of a seed swap, made like any recipe, with one picture of them all."""

from __future__ import annotations

from collections.abc import Sequence
from importlib import resources
from pathlib import Path

from frameforge.job.made import Made, MadePiece
from frameforge.job.make import MakeOrder, Progress, make_recipe
from frameforge.job.output import Extra
from frameforge.job.pictures import pieces_png
from frameforge.recipe.recipe import read_recipe

__all__ = ["DEMO_FOLDER", "demo", "demo_text"]

DEMO_FOLDER = Path("out") / "demo"
"""Where the demo goes when no folder is named."""

_TITLE = "Seed swap"
_NAME = "demo.toml"


def demo_text() -> str:
    """Return the recipe of the demo as TOML text."""
    return resources.files("frameforge.job").joinpath(_NAME).read_text(encoding="utf-8")


def demo(out: Path | None, progress: Progress, *, replaces_foreign: bool = False) -> Made:
    """Return the five pieces made into ``out``, or ``DEMO_FOLDER``, with a contact sheet and the recipe itself.

    Raises FileError when the folder cannot be written or holds files that are not ours.
    """
    recipe = read_recipe(demo_text(), _NAME)
    order = MakeOrder(None, {}, out or DEMO_FOLDER, replaces_foreign=replaces_foreign)
    return make_recipe(recipe, order, progress, _extras)


def _extras(pieces: Sequence[MadePiece]) -> Sequence[Extra]:
    """Return the picture of all pieces, and the recipe to change and to make again."""
    return (Extra("contact-sheet.png", pieces_png(_TITLE, pieces)), Extra(_NAME, demo_text().encode("utf-8")))
