"""A whole mend: what is left alone, what is counted, how often it goes over a piece."""

from __future__ import annotations

from functools import partial

import numpy as np
import pytest
from fixtures.mending import KNIFE, codes_left, limits
from fixtures.planted import clean

from frameforge.geometry.affine import Affine
from frameforge.geometry.measure import area_mm2
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle
from frameforge.mend.codes import ALL_CODES, MENDABLE
from frameforge.mend.patch import Change, Patch
from frameforge.mend.remedies import Remedy
from frameforge.mend.step import take_step
from frameforge.mend.view import View
from frameforge.mend.whole import _each_place_once, mend_piece


def stalks(count: int, wide: float = 1.2) -> Region:
    """Return a ring of 50 with leaves on stalks."""
    from frameforge.geometry.combine import evaluate, union

    parts: list[Region] = [Region(circle(0, 50), (circle(0, 35).reversed(),))]
    for k in range(count):
        turn = Affine(np.exp(2j * np.pi * k / count))
        leaf = Region(rectangle(48, -wide / 2, 56, wide / 2)), Region(circle(58, 3.5))
        parts += [part.transformed(turn) for part in leaf]
    return evaluate(union(*parts)).regions[0]


def test_a_sound_piece_comes_back_as_it_is() -> None:
    piece = clean(1)
    mended = mend_piece([piece], limits(1.5, 1.0, 2.0), ALL_CODES)
    assert mended.regions[0] is piece
    assert (mended.changes, mended.rounds) == ((), 0)


def test_nothing_is_mended_that_was_not_asked_for() -> None:
    piece = stalks(6)
    assert mend_piece([piece], KNIFE, ()).regions == (piece,)
    assert mend_piece([piece], KNIFE, ("narrow-slot", "spike")).regions == (piece,)
    assert mend_piece([], KNIFE, ALL_CODES).regions == ()


def test_all_leaves_waste_crumbs_alone() -> None:
    assert set(MENDABLE) - set(ALL_CODES) == {"waste-crumb"}


def test_twenty_four_stalks_are_mended_alike() -> None:
    piece = stalks(24)
    mended = mend_piece([piece], KNIFE, ("thin-neck",))
    assert (len(mended.changes), mended.left, mended.rounds) == (24, (), 1)
    added = [change.added_mm2 for change in mended.changes]
    assert max(added) - min(added) < 0.01, "shares are measured on chords"
    assert sum(added) == pytest.approx(area_mm2(mended.regions) - area_mm2(piece), abs=1e-9)
    assert mended.regions[0].holes == piece.holes


def test_a_trial_mends_the_same_places_and_makes_no_edge_clean(monkeypatch: pytest.MonkeyPatch) -> None:
    piece = stalks(4)
    done = mend_piece([piece], KNIFE, ("thin-neck",))
    monkeypatch.delattr("frameforge.mend.whole._made_clean")
    tried = mend_piece([piece], KNIFE, ("thin-neck",), is_trial=True)
    assert (len(tried.changes), tried.left, tried.rounds) == (4, (), done.rounds)
    with pytest.raises(NameError):
        mend_piece([piece], KNIFE, ("thin-neck",))


def test_mending_again_changes_nothing() -> None:
    once = mend_piece([stalks(5)], KNIFE, ALL_CODES)
    twice = mend_piece(once.regions, KNIFE, ALL_CODES)
    assert twice.changes == ()
    assert twice.regions == once.regions


@pytest.mark.parametrize("seed", range(3))
def test_a_turned_piece_is_mended_to_the_same_shape(seed: int) -> None:
    rng = np.random.default_rng(seed)
    turn = Affine(np.exp(1j * rng.uniform(0, 6.28)), 0, complex(*rng.uniform(-50, 50, 2)))
    one = mend_piece([stalks(3)], KNIFE, ALL_CODES)
    two = mend_piece([stalks(3).transformed(turn)], KNIFE, ALL_CODES)
    assert area_mm2(two.regions) == pytest.approx(area_mm2(one.regions), abs=1e-3)
    assert [change.code for change in two.changes] == [change.code for change in one.changes]


def test_what_cannot_be_mended_is_told() -> None:
    """A single crumb is all there is: it is never left out, so its thin card is what remains to be told."""
    twig = Region(rectangle(0, 0, 30, 0.4))
    mended = mend_piece([twig], KNIFE, ("card-crumb", "narrow-slot"))
    assert (mended.changes, mended.left) == ((), ())
    assert codes_left(mended.regions, KNIFE) == ["thin-finger"]


def test_of_two_ways_the_one_that_leaves_less_stays_and_what_is_alike_is_mended_alike() -> None:
    piece = Region(rectangle(-40, -20, 40, 20), tuple(circle(x, 0.6).reversed() for x in (-30, 0, 30)))
    view = View.from_regions([piece], KNIFE)

    def nothing_helps(at: complex) -> Patch:
        return Patch(adds=(Region(circle(at + 15j, 0.4)),))

    remedies = [
        Remedy("small-hole", x + 0j, 1.2, (partial(nothing_helps, x + 0j), partial(Patch, fills=(hole,))))
        for x, hole in zip((-30, 0, 30), piece.holes, strict=True)
    ]
    after, changes = take_step(view, remedies, ("small-hole",))
    assert after.regions[0].holes == ()
    assert [change.added_mm2 for change in changes] == pytest.approx([np.pi * 0.36] * 3)


def test_order_of_the_changes_is_the_order_of_the_work() -> None:
    spike = Outline.from_points([-30 - 20j, 30 - 20j, 30 + 20j, 0.5 + 20j, 30j, -0.5 + 20j, -30 + 20j])
    piece = Region(spike, (circle(-20, 0.8).reversed(),))
    mended = mend_piece([piece], KNIFE, ALL_CODES)
    assert [change.code for change in mended.changes][:2] == ["spike", "small-hole"]
    assert mended.left == ()


def test_a_place_gone_over_twice_is_told_once() -> None:
    twice = [
        Change("thin-web", 10 + 5j, 1.0, 0.0),
        Change("narrow-slot", 10 + 5j, 0.0, 0.5),
        Change("thin-web", 10.0001 + 5j, 0.25, 0.125),
        Change("thin-web", 12 + 5j, 2.0, 0.0),
    ]
    assert _each_place_once(twice) == (
        Change("thin-web", 10 + 5j, 1.25, 0.125),
        twice[1],
        twice[3],
    )
