"""Rows of different lengths in one flat array: row k is the entries first[k] .. first[k + 1] - 1."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from frameforge.geometry.segment_table import Ints

__all__ = ["counted", "following", "from_first", "previous", "row_starts"]


def counted(many: Ints) -> tuple[Ints, Ints]:
    """Return for rows of ``many`` entries the row of every entry and its number (0, 1, ...) within the row."""
    row = np.repeat(np.arange(len(many)), many)
    return row, np.arange(len(row)) - np.repeat(np.cumsum(many) - many, many)


def row_starts(labels: Ints) -> Ints:
    """Return ``first``, one for each row of equal neighbouring labels, with the total at its end."""
    starts = np.flatnonzero(np.concatenate([np.ones(min(len(labels), 1), dtype=bool), np.diff(labels) != 0]))
    return np.concatenate([starts, [len(labels)]]).astype(np.intp)


def following(first: Ints) -> Ints:
    """Return the next entry of each entry's row, the first after the last; no row may be empty."""
    after = np.arange(1, int(first[-1]) + 1)
    after[first[1:] - 1] = first[:-1]
    return after


def previous(first: Ints) -> Ints:
    """Return the entry before each entry of its row, the last before the first; no row may be empty."""
    before = np.arange(-1, int(first[-1]) - 1)
    before[first[:-1]] = first[1:] - 1
    return before


def from_first(first: Ints, is_head: npt.NDArray[np.bool_]) -> Ints:
    """Return an order in which every row, taken as a ring, starts at its first head (or as it stands without one)."""
    sizes = np.diff(first)
    place = np.where(is_head, np.arange(len(is_head)), len(is_head))
    head = np.minimum.reduceat(place, first[:-1])
    shift = np.where(head < len(is_head), head - first[:-1], 0)
    row, within = counted(sizes)
    return np.asarray(first[row] + (within + shift[row]) % sizes[row])
