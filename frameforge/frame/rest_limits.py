"""What a rest goes with and does not: numbers to be found that would close the row, zones and positions left out."""

from __future__ import annotations

from frameforge.errors import InputError
from frameforge.frame.model import RowModel
from frameforge.frame.spec import RowSpec, Size

__all__ = ["check_rest", "check_seam"]


def check_rest(model: RowModel, size: Size | None) -> Size:
    """Return the size of the base on which a rest is left. Raises InputError where the row leaves none."""
    row, where = model.row, model.spec.name
    say = 'where the {} is to be found the row closes without a rest. Leave out rest, or write "spread".'
    if size is None:
        raise InputError(say.format("size"), where=where)
    if row.gap_mm == "find":
        raise InputError(say.format("gap"), where=where)
    if row.scale == "find" or row.foot_mm == "find":
        raise InputError(say.format("scale"), where=where)
    if row.keep_free is not None:
        say = "a zone kept free and a rest do not go together, the row is open there. Leave out keep_free or rest."
        raise InputError(say, where=where)
    if row.rest == "filler":
        _check_filler(model)
    return size


def check_seam(row: RowSpec, where: str) -> None:
    """Refuse a seam without a rest, which would be left out without a word. Raises InputError."""
    if row.seam_deg is not None and row.rest is None:
        say = 'a seam is where a rest lies. Write rest "filler" with it, or leave it out.'
        raise InputError(say, where=where, seam_deg=row.seam_deg)


def _check_filler(model: RowModel) -> None:
    """Refuse what leaves no place for a filler."""
    row, where = model.row, model.spec.name
    if row.skip:
        say = "positions left out and a filler do not go together, the row is open there. Leave out skip or rest."
        raise InputError(say, where=where)
    if row.spread in ("equal-arc", "equal-chord"):
        say = f"spread {row.spread} and a filler do not go together: with a rest all gaps are alike. Leave out spread."
        raise InputError(say, where=where)
