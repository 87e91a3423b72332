"""What a piece is called when the maker leaves its name out: motif, count, place and size."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence
from typing import Final

from frameforge.frame.piece import Piece, RowResult
from frameforge.frame.spec import Place, Size
from frameforge.frame.wording import size_words

__all__ = ["default_name", "file_stem", "file_word", "free_name", "rings_name"]

_PLACES: Final[Mapping[Place, str]] = {"out": "", "in": "-inwards", "window": "-windows", "across": "-across"}
_NOT_IN_FILES: Final = re.compile(r'[\x00-\x1f\x7f-\x9f\s/\\:*?"<>|]+')
_MOST_BYTES: Final = 80
_UNPRINTED: Final = re.compile(r"[\x00-\x1f\x7f-\x9f\ud800-\udfff]+")
_MOST_STEM_BYTES: Final = 120
"""Disks take 255 bytes, and an ending of ours follows."""


def default_name(piece: Piece) -> str:
    """Return a name such as "arch-17-on-100mm", "pea-pod-bean-leaf-12-on-150x100mm" or "plain-80mm".

    Every row stands in it, and where it goes unless that is out: "arch-12-scallop-12-windows-on-100mm"; so does a bent
    seat: "arch-17-bent-on-100mm", and a fold: "arch-8-on-100mm-fold".
    """
    size = size_words(piece.size) + ("-fold" if piece.tent else "")
    if not piece.rows:
        return f"plain-{size}"
    return f"{'-'.join(map(_row_words, piece.rows))}-on-{size}"


def rings_name(sizes: Sequence[Size], rows: Sequence[RowResult]) -> str:
    """Return a name such as "rings-60-140mm" or "arch-24-on-rings-60-140mm"; ``sizes`` go from the smallest up."""
    span = f"rings-{size_words(sizes[0]).removesuffix('mm')}-{size_words(sizes[-1])}"
    return f"{'-'.join(map(_row_words, rows))}-on-{span}" if rows else span


def _row_words(row: RowResult) -> str:
    """Return what a row adds to the name."""
    motif = "-".join(dict.fromkeys(map(file_word, row.motif_name.split("+"))))
    return f"{motif}-{row.count}{_PLACES[row.place]}{'-bent' if row.seat == 'bent' else ''}"


def file_word(name: str) -> str:
    """Return the name of a motif as a part of a file name: signs and blanks that files cannot have become "-".

    Drawings are called by whatever their files are called, elsewhere and in any encoding.
    """
    known = name.encode("utf-8", "replace")[:_MOST_BYTES].decode("utf-8", "ignore")
    return _NOT_IN_FILES.sub("-", known).strip("-.") or "motif"


def file_stem(name: str) -> str:
    """Return what files about a file are called: its own name, cut to 120 bytes where it is longer.

    Control signs and letters in another encoding, which are in no text that we write, become "-".
    """
    plain = _UNPRINTED.sub("-", name).encode("utf-8")[:_MOST_STEM_BYTES]
    return plain.decode("utf-8", "ignore")


def free_name(name: str, taken: Collection[str]) -> str:
    """Return ``name``, numbered from 2 when it is taken in any mixture of capitals and small letters."""
    used = {other.casefold() for other in taken}
    free, number = name, 1
    while free.casefold() in used:
        number += 1
        free = f"{name}-{number}"
    return free
