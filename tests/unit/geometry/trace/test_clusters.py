"""Rows that agree within a tolerance."""

from __future__ import annotations

import numpy as np

from frameforge.geometry.trace.clusters import clusters


def test_rows_that_agree_in_all_columns_share_a_label() -> None:
    x = np.array([1.0, 5.0, 1.0 + 1e-10, 1.0, 5.0])
    y = np.array([2.0, 2.0, 2.0 - 1e-10, 3.0, 2.0])
    label = clusters((x, y), 1e-9)
    assert label[0] == label[2]
    assert label[1] == label[4]
    assert len(set(label.tolist())) == 3


def test_equal_first_columns_do_not_hide_different_second_ones() -> None:
    x, y = np.zeros(1000), np.arange(1000.0)
    assert len(set(clusters((x, y), 0.5).tolist())) == 1000
    assert len(set(clusters((x, y), 1.0).tolist())) == 1


def test_no_rows_have_no_labels() -> None:
    assert clusters((np.zeros(0),), 1).tolist() == []
