"""Whether what is asked of the edge between repeats goes with the row, told before anything is solved."""

from __future__ import annotations

from typing import Final

from frameforge.errors import InputError
from frameforge.frame.model import RowModel
from frameforge.frame.offers import things

__all__ = ["NOT_OF_MOTIF", "check_between"]

NOT_OF_MOTIF: Final = "not-of-motif"
"""The code of an edge that does not go with how motifs stand, on their feet or on their tips."""


def check_between(model: RowModel) -> None:
    """Refuse an edge that does not go with the row, and a depth that is missing or idle, as InputError."""
    row, where = model.row, model.spec.name
    is_corner = any(ready.is_corner for ready in model.readies(model.unit, 1.0)) if row.pattern else False
    if row.between == "keep":
        if row.depth_mm is not None and not (is_corner and _stands(model)):
            raise InputError("a depth goes with a hollow or a raised edge. Leave it out.", where=where)
        return
    if not _stands(model):
        say = f"between {row.between} goes with motifs that stand on an edge: out from the base or into the opening."
        raise InputError(f"{say} Leave it out.", where=where)
    if is_corner:
        if row.between not in ("flat", "level"):
            say = f"between {row.between} goes from foot to foot, and the {things(model, 2)} stand on their tips."
            raise InputError(f"{say} Take --between flat or level.", where=where, code=NOT_OF_MOTIF)
        return
    if row.between == "level":
        say = f"between level goes with corner motifs, and the {things(model, 2)} stand on their feet."
        raise InputError(f"{say} Take --between flat.", where=where, code=NOT_OF_MOTIF)
    if row.between == "flat" and row.depth_mm is not None:
        raise InputError("a flat edge has no depth. Leave it out.", where=where)
    if row.between != "flat" and row.depth_mm is None:
        raise InputError(f"a {row.between} edge needs a depth, for example --depth 2mm. Write one.", where=where)


def _stands(model: RowModel) -> bool:
    """Whether a row's motifs stand on an edge: out from the base or into the opening."""
    row = model.row
    return (row.place, row.on or ("opening" if row.place == "in" else "base")) in (("out", "base"), ("in", "opening"))
