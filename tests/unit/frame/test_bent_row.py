"""Bent rows as curves: fitted once for repeats that are alike, exact copies, motifs that stand where they say."""

from __future__ import annotations

import math
from functools import partial

import numpy as np
import pytest
from fixtures.bent_checks import off_mm
from fixtures.plain_motifs import leaf, plain_rectangle, pod
from fixtures.rows import KNIFE, model_of, row_of

from frameforge.frame import bent_row
from frameforge.frame.bend import Bends
from frameforge.frame.bent_row import bent_copies, bent_motifs
from frameforge.frame.fit import Fit
from frameforge.frame.layout import Layout
from frameforge.frame.make import make_piece
from frameforge.frame.model import RowModel
from frameforge.frame.profile import Complexes
from frameforge.frame.row import build_row
from frameforge.frame.spec import PieceSpec, Size
from frameforge.geometry.affine import Affine
from frameforge.geometry.combine import Copies
from frameforge.geometry.measure import area_mm2
from frameforge.geometry.outline import Segment
from frameforge.geometry.region import Region

OVAL = Size(150, 100)


def laid(model: RowModel, count: int) -> Layout:
    size = model.spec.size
    assert isinstance(size, Size)
    return model.layout(size, count, 1.0)


def copies(layout: Layout) -> list[Copies]:
    found = bent_copies(layout, lambda ready: ready.motif.join)
    return [each for each in found if isinstance(each, Copies)]


def placed(layout: Layout) -> list[Region]:
    return [each.region.transformed(place) for each in copies(layout) for place in each.placements]


@pytest.mark.parametrize(
    ("model", "count", "fits"),
    [
        (model_of(leaf(), seat="bent"), 24, 1),
        (model_of(leaf(), size=OVAL, seat="bent"), 24, 7),
        (model_of(leaf(), size=OVAL, seat="bent"), 20, 6),
        (model_of(leaf(), size=OVAL, seat="bent"), 15, 8),
        (model_of(pod(), size=OVAL, seat="bent"), 12, 6),
        (model_of(pod(), size=OVAL, seat="bent", is_mirrored_every_other=True, starts_with_gap=True), 12, 3),
    ],
)
def test_what_is_alike_is_fitted_once(model: RowModel, count: int, fits: int) -> None:
    """On an oval: places a quarter holds, both axes counted, for even motifs; places of half a turn for others."""
    layout = laid(model, count)
    kinds = bent_row._fitted(layout, {ready: ready.motif.join for ready in layout.readies})
    assert len(kinds) == fits
    assert sum(len(kind.maps) for kind, _ in kinds) == count
    assert len(placed(layout)) == count


def key(segment: Segment) -> list[float]:
    points = [segment.start, segment.end, segment.point(0.5)]
    return [v for z in sorted(points, key=lambda z: (round(z.real, 6), z.imag)) for v in (z.real, z.imag)]


@pytest.mark.parametrize("mirror", [Affine(0, -1), Affine(0, 1)])
def test_an_even_ring_on_an_oval_is_its_own_mirror_image_to_the_last_bits(mirror: Affine) -> None:
    regions = placed(laid(model_of(leaf(), size=OVAL, seat="bent"), 20))
    ours = np.array(sorted(key(s) for region in regions for s in region.outer.segments))
    flipped = [region.transformed(mirror) for region in regions]
    theirs = np.array(sorted(key(s) for region in flipped for s in region.outer.segments))
    gaps = np.abs(ours[:, None, :] - theirs[None, :, :]).max(axis=2).min(axis=1)
    assert gaps.max() <= 1e-12


def _under(bends: Bends, z: Complexes) -> Complexes:
    return bends.point(np.zeros(len(z), dtype=np.intp), z)


@pytest.mark.parametrize("size", [Size(100, 100), OVAL])
@pytest.mark.parametrize("motif", [leaf(), pod()], ids=["even", "uneven"])
def test_every_repeat_lies_on_the_true_map(size: Size, motif) -> None:  # type: ignore[no-untyped-def]
    model = model_of(motif, size=size, seat="bent", start_deg=7.0)
    layout = laid(model, 11)
    track, motifs = layout.track, bent_motifs(layout)
    for k in range(11):
        bends = track.bends(layout.readies[k], [layout.seats[k].tau])
        place = track.placement(layout.readies[k], layout.seats[k])
        made = [region.transformed(place) for region in motifs[k].join]
        off = off_mm(motif.join, made, partial(_under, bends), 200)
        assert off <= 2e-3


def test_the_row_tells_its_motifs_as_they_are_bent() -> None:
    row = row_of(plain_rectangle(20, 10), count=8, seat="bent")
    model = RowModel(PieceSpec("x", Size(100, 100), rows=(row,)), row, KNIFE)
    built = build_row(model, Fit(Size(100, 100), 8, 1.0), is_trial=False)
    assert built.result.seat == "bent"
    for repeat in built.result.repeats:
        (region,) = [each.transformed(repeat.placement) for each in repeat.motif.join]
        assert area_mm2(region) == pytest.approx(220.0, abs=1e-9)
        tops = [s for s in region.outer.segments if abs(abs(s.start) - 60) < 1e-9 and abs(abs(s.end) - 60) < 1e-9]
        assert len(tops) == 1
        middle = tops[0].point(0.5)
        assert math.degrees(math.atan2(middle.real, middle.imag)) % 360 == pytest.approx(repeat.direction_deg % 360)


def test_left_out_repeats_are_not_bent() -> None:
    row = row_of(leaf(), count=12, seat="bent", skip=(1, 4))
    piece = make_piece(PieceSpec("x", OVAL, rows=(row,)), KNIFE)
    assert len(piece.rows[0].repeats) == 10
    assert {repeat.position for repeat in piece.rows[0].repeats} == set(range(1, 13)) - {1, 4}
