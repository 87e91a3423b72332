"""The whole seed swap: every piece on its table, a badge for everyone, sheets by colour, guides, hand-outs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from importlib import resources
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from frameforge.job.batch.run import BatchOrder, make_batch
from frameforge.job.demo import DEMO_FOLDER, demo_text
from frameforge.job.guide import GuideResult, guide
from frameforge.job.guide_order import GuideOrder
from frameforge.job.made import Made, MadePiece
from frameforge.job.make import MakeOrder, Progress, make_recipe
from frameforge.job.output import Extra
from frameforge.job.pictures import pieces_png
from frameforge.recipe.recipe import read_recipe

if TYPE_CHECKING:
    from frameforge.job.batch.made import BatchMade

__all__ = ["DemoAll", "demo_all"]

_RECIPE: Final = "demo-all.toml"
_BADGES: Final = "demo-badges.toml"
_NAMES: Final = "names.csv"


@dataclass(frozen=True, slots=True)
class DemoAll:
    """What the whole demo came to: the pieces, the badges, the guides."""

    pieces: Made
    badges: BatchMade
    guides: GuideResult

    def as_json(self) -> dict[str, Any]:
        """Return the run as a table of plain values."""
        return {**self.pieces.as_json(), "badges": self.badges.as_json(), "guides": self.guides.as_json()}

    def lines(self) -> list[str]:
        """Return what is said at the end of the run."""
        return [*self.pieces.lines(), "", *self.badges.lines(), "", *self.guides.lines()]


def demo_all(out: Path | None, progress: Progress, *, replaces_foreign: bool = False) -> DemoAll:
    """Return everything made into ``out``, or ``DEMO_FOLDER``, the recipes and the list of names beside it.

    Raises FileError when a folder cannot be written or holds files that are not ours.
    """
    folder = out or DEMO_FOLDER
    order = MakeOrder(None, {}, folder, replaces_foreign=replaces_foreign)
    pieces = make_recipe(read_recipe(_text("demo_all.toml"), _RECIPE), order, progress, _extras)
    names = folder / _NAMES
    badges = make_batch(
        read_recipe(_text("demo_badges.toml"), _BADGES),
        BatchOrder(MakeOrder(None, {}, folder / "badges", replaces_foreign=replaces_foreign), names, workers=2),
        progress,
    )
    guides = guide(GuideOrder(folder / "demo.toml", {}, folder / "guides", replaces_foreign=replaces_foreign))
    return DemoAll(pieces, badges, guides)


def _text(name: str) -> str:
    return resources.files("frameforge.job").joinpath(name).read_text(encoding="utf-8")


def _extras(pieces: Sequence[MadePiece]) -> Sequence[Extra]:
    """Return the picture of all pieces, the recipes to change and to make again, and the list of names."""
    texts = ((_RECIPE, "demo_all.toml"), (_BADGES, "demo_badges.toml"), (_NAMES, "demo_names.csv"))
    return (
        Extra("contact-sheet.png", pieces_png("The whole seed swap", pieces)),
        Extra("demo.toml", demo_text().encode("utf-8")),
        *(Extra(name, _text(source).encode("utf-8")) for name, source in texts),
    )
