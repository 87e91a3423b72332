"""Crease lines: found on the card exactly, drawn full or in dashes that hold both ends."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from fixtures.rows import D100, KNIFE

from frameforge.errors import GeometryError
from frameforge.frame.base import Edge
from frameforge.frame.crease import bits_on_card, dash_count, edge_bits, line_creases, round_creases
from frameforge.frame.make import make_piece
from frameforge.frame.spacing import edge_length_mm
from frameforge.frame.spec import CreaseSpec, FoldSpec, PieceSpec, Size
from frameforge.frame.tent import StraightLine
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.measure import length_mm
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, ellipse, rectangle

BIT = Line(-30 + 40j, 30 + 40j)
DASHED = CreaseSpec("dashed", 3.0, 2.0)


def test_a_line_crosses_a_disc_with_a_hole_in_two_bits() -> None:
    card = Region(circle(0j, 50), (circle(0j, 30).reversed(),))
    bits = bits_on_card(StraightLine(1j, 0.0), card)
    assert [(bit.start, bit.end) for bit in bits] == [(pytest.approx(-50), pytest.approx(-30)),
                                                      (pytest.approx(30), pytest.approx(50))]  # fmt: skip


@pytest.mark.parametrize("deg", [0, 17, 90, 123])
def test_crossings_of_ellipses_are_exact(deg: float) -> None:
    turn = complex(math.cos(math.radians(deg)), math.sin(math.radians(deg)))
    line = StraightLine(1j * turn, 20.0)
    [bit] = bits_on_card(line, Region(ellipse(0j, 75, 50)))
    for end in (bit.start, bit.end):
        assert (end.real / 75) ** 2 + (end.imag / 50) ** 2 == pytest.approx(1, abs=1e-12)
        assert line.beyond_mm(end) == pytest.approx(0, abs=1e-12)


def test_crossings_of_cubics_are_on_the_curve() -> None:
    bow = Cubic(-10 + 0j, -10 + 20j, 10 + 20j, 10 + 0j)
    card = Region(Outline((bow, Line(10 + 0j, -10 + 0j))).reversed())
    [bit] = bits_on_card(StraightLine(1j, 7.5), card)
    # y = 60 t (1 - t) = 7.5; x = -10 (1-t)^3 - 30 t (1-t)^2 + 30 t^2 (1-t) + 10 t^3
    t = (1 - math.sqrt(1 - 4 * 7.5 / 60)) / 2
    x = -10 * (1 - t) ** 3 - 30 * t * (1 - t) ** 2 + 30 * t * t * (1 - t) + 10 * t**3
    assert (bit.start.real, bit.end.real) == (pytest.approx(x, abs=1e-9), pytest.approx(-x, abs=1e-9))


def test_a_line_past_the_card_has_no_bits() -> None:
    assert bits_on_card(StraightLine(1j, 51.0), Region(circle(0j, 50))) == ()


def test_bits_of_the_edge_along_a_line() -> None:
    line = StraightLine(1j, 5.0)
    assert [length_mm(bit) for bit in edge_bits(line, Region(rectangle(-10, -5, 10, 5)))] == [20]
    assert edge_bits(line, Region(circle(0j, 5))) == ()


def test_a_full_crease_is_the_bit_itself() -> None:
    assert line_creases(CreaseSpec(), [BIT], KNIFE) == ((BIT,),)


def test_a_crease_stops_short_of_both_ends() -> None:
    [[line]] = line_creases(CreaseSpec(stop_mm=1.5), [BIT], KNIFE)
    assert (line.start, line.end) == (-28.5 + 40j, 28.5 + 40j)


@pytest.mark.parametrize(
    ("length", "dash", "space", "count"),
    [
        (60, 3, 2, 12),
        (58, 3, 2, 12),
        (57.999, 3, 2, 11),
        (8, 3, 2, 2),
        (7.9, 3, 2, 1),
        (3, 3, 2, 1),
        (54.259, 4, 1, 11),
    ],
)
def test_dashes_are_counted(length: float, dash: float, space: float, count: int) -> None:
    """floor((L + b) / (a + b))."""
    assert dash_count(length, dash, space) == count


@pytest.mark.parametrize("stop", [0.0, 1.0])
def test_the_first_and_the_last_dash_hold_the_ends(stop: float) -> None:
    found = line_creases(replace(DASHED, stop_mm=stop), [BIT], KNIFE)
    assert len(found) == dash_count(60 - 2 * stop, 3, 2)
    assert found[0][0].start == pytest.approx(-30 + stop + 40j)
    assert found[-1][0].end == pytest.approx(30 - stop + 40j)
    assert [length_mm(run) for run in found] == pytest.approx([3] * len(found), abs=1e-9)
    spaces = [abs(b[0].start - a[-1].end) for a, b in pairwise(found)]
    assert spaces == pytest.approx([spaces[0]] * len(spaces), abs=1e-9)
    assert spaces[0] >= 2


def test_lengths_left_out_are_those_of_the_preset() -> None:
    longer = KNIFE.with_values({"dash_mm": 5.0, "dash_space_mm": 5.0})
    assert len(line_creases(CreaseSpec("dashed"), [BIT], longer)) == 6
    assert len(line_creases(CreaseSpec("dashed", dash_mm=3, space_mm=2), [BIT], longer)) == 12


def test_a_bit_too_short_for_two_dashes_is_creased_whole() -> None:
    short = Line(0j, 7 + 0j)
    assert line_creases(DASHED, [short], KNIFE) == ((short,),)


def test_stops_that_leave_nothing_are_refused_and_the_one_offered_holds() -> None:
    short = Line(0j, 8 + 0j)
    with pytest.raises(GeometryError, match=r"Take a stop of 3\.8 mm or less"):
        line_creases(CreaseSpec(stop_mm=4.0), [short], KNIFE)
    assert line_creases(CreaseSpec(stop_mm=3.8), [short], KNIFE)


@pytest.mark.parametrize("around", [Edge(40, 40), Edge(60, 40)])
def test_a_closed_crease_is_whole_or_evenly_dashed(around: Edge) -> None:
    full = round_creases(CreaseSpec(), around, KNIFE)
    whole = length_mm(segment for run in full for segment in run)
    assert whole == pytest.approx(edge_length_mm(around), abs=1e-9)
    # Two halves that meet, neither closed in itself: no reader takes them for the outline of a hole.
    assert [run[0].start for run in full] == pytest.approx([run[-1].end for run in reversed(full)])
    assert all(abs(run[0].start - run[-1].end) > 1 for run in full)
    dashes = round_creases(DASHED, around, KNIFE)
    spaces = [b[0].start - a[0].end for a, b in zip(dashes, [*dashes[1:], dashes[0]], strict=True)]
    assert min(abs(space) for space in spaces) > 1.9
    assert len(dashes) == math.floor(whole / 5)
    assert [length_mm(run) for run in dashes] == pytest.approx([3] * len(dashes), abs=1e-6)


def test_dashes_longer_than_a_closed_line_leave_it_whole() -> None:
    assert len(round_creases(CreaseSpec("dashed", 10.0, 1.0), Edge(1, 1), KNIFE)) == 2


def test_the_hinge_of_a_tent_card_is_found_on_its_blank() -> None:
    piece = make_piece(PieceSpec("t", D100, opening=Size(90, 90), fold=FoldSpec(8)), KNIFE)
    assert piece.tent is not None
    bits = bits_on_card(piece.tent.hinge, piece.region)
    outer, inner = math.sqrt(2500 - 42 * 42), math.sqrt(2025 - 42 * 42)
    assert [length_mm(bit) for bit in bits] == pytest.approx([outer - inner] * 2, abs=1e-9)
