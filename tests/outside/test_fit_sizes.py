"""Sizes and counts at which real outlines close, against values computed twice by independent programs."""

from __future__ import annotations

import pytest
from fixtures.plain_motifs import arch, drop, husk, leaf
from fixtures.rows import model_of

from frameforge.frame.solve import count_for, growth_of, scale_for, size_for
from frameforge.frame.spec import PieceSpec, Size
from frameforge.motif.motif import Motif

CIRCLE = growth_of(PieceSpec("x", "find"), None)

# Count, gap and the circle on which real outlines keep it (no printed source); the feet alone say 32.67 for the leaf.
SIZES = [
    (leaf(), 16, 2.0, 69.647995), (drop(), 16, 2.0, 55.846719), (husk(), 16, 2.0, 46.615760),
    (leaf(), 12, 0.0, 41.735279), (drop(), 12, 0.0, 33.451671), (husk(), 12, 0.0, 26.169451),
]  # fmt: skip


@pytest.mark.parametrize(("motif", "count", "gap", "wanted"), SIZES, ids=lambda value: getattr(value, "name", None))
def test_circles_on_which_real_outlines_close(motif: Motif, count: int, gap: float, wanted: float) -> None:
    model = model_of(motif)
    size = size_for(model, CIRCLE, count, 1.0, gap)
    assert size is not None
    assert size.width_mm == pytest.approx(wanted, abs=1e-6)
    assert count_for(model, size, 1.0, gap) == count


@pytest.mark.parametrize(("count", "gap", "width"), [(16, 2.0, 69.647995), (12, 0.0, 41.735279)])
def test_the_scale_comes_back_from_its_own_size(count: int, gap: float, width: float) -> None:
    model = model_of(leaf())
    size = size_for(model, CIRCLE, count, 1.0, gap)
    assert size is not None
    assert size.width_mm == pytest.approx(width, abs=1e-6)
    assert scale_for(model, size, count, gap) == pytest.approx(1.0, abs=1e-10)


def test_leaves_round_an_oval() -> None:
    """150 x 100, gap 3: 25 leave 3.366801, 26 would leave 2.702073 (no printed source)."""
    model, oval = model_of(leaf()), Size(150, 100)
    assert count_for(model, oval, 1.0, 3.0) == 25
    assert model.clearance_mm(oval, 25, 1.0) == pytest.approx(3.366801, abs=1e-6)
    assert model.clearance_mm(oval, 26, 1.0) == pytest.approx(2.702073, abs=1e-6)


@pytest.mark.parametrize("spec", [PieceSpec("x", "find", ratio=1.5), PieceSpec("x", "find", grow_from=Size(150, 100))])
def test_ovals_grow_until_they_close(spec: PieceSpec) -> None:
    """Either way of growing: the gap at the size found is the one asked for, measured again."""
    model, growth = model_of(arch()), growth_of(spec, None)
    size = size_for(model, growth, 17, 1.0, 2.5)
    assert size is not None
    ratio, extra = size.width_mm / size.height_mm, size.width_mm - size.height_mm
    assert (ratio if spec.ratio else extra) == pytest.approx(spec.ratio or 50.0)
    assert model.clearance_mm(size, 17, 1.0) == pytest.approx(2.5, abs=1e-8)
    assert count_for(model, size, 1.0, 2.5 - 1e-7) == 17
