"""Repeats that are no neighbours: found where they come nearest, by all their outlines, and told with the gap."""

from __future__ import annotations

import pytest
import shapely
from fixtures.plain_motifs import disc, leaf, plain_rectangle
from fixtures.rows import D100, KNIFE, model_of, row_of

from frameforge.frame import others
from frameforge.frame.layout import Layout
from frameforge.frame.make import make_piece
from frameforge.frame.model import RowModel
from frameforge.frame.others import others_within
from frameforge.frame.solve import growth_of, scale_for, size_for
from frameforge.frame.spec import PieceSpec, Size
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.motif.motif import Motif

T_SHAPE = Motif("mushroom", (Region(rectangle(-9, 12, 9, 16)), Region(rectangle(-2, 0, 2, 12.5))), 4.0)
"""Two pieces that overlap: the second outline is the stem."""
CAP_SECOND = Motif("mushroom", (Region(rectangle(-2, 0, 2, 12.5)), Region(rectangle(-9, 12, 9, 16))), 4.0)


def laid(model: RowModel, count: int) -> Layout:
    return model.layout(D100, count, 1.0)


def test_two_tall_ones_meet_over_a_small_one_between_them() -> None:
    """Caps of 18 mm stand 12 mm up, over stumps of 3 mm: the gap is that between the caps, not that to the stumps."""
    model = model_of(T_SHAPE, plain_rectangle(4, 3))
    layout = laid(model, 36)
    beside = min(gap.gap_mm for gap in layout.gaps if gap)
    (first, *_) = others_within(layout, beside)
    assert (first.second - first.first) % 36 in (2, 34)
    assert 0 < first.gap.gap_mm < beside
    assert model.clearance_mm(D100, 36, 1.0) == pytest.approx(first.gap.gap_mm, abs=1e-12)
    assert model.clearance_mm(D100, 48, 1.0) < 0


@pytest.mark.parametrize("motif", [T_SHAPE, CAP_SECOND], ids=["cap first", "cap second"])
def test_all_outlines_of_a_motif_count(motif: Motif) -> None:
    layout = laid(model_of(motif, plain_rectangle(4, 3)), 44)
    assert others_within(layout, 0.0)


def test_most_heeds_those_that_are_no_neighbours() -> None:
    row = row_of(T_SHAPE, plain_rectangle(4, 3), count="most", gap_mm=2.0)
    made = make_piece(PieceSpec("hoop", D100, rows=(row,)), KNIFE).rows[0]
    assert made.gap_mm is not None
    assert made.gap_mm >= 2.0
    model = model_of(T_SHAPE, plain_rectangle(4, 3))
    assert model.clearance_mm(D100, made.count + 2, 1.0) < 2.0


def test_size_and_scale_are_found_by_those_that_are_nearest() -> None:
    model = model_of(T_SHAPE, plain_rectangle(4, 3), count=36, gap_mm=2.0)
    size = size_for(model, growth_of(model.spec, D100), 36, 1.0, 2.0)
    assert size is not None
    layout = model.layout(size, 36, 1.0)
    assert others_within(layout, 5.0)[0].gap.gap_mm == pytest.approx(2.0, abs=1e-9)
    scale = scale_for(model, D100, 36, 2.0)
    assert scale is not None
    assert others_within(model.layout(D100, 36, scale), 5.0)[0].gap.gap_mm == pytest.approx(2.0, abs=1e-9)


def test_of_a_single_kind_neighbours_are_nearest() -> None:
    layout = laid(model_of(leaf()), 16)
    assert layout.gap_mm is not None
    assert others_within(layout, layout.gap_mm) == []


def test_three_are_all_neighbours() -> None:
    assert others_within(laid(model_of(disc(3)), 3), 200.0) == []


def test_facing_ones_are_measured_across_the_middle() -> None:
    """Four bars of 4 mm that point 30 mm into an opening of 70 mm: those that face each other stand 10 mm apart.

    The feet stand on chords of the opening, sqrt(35^2 - 2^2) from its middle.
    """
    layout = laid(model_of(plain_rectangle(4, 30), opening=Size(70, 70), place="in", count=4), 4)
    facing = [pair.gap.gap_mm for pair in others_within(layout, 20.0)]
    assert facing == pytest.approx([2 * ((35**2 - 2**2) ** 0.5 - 30)] * 2, abs=1e-9)


@pytest.mark.parametrize(("count", "within_mm"), [(5, 40.0), (20, 8.0), (36, 1.5), (44, 0.0), (60, 0.0)])
def test_the_first_look_hides_no_pair(monkeypatch: pytest.MonkeyPatch, count: int, within_mm: float) -> None:
    """Without discs looked at first, the same pairs are found."""
    oval = RowModel(PieceSpec("hoop", Size(150, 60), rows=()), row_of(T_SHAPE, plain_rectangle(4, 3)), KNIFE)
    layouts = [laid(model_of(T_SHAPE, plain_rectangle(4, 3)), count), oval.layout(Size(150, 60), count, 1.0)]
    quick = [others_within(layout, within_mm) for layout in layouts]
    monkeypatch.setattr(others, "_may_meet", lambda layout, kept, within: True)
    assert quick == [others_within(layout, within_mm) for layout in layouts]


def test_a_row_without_any_near_builds_no_tree(monkeypatch: pytest.MonkeyPatch) -> None:
    layout = laid(model_of(disc(3)), 12)

    def none(*given: object) -> None:
        raise AssertionError(given)

    monkeypatch.setattr(shapely, "STRtree", none)
    assert others_within(layout, 0.5) == []
