"""How exact seats, counts and spokes are: bounds over many cases, and the handbook's table of chords to every digit."""

from __future__ import annotations

import csv
import math
import os
import random
from pathlib import Path

import pytest
from fixtures.plain_motifs import plain_rectangle
from fixtures.rows import model_of

from frameforge.frame.base import Edge
from frameforge.frame.seat import find_seat
from frameforge.frame.solve import count_for
from frameforge.frame.spacing import equal_angle, equal_arc, equal_chord
from frameforge.frame.spec import Size

OUTSIDE = Path(os.environ.get("FRAMEFORGE_OUTSIDE_DATA", "outside-data"))
CHORDS, DIVISIONS = OUTSIDE / "chords_sin_pi_over_n.csv", OUTSIDE / "ellipse_division.csv"


def _rows(table: Path) -> list[dict[str, str]]:
    if not table.exists():
        pytest.skip("outside data: the table is not here; test_spacing and test_ellipse hold its first digits")
    with table.open(newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def test_seats_on_ovals_keep_to_1e_12() -> None:
    """Both ends on the oval (by x^2/a^2 + y^2/b^2) and the chord w along the tangent, in 1000 random cases."""
    chance = random.Random(4)
    for _ in range(1000):
        a = chance.uniform(20, 150)
        b, tau = a * chance.uniform(0.3, 1), chance.uniform(0, math.tau)
        edge, foot = Edge(a, b), 2 * b * chance.uniform(0.001, 0.98)
        seat = find_seat(edge, foot, tau)
        for end in (seat.left, seat.right):
            away = (end.real / a) ** 2 + (end.imag / b) ** 2 - 1
            # An excess e of that sum is e / |its gradient| in mm.
            assert abs(away) / abs(2 * complex(end.real / a**2, end.imag / b**2)) < 1e-12
        assert abs(seat.right - seat.left - foot * edge.tangent(tau)) < 1e-12 * a


def test_seats_on_parallels_keep_to_1e_11() -> None:
    """Ends a distance off the oval: by the nearest place of the oval itself, found anew by Newton."""
    chance = random.Random(5)
    for _ in range(300):
        a = chance.uniform(40, 120)
        b, tau = a * chance.uniform(0.5, 1), chance.uniform(0, math.tau)
        off = chance.uniform(-0.6, 0.6) * b * b / a
        edge = Edge(a, b, off)
        foot = chance.uniform(0.01, 0.5) * (b + off)
        seat = find_seat(edge, foot, tau)
        for end in (seat.left, seat.right):
            t = math.atan2(end.real / a, end.imag / b)
            for _ in range(60):
                away = end - complex(a * math.sin(t), b * math.cos(t))
                way = complex(a * math.cos(t), -b * math.sin(t))
                slope = (away.conjugate() * complex(-a * math.sin(t), -b * math.cos(t))).real - abs(way) ** 2
                t -= (away.conjugate() * way).real / slope
            assert abs(abs(end - complex(a * math.sin(t), b * math.cos(t))) - abs(off)) < 1e-11
        assert abs(seat.right - seat.left - foot * edge.tangent(tau)) < 1e-11


@pytest.mark.parametrize("foot", [3.0, 7.3, 12.0, 50.0 / 3, 50.0])
def test_no_repeat_is_lost_to_floating_point(foot: float) -> None:
    """On w/sin(pi/n) exactly n feet touch; a millionth of a millimetre less takes one fewer."""
    for count in (*range(3, 20), 48, 97, 360, 1999):
        size = foot / math.sin(math.pi / count)
        model = model_of(plain_rectangle(foot, 4.0), size=Size(size, size), count="most", gap_mm=0.0)
        assert count_for(model, Size(size, size), 1.0, 0.0) == count
    less = size * (1 - 1e-7)
    assert count_for(model, Size(less, less), 1.0, 0.0) == count - 1


def test_handbook_chords_to_twelve_digits() -> None:
    """Machinery's Handbook, "Lengths of Chords for Spacing Off the Circumferences of Circles with a Diameter Equal to
    1" (title from memory; values computed with 25 digits): every count from 3 to 100, by six digits and by twelve."""
    rows = _rows(CHORDS)
    assert [int(row["n"]) for row in rows] == list(range(3, 101))
    edge = Edge(0.5, 0.5)
    for row in rows:
        places = equal_angle(int(row["n"]), 0.4)
        chord = abs(edge.point(places[1]) - edge.point(places[0]))
        assert chord == pytest.approx(float(row["chord_diameter_1_12dp"]), abs=1e-12)
        assert f"{chord:.6f}" == row["chord_6dp_as_handbook_style"]


def test_places_on_an_oval_are_those_of_the_table() -> None:
    """All 72 places (computed with mpmath), by the rules that spread a row: to 1e-9 of a millimetre."""
    rows = _rows(DIVISIONS)
    assert len(rows) == 72
    for row in rows:
        a, b, count, k = float(row["semi_a"]), float(row["semi_b"]), int(row["n"]), int(row["k"])
        rule = equal_arc if row["kind"] == "equal_arc" else equal_chord
        edge = Edge(a, b)
        # The table goes counter-clockwise from the right end, rows go clockwise: mirrored in the long axis.
        place = edge.point(rule(edge, count, math.pi / 2)[k])
        assert abs(place - complex(float(row["x"]), -float(row["y"]))) < 1e-9
