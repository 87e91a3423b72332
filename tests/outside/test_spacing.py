"""Spokes spread round circles and ovals, against handbook chords, elliptic integrals and tables from outside."""

from __future__ import annotations

import math

import pytest
from fixtures.plain_motifs import arch, drop, husk, leaf, plain_rectangle, pod, scallop
from scipy.integrate import quad
from scipy.special import ellipe

from frameforge.frame.base import Edge
from frameforge.frame.layout import Start, lay_out, measured
from frameforge.frame.ornament import Ready, ready
from frameforge.frame.place import Track
from frameforge.frame.ring import solve_ring
from frameforge.frame.spacing import arc_from_top_mm, arc_steps_mm, edge_length_mm, equal_arc, equal_chord, tau_at_arc
from frameforge.frame.spec import Ornament
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.motif.motif import Motif

# sin(pi/n), the chord of a circle of diameter 1: Machinery's Handbook, "Lengths of Chords for Spacing Off the
# Circumferences of Circles with a Diameter Equal to 1" (title from memory; values computed, six decimals).
CHORDS = dict(enumerate((
    0.866025, 0.707107, 0.587785, 0.500000, 0.433884, 0.382683, 0.342020, 0.309017, 0.281733, 0.258819,
    0.239316, 0.222521, 0.207912, 0.195090, 0.183750, 0.173648, 0.164595, 0.156434, 0.149042, 0.142315,
    0.136167, 0.130526, 0.125333, 0.120537, 0.116093, 0.111964, 0.108119, 0.104528, 0.101168, 0.098017,
    0.095056, 0.092268, 0.089639, 0.087156, 0.084806, 0.082579, 0.080467, 0.078459, 0.076549, 0.074730,
    0.072995, 0.071339, 0.069756, 0.068242, 0.066793, 0.065403, 0.064070, 0.062791, 0.061561, 0.060378,
    0.059241, 0.058145, 0.057089, 0.056070, 0.055088, 0.054139, 0.053222, 0.052336,
), start=3))  # fmt: skip


@pytest.mark.parametrize(("count", "chord"), CHORDS.items())
def test_spokes_on_a_circle_stand_a_handbook_chord_apart(count: int, chord: float) -> None:
    edge = Edge(0.5, 0.5)
    taus = equal_arc(edge, count, 0.3)
    steps = [abs(edge.point(b) - edge.point(a)) for a, b in zip(taus, [*taus[1:], taus[0]], strict=True)]
    assert all(round(step, 6) == chord for step in steps)


def test_twenty_places_on_150_x_100_have_the_known_steps() -> None:
    """Arc step 396.635989732265/20; straight steps 19.583 .. 19.805 (computed twice, no printed source)."""
    edge = Edge(75, 50)
    taus = equal_arc(edge, 20, 0.0)
    assert all(abs(step - 396.635989732265 / 20) < 1e-10 for step in arc_steps_mm(edge, taus))
    straight = [abs(edge.point(b) - edge.point(a)) for a, b in zip(taus, [*taus[1:], taus[0]], strict=True)]
    assert (round(min(straight), 3), round(max(straight), 3)) == (19.583, 19.805)


@pytest.mark.parametrize(("axes", "count"), [((60, 45), 16), ((40, 55), 9), ((120, 40), 31)])
def test_equal_arcs_agree_with_quadrature(axes: tuple[float, float], count: int) -> None:
    """Second road: adaptive quadrature of the speed (scipy, QUADPACK), perimeter by scipy's elliptic integral."""
    a, b = axes
    edge = Edge(a, b)
    taus = equal_arc(edge, count, 0.25)
    long, short = max(axes), min(axes)
    step = 4 * long * ellipe(1 - (short / long) ** 2) / count
    assert abs(edge_length_mm(edge) - step * count) < 1e-10
    for t0, t1 in zip(taus, [*taus[1:], taus[0] + math.tau], strict=True):
        length, _ = quad(lambda t: math.hypot(a * math.cos(t), b * math.sin(t)), t0, t1, epsabs=1e-11, epsrel=1e-12)
        assert abs(length - step) < 1e-9


def test_equal_arcs_and_chords_of_a_3_by_2_oval_match_the_table() -> None:
    """Arc step 1.983179948661, first point at 0.8810697725936 from the long axis; chord 1.924976266074, 0.895927339903
    (computed with 25 digits, no printed source)."""
    edge = Edge(3, 2)
    arcs = equal_arc(edge, 8, math.pi / 2)
    assert abs(arcs[1] - math.pi / 2 - 0.8810697725936) < 1e-12
    assert all(abs(step - 1.983179948661) < 1e-11 for step in arc_steps_mm(edge, arcs))
    chords = equal_chord(edge, 8, math.pi / 2)
    assert abs(chords[1] - math.pi / 2 - 0.895927339903) < 1e-11
    assert abs(abs(edge.point(chords[1]) - edge.point(chords[0])) - 1.924976266074) < 1e-11


@pytest.mark.parametrize("offset", [-12.0, 4.0])
def test_lengths_along_a_parallel_agree_with_quadrature(offset: float) -> None:
    edge = Edge(75, 50, offset)
    for tau in (-2.0, 0.4, 1.9, 3.5, 6.0, 9.0):
        length, _ = quad(edge.speed, 0, tau, epsabs=1e-11, epsrel=1e-12, limit=200)
        assert abs(arc_from_top_mm(edge, tau) - length) < 1e-9
        assert abs(tau_at_arc(edge, length) - tau) < 1e-11


def test_square_grid_spokes_are_uneven_on_an_oval() -> None:
    """True 45-degree spokes cut 150 x 100 into 56.413 and 42.746; the rectangle's diagonals 43.371 and 55.788; even
    is 49.579 (computed twice, no printed source)."""
    edge = Edge(75, 50)
    quarter = arc_from_top_mm(edge, math.pi / 2)
    spoke = arc_from_top_mm(edge, edge.tau_towards(math.pi / 4))
    assert sorted((round(spoke, 3), round(quarter - spoke, 3))) == [42.746, 56.413]
    diagonal = arc_from_top_mm(edge, edge.tau_towards(math.atan2(75, 50)))
    assert sorted((round(diagonal, 3), round(quarter - diagonal, 3))) == [43.371, 55.788]
    assert round(quarter / 2, 3) == 49.579


def _row(*motifs: str) -> list[Ready]:
    made = {
        "husk": husk(), "leaf": leaf(), "drop": drop(), "scallop": scallop(), "pod": pod(), "arch": arch(),
    }  # fmt: skip
    return [ready(Ornament(made[m.rstrip("'")]), 1.0, is_flipped=m.endswith("'")) for m in motifs]


# Common gap and the first two places after tau = 0 (computed twice by independent programs, no printed source).
RINGS = [
    (["husk"] * 40, (75, 50), 2.018096684, 0.135653935, 0.272568135),
    (["leaf"] * 22, (75, 50), 5.720253590, 0.250810760, 0.509165605),
    (["drop"] * 36, (120, 40), 5.324606055, 0.126572142, 0.254948196),
    (["scallop"] * 28, (75, 50), 2.143723220, 0.189629998, 0.383149163),
    (["drop", "arch", "drop", "drop", "arch"] * 3, (75, 50), 14.652953392, 0.368330593, 0.763125729),
    (["pod", "pod'"] * 7, (75, 50), 5.987664397, 0.394001318, 0.810655037),
    (["arch"] * 20, (75, 50), 3.779355144, 0.266510662, 0.544072753),
]


@pytest.mark.parametrize(("motifs", "axes", "gap", "second", "third"), RINGS)
def test_equal_gap_rings_come_to_the_tabled_gap_and_places(
    motifs: list[str], axes: tuple[float, float], gap: float, second: float, third: float
) -> None:
    track, row = Track(Edge(*axes), 1, "foot", "base"), _row(*motifs)
    answer = solve_ring(track, row, 0.0)
    assert abs(answer.gap_mm - gap) < 1e-9
    assert abs(answer.taus[1] - second) < 1e-9
    assert abs(answer.taus[2] - third) < 1e-9
    layout = measured(track, row, answer.taus, (True,) * len(row), "equal-gap")
    assert layout.gap_max_mm is not None
    assert layout.gap_mm is not None
    assert layout.gap_max_mm - layout.gap_mm <= 1e-9


def test_the_common_gap_depends_a_little_on_the_start() -> None:
    """Trellis 9 on 240 x 80: 37.784 .. 38.254 over starts (computed by an independent program, no printed source)."""
    corners = [-10 + 0j, -10 + 11.5j, -7.5 + 14j, 7.5 + 14j, 10 + 11.5j, 10 + 0j]
    region = Region(Outline.from_points(corners[::-1]))
    row = [ready(Ornament(Motif("trellis", (region,), 20.0)), 1.0, is_flipped=False)] * 9
    track = Track(Edge(120, 40), 1, "foot", "base")
    gaps = [solve_ring(track, row, math.pi / 2 * k / 8).gap_mm for k in range(9)]
    assert max(gaps) == pytest.approx(38.254, abs=1e-3)
    assert min(gaps) < 37.784


def test_by_eye_equal_gap_beats_equal_arc_and_chord() -> None:
    """Leaf 22 on 150 x 100: arc leaves 5.011 .. 7.099, chord 4.954 .. 7.265 (computed twice, no printed source)."""
    track, row = Track(Edge(75, 50), 1, "foot", "base"), _row(*["leaf"] * 22)
    for spread, least, most in (("equal-arc", 5.011, 7.099), ("equal-chord", 4.954, 7.265)):
        taus = lay_out(track, row, Start(), spread)  # type: ignore[arg-type]
        layout = measured(track, row, taus, (True,) * 22, None)
        assert layout.gap_mm is not None
        assert layout.gap_max_mm is not None
        assert (round(layout.gap_mm, 3), round(layout.gap_max_mm, 3)) == (least, most)


def test_plain_rectangles_have_the_chord_gap() -> None:
    """On a circle the gap of upright motifs is D sin(pi/n - asin(w/D)): chord geometry."""
    row = [ready(Ornament(plain_rectangle(16)), 1.0, is_flipped=False)] * 17
    track = Track(Edge(50, 50), 1, "foot", "base")
    layout = measured(track, row, lay_out(track, row, Start(), "equal-gap"), (True,) * 17, None)
    wanted = 100 * math.sin(math.pi / 17 - math.asin(0.16))
    assert layout.gap_mm == pytest.approx(wanted, abs=1e-10)
    assert layout.foot_gap_mm == pytest.approx(wanted, abs=1e-10)
