"""What a window row cuts of a motif: its whole outline, or, where islands are kept, its card with ties left in it."""

from __future__ import annotations

from collections.abc import Iterable

from frameforge.errors import GeometryError, InputError
from frameforge.frame.model import RowModel
from frameforge.frame.offers import things
from frameforge.frame.ornament import Ready
from frameforge.geometry.region import Region
from frameforge.motif.motif import Motif

__all__ = ["check_islands", "check_loose", "cut_of", "window_of", "window_words"]


def check_islands(model: RowModel) -> None:
    """Refuse islands that are to be kept in a row that cuts no windows. Raises InputError."""
    if model.row.keeps_counters and model.row.place != "window":
        say = "--keep-counters keeps islands of card in windows, and this row cuts none. Take --place window, or leave "
        raise InputError(f"{say}it out.", where=model.spec.name, code="no-windows")


def check_loose(model: RowModel) -> None:
    """Refuse to tie or to drop parts in a row of windows, which joins none on. Raises InputError."""
    if model.row.loose != "keep" and model.row.place == "window":
        say = f"--loose {model.row.loose} is for parts that are joined on, and this row cuts windows. Leave it out."
        raise InputError(say, where=model.spec.name, code="no-parts")


def window_of(model: RowModel, ready: Ready) -> tuple[Region, ...]:
    """Return what is cut of one motif of a window row, in the motif's place.

    Raises GeometryError where islands are to be kept and no tie finds a place.
    """
    return cut_of(model, ready.motif)


def cut_of(model: RowModel, motif: Motif) -> tuple[Region, ...]:
    """Return what a window row cuts of a motif, as ``window_of`` does.

    Raises GeometryError where an island that is to be kept finds no place for its ties.
    """
    if not model.row.keeps_counters:
        return tuple(Region(region.outer) for region in motif.drawn)
    from frameforge.frame.ties import tied  # here, since few windows keep islands

    width = model.preset.least_neck_mm
    made = tied(motif, width)
    if made is None:
        say = f"the islands in the {things(model, 2)} find no place for ties of {width:g} mm. Take a larger --scale, "
        raise GeometryError(f"{say}or leave --keep-counters out.", where=model.spec.name, code="no-ties", width=width)
    return made.cut


def window_words(model: RowModel, readies: Iterable[Ready]) -> tuple[str, ...]:
    """Return a sentence on the islands of each kind of motif in a window row, none where there are none."""
    if model.row.place != "window":
        return ()
    from frameforge.frame.ties import tied  # here, as above
    from frameforge.motif.describe import card_of

    width = model.preset.least_neck_mm
    words = []
    for motif in dict.fromkeys(ready.motif for ready in readies):
        islands = sum(len(region.holes) for region in card_of(motif))
        if not islands:
            continue
        one = f"{islands} island{'s' if islands > 1 else ''} of card in each {things(model, 1)}"
        made = tied(motif, width) if model.row.keeps_counters else None
        if made is None:
            words.append(f"left out the {one}; to keep them, held by ties, take --keep-counters")
        else:
            words.append(f"kept the {one}, held by {made.ties} ties {width:g} mm wide")
    return tuple(dict.fromkeys(words))
