"""Equal repeats mended once: the same as when each is mended on its own, and only where they are equal."""

from __future__ import annotations

from collections import Counter

import numpy as np
import pytest
from fixtures.mending import KNIFE, limits

from frameforge.geometry.affine import Affine
from frameforge.geometry.combine import difference, evaluate, union
from frameforge.geometry.measure import area_mm2
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle
from frameforge.mend import whole
from frameforge.mend.codes import ALL_CODES
from frameforge.mend.once import mended_once
from frameforge.mend.patch import Mended
from frameforge.mend.remedies import STEPS
from frameforge.mend.view import View
from frameforge.mend.whole import MOST_ROUNDS, mend_piece


def stalks(count: int, hole_mm: float = 0.0) -> Region:
    """Return a ring of 50 with discs on thin stalks, and a hole of so much across in each disc."""
    parts, holes = [Region(circle(0, 50), (circle(0, 35).reversed(),))], []
    for k in range(count):
        turn = Affine(np.exp(2j * np.pi * (k + 0.2) / count))
        parts += [part.transformed(turn) for part in (Region(rectangle(48, -0.6, 56, 0.6)), Region(circle(58, 3.5)))]
        holes += [Region(circle(turn.apply(58), hole_mm / 2))] if hole_mm else []
    return evaluate(difference(union(*parts), *holes) if holes else union(*parts)).regions[0]


def one_by_one(piece: Region, monkeypatch: pytest.MonkeyPatch) -> Mended:
    """Return the piece mended place by place."""
    with monkeypatch.context() as patched:
        patched.setattr(whole, "mended_once", lambda *_, **__: None)
        return mend_piece([piece], KNIFE, ALL_CODES)


def test_equal_repeats_come_out_as_when_each_is_mended_on_its_own(monkeypatch: pytest.MonkeyPatch) -> None:
    piece = stalks(12, 1.0)
    assert mended_once(View.from_regions([piece], KNIFE), ALL_CODES, STEPS, MOST_ROUNDS, joins_parts=True) is not None
    at_once, slowly = mend_piece([piece], KNIFE, ALL_CODES), one_by_one(piece, monkeypatch)
    assert Counter(change.code for change in at_once.changes) == Counter(change.code for change in slowly.changes)
    assert at_once.left == ()
    assert area_mm2(at_once.regions) == pytest.approx(area_mm2(slowly.regions), abs=0.01)
    difference_mm2 = [area_mm2(evaluate(difference(*pair)).regions) for pair in (
        (at_once.regions[0], slowly.regions[0]), (slowly.regions[0], at_once.regions[0]))]  # fmt: skip
    assert max(difference_mm2) < 0.05


def test_what_all_repeats_took_is_what_the_piece_grew_by() -> None:
    piece = stalks(16, 1.0)
    mended = mend_piece([piece], KNIFE, ALL_CODES)
    grown = sum(change.added_mm2 - change.removed_mm2 for change in mended.changes)
    assert grown == pytest.approx(area_mm2(mended.regions) - area_mm2(piece), abs=1e-6)
    for code in {change.code for change in mended.changes}:
        added = [change.added_mm2 for change in mended.changes if change.code == code]
        assert len(added) == 16
        assert max(added) - min(added) < 0.01


def test_each_repeat_is_told_once_and_at_its_own_place() -> None:
    mended = mend_piece([stalks(16)], KNIFE, ("thin-neck",))
    angles = sorted(np.angle([change.at for change in mended.changes]))
    assert len(angles) == 16
    assert np.ptp(np.diff(angles)) < 1e-6


def test_a_repeat_that_differs_is_mended_as_it_is(monkeypatch: pytest.MonkeyPatch) -> None:
    piece = evaluate(difference(stalks(12), Region(circle(45, 0.5)))).regions[0]
    assert mended_once(View.from_regions([piece], KNIFE), ALL_CODES, STEPS, MOST_ROUNDS, joins_parts=True) is None
    mended = mend_piece([piece], KNIFE, ALL_CODES)
    assert Counter(change.code for change in mended.changes) == {"thin-neck": 12, "small-hole": 1}
    assert mended.left == ()


def test_a_web_all_round_the_piece_is_no_repeat() -> None:
    parts = [Region(circle(0, 40), (circle(0, 38.8).reversed(),))]
    parts += [Region(circle(40 * np.exp(2j * np.pi * k / 12), 4)) for k in range(12)]
    piece = evaluate(union(*parts)).regions[0]
    view = View.from_regions([piece], limits(30.0))
    assert mended_once(view, ("thin-web",), STEPS, MOST_ROUNDS, joins_parts=True) is None
