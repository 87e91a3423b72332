"""Newton on the distance of two curves: from any start it ends nearer, and where nothing nearer lies beside."""

from __future__ import annotations

import numpy as np
from fixtures.plain_motifs import drop, leaf

from frameforge.frame import closest
from frameforge.frame.closest import Contacts, closest_on_curves
from frameforge.frame.crowd import Crowd, Standing
from frameforge.frame.profile import Profile


def test_from_any_start_no_step_leads_further_away() -> None:
    """Starts anywhere on two outlines that stand apart, also where the curves turn away from each other."""
    one, two = (Profile.from_outlines([motif.join[0].outer]) for motif in (leaf(), drop()))
    a, b = Crowd.from_standings([Standing(one, 1, 0j)]), Crowd.from_standings([Standing(two, 1j, 40 + 3j)])
    chance = np.random.default_rng(4)
    count = 400
    pair = np.zeros(count, dtype=np.intp)
    on_a, on_b = (chance.integers(0, len(side.is_arc), count) for side in (one, two))
    s, t = chance.random(count), chance.random(count)
    before = np.abs(a.curve(pair, on_a, s)[0] - b.curve(pair, on_b, t)[0])
    p, q = closest_on_curves(a, b, Contacts(pair, on_a, s, on_b, t))
    after = np.abs(p - q)
    assert (after <= before * (1 + 1e-9)).all()
    # Places a little along either segment are no nearer.
    for k in range(0, count, 40):
        only = np.full(33, 0)
        reach = np.linspace(0, 1, 33)
        along_a = a.curve(only, np.full(33, on_a[k]), reach)[0]
        beside = along_a[np.abs(along_a - p[k]) < 0.05]
        assert (np.abs(beside - q[k]) >= after[k] - 1e-9).all()


def test_curves_of_no_length_take_no_step() -> None:
    nothing, middle = np.zeros(2, dtype=np.complex128), np.full(2, 0.5)
    here = (np.full(2, 1 + 1j), nothing, nothing, nothing, nothing, nothing)
    step_s, step_t = closest._newton_step(here, middle, middle)
    assert [*step_s, *step_t] == [0, 0, 0, 0]
