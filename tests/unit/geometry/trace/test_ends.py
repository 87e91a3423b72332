"""The ends of runs: who follows whom among the living, and how runs are joined, cut back or found to be crumbs."""

from __future__ import annotations

import numpy as np
import pytest

from frameforge.geometry.shapes import rectangle
from frameforge.geometry.trace import ends as ends_module
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.ends import Ends
from frameforge.geometry.trace.joints import Places, Rules
from frameforge.geometry.trace.runs import Runs
from frameforge.geometry.trace.source import Source

SOURCE = Source.from_chains(Chains.from_segments([rectangle(0, 0, 10, 5).segments]), 0.01)


def _ends(*stretches: tuple[float, float], lives: str = "") -> Ends:
    """Ends of runs along the bottom of the rectangle, from x to x; joints where they are."""
    many = len(stretches)
    start, stop = (np.array([stretch[i] for stretch in stretches]) for i in (0, 1))
    row = np.zeros(many, dtype=np.intp)
    no = np.zeros(many, dtype=bool)
    return Ends(
        Places(row, start / 10), Places(row.copy(), stop / 10), np.abs(stop - start) / 10,
        start + 0j, stop + 0j, np.array([c == "1" for c in lives or "1" * many]),
        no, no.copy(), no.copy(), np.zeros(many),
    )  # fmt: skip


def test_the_next_living_run_of_a_ring_goes_round() -> None:
    ends = _ends(*[(0, 1)] * 7, lives="1011101")
    assert ends.next_living(np.array([0, 0, 0, 1, 1, 1, 2])).tolist() == [2, -1, 0, 4, 3, -1, 6]
    assert _ends((0, 1), (1, 2), lives="00").next_living(np.array([0, 0])).tolist() == [-1, -1]


def _runs(ends: Ends, chain: list[int], way: list[int]) -> Runs:
    many = len(chain)
    ring = np.zeros(many, dtype=np.intp)
    given = {
        "ring": ring, "chain": np.array(chain), "way": np.array(way), "begin": ends.begin, "finish": ends.finish,
        "length": ends.length, "is_whole": ends.is_whole, "from_segment": ring, "to_segment": ring,
        "from_t": ends.start.t, "to_t": ends.stop.t,
    }  # fmt: skip
    return Runs(**{name: given[name] for name in Runs.__slots__})


def test_a_run_that_starts_where_another_ends_is_next_to_it_on_the_same_chain_only() -> None:
    ends = _ends((0, 4), (4, 9), (4 + 0.9e-8, 9), (4 + 1.1e-8, 9), (6, 4))
    runs = _runs(ends, [0, 0, 0, 0, 0], [1, 1, 1, 1, -1])
    apart = [ends_module._apart(ends, runs, 0, k, SOURCE) for k in range(1, 4)]
    assert apart[0] == 0
    assert apart[1] == pytest.approx(0.9e-9)
    assert apart[2] is None
    elsewhere = _runs(ends, [0, 1, -1, 0, 0], [1, 1, 1, 1, -1])
    assert [ends_module._apart(ends, elsewhere, 0, k, SOURCE) for k in (1, 2)] == [None, None]
    lost = _runs(ends, [-1, -1, 0, 0, 0], [1, 1, 1, 1, -1])
    assert ends_module._apart(ends, lost, 0, 1, SOURCE) is None


def test_a_run_that_goes_on_as_another_takes_its_end() -> None:
    ends = _ends((0, 4), (4, 9), (9, 10))
    ends.is_crossing[1], ends.miss[1] = True, 0.25
    ends_module._make_one(ends, _runs(ends, [0, 0, 0], [1, 1, 1]), 0, 1, 0.01)
    assert ends.lives.tolist() == [True, False, True]
    assert ends.length[0] == pytest.approx(0.4 + 0.5 + 0.01)
    assert (ends.stop.t[0], ends.finish[0]) == (0.9, 9)
    assert (ends.is_crossing[0], ends.miss[0]) == (True, 0.25)
    ends_module._make_one(ends, _runs(ends, [0, 0, 0], [1, 1, 1]), 2, 2, 0.0)
    assert ends.is_whole.tolist() == [False, False, True]
    back = _ends((4, 2), (2, 0))
    ends_module._make_one(back, _runs(back, [0, 0], [-1, -1]), 0, 1, 0.01)
    assert back.length[0] == pytest.approx(0.2 + 0.2 - 0.01)


def test_of_two_runs_that_lie_on_each_other_the_longer_is_left_without_the_shorter() -> None:
    ends = _ends((0, 6), (6, 2), (2, 9))
    runs = _runs(ends, [0, 0, 0], [1, -1, 1])
    assert ends_module._cut_back(ends, runs, 0, 1) == 0
    assert ends.lives.tolist() == [True, False, True]
    assert (ends.length[0], ends.stop.t[0], ends.finish[0]) == (pytest.approx(0.2), 0.2, 2)
    other = _ends((9, 9.5), (2, 4), (4, 0))
    runs = _runs(other, [0, 0, 0], [1, 1, -1])
    assert ends_module._cut_back(other, runs, 1, 2) == 0
    assert other.lives.tolist() == [True, False, True]
    assert (other.length[2], other.start.t[2], other.begin[2]) == (pytest.approx(0.2), 0.2, 2)


def test_crumbs_are_runs_of_no_length_and_lost_edges_too_short() -> None:
    """Within a joint's distance, or backwards; lost edges by the rule."""
    ends = _ends((0, 4), (4, 4 + 0.9e-9), (4, 4 + 1.2e-9), (5, 5.1), (5, 5.3), (7, 7.1), (8, 9))
    ends.length[0] = -0.1
    ends.lives[5] = False
    runs = _runs(ends, [0, 0, 0, -1, -1, -1, 0], [1] * 7)
    assert ends_module._crumbs(ends, runs, SOURCE, Rules(crumb_mm=0.2)).tolist() == [0, 1, 3]
    assert ends_module._crumbs(ends, runs, SOURCE, Rules(crumb_mm=0.0)).tolist() == [0, 1]
    ends.is_whole[0] = True
    assert ends_module._crumbs(ends, runs, SOURCE, Rules(crumb_mm=0.2)).tolist() == [1, 3]
    curled = _ends((0, 0))
    curled.length[0] = 0.4
    assert ends_module._crumbs(curled, _runs(curled, [0], [1]), SOURCE, Rules(crumb_mm=0.2)).tolist() == []
