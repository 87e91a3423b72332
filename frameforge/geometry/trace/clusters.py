"""Rows of numbers that agree within a tolerance, found by sorting."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from frameforge.geometry.segment_table import Floats, Ints

__all__ = ["clusters"]


def clusters(columns: Sequence[Floats], tolerance: float) -> Ints:
    """Return a label (0, 1, ...) for every row; rows whose numbers agree in all columns share their label.

    Column after column each cluster is sorted and cut where neighbours differ by more than ``tolerance``. Rows can be
    linked by others between them, so a cluster may be wider than ``tolerance``; with tolerances far below the
    distances that occur in drawings this does not happen. Cost: one sort a column.
    """
    label = np.zeros(len(columns[0]), dtype=np.intp)
    for column in columns:
        order = np.lexsort((column, label))
        is_new = np.ones(len(order), dtype=bool)
        is_new[1:] = (np.diff(label[order]) != 0) | (np.diff(column[order]) > tolerance)
        label[order] = np.cumsum(is_new) - 1
    return label
