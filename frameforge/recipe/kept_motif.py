"""A motif as text that gives the very same curves back: the form in which a recipe keeps the maker's own motifs."""

from __future__ import annotations

from frameforge.errors import InputError
from frameforge.motif.motif import Motif
from frameforge.recipe.exact_curves import read_regions, region_words
from frameforge.recipe.model import MotifTable

__all__ = ["kept_motif", "read_motif"]


def kept_motif(motif: Motif) -> dict[str, object]:
    """Return the table that keeps a motif; ``read_motif`` gives the same motif back but for its notes."""
    table: dict[str, object] = {"foot": motif.foot_mm, "sink": motif.sink_mm, "stated": motif.is_foot_stated}
    for key, regions in (("join", motif.join), ("cut_away", motif.cut_away), ("window", motif.window)):
        if regions:
            table[key] = [region_words(region) for region in regions]
    return table


def read_motif(name: str, table: MotifTable, where: str) -> Motif:
    """Return the motif of a kept table. Raises InputError when it was changed so that it holds no motif."""
    try:
        return Motif(
            name=name,
            join=read_regions(table.join),
            foot_mm=table.foot,
            cut_away=read_regions(table.cut_away),
            window=read_regions(table.window),
            sink_mm=table.sink,
            is_foot_stated=table.stated,
        )
    except (ValueError, IndexError) as caught:
        say = f"the motif {name} that is kept in this recipe was changed and cannot be read. Name its SVG file instead."
        raise InputError(say, where=where, code="kept-motif") from caught
