"""Which motifs may fill a rest: those that can be named, as long as what is drawn in them holds on the card."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Final

from frameforge.check.whole import check_piece
from frameforge.errors import FrameforgeError, GeometryError
from frameforge.frame.filler import Filler
from frameforge.frame.model import RowModel
from frameforge.frame.window import window_of
from frameforge.geometry.combine import Expression, difference, evaluate, union
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.motif.catalogue import names
from frameforge.motif.motif import Motif

__all__ = ["fault_of", "known_motifs"]

_DETAILS: Final = (
    "loose", "point-touch", "thin-web", "thin-neck", "thin-finger", "narrow-slot", "near-miss", "small-hole",
)  # fmt: skip
"""Findings that a motif has when it is small and not when it is large; tips stay as sharp as they are drawn."""

_ROUND_MM: Final = 10.0
"""Card laid round a motif to look at it: wider than any limit, so that its own edges are never near."""


def known_motifs(folder: Path | None, load: Callable[[str], Motif]) -> Iterator[Motif]:
    """Yield the motifs that can be named, those in the maker's own ``folder`` among them.

    A drawing that cannot be read is passed over: nobody asked for it.
    """
    for name in names(folder):
        try:
            yield load(name)
        except FrameforgeError:
            continue


def fault_of(model: RowModel, filler: Filler) -> str | None:
    """Return what falls under the limits of the card in a filler at its size; None where all of it holds.

    It is looked at as it will stand: on the edge of a wide card, across it, or cut through it.
    """
    try:
        whole = evaluate(_on_wide_card(model, filler)).regions
    except GeometryError as fault:
        return fault.say
    found = [finding for finding in check_piece(whole, model.preset) if finding.code in _DETAILS]
    return found[0].say if found else None


def _on_wide_card(model: RowModel, filler: Filler) -> Expression:
    """Return the filler, its foot on y = 0, with card below it or, for a window, round it."""
    box, motif = filler.ready.box, filler.motif
    left, right, low = box.left - _ROUND_MM, box.right + _ROUND_MM, box.bottom - _ROUND_MM
    if model.row.place == "window":
        card = Region(rectangle(left, low, right, box.top + _ROUND_MM))
        return difference(card, *window_of(model, filler.ready))
    top = filler.ready.middle_mm if model.row.place == "across" else 0.0
    joined = union(Region(rectangle(left, low, right, top)), *motif.join)
    return difference(joined, *motif.window) if motif.window else joined
