"""The motif that fills a seam."""

from __future__ import annotations

import math

import pytest
from fixtures.plain_motifs import disc, drop, husk, leaf, plain_rectangle, pod
from fixtures.rows import D100, model_of

from frameforge.frame import filler
from frameforge.frame.chain import Chain, chain_of, longest_chain
from frameforge.frame.filler import Filler, closes_evenly, filled, largest_filler, ranked
from frameforge.frame.model import RowModel
from frameforge.frame.ornament import ready
from frameforge.frame.spec import Ornament, Size
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.motif.motif import Motif

OVAL = Size(150, 100)


def stepped(model: RowModel, size: Size, gap_mm: float) -> Chain:
    chain = longest_chain(model, size, 1.0, gap_mm)
    assert chain is not None
    return chain


def test_a_leaning_filler_stands_off_the_middle_with_both_gaps_alike() -> None:
    model = model_of(leaf())
    chain = stepped(model, OVAL, 3.0)
    filler = largest_filler(model, chain, pod())
    assert filler is not None
    assert filler.gaps_mm == pytest.approx((3, 3), abs=1e-10)
    assert abs(math.remainder(filler.tau - math.pi, math.tau)) > 0.005


def test_a_little_larger_it_would_stand_too_near() -> None:
    model = model_of(husk())
    chain = stepped(model, OVAL, 1.5)
    filler = largest_filler(model, chain, disc())
    assert filler is not None
    for factor, is_wide in ((0.999, True), (1.001, False)):
        made = ready(Ornament(disc()), filler.scale * factor, is_flipped=False)
        layout = filled(chain, Filler(disc(), made, filler.tau, filler.gaps_mm))
        assert layout.gaps[-1] is not None
        assert (layout.gaps[-1].gap_mm > 1.5) is is_wide


def test_what_is_measured_with_it_in_place_is_the_gap_all_round() -> None:
    model = model_of(leaf())
    chain = stepped(model, OVAL, 3.0)
    layout = filled(chain, largest_filler(model, chain, drop()))
    assert len(layout.seats) == chain.count + 1
    assert all(abs(gap.gap_mm - 3.0) < 1e-9 for gap in layout.gaps if gap)
    assert None not in layout.gaps


def test_a_seam_too_narrow_for_a_foot_is_filled_by_nothing() -> None:
    model = model_of(plain_rectangle(18))
    chain = stepped(model, Size(97.0, 97.0), 2.0)
    assert chain.seam_gap_mm < 2 * 2 + model.preset.least_neck_mm
    assert largest_filler(model, chain, husk()) is None
    assert ranked(model, chain, [husk(), drop()]) == ()


def test_windows_are_filled_by_their_middle() -> None:
    model = model_of(disc(4), place="window", inset_mm=8.0)
    chain = stepped(model, D100, 3.1)
    filler = largest_filler(model, chain, disc(10))
    assert filler is not None
    layout = filled(chain, filler)
    assert layout.gap_mm == pytest.approx(3.1, abs=1e-9)
    placed = layout.track.placement(filler.ready, layout.seats[-1])
    assert abs(placed.apply(1j * 10 * filler.scale)) == pytest.approx(42.0, abs=1e-9)


def test_a_seam_that_is_a_gap_closes_evenly() -> None:
    size = Size(102.339179826692, 102.339179826692)
    assert closes_evenly(stepped(model_of(plain_rectangle(18)), size, 2.0))
    assert not closes_evenly(chain_of(model_of(plain_rectangle(18)), D100, 14, 1.0, 2.0))


def test_feet_are_filled_by_feet() -> None:
    model = model_of(plain_rectangle(18), foot_gap_mm=2.0)
    chain = stepped(model, D100, 2.0)
    assert largest_filler(model, chain, disc()) is None


def test_between_feet_nothing_stands_in_its_neighbours_above_them() -> None:
    """A mushroom fits by its foot and not by its hat."""
    model = model_of(plain_rectangle(18), foot_gap_mm=2.0)
    chain = stepped(model, D100, 2.0)
    hat = Region(Outline.from_points([-3 + 0j, 3 + 0j, 3 + 4j, 12 + 4j, 12 + 6j, -12 + 6j, -12 + 4j, -3 + 4j]))
    assert largest_filler(model, chain, Motif("mushroom", (hat,), 6.0)) is None
    assert largest_filler(model, chain, husk()) is not None


def test_corner_motifs_fill_nothing() -> None:
    corner = Motif("corner", (), 8.0, cut_away=(Region(rectangle(-4, -4, 4, 0.3)),))
    model = model_of(leaf())
    chain = stepped(model, OVAL, 3.0)
    assert [filler.motif.name for filler in ranked(model, chain, [corner, drop()])] == ["drop"]


def test_without_a_filler_the_seam_stays_as_it_is() -> None:
    chain = stepped(model_of(plain_rectangle(18)), D100, 2.0)
    laid = filled(chain, None)
    assert len(laid.seats) == chain.count
    assert laid.gap_max_mm == pytest.approx(chain.seam_gap_mm, abs=1e-9)


def test_place_and_scale_of_a_filler_are_found_at_once() -> None:
    """By Newton from near; none where it comes to stand beyond its neighbours."""
    model = model_of(leaf())
    chain = stepped(model, OVAL, 3.0)
    seam, wanted = filler._Seam(model, chain, drop()), largest_filler(model, chain, drop())
    assert wanted is not None
    found = seam.solved(wanted.scale * 1.05)
    assert found is not None
    assert (found.scale, found.tau) == pytest.approx((wanted.scale, wanted.tau), abs=1e-9)
    assert found.gaps_mm == pytest.approx((3.0, 3.0), abs=1e-10)


def test_what_comes_out_smaller_than_the_least_scale_is_looked_for_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    model = model_of(leaf())
    chain = stepped(model, OVAL, 3.0)
    wanted = largest_filler(model, chain, drop())
    assert wanted is not None
    tiny = ready(Ornament(drop()), 1e-3, is_flipped=False)
    monkeypatch.setattr(filler._Seam, "solved", lambda self, scale: Filler(drop(), tiny, wanted.tau, (9.0, 9.0)))
    found = largest_filler(model, chain, drop())
    assert found is not None
    assert found.scale == pytest.approx(wanted.scale, abs=1e-9)
