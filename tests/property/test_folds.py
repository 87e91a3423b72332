"""Any tent card, lid and hanging hole of sensible numbers: mirror images, closed forms, nothing across a fold."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely
from fixtures.plain_motifs import drop, leaf, plain_rectangle, pod, scallop
from hypothesis import Phase, assume, given, settings
from hypothesis import strategies as st

from frameforge.card.preset import load_preset
from frameforge.errors import GeometryError
from frameforge.frame.base import Edge
from frameforge.frame.crease import bits_on_card, dash_count, line_creases
from frameforge.frame.flange import flange_of
from frameforge.frame.make import make_piece
from frameforge.frame.spec import CreaseSpec, FlangeSpec, FoldSpec, HoleSpec, Ornament, PieceSpec, RowSpec, Size
from frameforge.frame.tent import chord_mm
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.line import Line
from frameforge.geometry.measure import area_mm2, length_mm

KNIFE = load_preset("card-240-knife")
MOTIFS = (drop(), leaf(), plain_rectangle(6.0, 9.0), pod(), scallop())
FEW = settings(max_examples=6, phases=(Phase.explicit, Phase.generate))

sides = st.floats(60, 160)
parts = st.floats(0.05, 0.3)


@st.composite
def tents(draw: st.DrawFn) -> PieceSpec:
    """A tent card with a row of motifs, with or without an opening and a foot."""
    size = Size(draw(sides), draw(sides))
    short = min(size.width_mm, size.height_mm)
    fold = FoldSpec(draw(parts) * short, draw(st.floats(0, 360)), draw(st.sampled_from([0.0, 0.1, 0.2])) * short)
    row = RowSpec((Ornament(draw(st.sampled_from(MOTIFS)), scale=short / 120),))
    opening = draw(st.sampled_from([None, Size(short * 0.4, short * 0.3)]))
    return PieceSpec("table", size, opening=opening, rows=(row,), fold=fold)


@FEW
@given(spec=tents())
def test_a_tent_card_is_one_piece_even_about_its_fold_and_no_motif_crosses(spec: PieceSpec) -> None:
    try:
        piece = make_piece(spec, KNIFE)
    except GeometryError as fault:
        assume(fault.code != "fold")
        raise
    tent = piece.tent
    assert tent is not None
    card, image = (to_polygon(one) for one in (piece.region, piece.region.transformed(tent.hinge.mirror)))
    assert shapely.is_valid(card)
    assert shapely.symmetric_difference(card, image).area < 0.02 * card.length
    for repeat in piece.rows[0].repeats:
        for region in repeat.motif.join:
            motif = to_polygon(region.transformed(repeat.placement), 1e-3)
            ends = shapely.get_coordinates(motif) @ np.array([1, 1j])
            assert all(line.furthest_mm(ends) <= 1e-6 for line in tent.lines)
            assert shapely.difference(motif, card.buffer(0.02)).area < 0.02
    bits = bits_on_card(tent.hinge, piece.region)
    assert sum(length_mm(bit) for bit in bits) == pytest.approx(chord_mm(piece.size, tent.hinge), abs=1e-6)


@FEW
@given(size=st.tuples(sides, sides), depth=parts, deg=st.floats(0, 360))
def test_the_blank_of_a_bare_oval_is_twice_the_oval_less_its_segment(
    size: tuple[float, float], depth: float, deg: float
) -> None:
    """A segment of the unit circle at height h has the area acos h - h sqrt(1 - h^2); an oval's is a b times that."""
    base = Size(*size)
    spec = PieceSpec("table", base, fold=FoldSpec(depth * min(size), deg))
    piece = make_piece(spec, KNIFE)
    assert piece.tent is not None
    at = piece.tent.hinge
    reach = at.reach_mm + depth * min(size)
    h = at.reach_mm / reach
    a, b = size[0] / 2, size[1] / 2
    segment = a * b * (math.acos(h) - h * math.sqrt(1 - h * h))
    assert area_mm2(piece.region) == pytest.approx(2 * (math.pi * a * b - segment), rel=1e-9)


@FEW
@given(
    length=st.floats(5, 200),
    dash=st.floats(0.5, 8),
    space=st.floats(0.5, 8),
    stop=st.floats(0, 2),
    turn=st.floats(0, 6),
)
def test_dashes_hold_both_ends_and_no_more_would_go_on(
    length: float, dash: float, space: float, stop: float, turn: float
) -> None:
    unit = complex(math.cos(turn), math.sin(turn))
    bit = Line(3 + 4j, 3 + 4j + length * unit)
    found = line_creases(CreaseSpec("dashed", dash, space, stop), [bit], KNIFE)
    left = length - 2 * stop
    count = dash_count(left, dash, space)
    assert len(found) == max(count, 1)
    assert abs(found[0][0].start - (bit.start + stop * unit)) < 1e-9
    assert abs(found[-1][0].end - (bit.end - stop * unit)) < 1e-9
    if count > 1:
        spaces = [abs(b[0].start - a[0].end) for a, b in pairwise(found)]
        assert min(spaces) >= space - 1e-6
        assert (left - (count + 1) * dash) / count < space + 1e-6


@FEW
@given(size=st.tuples(sides, sides), height=st.floats(4, 12))
def test_folded_teeth_stand_side_by_side(size: tuple[float, float], height: float) -> None:
    made = flange_of(FlangeSpec(height), Edge(size[0] / 2, size[1] / 2), KNIFE)
    run = [segment.end for segment in reversed(made.card.outer.segments)]
    on_edge = [abs((z.real / size[0] * 2) ** 2 + (z.imag / size[1] * 2) ** 2 - 1) < 1e-9 for z in run]
    first = on_edge.index(True)
    corners = [*run[first:], *run[:first]]
    assert len(corners) == 3 * made.teeth
    for root, tip, other, end in zip(corners[0::3], corners[1::3], corners[2::3], [*corners[3::3], corners[0]],
                                     strict=True):  # fmt: skip
        along = (end - root) / abs(end - root)
        left, right = (((z - root) * along.conjugate()).real for z in (tip, other))
        assert 0 < left < right < abs(end - root)


@FEW
@given(
    skip=st.sets(st.integers(1, 12), min_size=1, max_size=8), deg=st.floats(0, 360), diameter=st.floats(2, 8),
    motif=st.sampled_from(MOTIFS), has_opening=st.booleans(),
)  # fmt: skip
def test_a_piece_hangs_straight_by_its_hole(
    skip: set[int], deg: float, diameter: float, motif: object, has_opening: bool
) -> None:
    row = RowSpec((Ornament(motif, scale=0.6),), count=12, skip=tuple(skip))  # type: ignore[arg-type]
    opening = Size(40, 50) if has_opening else None
    spec = PieceSpec("hung", Size(100, 110), opening=opening, rows=(row,), holes=(HoleSpec(diameter, deg),))
    piece = make_piece(spec, KNIFE)
    centre = to_polygon(piece.region, 1e-3).centroid
    up = complex(math.sin(math.radians(deg)), math.cos(math.radians(deg)))
    below = (piece.holes[0].middle - complex(centre.x, centre.y)) * up.conjugate()
    assert abs(below.imag) < 0.01
    assert below.real > 0
