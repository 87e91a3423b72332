"""Files of ours in which cards share lines: what lies within such a line is no loose part."""

from __future__ import annotations

from frameforge.errors import FrameforgeError
from frameforge.read.kept_recipe import kept_recipe
from frameforge.recipe.recipe import parse_toml
from frameforge.write.marker import is_marked

__all__ = ["shares_lines"]

_SIGNS = (b"rings", b"inside")
"""One of these stands in every recipe of cards that share lines."""


def shares_lines(data: bytes) -> bool:
    """Whether a file is ours, unchanged, and holds rings, or a frame in one cut with what comes out of its opening."""
    if not any(sign in data for sign in _SIGNS) or not is_marked(data):
        return False
    try:
        tables = parse_toml(kept_recipe(data, where=""), "")
    except FrameforgeError:
        return False
    pieces = tables.get("piece", [])
    is_one_cut = len(pieces) == 1 and "inside" in pieces[0] and not {"clearance", "layer"} & set(pieces[0])
    return bool(tables.get("rings")) or is_one_cut
