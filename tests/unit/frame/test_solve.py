"""The unknown of size, count, gap and scale, against chord geometry: bars round a circle, D sin(pi/n - asin(w/D))."""

from __future__ import annotations

import math

import pytest
from fixtures.plain_motifs import arch, leaf, plain_rectangle, pod
from fixtures.rows import D100, model_of

from frameforge.frame.solve import count_for, growth_of, scale_for, size_for
from frameforge.frame.spec import PieceSpec, Size
from frameforge.motif.catalogue import load_motif


def bar_gap(diameter: float, count: int, width: float) -> float:
    return diameter * math.sin(math.pi / count - math.asin(width / diameter))


def test_a_given_size_keeps_its_proportion() -> None:
    grow, least = growth_of(PieceSpec("x", "find"), Size(150, 100))
    assert (grow(75.0), least) == (Size(75, 50), 0.0)


def test_growth_by_ratio_by_sum_and_as_a_circle() -> None:
    assert growth_of(PieceSpec("x", "find", ratio=1.25), None)[0](100.0) == Size(100, 80)
    assert growth_of(PieceSpec("x", "find"), None)[0](90.0) == Size(90, 90)
    grow, least = growth_of(PieceSpec("x", "find", grow_from=Size(150, 100)), None)
    assert (grow(120.0), least) == (Size(120, 70), 50.0)


@pytest.mark.parametrize(("width", "gap"), [(6.0, 0.0), (6.0, 2.0), (11.0, 1.5), (30.0, 5.0), (60.0, 30.0)])
def test_the_count_is_the_greatest_that_holds(width: float, gap: float) -> None:
    count = count_for(model_of(plain_rectangle(width, 4)), D100, 1.0, gap)
    assert bar_gap(100, count, width) >= gap - 1e-9
    assert bar_gap(100, count + 1, width) < gap


def test_a_ring_that_just_closes_keeps_its_last_one() -> None:
    width = 100 * math.sin(math.pi / 12)
    assert count_for(model_of(plain_rectangle(width, 4)), D100, 1.0, 0.0) == 12


def test_counts_are_whole_patterns_and_0_where_none_goes() -> None:
    mirrored = model_of(pod(), is_mirrored_every_other=True)
    count = count_for(mirrored, D100, 1.0, 2.0)
    assert count % 2 == 0
    assert mirrored.clearance_mm(D100, count, 1.0) >= 2 > mirrored.clearance_mm(D100, count + 2, 1.0)
    assert count_for(model_of(plain_rectangle(120, 4)), D100, 1.0, 2.0) == 0


@pytest.mark.parametrize(("count", "width", "gap"), [(12, 16.0, 2.0), (5, 20.0, 0.0), (40, 3.0, 1.0)])
def test_the_size_found_has_the_gap(count: int, width: float, gap: float) -> None:
    size = size_for(model_of(plain_rectangle(width, 4)), growth_of(PieceSpec("x", "find"), None), count, 1.0, gap)
    assert size is not None
    assert size.is_circle
    assert bar_gap(size.width_mm, count, width) == pytest.approx(gap, abs=1e-8)


def test_an_oval_found_has_its_ratio_and_the_gap() -> None:
    model = model_of(arch())
    size = size_for(model, growth_of(PieceSpec("x", "find", ratio=1.5), None), 14, 1.0, 3.0)
    assert size is not None
    assert size.width_mm / size.height_mm == pytest.approx(1.5)
    assert model.clearance_mm(size, 14, 1.0) == pytest.approx(3.0, abs=1e-8)


def test_the_scale_found_has_the_gap() -> None:
    scale = scale_for(model_of(plain_rectangle(10, 4)), D100, 20, 2.0)
    assert scale is not None
    assert bar_gap(100, 20, 10 * scale) == pytest.approx(2.0, abs=1e-8)


def test_a_crowd_that_does_not_go_round_an_oval_is_seen_without_solving_it() -> None:
    """2000 bars stand in each other by about what they do on as long a circle, and that is found at once."""
    model, oval = model_of(plain_rectangle(16, 4)), Size(150, 100)
    length = 396.635989732265  # perimeter of 150 x 100, complete elliptic integral
    wanted = bar_gap(length / math.pi, 2000, 16)
    assert model.clearance_mm(oval, 2000, 1.0) == pytest.approx(wanted)
    assert model.crowded_mm(oval, 25, 1.0) is None, "next to what goes round, the true ring is solved"
    assert model.clearance_mm(oval, 25, 1.0) == pytest.approx(model.layout(oval, 25, 1.0).gap_mm)


def test_a_foot_gap_never_lets_what_stands_out_beyond_the_feet_overlap() -> None:
    """Leaves of 14 mm on feet of 4.4: between feet .5 mm apart they would lie over each other."""
    by_foot = model_of(leaf(), foot_gap_mm=0.5)
    count = count_for(by_foot, D100, 1.0, 0.5)
    assert count == count_for(model_of(leaf()), D100, 1.0, 0.0)
    assert by_foot.clearance_mm(D100, count + 1, 1.0) < 0
    assert size_for(by_foot, growth_of(by_foot.spec, D100), 12, 1.0, 0.5) is None
    wide = model_of(leaf(), foot_gap_mm=10.0)
    size = size_for(wide, growth_of(wide.spec, D100), 12, 1.0, 10.0)
    assert size is not None
    assert wide.clearance_mm(size, 12, 1.0) == pytest.approx(10.0, abs=1e-9)


@pytest.mark.parametrize("scale", [0.8, 0.6, 0.4])
def test_windows_round_an_opening_of_its_own_size_find_no_base_where_there_is_none(scale: float) -> None:
    """So small, 7 of them close nearer to the middle than the opening of 32 x 48 mm is wide."""
    model = model_of(load_motif("scallop"), opening=Size(32, 48), place="window", gap_mm=0.0)
    assert size_for(model, growth_of(PieceSpec("x", "find"), None), 7, scale, 0.0) is None
