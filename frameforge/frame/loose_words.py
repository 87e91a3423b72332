"""What is said of loose parts that were tied or left out."""

from __future__ import annotations

from frameforge.frame.model import RowModel
from frameforge.frame.ornament import upright
from frameforge.frame.part_ties import tied_parts
from frameforge.frame.wording import plural

__all__ = ["loose_words"]


def loose_words(model: RowModel, scale: float) -> tuple[str, ...]:
    """Return a sentence on the loose parts of each entry of a row that were tied or left out."""
    words = []
    for one in model.row.pattern:
        name = plural(one.motif.name, 1)
        if one.tied:
            made = tied_parts(upright(one, scale, least_neck_mm=model.neck_mm), one.tied, one.tie_mm)
            ties = "1 tie" if made.ties == 1 else f"{made.ties} ties"
            words.append(f"tied {_parts(len(one.tied))} of each {name}, by {ties} {one.tie_mm:g} mm wide")
        elif one.left_out:
            words.append(f"left out {_parts(one.left_out)} of each {name}, which nothing holds")
    return tuple(dict.fromkeys(words))


def _parts(count: int) -> str:
    return "1 loose part" if count == 1 else f"{count} loose parts"
