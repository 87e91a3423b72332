"""What a piece is called when the maker leaves its name out: motif, count and size."""

from __future__ import annotations

from collections.abc import Collection

from frameforge.frame.piece import Piece
from frameforge.frame.wording import size_words

__all__ = ["default_name", "free_name"]


def default_name(piece: Piece) -> str:
    """Return a name such as "arch-17-on-100mm", "pea-pod-bean-leaf-12-on-150x100mm" or "plain-80mm"."""
    size = size_words(piece.size)
    if not piece.rows:
        return f"plain-{size}"
    row = piece.rows[0]
    motif = "-".join(dict.fromkeys(row.motif_name.replace("+", " ").split()))
    return f"{motif}-{row.count}-on-{size}"


def free_name(name: str, taken: Collection[str]) -> str:
    """Return ``name``, numbered from 2 when it is taken in any mixture of capitals and small letters."""
    used = {other.casefold() for other in taken}
    free, number = name, 1
    while free.casefold() in used:
        number += 1
        free = f"{name}-{number}"
    return free
