"""Which motifs may fill a rest: those that can be named, as long as what is drawn in them holds on the card."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Final

from frameforge.check.whole import check_piece
from frameforge.errors import FrameforgeError, GeometryError
from frameforge.frame.chain import Chain
from frameforge.frame.filler import Filler, filled
from frameforge.frame.model import RowModel
from frameforge.frame.window import window_of
from frameforge.geometry.combine import Expression, difference, evaluate, union
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.motif.catalogue import names
from frameforge.motif.motif import Motif
from frameforge.tolerances import ROOT_MM, TOUCH_MM

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


def fault_of(model: RowModel, chain: Chain, filler: Filler) -> str | None:
    """Return what falls under the limits of the card in a filler at its size; None where all of it holds.

    It is looked at as it will stand: on the edge of a wide card, across it, or cut through it. One that would touch
    its neighbours above the edge, where nothing joins them, does not hold either.
    """
    if chain.gap_mm <= TOUCH_MM and _touches_above_the_edge(chain, filler):
        return "it touches its neighbours in a point, and a point holds nothing."
    try:
        whole = evaluate(_on_wide_card(model, filler)).regions
    except GeometryError as fault:
        return fault.say
    found = [finding for finding in check_piece(whole, model.preset) if finding.code in _DETAILS]
    return found[0].say if found else None


def _touches_above_the_edge(chain: Chain, filler: Filler) -> bool:
    """Whether a filler meets a neighbour higher above its foot than a root is deep."""
    layout = filled(chain, filler)
    back = layout.track.placement(filler.ready, layout.seats[-1]).inverse()
    before, after = layout.gaps[-2:]
    contacts = [gap.on_b if gap is before else gap.on_a for gap in (before, after) if gap and gap.gap_mm <= TOUCH_MM]
    return any(back.apply(contact).imag > ROOT_MM for contact in contacts)


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
