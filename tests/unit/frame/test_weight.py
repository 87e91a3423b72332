"""What a pair of outlines costs by how much is drawn in them."""

from __future__ import annotations

import pytest
from fixtures.plain_motifs import arch

from frameforge.frame.ornament import ready
from frameforge.frame.profile import Profile
from frameforge.frame.spec import Ornament
from frameforge.frame.weight import drawn_weight
from frameforge.geometry.outline import Outline


def comb(teeth: int) -> Profile:
    """Return the profile of a comb with so many teeth, two lines each."""
    points = [complex(k, 3 * (k % 2)) for k in range(2 * teeth)]
    return Profile.from_outlines((Outline.from_points([*points, complex(2 * teeth, -1), -1j]),))


def test_usual_motifs_weigh_nothing_extra() -> None:
    one = ready(Ornament(arch()), 1.0, is_flipped=False).profile
    assert drawn_weight(one, one) == 1


def test_what_is_drawn_of_many_lines_weighs_by_its_pairs() -> None:
    large = comb(600)
    weight = drawn_weight(large, large)
    assert weight > 10
    assert drawn_weight(comb(1200), large) == pytest.approx(2 * weight, rel=0.01)
